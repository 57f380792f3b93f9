"""Odd places of a log, by the line of its file: gaps, bad time stamps and spikes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from calc.book.logs import Log
from calc.book.model import Book
from calc.book.plan import Plan, Root
from calc.cell.log_checks import odd_rows
from calc.notation.units import Unit, unit
from calc.problems import Wrong

GAP = 10.0
"""Where no reader of a log says what a gap is: so many times the usual step of time [1]."""


class OddPlace(NamedTuple):
    """One odd place: the line in the log's file, its kind, and a plain sentence."""

    line: int
    kind: str
    sentence: str


def odd_places(log: Log, book: Book, plan: Plan) -> tuple[OddPlace, ...]:
    """Every gap, repeated or backward time stamp and spike of a log, in the order of its lines.

    What counts as a gap is what the calcs that read the log say under `largest_gap`, the shortest
    of them; without a word of theirs, ten times the usual step. A log without a column of time
    in any unit of time [s, min, h] has none.
    """
    time = _time_of(log)
    if not time or any(len(column.values) < 2 for column in log.columns.values()):
        return ()
    name, scale = time
    seconds = scale.factor * log.columns[name].values
    others = {key: column for key, column in log.columns.items() if key != name}
    gaps = list(_said_gaps(log.name, book, plan))
    largest = min(gaps) if gaps else GAP * float(np.median(np.abs(np.diff(seconds))))
    return tuple(
        OddPlace(int(log.row_lines[odd.row - 1]), odd.kind, odd.sentence)
        for odd in odd_rows(seconds, others, largest)
    )


def _time_of(log: Log) -> tuple[str, Unit] | None:
    """The first column whose unit is one of time, with that unit."""
    for name, column in log.columns.items():
        try:
            scale = unit(column.unit)
        except Wrong:  # said where the column is read
            continue
        if scale.dimension == unit("s").dimension:
            return name, scale
    return None


def _said_gaps(log: str, book: Book, plan: Plan) -> Iterator[float]:
    for calc in book.calcs.values():
        id = f"{calc.id}.largest_gap"
        if id in plan.nodes and any(given.log == log for given in calc.inputs):
            node = plan.nodes[plan.target(id)]
            if isinstance(node, Root):
                yield node.quantity.base
