"""What procedures are given, made sure of: series of one log, and choices without uncertainty."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Series = NDArray[np.float64]
Number = float | NDArray[np.float64]
"""One value, or an array of draws of it, shape (n,)."""


def series_of(**columns: Series) -> tuple[Series, ...]:
    """The columns of one log as float arrays, shape (rows,) each, in the order given.

    Parameters: columns, each in any unit; the names are used in messages alone.
    Raises: ValueError when lengths differ, fewer than two rows, or a value is not finite.

    >>> series_of(time=[0, 1], voltage=[3.7, 3.6])[1]
    array([3.7, 3.6])
    """
    arrays = [np.atleast_1d(np.asarray(column, dtype=np.float64)) for column in columns.values()]
    first = next(iter(columns))
    for name, array in zip(columns, arrays, strict=True):
        if array.ndim != 1 or len(array) < 2:
            raise ValueError(f"{name} needs a column of at least two rows")
        if len(array) != len(arrays[0]):
            raise ValueError(
                f"{name} has {len(array)} rows and {first} {len(arrays[0])}; take both from one log"
            )
        if not np.isfinite(array).all():
            row = int(np.argmin(np.isfinite(array)))
            raise ValueError(f"{name} is not a finite number in row {row + 1} of the log")
    return tuple(arrays)


def forward(time: Series) -> Series:
    """The same times [s], shape (rows,), known never to run backwards.

    Raises: ValueError with the first row that is earlier than the one before it.
    """
    steps = np.diff(time)
    if (steps < 0).any():
        row = int(np.argmax(steps < 0)) + 2
        raise ValueError(
            f"time runs backwards in row {row} of the log: {time[row - 1]:g} s after "
            f"{time[row - 2]:g} s; put the rows in order or cut the log there"
        )
    return time


def rising(name: str, values: Series) -> Series:
    """The same values [any unit], shape (rows,), known to rise from row to row.

    Raises: ValueError with the first row that does not.
    """
    steps = np.diff(values)
    if (steps <= 0).any():
        row = int(np.argmax(steps <= 0)) + 2
        raise ValueError(f"{name} must rise from row to row, and does not in row {row}")
    return values


def read_off(at: Number, x: Series, y: Series) -> Number:
    """The value of a curve at a place: y [any unit] against a rising x, straight between points.

    Returns: a float for one place, an array for draws of it; the end values beyond the ends.

    >>> read_off(0.5, [0.0, 1.0], [3.0, 4.2])
    3.6
    """
    found = np.interp(at, x, y)
    return float(found) if np.ndim(found) == 0 else np.asarray(found, dtype=np.float64)


def choice(name: str, value: Number) -> float:
    """A number that the analyst chooses [any unit], such as a bandwidth: the same in all draws.

    Raises: ValueError when draws of it differ, or it is not finite.

    >>> choice("delay", [10.0, 10.0])
    10.0
    """
    values = np.asarray(value, dtype=np.float64).ravel()
    if not len(values) or not np.isfinite(values).all():
        raise ValueError(f"{name} must be a finite number")
    if values.min() != values.max():
        raise ValueError(f"{name} is a choice, not a measurement: give it without uncertainty")
    return float(values[0])


def above_zero(**numbers: Number) -> None:
    """Nothing, when all numbers [any unit] are above zero. Raises: ValueError naming one not."""
    for name, number in numbers.items():
        if not (np.asarray(number) > 0).all():
            raise ValueError(f"{name} must be above zero")
