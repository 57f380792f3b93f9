"""What is odd in a log of time, voltage and current: gaps, bad time stamps, rests, spikes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from calc.cell.arguments import Number, Series, choice, series_of
from calc.cell.procedure import Procedure

SPIKE = 10.0
"""A lone sample this many times the usual scatter away from both its neighbours is a spike."""


class Oddity(NamedTuple):
    """One odd place: the row of values (counted from 1), its kind, and a plain sentence."""

    row: int
    kind: str
    sentence: str


class LogQuality(NamedTuple):
    """How many oddities of each kind, and the time [s] that gaps and rests take."""

    rows: float
    gaps: float
    gap_time: float
    repeated: float
    backward: float
    spikes: float
    rests: float
    rest_time: float


def oddities(
    time: Series, voltage: Series, current: Series, largest_gap: float, rest_current: float
) -> tuple[Oddity, ...]:
    """Every odd place of a log, in the order of its rows.

    Parameters: time [s], voltage [V], current [A], shape (rows,) each; largest_gap [s] and
    rest_current [A], the choices that say what counts as a gap and as a rest.
    Returns: oddities of the kinds gap, repeated, backward, spike, rest.
    Raises: ValueError for columns of different lengths or values that are not finite.

    >>> odd = oddities([0, 1, 2, 60, 61], [3.7] * 5, [1.0] * 5, 10.0, 0.01)
    >>> [(found.row, found.kind) for found in odd]
    [(4, 'gap')]
    """
    time, voltage, current = series_of(time=time, voltage=voltage, current=current)
    columns = {"voltage": ("V", voltage), "current": ("A", current)}
    odd = odd_rows(time, columns, largest_gap)
    return tuple(sorted([*odd, *_rests(time, current, rest_current)]))


def odd_rows(
    time: Series, others: Mapping[str, tuple[str, Series]], largest_gap: float
) -> tuple[Oddity, ...]:
    """Every gap, bad time stamp and spike of a log of any columns, in the order of its rows.

    Parameters: time [s], shape (rows,); others, by name, a unit to say and values [that unit],
    shape (rows,); largest_gap [s], what counts as a gap.
    Raises: ValueError for columns of different lengths or values that are not finite.

    >>> odd = odd_rows([0, 1, 1, 2, 90], {"voltage": ("V", [3.7] * 5)}, 10.0)
    >>> [(found.row, found.kind) for found in odd]
    [(3, 'repeated'), (5, 'gap')]
    """
    given = series_of(time=time, **{name: values for name, (_, values) in others.items()})
    found = _stamps(given[0], largest_gap)
    for (name, (unit, _)), values in zip(others.items(), given[1:], strict=True):
        found += _spikes(name, unit, values)
    return tuple(sorted(found))


def log_quality(
    time: Series, voltage: Series, current: Series, largest_gap: Number, rest_current: Number
) -> LogQuality:
    """Count what `oddities` finds, with the time [s] spent in gaps and in rests.

    Raises: as `oddities`, and when a choice carries an uncertainty.
    Source: practice; what counts as a gap or a rest is the analyst's choice.

    >>> log_quality([0, 1, 1, 90], [3.7] * 4, [0.0] * 4, 10.0, 0.01).gap_time
    89.0
    """
    gap, rest = choice("largest_gap", largest_gap), choice("rest_current", rest_current)
    found = oddities(time, voltage, current, gap, rest)
    steps = np.diff(time)
    still = rest_spans(current, rest)
    kinds = [odd.kind for odd in found]
    return LogQuality(
        rows=float(len(time)),
        gaps=float(kinds.count("gap")),
        gap_time=float(steps[steps > gap].sum()),
        repeated=float(kinds.count("repeated")),
        backward=float(kinds.count("backward")),
        spikes=float(kinds.count("spike")),
        rests=float(kinds.count("rest")),
        rest_time=float(sum(time[last] - time[first] for first, last in still)),
    )


def rest_spans(current: Series, rest_current: float) -> list[tuple[int, int]]:
    """First and last index of every run of rows (two or more) whose current [A] is at rest."""
    still = np.abs(current) <= rest_current
    edges = np.flatnonzero(np.diff(np.concatenate(([False], still, [False])).astype(int)))
    spans = [(int(a), int(b) - 1) for a, b in zip(edges[::2], edges[1::2], strict=True)]
    return [(first, last) for first, last in spans if last > first]


def _stamps(time: Series, largest_gap: float) -> list[Oddity]:
    steps = np.diff(time)
    found = []
    for place in np.flatnonzero((steps > largest_gap) | (steps <= 0)):
        row, step = int(place) + 2, float(steps[place])
        if step > 0:
            found.append(Oddity(row, "gap", f"{step:g} s without a sample end here"))
        elif step == 0:
            found.append(Oddity(row, "repeated", f"time {time[row - 1]:g} s stands here again"))
        else:
            found.append(Oddity(row, "backward", f"time goes back by {-step:g} s"))
    return found


def _spikes(name: str, unit: str, values: Series) -> list[Oddity]:
    if len(values) < 5:
        return []
    middle = values[1:-1]
    between = (values[:-2] + values[2:]) / 2
    away = np.abs(middle - between)
    apart = np.abs(values[2:] - values[:-2])
    # The scatter of a quiet log may be zero; then its resolution stands in for it.
    usual = max(1.4826 * float(np.median(away)), _resolution(values))
    found = np.flatnonzero((away > SPIKE * usual) & (apart < away / 2))
    return [
        Oddity(
            int(place) + 2,
            "spike",
            f"{name} {middle[place]:g} {unit} stands alone between values near "
            f"{between[place]:g} {unit}",
        )
        for place in found
    ]


def _resolution(values: Series) -> float:
    """The smallest step [the unit of values] between different values, as the logger wrote it."""
    steps = np.abs(np.diff(values))
    steps = steps[steps > 1e-9 * max(float(np.abs(values).max()), 1e-300)]
    return float(steps.min()) if len(steps) else 0.0


def _rests(time: Series, current: Series, rest_current: float) -> list[Oddity]:
    return [
        Oddity(first + 1, "rest", f"a rest of {time[last] - time[first]:g} s begins here")
        for first, last in rest_spans(current, rest_current)
    ]


PROCEDURES = {
    "log_quality": Procedure(
        log_quality,
        takes={
            "time": "series s",
            "voltage": "series V",
            "current": "series A",
            "largest_gap": "s",
            "rest_current": "A",
        },
        gives={
            "rows": "1",
            "gaps": "1",
            "gap_time": "s",
            "repeated": "1",
            "backward": "1",
            "spikes": "1",
            "rests": "1",
            "rest_time": "s",
        },
    )
}
