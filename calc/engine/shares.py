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
    """Results as a straight line in their inputs, with what that line leaves.

    `slopes`: per standard uncertainty of each input, shape (inputs, results). `straight`: the
    variance of the line, `bend`: of what it leaves, each of shape (results,).
    """

    slopes: Array
    straight: Array
    bend: Array
    correlation: Array

    @property
    def variance(self) -> Array:
        """The variance of each result.

        That of the line follows from its slopes and the inputs' own correlation, so draws that
        happen to run together count for nothing.
        """
        return self.straight + self.bend

    def shares(self) -> Array:
        """The part of each input in the variance, straight part only, shape (inputs, results)."""
        parts = self.slopes * (self.correlation @ self.slopes)
        return parts / np.where(self.variance > 0, self.variance, 1.0)


def linear_fit(inputs: Array, results: Array, correlation: Array) -> LinearFit:
    """Least squares of results on inputs, over the draws.

    Parameters: inputs, standardised, shape (k, n); results, centred, shape (m, n); correlation,
    what the inputs' correlation is meant to be, shape (k, k).
    Source: exact; the normal equations. The line serves as control variate.
    """
    count = inputs.shape[1]
    gram = inputs @ inputs.T / count
    covariance = inputs @ results.T / count
    slopes = np.linalg.lstsq(gram, covariance, rcond=None)[0]
    drawn = (results**2).mean(axis=1)
    bend = np.maximum(drawn - (slopes * covariance).sum(axis=0), 0.0)
    straight = (slopes * (correlation @ slopes)).sum(axis=0)
    return LinearFit(slopes, straight, bend, correlation)


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
    ours, theirs = (_standardised(draws, centre, names) for draws in (first, second))
    here, there = evaluate(first), evaluate(second)
    middle = here.mean()
    fit = linear_fit(ours, (here - middle)[np.newaxis], np.eye(len(names)))
    slope, variance = fit.slopes[:, 0], fit.variance[0]
    line = middle + slope @ ours
    bent, bent_there = here - line, there - middle - slope @ theirs
    alone, together = {}, {}
    for at, name in enumerate(names):
        moved_line = line + slope[at] * (theirs[at] - ours[at])
        moved = evaluate({**first, name: second[name]}) - moved_line
        straight = slope[at] ** 2
        alone[name] = (straight + fit.bend[0] - ((bent_there - moved) ** 2).mean() / 2) / variance
        together[name] = (straight + ((bent - moved) ** 2).mean() / 2) / variance
    return Shares(
        {name: float(min(1.0, max(0.0, share))) for name, share in alone.items()},
        {name: float(max(0.0, share)) for name, share in together.items()},
    )


def _standardised(
    draws: Mapping[str, Array], centre: Mapping[str, tuple[float, float]], names: Sequence[str]
) -> Array:
    return np.array([(draws[name] - centre[name][0]) / centre[name][1] for name in names])
