"""Fewer points of a long log for a picture, without losing what a reader would look for."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from calc.cell.arguments import Series


def decimate(values: Series, points: int) -> NDArray[np.int64]:
    """Indices of at most about `points` rows: the ends, and the extremes of each even part.

    Parameters: values [any unit], shape (rows,); points, four or more.
    Returns: indices in rising order, shape (kept,); all of them when the log is short. The
    largest and the smallest value of the whole are always among them.
    Raises: ValueError for fewer than four points.
    Source: exact.

    >>> spike = np.zeros(1000)
    >>> spike[617] = 9.0
    >>> kept = decimate(spike, 50)
    >>> 617 in kept, len(kept) <= 50
    (True, True)
    """
    if points < 4:
        raise ValueError("a picture of a log needs four points or more")
    rows = len(values)
    if rows <= points:
        return np.arange(rows, dtype=np.int64)
    parts = (points - 2) // 2
    edges = np.linspace(0, rows, parts + 1).astype(np.int64)
    starts, size = edges[:-1], int(np.diff(edges).max())
    # Parts differ by a row at most; the shorter ones repeat their last row to fill a table.
    table = np.minimum(starts[:, None] + np.arange(size), edges[1:, None] - 1)
    held = np.asarray(values, dtype=np.float64)[table]
    places = np.arange(parts)
    lowest = table[places, held.argmin(axis=1)]
    highest = table[places, held.argmax(axis=1)]
    kept: NDArray[np.int64] = np.unique(np.concatenate(([0, rows - 1], lowest, highest)))
    return kept
