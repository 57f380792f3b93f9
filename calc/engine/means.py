"""Means of estimates, weighted by what is known of each, and the variance between them."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Mean:
    """A combined value [unit of the estimates], and what each estimate brings to it.

    `weights` add up to one. `between_variance` [unit squared] is what is added to each
    estimate's own variance; zero for a weighted mean.
    """

    value: float
    standard_uncertainty: float
    weights: tuple[float, ...]
    between_variance: float = 0.0


def mean_of(x: Array, c: Array, between_variance: float = 0.0) -> Mean:
    """Generalised-least-squares mean of estimates that may also differ among themselves.

    Parameters: x, shape (n,), in one unit; c, their covariance, shape (n, n), and
    between_variance, added to each estimate's own, in that unit squared.
    Source: exact; the best linear unbiased estimator.

    >>> mean = mean_of(np.array([1.0, 4.0]), np.diag([1.0, 2.0]))
    >>> round(mean.value, 3), [round(weight, 3) for weight in mean.weights]
    (2.0, [0.667, 0.333])
    """
    rows = np.linalg.inv(c + between_variance * np.eye(len(x))).sum(axis=0)
    weights = rows / rows.sum()
    return Mean(
        value=float(weights @ x),
        standard_uncertainty=1 / sqrt(rows.sum()),
        weights=tuple(weights.tolist()),
        between_variance=between_variance,
    )


def chi_squared_of(x: Array, c: Array, between_variance: float = 0.0) -> float:
    """Squared distance of estimates from their mean, in their own covariance [dimensionless].

    Parameters: as `mean_of`. Source: exact.
    """
    residual = x - mean_of(x, c, between_variance).value
    return float(residual @ np.linalg.solve(c + between_variance * np.eye(len(x)), residual))


def moment_variance(x: Array, c: Array) -> float:
    """Between-estimates variance that makes the expected chi-squared the one found.

    Parameters: x, shape (n,), and c, shape (n, n). Returns: the unit of x squared, at least 0.
    Source: DerSimonian and Laird 1986 (from memory, to be confirmed), for correlated estimates
    exact: chi-squared is expected to be n - 1 plus the between variance times the trace of
    W - W1(1W1)⁻¹1W, with W the inverse of c.
    """
    w = np.linalg.inv(c)
    excess = chi_squared_of(x, c) - (len(x) - 1)
    return max(0.0, excess / float(np.trace(w) - (w @ w).sum() / w.sum()))


def fitted_variance(x: Array, c: Array) -> float:
    """Between-estimates variance that brings chi-squared down to its degrees of freedom.

    Parameters: x, shape (n,), and c, shape (n, n). Returns: the unit of x squared, at least 0.
    Source: Paule and Mandel 1982 (from memory, to be confirmed). Chi-squared falls as the variance
    grows, so there is one root.
    """

    def excess(between_variance: float) -> float:
        return chi_squared_of(x, c, between_variance) - (len(x) - 1)

    if excess(0.0) <= 0:
        return 0.0
    upper = float(np.ptp(x)) ** 2
    while excess(upper) > 0:
        upper *= 2
    return float(brentq(excess, 0.0, upper, xtol=1e-14 * upper))
