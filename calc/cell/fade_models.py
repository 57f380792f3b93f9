"""Laws of capacity against cycles, each fitted by least squares and weighed by one criterion.

With x the cycle over the last cycle tested, capacity is y0 - a x (linear), y0 - a sqrt(x)
(square root), y0 - a x^b (power), or two slopes that meet at a knee.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize_scalar

from calc.cell.arguments import Series, series_of

EXPONENTS = (0.2, 4.0)
"""Between which the power law's exponent is sought."""

FEWEST = 5
"""Points on each side of a knee: fewer cannot show a slope of their own."""

Design = Callable[[Series], NDArray[np.float64]]


@dataclass(frozen=True)
class Fit:
    """One law fitted to capacity [C] against x = cycle / last cycle.

    `design(x)` is the slope of the law to each of its parameters, shape (points, parameters);
    `linear` holds those that enter linearly, `bend` the exponent or the knee, or None.
    """

    name: str
    linear: Series
    bend: float | None
    design: Design
    covariance: NDArray[np.float64]
    scatter: float
    freedom: int
    criterion: float

    def capacity(self, x: Series) -> Series:
        """Fitted capacity [C] at x, shape (points,)."""
        return np.asarray(self.design(x)[:, : len(self.linear)] @ self.linear)

    def spread(self, x: Series) -> Series:
        """Standard uncertainty [C] of a further measurement at x, shape (points,)."""
        slopes = self.design(x)
        fitted = np.einsum("ij,jk,ik->i", slopes, self.covariance, slopes)
        return np.asarray(np.sqrt(self.scatter**2 + np.maximum(fitted, 0.0)))


def fits(cycle: Series, capacity: Series) -> tuple[Fit, ...]:
    """All four laws fitted, in the order linear, square root, power, knee.

    Parameters: cycle [1] and capacity [C], shape (points,). The knee is left out when the points
    are too few to show one.
    Raises: ValueError for fewer than eight points or a cycle below zero.

    >>> n = np.arange(0.0, 1000.0, 50.0)
    >>> ripple = 1e-4 * np.where(np.arange(20) % 3, 1.0, -2.0)
    >>> min(fits(n, 1 - 0.2 * n / 1000 + ripple), key=lambda fit: fit.criterion).name
    'linear'
    """
    cycle, capacity = series_of(cycle=cycle, capacity=capacity)
    if len(cycle) < 8 or cycle.min() < 0 or cycle.max() <= 0:
        raise ValueError("a fade is fitted to eight points or more, at cycles from zero on")
    x = cycle / cycle.max()
    found = [
        _fit("linear", x, capacity, None, _line),
        _fit("square root", x, capacity, None, _root),
        _fit("power", x, capacity, _best_bend(x, capacity, EXPONENTS, _power), _power),
    ]
    order = np.sort(x)
    if len(x) >= 2 * FEWEST + 2 and order[FEWEST] < order[-FEWEST - 1]:
        between = (float(order[FEWEST]), float(order[-FEWEST - 1]))
        found.append(_fit("knee", x, capacity, _best_bend(x, capacity, between, _knee), _knee))
    return tuple(found)


def weights(found: tuple[Fit, ...]) -> Series:
    """Weight [1] of each law, summing to one, from the differences of the criterion."""
    lead = np.array([fit.criterion for fit in found])
    share = np.exp(-(lead - lead.min()) / 2)
    return np.asarray(share / share.sum())


def _line(x: Series, bend: float | None, linear: Series) -> NDArray[np.float64]:
    return np.column_stack([np.ones_like(x), -x])


def _root(x: Series, bend: float | None, linear: Series) -> NDArray[np.float64]:
    return np.column_stack([np.ones_like(x), -np.sqrt(x)])


def _power(x: Series, bend: float | None, linear: Series) -> NDArray[np.float64]:
    assert bend is not None
    log = np.log(np.maximum(x, 1e-12))
    return np.column_stack([np.ones_like(x), -(x**bend), -linear[-1] * x**bend * log])


def _knee(x: Series, bend: float | None, linear: Series) -> NDArray[np.float64]:
    assert bend is not None
    beyond = np.maximum(x - bend, 0.0)
    return np.column_stack([np.ones_like(x), -x, -beyond, linear[-1] * (x > bend)])


Law = Callable[[Series, float | None, Series], NDArray[np.float64]]
_LINEAR: dict[Law, int] = {_line: 2, _root: 2, _power: 2, _knee: 3}


def _solve(x: Series, y: Series, bend: float | None, law: Law) -> tuple[Series, float]:
    """Least squares of the parameters that enter linearly, and the sum of squares left."""
    columns = law(x, bend, np.ones(1))[:, : _LINEAR[law]]
    linear = np.asarray(np.linalg.lstsq(columns, y, rcond=None)[0], dtype=np.float64)
    left = y - columns @ linear
    return linear, float(left @ left)


def _best_bend(x: Series, y: Series, between: tuple[float, float], law: Law) -> float:
    """The exponent or knee with the least squares: a grid first, then refined about its best."""
    grid = np.linspace(*between, 61)
    left = [_solve(x, y, float(bend), law)[1] for bend in grid]
    best = int(np.argmin(left))
    low, high = grid[max(best - 1, 0)], grid[min(best + 1, len(grid) - 1)]
    found = minimize_scalar(
        lambda bend: _solve(x, y, float(bend), law)[1], bounds=(low, high), method="bounded"
    )
    return float(found.x)


def _fit(name: str, x: Series, y: Series, bend: float | None, law: Law) -> Fit:
    linear, left = _solve(x, y, bend, law)
    parameters = _LINEAR[law] + (bend is not None)
    freedom = len(x) - parameters
    # A record without scatter is taken to be good to a billionth: rounding is no evidence.
    scatter = float(np.sqrt(max(left, 1e-18 * float(y @ y)) / freedom))
    slopes = law(x, bend, linear)
    # Consistent information criterion (Bozdogan, Psychometrika 52 (1987) 345; from memory, to be
    # confirmed): the scatter counts as a parameter too.
    worth = np.log(len(x)) + 1.0
    criterion = len(x) * np.log(scatter**2 * freedom / len(x)) + (parameters + 1) * worth
    return Fit(
        name=name,
        linear=linear,
        bend=bend,
        design=lambda at: law(at, bend, linear),
        covariance=np.asarray(np.linalg.pinv(slopes.T @ slopes) * scatter**2),
        scatter=scatter,
        freedom=freedom,
        criterion=float(criterion),
    )
