"""Conformance probabilities of normal distributions, as JCGM 106 has them."""

from __future__ import annotations

from math import inf

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.stats import norm

from calc.book.evidence import DOES_NOT_HOLD, HOLDS, UNDECIDED
from calc.engine.conformity import Region, probability, probability_from_quantiles, verdict
from tests.printed import agrees

COUNT = 100_000

# lower limit, upper limit, value, standard uncertainty, printed probability, source, mark
PRINTED = [(490.0, inf, 507.0, 8.0, "0.9832", "JCGM 106:2012", "from memory, to be confirmed")]

# The formula p = Φ((T_U − y)/u) − Φ((T_L − y)/u) is JCGM 106's; SciPy's normal distribution is
# the reference that it is worked out with.
LIMITS = [
    (490.0, inf),
    (-inf, 510.0),
    (500.0, 510.0),
    (507.0, inf),
    (-inf, 470.0),
    (520.0, 600.0),
]


def quantiles(value: float, uncertainty: float) -> NDArray[np.float64]:
    places = (np.arange(COUNT) + 0.5) / COUNT
    return np.asarray(norm.ppf(places, loc=value, scale=uncertainty))


@pytest.mark.parametrize(("low", "high", "value", "u", "printed", "source", "mark"), PRINTED)
def test_printed_probability(
    low: float, high: float, value: float, u: float, printed: str, source: str, mark: str
) -> None:
    distribution = quantiles(value, u)
    region = Region(low, high)
    assert agrees(printed, probability_from_quantiles(distribution, region))
    assert agrees(printed, probability(distribution[::-1], region))


@pytest.mark.parametrize(("low", "high"), LIMITS)
def test_normal_formula(low: float, high: float) -> None:
    expected = norm.cdf((high - 507) / 8) - norm.cdf((low - 507) / 8)
    distribution = quantiles(507, 8)
    region = Region(low, high)
    # Two limits, each known to half a step of the sample.
    assert probability(distribution, region) == pytest.approx(expected, abs=1 / COUNT)
    between_steps = probability_from_quantiles(distribution, region)
    assert between_steps == pytest.approx(expected, abs=1 / COUNT)


def test_limits_too_narrow_for_any_value_leave_it_undecided() -> None:
    """JCGM 106: between limits one u either side, the best placed value reaches only 68 %."""
    found = [
        probability_from_quantiles(quantiles(value, 8), Region(499, 515))
        for value in (491.0, 499.0, 507.0, 515.0, 523.0)
    ]
    assert agrees("0.683", max(found))
    assert HOLDS not in {verdict(each) for each in found}
    assert verdict(max(found)) == UNDECIDED


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_verdict_of_generated_distributions(seed: int) -> None:
    """A normal distribution and a limit put where the probability is known (SciPy, exact)."""
    random = np.random.default_rng(seed)
    for wanted, expected in [(0.97, HOLDS), (0.5, UNDECIDED), (0.03, DOES_NOT_HOLD)]:
        value, u = random.uniform(-500, 500), random.uniform(0.1, 50)
        draws = random.normal(value, u, size=COUNT)
        limit = float(norm.ppf(1 - wanted, loc=value, scale=u))
        found = probability(draws, Region(low=limit))
        # Four standard errors of a share counted in so many draws.
        assert found == pytest.approx(wanted, abs=4 * (wanted * (1 - wanted) / COUNT) ** 0.5)
        assert verdict(found) == expected
