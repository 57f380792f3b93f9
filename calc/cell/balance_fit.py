"""Two-electrode balance: a full cell's curve as the difference of two half-cell curves.

Each electrode's curve is shifted and scaled along the charge until their difference lies on the
measured curve. What is fitted is where each electrode stands when the cell is full and empty,
and one steady polarisation; a capacity is the measured charge over the way between.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import PchipInterpolator
from scipy.optimize import least_squares

from calc.cell.arguments import Series, forward, series_of
from calc.cell.integrate_log import LOG
from calc.cell.procedure import Procedure

POINTS = 400
"""Points of the measured curve that enter the fit, averaged evenly along its charge."""

APART = 0.995
"""Two fitted amounts correlated more closely than this are one amount, not two."""

MOST_POLARISED = 0.2
"""Volts between which the steady polarisation is sought."""

STARTS = ((0.02, 0.98, 0.05, 0.95), (0.05, 0.75, 0.3, 0.95), (0.2, 0.95, 0.05, 0.7))
"""Where the search begins: both electrodes nearly whole, and either of them oversized."""

Curve = Callable[[Series], Series]


class Balance(NamedTuple):
    """The fitted balance, amounts in C and positions as the share of the half-cell curve [1].

    `told_apart` is 1 when the data fix every amount and 0 when they do not: two amounts move
    together, or one lies at the end of its half-cell curve.
    """

    negative_capacity: float
    negative_capacity_uncertainty: float
    positive_capacity: float
    positive_capacity_uncertainty: float
    negative_full: float
    negative_full_uncertainty: float
    negative_empty: float
    positive_full: float
    positive_empty: float
    lithium: float
    lithium_uncertainty: float
    polarisation: float
    misfit: float
    closest_correlation: float
    told_apart: float


def balance_fit(
    time: Series,
    voltage: Series,
    current: Series,
    negative_content: Series,
    negative_voltage: Series,
    positive_content: Series,
    positive_voltage: Series,
) -> Balance:
    """Fit a slow discharge by two half-cell curves.

    Parameters: the discharge, time [s], voltage [V], current [A, negative], shape (rows,); each
    half-cell curve, content [1, share of its lithium or sodium, rising] and voltage [V].
    Returns: the balance with standard uncertainties, widened for misfits that run in one
    direction along the curve (neighbouring points then say the same thing twice). The lithium is
    what both electrodes hold together; the polarisation [V] lies between the two curves'
    difference and the measured voltage, the same all along.
    Raises: ValueError when the log is no discharge or a curve's content does not rise.
    Source: exact; least squares over the difference of two curves.

    >>> x, t = np.linspace(0.0, 1.0, 201), np.linspace(0.0, 3600.0, 201)
    >>> def upper(y): return 4.4 - y**2
    >>> def lower(x): return 0.1 + np.exp(-20 * x) - 0.03 * np.tanh(30 * (x - 0.5))
    >>> full = upper(0.3 + 0.6 * t / 3600) - lower(0.9 - 0.8 * t / 3600)
    >>> fit = balance_fit(t, full, -np.ones(201), x, lower(x), x, upper(x))
    >>> round(fit.negative_capacity), round(fit.positive_capacity), fit.told_apart
    (4500, 6000, 1.0)
    """
    charge, volts = _discharge(time, voltage, current)
    negative = _curve("negative", negative_content, negative_voltage)
    positive = _curve("positive", positive_content, positive_voltage)

    def misfit(where: Series) -> Series:
        part = charge / charge[-1]
        lower = negative(where[1] + (where[0] - where[1]) * part)
        upper = positive(where[2] + (where[3] - where[2]) * part)
        return np.asarray(upper - lower - where[4] - volts)

    found = _best(misfit)
    spread = _covariance(found.jac, found.fun)
    return _balance(found.x, spread, float(charge[-1]), found.fun, found.jac)


def _discharge(time: Series, voltage: Series, current: Series) -> tuple[Series, Series]:
    """Charge [C] and voltage [V] of a discharge, averaged in even parts of its charge."""
    time, voltage, current = series_of(time=time, voltage=voltage, current=current)
    removed = -np.diff(forward(time)) * (current[:-1] + current[1:]) / 2
    if (removed < 0).any() or removed.sum() <= 0:
        raise ValueError("the balance is fitted to a discharge alone: cut the rest of the log off")
    charge = np.concatenate(([0.0], np.cumsum(removed)))
    if len(charge) <= POINTS:
        return charge, voltage
    part = np.minimum((charge / charge[-1] * POINTS).astype(np.int64), POINTS - 1)
    count = np.bincount(part, minlength=POINTS)
    some = count > 0
    means = [np.bincount(part, values, POINTS)[some] / count[some] for values in (charge, voltage)]
    # The ends of the charge are kept: capacities are the whole charge over the fitted way.
    means[0][-1], means[1][-1] = charge[-1], voltage[-1]
    return means[0], means[1]


def _curve(name: str, content: Series, voltage: Series) -> Curve:
    content, voltage = series_of(content=content, voltage=voltage)
    if (np.diff(content) <= 0).any() or content[0] < -1e-9 or content[-1] > 1 + 1e-9:
        raise ValueError(f"the {name} curve's content must rise from row to row, within 0 to 1")
    shape = PchipInterpolator(content, voltage, extrapolate=True)
    return lambda where: np.asarray(shape(where))


def _best(misfit: Callable[[Series], Series]) -> Any:
    """The best of several rough searches, made fine, as SciPy returns it."""

    def search(begin: Series, close: float) -> Any:
        ends = ([0.0] * 4 + [-MOST_POLARISED], [1.0] * 4 + [MOST_POLARISED])
        return least_squares(misfit, begin, bounds=ends, xtol=close, ftol=close, gtol=close)

    rough = [search(np.array([*start, 0.0]), 1e-4) for start in STARTS]
    return search(min(rough, key=lambda found: float(found.cost)).x, 1e-10)


def _covariance(jacobian: Series, misfit: Series) -> NDArray[np.float64]:
    """Covariance of what is fitted, shape (5, 5), for misfits that may follow one another."""
    n = len(misfit)
    variance = float(misfit @ misfit) / max(n - jacobian.shape[1], 1)
    lag = float(misfit[1:] @ misfit[:-1]) / max(float(misfit @ misfit), 1e-300)
    lag = min(max(lag, 0.0), 0.99)
    fewer = (1 + lag) / (1 - lag)
    return np.asarray(np.linalg.pinv(jacobian.T @ jacobian) * variance * fewer)


def _balance(
    where: Series,
    spread: NDArray[np.float64],
    charge: float,
    misfit: Series,
    jacobian: Series,
) -> Balance:
    empty, full, positive_full, positive_empty = (float(value) for value in where[:4])
    way_n, way_p = full - empty, positive_empty - positive_full
    capacity_n, capacity_p = charge / way_n, charge / way_p
    lithium = capacity_n * full + capacity_p * positive_full
    slope_n = np.array([1.0, -1.0, 0.0, 0.0, 0.0]) * capacity_n / way_n
    slope_p = np.array([0.0, 0.0, 1.0, -1.0, 0.0]) * capacity_p / way_p
    slope_l = full * slope_n + positive_full * slope_p
    slope_l += np.array([0.0, capacity_n, capacity_p, 0.0, 0.0])
    close = _closest(jacobian)
    at_end = bool(((where[:4] < 1e-6) | (where[:4] > 1 - 1e-6)).any())
    return Balance(
        negative_capacity=capacity_n,
        negative_capacity_uncertainty=_along(slope_n, spread),
        positive_capacity=capacity_p,
        positive_capacity_uncertainty=_along(slope_p, spread),
        negative_full=full,
        negative_full_uncertainty=float(np.sqrt(spread[1, 1])),
        negative_empty=empty,
        positive_full=positive_full,
        positive_empty=positive_empty,
        lithium=lithium,
        lithium_uncertainty=_along(slope_l, spread),
        polarisation=float(where[4]),
        misfit=float(np.sqrt(np.mean(misfit**2))),
        closest_correlation=close,
        told_apart=float(close < APART and not at_end),
    )


def _along(slope: Series, spread: NDArray[np.float64]) -> float:
    return float(np.sqrt(max(float(slope @ spread @ slope), 0.0)))


def _closest(jacobian: Series) -> float:
    """The largest correlation [1] between two fitted positions; 1 where one has no effect."""
    size = np.linalg.norm(jacobian, axis=0)
    if (size < 1e-12).any() or np.linalg.cond(jacobian / size) > 1e7:
        return 1.0
    inverse = np.linalg.inv((jacobian / size).T @ (jacobian / size))
    root = np.sqrt(np.diag(inverse))
    return float(np.abs(inverse / np.outer(root, root) - np.eye(len(root))).max())


PROCEDURES = {
    "balance_fit": Procedure(
        balance_fit,
        {
            **LOG,
            "negative_content": "series 1",
            "negative_voltage": "series V",
            "positive_content": "series 1",
            "positive_voltage": "series V",
        },
        {
            "negative_capacity": "C",
            "negative_capacity_uncertainty": "C",
            "positive_capacity": "C",
            "positive_capacity_uncertainty": "C",
            "negative_full": "1",
            "negative_full_uncertainty": "1",
            "negative_empty": "1",
            "positive_full": "1",
            "positive_empty": "1",
            "lithium": "C",
            "lithium_uncertainty": "C",
            "polarisation": "V",
            "misfit": "V",
            "closest_correlation": "1",
            "told_apart": "1",
        },
    )
}
