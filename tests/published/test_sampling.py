"""Sampling against the examples of JCGM 101, typed as pages.

Tolerances are four standard errors of the same number of independent draws; drawing in strata
does better.
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from scipy import stats

from calc.engine.results import Result
from tests.helpers import calc_page, work
from tests.printed import agrees

DRAWS = 10_000
ENDPOINT = 0.053 / 2
"""Standard error of a 97.5 % endpoint, in standard uncertainties (uncertainty of the ends of a
normal interval with 10 000 draws: 0.053 when u = 2; exact)."""


def result(folder: Path, page: str, name: str = "sum") -> Result:
    whole = work(folder, {"page.md": page})
    assert not whole.problems
    return whole.computation.results[f"trial.{name}"]


def rectangular(standard: float) -> str:
    half = standard * math.sqrt(3)
    return f"{-half!r} to {half!r}"


def four(first: str, rest: str) -> str:
    inputs = {"a": first, "b": rest, "c": rest, "d": rest}
    return calc_page(inputs, {"sum": "a + b + c + d"})


ADDED = [
    # (first, other three, half-width as printed, u as printed, exact half-width, mark)
    ("0 ± 1 (k=1)", "0 ± 1 (k=1)", "3.92", "2.00", 3.919928, "quoted"),
    (rectangular(1), rectangular(1), "3.88", "2.00", 3.879407, "quoted"),
    (rectangular(10), rectangular(1), "17.0", "10.1", 17.015814, "memory"),
]


@pytest.mark.parametrize(("first", "rest", "half", "u", "exact", "mark"), ADDED)
def test_four_added(
    tmp_path: Path, first: str, rest: str, half: str, u: str, exact: float, mark: str
) -> None:
    """JCGM 101:2008, 9.2.2 to 9.2.4."""
    found = result(tmp_path, four(first, rest))
    assert agrees(u, found.standard_uncertainty), mark
    low, high = found.interval
    allowed = 4 * ENDPOINT * found.standard_uncertainty
    assert abs(high - exact) < allowed
    assert abs(low + exact) < allowed
    assert abs(high - float(half)) < allowed


def test_sum_of_squares(tmp_path: Path) -> None:
    """JCGM 101:2008, 9.4 (from memory, to be confirmed): 150e-6, u 112e-6, shortest [0, 367]e-6;
    exact 150, 111.8, [0, 366.005], and symmetric [8.547, 427.123], by the noncentral chi-squared
    law, which scipy.stats gives independently."""
    inputs = {"a": "0.010 ± 0.005 (k=1)", "b": "0 ± 0.005 (k=1)"}
    law = stats.ncx2(df=2, nc=(0.010 / 0.005) ** 2, scale=0.005**2)
    page = calc_page(inputs, {"sum": "a ** 2 + b ** 2"})
    symmetric = result(tmp_path / "symmetric", page)
    assert symmetric.bent
    assert symmetric.mean == pytest.approx(150e-6, abs=4 * 111.8e-6 / DRAWS**0.5)
    kurtosis_error = 4 * law.std() * math.sqrt((law.stats("k") + 2) / (4 * DRAWS))
    assert abs(symmetric.standard_uncertainty - 111.8e-6) < kurtosis_error
    for end, probability in zip(symmetric.interval, (0.025, 0.975), strict=True):
        assert abs(end - law.ppf(probability)) < four_errors(law, probability)
    assert abs(symmetric.interval[0] - 8.547e-6) < four_errors(law, 0.025)
    assert abs(symmetric.interval[1] - 427.123e-6) < four_errors(law, 0.975)
    page = calc_page(inputs, {"sum": "a ** 2 + b ** 2"}, "interval: shortest")
    shortest = result(tmp_path / "shortest", page)
    assert shortest.interval[0] < 1e-6
    assert abs(shortest.interval[1] - 366.005e-6) < four_errors(law, 0.95)


def four_errors(law: stats.rv_continuous, probability: float) -> float:
    """Four standard errors of a quantile of independent draws."""
    density = law.pdf(law.ppf(probability))
    return float(4 * math.sqrt(probability * (1 - probability) / DRAWS) / density)


MASS = {
    "reference": "100000 ± 0.050 mg (k=1)",
    "added": "1.234 ± 0.020 mg (k=1)",
    "air": "1.1 to 1.3 kg/m^3",
    "weight": "7000 to 9000 kg/m^3",
    "standard": "7950 to 8050 kg/m^3",
    "usual_air": "1.2 kg/m^3",
    "nominal": "100000 mg",
}
MASS_STEPS = {
    "buoyancy": "(air - usual_air) * (1 / weight - 1 / standard)",
    "sum": "(reference + added) * (1 + buoyancy) - nominal in mg",
}


def test_mass_calibration(tmp_path: Path) -> None:
    """JCGM 101:2008, 9.3 (from memory, to be confirmed): 1.2341 mg, u 0.0754, [1.0834, 1.3825],
    where the first order says 0.0539; exact u 0.0754797."""
    found = result(tmp_path, calc_page(MASS, MASS_STEPS))
    assert abs(found.mean - 1.2341) < 4 * 0.0754797 / DRAWS**0.5
    assert abs(found.standard_uncertainty - 0.0754797) < 4 * 0.0754797 / (2 * DRAWS) ** 0.5
    allowed = 4 * ENDPOINT * 0.0754797
    assert abs(found.interval[0] - 1.0834) < allowed
    assert abs(found.interval[1] - 1.3825) < allowed
    assert found.total_shares["air"] + found.total_shares["weight"] > 0.5


def test_logarithm_of_a_wide_input(tmp_path: Path) -> None:
    """y = ln x, x uniform on (0.1, 1.1), exact: -0.664900, u 0.606227; linear -0.511, 0.481."""
    found = result(tmp_path, calc_page({"x": "0.1 to 1.1"}, {"sum": "log(x)"}))
    assert abs(found.mean + 0.664900) < 4 * 0.606227 / DRAWS**0.5
    assert abs(found.standard_uncertainty - 0.606227) < 4 * 0.606227 / DRAWS**0.5
    assert agrees("-0.511", found.value)
    assert found.bent
