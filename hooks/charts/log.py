"""A measured log: one panel a quantity over a common x, thinned without losing its extremes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator
from numpy.typing import NDArray

from calc.book.logs import Column
from calc.book.logs import Log as Recorded
from calc.book.model import Showing
from calc.cell.decimate import decimate
from calc.engine.odd_places import odd_places
from calc.judge.shown import named, one
from calc.notation.units import Unit, unit
from calc.whole import Whole
from hooks.charts.data import Data
from hooks.charts.style import SERIES, SMALL, STEPS, WIDTH, axes, graduate, sheet, width_of, write
from hooks.charts.values import NotShown
from hooks.charts.words import heading, listed, plain_digits, tidy, with_unit

_POINTS, _PANEL, _HEAD, _GAP, _FOOT = 500, 112.0, 24.0, 8.0, 44.0
_MOST_ROWS = 20_000
"""Rows of a longer log that its CSV leaves out; the log itself stays in the repository."""
_KINDS = {
    "gap": "a gap before the row",
    "repeated": "a repeated time stamp",
    "backward": "a time stamp that goes back",
    "spike": "a spike",
    "cut": "a last row cut short",
}
_MOST_ODD = 8


@dataclass(frozen=True)
class Trace:
    """One column as drawn, nan where a gap breaks the line, and its extremes over all rows."""

    title: str
    unit: Unit
    x: tuple[float, ...]
    y: tuple[float, ...]
    low: float
    high: float


@dataclass(frozen=True)
class Log:
    """A log as drawn, what of it goes into its table, and its odd places: kind and line."""

    x_label: str
    x_unit: Unit
    rows: int
    traces: tuple[Trace, ...]
    table: Data
    odd: tuple[tuple[str, int], ...]


def read(showing: Showing, whole: Whole) -> Log:
    """The columns of a block. Raises: NotShown."""
    log = whole.book.logs.get(one(showing, "log"))
    if log is None or log.problems:
        raise NotShown(showing.id)
    across, names = one(showing, "x"), list(named(showing, "y").values())
    if not {across, *names} <= log.columns.keys():
        raise NotShown(showing.id)
    places = odd_places(log, whole.book, whole.plan)
    ends = np.searchsorted(log.row_lines, [p.line for p in places if p.kind == "gap"])
    x = log.column(across)
    traces = tuple(_trace(name, log.column(name), x, ends) for name in names)
    x_label = _label(across, x)
    odd = (*((p.kind, p.line) for p in places), *(("cut", note.row) for note in log.notes))
    table = Data((x_label, *(trace.title for trace in traces)), _rows(log, [across, *names]))
    return Log(x_label, unit(x.unit), len(x.values), traces, table, odd)


def _label(name: str, column: Column) -> str:
    return heading(name.replace("_", " "), unit(column.unit))


def _trace(name: str, column: Column, x: Column, ends: NDArray[np.intp]) -> Trace:
    """A column over another, thinned, and broken before the rows at which gaps end."""
    kept = decimate(column.values, _POINTS)
    breaks = np.searchsorted(kept, ends)
    across = np.insert(x.values[kept], breaks, x.values[ends])
    drawn = np.insert(column.values[kept], breaks, np.nan)
    return Trace(
        _label(name, column),
        unit(column.unit),
        tuple(tidy(float(number), 6) for number in across),
        tuple(tidy(float(number), 5) for number in drawn),
        float(column.values.min()),
        float(column.values.max()),
    )


def _rows(log: Recorded, names: Sequence[str]) -> tuple[tuple[float, ...], ...]:
    """The rows of some columns; of a long log, one in so many."""
    values = np.column_stack([log.column(name).values for name in names])
    step = max(1, -(-len(values) // _MOST_ROWS))
    return tuple(tuple(float(number) for number in row) for row in values[::step])


def draw(log: Log) -> Figure:
    """The picture."""
    panel = _HEAD + _PANEL + _GAP
    height = panel * len(log.traces) + _FOOT - _GAP
    figure = sheet(height)
    left = max(map(_room, log.traces))
    for at, trace in enumerate(log.traces):
        top = at * panel
        area = axes(figure, left, 10, top + _HEAD, height - top - _HEAD - _PANEL)
        area.plot(trace.x, trace.y, color=SERIES[at % len(SERIES)], linewidth=1.3)
        area.set_xlim(min(trace.x), max(trace.x))
        area.grid(axis="y")
        area.set_axisbelow(True)
        area.spines["left"].set_visible(False)
        graduate(area.yaxis, 4)
        graduate(area.xaxis)
        write(figure, 0, top + 9, trace.title)
        if at < len(log.traces) - 1:
            area.set_xticklabels([])
        else:
            area.set_xlabel(log.x_label, labelpad=4)
    return figure


def _room(trace: Trace) -> float:
    ticks = MaxNLocator(4, steps=STEPS).tick_values(trace.low, trace.high)
    return min(WIDTH / 4, 8 + max(width_of(plain_digits(tidy(t, 3), 6), SMALL) for t in ticks))


def describe(log: Log) -> str:
    """The picture in words."""
    told = [
        f"{trace.title} runs from {with_unit(plain_digits(trace.low), trace.unit)} to"
        f" {with_unit(plain_digits(trace.high), trace.unit)}"
        for trace in log.traces
    ]
    return f"A log of {log.rows} rows over {log.x_label}: {'; '.join(told)}."


def note(log: Log) -> str:
    """How to read it."""
    drawn = max(int(np.isfinite(trace.y).sum()) for trace in log.traces)
    said = f"As recorded, {log.rows} rows."
    if drawn < log.rows:
        said = f"{drawn} of {log.rows} rows are drawn, all extremes among them."
    return f"{said}{_odd(log.odd)}"


def _odd(odd: tuple[tuple[str, int], ...]) -> str:
    """How many odd places were found, and where in the file."""
    if not odd:
        return ""
    told = [f"{_KINDS[kind]} in line {line}" for kind, line in odd[:_MOST_ODD]]
    if len(odd) > _MOST_ODD:
        told.append(f"{len(odd) - _MOST_ODD} more")
    places = "1 odd place" if len(odd) == 1 else f"{len(odd)} odd places"
    return f" {places} in the file: {listed(told)}."


def data(log: Log) -> Data:
    """The numbers behind it."""
    return log.table
