"""Solving: what an input would have to be so that a result has a wanted value."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq

_STEPS = 2000
"""Into how many steps the range is cut to find where the result crosses the wanted value."""

_NOUGHT = 1e-5
"""What is left of a value at a crossing, against its values a step away; squared, against its
usual size, for a crossing that falls on a step."""

Array = NDArray[np.float64]


def crossings(difference: Callable[[Array], Array], low: float, high: float) -> tuple[float, ...]:
    """Every place between two ends where a difference passes through zero, rising in order.

    Parameters: difference, a function of an array of shape (n,); places where it is undefined are
    passed over. Two crossings closer than a two-thousandth of the range may be missed.
    Source: exact; bracketing, then scipy.optimize.brentq.
    """
    grid = np.linspace(low, high, _STEPS + 1)
    values = np.broadcast_to(np.asarray(difference(grid), dtype=float), grid.shape)
    found = [float(at) for at, value in zip(grid, values, strict=True) if value == 0.0]
    scale = float(np.median(np.abs(values[np.isfinite(values)]))) if len(values) else 0.0
    signs = np.sign(values)
    turns = np.flatnonzero((signs[:-1] * signs[1:]) < 0)
    for at in turns:
        root = brentq(
            lambda x: float(np.asarray(difference(np.array([x]))).ravel()[0]),
            grid[at],
            grid[at + 1],
            xtol=1e-13 * (high - low),
            rtol=8.9e-16,
        )
        if _is_crossing(difference, root, values[at], values[at + 1], scale):
            found.append(float(root))
    return tuple(sorted(found))


def _is_crossing(
    difference: Callable[[Array], Array], root: float, left: float, right: float, scale: float
) -> bool:
    """Whether the value is zero there, and no pole or jump has changed the sign."""
    value = abs(float(np.asarray(difference(np.array([root]))).ravel()[0]))
    return value <= max(_NOUGHT * min(abs(left), abs(right)), _NOUGHT**2 * scale)
