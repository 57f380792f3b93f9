"""Several estimates of one quantity: how far apart they are, and what they say together.

Everything here is arithmetic on values [any one unit], standard uncertainties [the same unit] and
their covariance [that unit squared]; what the numbers mean in words is said in `agreement`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from math import copysign, inf, sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import chdtrc

from calc.engine.covariance import check_covariance
from calc.engine.means import Mean, chi_squared_of, fitted_variance, mean_of, moment_variance

Array = NDArray[np.float64]

COVERAGE = 2.0
"""Coverage factor k of the expanded uncertainties in a normalised error (ISO/IEC 17043)."""


@dataclass(frozen=True)
class Pair:
    """Two estimates and the normalised error of their difference, a less b [dimensionless]."""

    a: str
    b: str
    normalised_error: float

    @property
    def agrees(self) -> bool:
        """Whether the difference lies within its expanded uncertainty."""
        return abs(self.normalised_error) <= 1


@dataclass(frozen=True)
class Reconciliation:
    """Estimates set side by side; see `reconcile` for each part."""

    names: tuple[str, ...]
    pairs: tuple[Pair, ...]
    chi_squared: float
    chi_squared_probability: float
    birge_ratio: float
    consistent: bool
    weighted: Mean
    scaled: Mean
    dersimonian_laird: Mean
    paule_mandel: Mean

    @property
    def degrees_of_freedom(self) -> int:
        """Estimates less the one mean taken from them."""
        return len(self.names) - 1

    @property
    def combined(self) -> Mean:
        """The one value to go on with.

        While the estimates are consistent, their weights can be believed: the weighted mean
        stands, its uncertainty widened by the Birge ratio where that exceeds one. Once they are
        not, at least one stated uncertainty is too small and nobody knows which, so weights made
        of the stated uncertainties are refuted as well, and widening alone would leave the mean
        beside whoever claimed most. The Paule–Mandel mean adds just the variance between
        estimates that would explain their scatter, which evens the weights out.
        """
        return self.scaled if self.consistent else self.paule_mandel


def reconcile(
    names: Sequence[str],
    values: ArrayLike,
    standard_uncertainties: ArrayLike,
    covariance: ArrayLike | None = None,
    significance: float = 0.05,
) -> Reconciliation:
    """Compare and combine n estimates of one quantity.

    Parameters: names, n of them; values and standard_uncertainties, shape (n,), in one unit;
    covariance, shape (n, n), that unit squared, its diagonal the squared uncertainties (left out,
    the estimates are independent); significance, the probability of chi-squared below which they
    are called inconsistent. One-sided bounds do not belong here.
    Returns: pairs in the order of names; chi-squared about the weighted mean, the probability
    that chance alone exceeds it, and the Birge ratio sqrt(chi-squared / (n - 1)); the
    generalised-least-squares mean plain and with its uncertainty scaled by the Birge ratio when
    that exceeds one; the random-effects means of DerSimonian and Laird and of Paule and Mandel.
    Raises: ValueError for fewer than two estimates, shapes that differ, an estimate without an
    uncertainty, or a covariance that no estimates can have.
    Source: R. T. Birge, Physical Review 40 (1932) 207; R. DerSimonian and N. Laird, Controlled
    Clinical Trials 7 (1986) 177; R. C. Paule and J. Mandel, Journal of Research of the National
    Bureau of Standards 87 (1982) 377; citations from memory, to be confirmed.

    >>> both = reconcile(["a", "b"], [10, 30], [4, 5])
    >>> round(both.weighted.value, 5), round(both.chi_squared, 5), both.consistent
    (17.80488, 9.7561, False)
    """
    x, c = _checked(names, values, standard_uncertainties, covariance)
    weighted = mean_of(x, c)
    chi_squared = chi_squared_of(x, c)
    freedom = len(x) - 1
    probability = float(chdtrc(freedom, chi_squared))
    birge_ratio = sqrt(chi_squared / freedom)
    return Reconciliation(
        names=tuple(names),
        pairs=_pairs(names, x, c),
        chi_squared=chi_squared,
        chi_squared_probability=probability,
        birge_ratio=birge_ratio,
        consistent=probability >= significance,
        weighted=weighted,
        scaled=_widened(weighted, birge_ratio),
        dersimonian_laird=mean_of(x, c, moment_variance(x, c)),
        paule_mandel=mean_of(x, c, fitted_variance(x, c)),
    )


def normalised_error(difference: float, standard_uncertainty: float) -> float:
    """E_n: a difference over its expanded uncertainty with k = 2; within ±1 it is satisfactory.

    Parameters: difference and the standard uncertainty of that difference, in one unit.
    Returns: dimensionless, with the sign of the difference; infinite when a difference has no
    uncertainty at all.
    Source: ISO/IEC 17043.

    >>> round(normalised_error(10.02 - 9.98, sqrt(0.025**2 + 0.015**2)), 5)
    0.68599
    """
    if difference == 0:
        return 0.0
    if standard_uncertainty == 0:
        return copysign(inf, difference)
    return difference / (COVERAGE * standard_uncertainty)


def _checked(
    names: Sequence[str], values: ArrayLike, uncertainties: ArrayLike, covariance: ArrayLike | None
) -> tuple[Array, Array]:
    """Values (n,) and their covariance (n, n), once they make sense together."""
    x = np.asarray(values, dtype=np.float64)
    u = np.asarray(uncertainties, dtype=np.float64)
    if len(names) < 2:
        raise ValueError(f"at least two estimates are needed to compare, got {len(names)}")
    if x.shape != (len(names),) or u.shape != x.shape:
        raise ValueError(f"{len(names)} names need as many values and standard uncertainties")
    for name, value, uncertainty in zip(names, x, u, strict=True):
        noise = 1e-12 * abs(value)  # what is left of exact inputs after some arithmetic
        if not np.isfinite(value) or not noise < uncertainty < inf:
            raise ValueError(f"{name} needs a finite value and an uncertainty above zero")
    if covariance is None:
        return x, np.diag(u**2)
    c = np.asarray(covariance, dtype=np.float64)
    check_covariance(names, u, c)
    return x, c


def _pairs(names: Sequence[str], x: Array, c: Array) -> tuple[Pair, ...]:
    return tuple(
        Pair(
            names[a],
            names[b],
            normalised_error(float(x[a] - x[b]), sqrt(c[a, a] + c[b, b] - 2 * c[a, b])),
        )
        for a, b in combinations(range(len(x)), 2)
    )


def _widened(mean: Mean, birge_ratio: float) -> Mean:
    return Mean(mean.value, mean.standard_uncertainty * max(1.0, birge_ratio), mean.weights)
