"""Contributions to variance: which input the uncertainty of a result comes from.

A linear fit of the draws comes first; for a result that it explains, its parts are the shares.
What it leaves is taken apart by exchanging one input at a time between two sets of draws.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

STRAIGHT = 0.999
"""A linear fit that explains so much of the variance is taken as it is."""


@dataclass(frozen=True)
class Shares:
    """Fractions of the variance by input: first order, and total."""

    first: Mapping[str, float]
    total: Mapping[str, float]


@dataclass(frozen=True, eq=False)
class LinearFit:
    """Slopes of each result by standardised input; shapes (inputs, results)."""

    slopes: Array
    shares: Array
    explained: Array


def linear_fit(inputs: Array, results: Array) -> LinearFit:
    """Least squares of results on inputs, over the draws.

    Parameters: inputs, standardised, shape (k, n); results, centred, shape (m, n).
    Returns: slopes and shares of shape (k, m); explained, R² of shape (m,).
    Source: exact; the normal equations, and R² as the sum of slope times covariance.
    """
    count = inputs.shape[1]
    gram = inputs @ inputs.T / count
    covariance = inputs @ results.T / count
    slopes = np.linalg.lstsq(gram, covariance, rcond=None)[0]
    variance = (results**2).mean(axis=1)
    shares = slopes * covariance / np.where(variance > 0, variance, 1.0)
    return LinearFit(slopes, shares, shares.sum(axis=0))


def interacting(
    names: Sequence[str],
    evaluate: Callable[[Mapping[str, Array]], Array],
    first: Mapping[str, Array],
    second: Mapping[str, Array],
) -> Shares:
    """First-order and total shares where inputs interact or the response bends.

    Parameters: evaluate, a function of all inputs at once, each of shape (n,); first and second,
    two independent sets of draws of every input.
    Returns: shares by name; the straight part exactly, what bends within sampling noise.
    Source: Jansen, Comput. Phys. Commun. 117 (1999) 35, applied to what a linear fit leaves
    (from memory, to be confirmed).
    """
    centre = {name: (first[name].mean(), first[name].std()) for name in names}
    standard = [_standardised(draws, centre, names) for draws in (first, second)]
    here, there = evaluate(first), evaluate(second)
    middle = here.mean()
    slopes = linear_fit(standard[0], (here - middle)[np.newaxis])
    slope = slopes.slopes[:, 0]
    bent = here - middle - slope @ standard[0]
    bent_there = there - middle - slope @ standard[1]
    variance, bend = here.var(), bent.var()
    alone, together = {}, {}
    for at, name in enumerate(names):
        mixed_inputs = {**first, name: second[name]}
        mixed = evaluate(mixed_inputs) - middle - slope @ _standardised(mixed_inputs, centre, names)
        straight = slope[at] ** 2
        alone[name] = (straight + bend - ((bent_there - mixed) ** 2).mean() / 2) / variance
        together[name] = (straight + ((bent - mixed) ** 2).mean() / 2) / variance
    return Shares(
        {name: float(min(1.0, max(0.0, share))) for name, share in alone.items()},
        {name: float(max(0.0, share)) for name, share in together.items()},
    )


def _standardised(
    draws: Mapping[str, Array], centre: Mapping[str, tuple[float, float]], names: Sequence[str]
) -> Array:
    return np.array([(draws[name] - centre[name][0]) / centre[name][1] for name in names])
