"""How probable it is that a statement about a quantity is true, and what that decides.

A statement says that the quantity lies in a region: from a limit up, up to a limit, between two.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, isnan

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calc.book.evidence import DOES_NOT_HOLD, HOLDS, UNDECIDED


@dataclass(frozen=True)
class Region:
    """Where a quantity lies when a statement about it is true, both ends included.

    `low` and `high` are in the quantity's own unit; an end left out is open to infinity.
    """

    low: float = -inf
    high: float = inf

    def __post_init__(self) -> None:
        if isnan(self.low) or isnan(self.high) or self.low > self.high:
            raise ValueError(f"the lower limit {self.low} must not exceed the upper {self.high}")


def around(value: float, tolerance: float) -> Region:
    """The region of "about value within tolerance".

    Parameters: value, in the quantity's unit; tolerance, a fraction of the value's size, >= 0.
    Raises: ValueError for a negative tolerance. Source: exact.

    >>> around(-200.0, 0.05)
    Region(low=-210.0, high=-190.0)
    """
    half = abs(value) * tolerance
    return Region(value - half, value + half)


def probability(draws: ArrayLike, region: Region) -> float:
    """Share of a result's draws for which a statement is true.

    Parameters: draws, shape (n,), in any order, in the region's unit.
    Returns: from 0 to 1, in steps of 1/n.
    Raises: ValueError when there is no draw, or one is not a number.
    Source: JCGM 106:2012, conformance probability, read off a sample; exact.

    >>> probability([1, 2, 3, 4], Region(low=2))
    0.75
    """
    values = _finite(draws)
    return float(np.mean((values >= region.low) & (values <= region.high)))


def probability_from_quantiles(quantiles: ArrayLike, region: Region) -> float:
    """Probability that a statement is true, from a distribution kept as its quantiles.

    Parameters: quantiles, shape (n,), ascending, the i-th at the probability (i + 1/2) / n,
    counted from 0, in the region's unit; between them the distribution is taken as straight.
    Returns: from 0 to 1. An end that meets a step of the distribution includes the step.
    Raises: ValueError when the array is empty, not ascending, or holds something not a number.
    Source: JCGM 106:2012, conformance probability, read off its distribution; exact.

    >>> probability_from_quantiles([1.0, 2.0, 3.0, 4.0], Region(low=2.5))
    0.5
    """
    values = _finite(quantiles)
    if np.any(np.diff(values) < 0):
        raise ValueError("quantiles must ascend")
    return _share_below(values, region.high, "right") - _share_below(values, region.low, "left")


def verdict(probability: float, holds_from: float = 0.95, fails_up_to: float = 0.05) -> str:
    """What a probability decides: holds, does not hold, or undecided.

    Parameters: probability that the statement is true; the two limits of the site.
    Raises: ValueError when the limits leave no room between them.
    Source: the site's own setting; limits too narrow for any value to be sure of are a reason
    for "undecided" to exist (JCGM 106:2012).

    >>> verdict(0.95), verdict(0.5), verdict(0.05)
    ('holds', 'undecided', 'does not hold')
    """
    if not 0 <= fails_up_to < holds_from <= 1:
        raise ValueError(f"limits in order are expected, got {fails_up_to} and {holds_from}")
    if probability >= holds_from:
        return HOLDS
    return DOES_NOT_HOLD if probability <= fails_up_to else UNDECIDED


def _finite(numbers: ArrayLike) -> NDArray[np.float64]:
    values = np.asarray(numbers, dtype=np.float64)
    if values.ndim != 1 or not values.size or not np.all(np.isfinite(values)):
        raise ValueError("a row of finite numbers is expected")
    return values


def _share_below(values: NDArray[np.float64], limit: float, side: str) -> float:
    """Distribution function at a limit, from the left or the right where it steps."""
    count = len(values)
    position = int(np.searchsorted(values, limit, "left" if side == "left" else "right"))
    if position in (0, count) or limit in (values[position - 1], values[position]):
        return position / count
    places = (np.arange(count) + 0.5) / count
    return float(np.interp(limit, values, places))
