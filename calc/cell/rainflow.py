"""Cycles within a duty: rainflow counting of the turning points of state of charge."""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from calc.cell.arguments import Number, Series, series_of
from calc.cell.procedure import Procedure


class Cycles(NamedTuple):
    """Every counted range [the unit of the signal], its mean, and its count (1 or 0.5)."""

    ranges: Series
    means: Series
    counts: Series


class Duty(NamedTuple):
    """Equivalent full cycles [1], counted cycles [1], mean and largest depth [1], deep cycles."""

    full_cycles: Number
    cycles: float
    mean_depth: Number
    largest_depth: Number
    deeper: Number


def turning_points(values: Series) -> Series:
    """The first value, every reversal, and the last [the unit of values], shape (turns,).

    >>> turning_points([0, 1, 2, 2, 1, 3]).tolist()
    [0.0, 2.0, 1.0, 3.0]
    """
    (values,) = series_of(values=values)
    moving = np.append(True, np.diff(values) != 0)
    level: Series = values[moving]
    if len(level) < 3:
        return level
    way = np.sign(np.diff(level))
    turns = np.concatenate(([True], way[1:] != way[:-1], [True]))
    return np.asarray(level[turns], dtype=np.float64)


def rainflow(values: Series) -> Cycles:
    """Count cycles by the rainflow method, half cycles where a range touches an end.

    Parameters: values [any unit], shape (rows,). Returns: cycles, shape (counted,).
    Source: ASTM E1049, section 5.4.4 (from memory, to be confirmed).

    >>> found = rainflow([-2, 1, -3, 5, -1, 3, -4, 4, -2])
    >>> sorted(zip(found.ranges.tolist(), found.counts.tolist()))
    [(3.0, 0.5), (4.0, 0.5), (4.0, 1.0), (6.0, 0.5), (8.0, 0.5), (8.0, 0.5), (9.0, 0.5)]
    """
    counted: list[tuple[float, float, float]] = []
    held: list[float] = []
    for point in turning_points(values).tolist():
        held.append(point)
        while len(held) >= 3:
            latest, previous = abs(held[-1] - held[-2]), abs(held[-2] - held[-3])
            if latest < previous:
                break
            middle = (held[-2] + held[-3]) / 2
            if len(held) == 3:
                counted.append((previous, middle, 0.5))
                held.pop(0)
            else:
                counted.append((previous, middle, 1.0))
                del held[-3:-1]
    for first, second in pairwise(held):
        counted.append((abs(second - first), (first + second) / 2, 0.5))
    table: NDArray[np.float64] = np.array(counted, dtype=np.float64).reshape(-1, 3)
    return Cycles(table[:, 0], table[:, 1], table[:, 2])


def duty_cycles(state_of_charge: Series, depth: Number, gain: Number) -> Duty:
    """Equivalent full cycles and depths of a duty, from its log of state of charge.

    Parameters: state_of_charge [1], shape (rows,); depth [1], to count cycles deeper than it;
    gain [1], true depth over recorded depth: numbers or draws (n,).
    Returns: duty; equivalent full cycles are half of all movement, up and down.
    Raises: ValueError when the state of charge leaves 0 to 1 or never moves.
    Source: ASTM E1049, section 5.4.4 (from memory, to be confirmed).

    >>> duty_cycles([0.9, 0.5, 0.9, 0.1, 0.9], 0.5, 1).full_cycles
    1.2
    """
    (content,) = series_of(state_of_charge=state_of_charge)
    if content.min() < 0 or content.max() > 1:
        raise ValueError("state of charge runs from 0 to 1")
    found = rainflow(content)
    count = float(found.counts.sum())
    if not count:
        raise ValueError("the state of charge never moves")
    order = np.argsort(found.ranges)
    ranges, counts = found.ranges[order], found.counts[order]
    beyond = np.append(np.cumsum(counts[::-1])[::-1], 0.0)
    place = np.searchsorted(ranges, np.asarray(depth) / gain, side="right")
    full = float(ranges @ counts)
    return Duty(
        full_cycles=gain * full,
        cycles=count,
        mean_depth=gain * full / count,
        largest_depth=gain * float(ranges[-1]),
        deeper=beyond[place],
    )


PROCEDURES = {
    "duty_cycles": Procedure(
        duty_cycles,
        {"state_of_charge": "series 1", "depth": "1", "gain": "1"},
        {
            "full_cycles": "1",
            "cycles": "1",
            "mean_depth": "1",
            "largest_depth": "1",
            "deeper": "1",
        },
    )
}
