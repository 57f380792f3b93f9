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
    first: Mapping[str, Array],
    second: Mapping[str, Array],
    here: Array,
    there: Array,
    with_second: Callable[[str], Array],
) -> list[Shares]:
    """First-order and total shares of results whose inputs interact or whose response bends.

    Parameters: first and second, two independent sets of draws of every input, each of shape
    (n,); here and there, the results on each of them, shape (m, n); with_second, the results on
    the first set with one named input taken from the second.
    Returns: the shares of each of the m results; the straight part exactly, what bends within
    sampling noise.
    Source: Jansen, Comput. Phys. Commun. 117 (1999) 35, applied to what a linear fit leaves
    (from memory, to be confirmed).
    """
    names = list(first)
    centre = {name: (first[name].mean(), first[name].std()) for name in names}
    ours, theirs = (_standardised(draws, centre, names) for draws in (first, second))
    middle = here.mean(axis=1, keepdims=True)
    fit = linear_fit(ours, here - middle, np.eye(len(names)))
    line = middle + fit.slopes.T @ ours
    bent, bent_there = here - line, there - middle - fit.slopes.T @ theirs
    alone, together = np.empty_like(fit.slopes), np.empty_like(fit.slopes)
    for at, name in enumerate(names):
        moved_line = line + np.outer(fit.slopes[at], theirs[at] - ours[at])
        moved = with_second(name) - moved_line
        straight = fit.slopes[at] ** 2
        alone[at] = straight + fit.bend - ((bent_there - moved) ** 2).mean(axis=1) / 2
        together[at] = straight + ((bent - moved) ** 2).mean(axis=1) / 2
    alone = np.clip(alone / fit.variance, 0, 1)
    together = np.maximum(together / fit.variance, 0)
    return [
        _with_interaction(dict(zip(names, one, strict=True)), dict(zip(names, all, strict=True)))
        for one, all in zip(alone.T.tolist(), together.T.tolist(), strict=True)
    ]


def _with_interaction(first: dict[str, float], total: dict[str, float]) -> Shares:
    """First-order shares with what is left named, so that they sum to one."""
    alone = sum(first.values())
    if alone > 1:
        return Shares({name: share / alone for name, share in first.items()}, total)
    return Shares({**first, "interaction": 1 - alone}, total)


def _standardised(
    draws: Mapping[str, Array], centre: Mapping[str, tuple[float, float]], names: Sequence[str]
) -> Array:
    return np.array([(draws[name] - centre[name][0]) / centre[name][1] for name in names])
