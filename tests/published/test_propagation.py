"""Propagation of uncertainty against the worked examples of JCGM 100, typed as pages."""

from __future__ import annotations

from pathlib import Path

import pytest

from calc.engine.results import Result
from tests.helpers import work
from tests.printed import agrees

DRAWS = 10_000

END_GAUGE = """
# End gauge

```yaml calc
id: end-gauge
title: Length of an end gauge by comparison
inputs:
  standard: {value: 50000623 ± 25 nm (k=1), source: bench}
  repeats: {value: 215 ± 5.8 nm (k=1), source: bench}
  comparator_random: {value: 0 ± 3.9 nm (k=1), source: bench}
  comparator_systematic: {value: 0 ± 6.7 nm (k=1), source: bench}
  expansion_difference: {value: "-1e-6 to 1e-6 1/delta_degC", source: bench}
  mean_deviation: {value: -0.1 ± 0.2 delta_degC (k=1), source: bench}
  swing: {value: 0.5 delta_degC, source: bench}
  phase: {value: -3.141592653589793 to 3.141592653589793, source: bench}
  expansion: {value: 9.5e-6 to 13.5e-6 1/delta_degC, source: bench}
  temperature_difference: {value: -0.05 to 0.05 delta_degC, source: bench}
steps:
  difference: repeats + comparator_random + comparator_systematic in nm
  deviation: mean_deviation + swing * sin(phase) in delta_degC
  warmth: expansion_difference * deviation + expansion * temperature_difference
  length: standard + difference - standard * warmth in nm
```
"""

THERMOMETER = """
# Thermometer

```yaml calc
id: thermometer
title: Correction of a thermometer, from a fitted line
inputs:
  intercept: {value: -0.1712(29) delta_degC, source: bench}
  slope: {value: 0.00218(67), source: bench}
  above: {value: 10 delta_degC, source: bench}
steps:
  correction: intercept + slope * above in delta_degC
CORRELATED
```
"""


def result(folder: Path, page: str, id: str) -> Result:
    whole = work(folder, {"page.md": page})
    assert not whole.problems
    return whole.computation.results[id]


def test_end_gauge(tmp_path: Path) -> None:
    """JCGM 100:2008, H.1 (quoted in other public works): 50.000 838 mm, u 32 nm to first order,
    34 nm with the second order; recomputed 33.807 nm. Sampling holds all orders."""
    found = result(tmp_path, END_GAUGE, "end-gauge.length")
    assert agrees("50.000838", found.value * 1e-6)
    assert agrees("34", found.standard_uncertainty)
    standard_error = 33.807 / (2 * DRAWS) ** 0.5
    assert abs(found.standard_uncertainty - 33.807) < 4 * standard_error


def test_end_gauge_names_where_the_uncertainty_comes_from(tmp_path: Path) -> None:
    """JCGM 100:2008, H.1.4: standard 25, difference 9.7, temperature difference 16.6 nm; the
    second order brings 11.7 and the rest. A linear budget gives expansion no share at all."""
    found = result(tmp_path, END_GAUGE, "end-gauge.length")
    variance = 33.807**2
    expected = {"standard": 25.0**2, "repeats": 5.8**2, "temperature_difference": 16.599**2}
    for name, part in expected.items():
        assert found.shares[name] == pytest.approx(part / variance, abs=0.02)
    assert found.total_shares["expansion_difference"] > 0.03


@pytest.mark.parametrize(
    ("correlated", "uncertainty"),
    [("correlated: [{between: [intercept, slope], r: -0.930}]", "0.0041"), ("", "0.0073")],
)
def test_thermometer(tmp_path: Path, correlated: str, uncertainty: str) -> None:
    """JCGM 100:2008, H.3 (quoted): -0.1494(41) with r = -0.930, and 0.0073 without it."""
    page = THERMOMETER.replace("CORRELATED", correlated)
    found = result(tmp_path, page, "thermometer.correction")
    assert agrees("-0.1494", found.value)
    assert agrees(uncertainty, found.standard_uncertainty)


DIVISORS = [
    # (quantity, standard uncertainty as printed, source, mark)
    ("10 to 12 V", "0.57735", "JCGM 100:2008, 4.3.7: (b - a)/sqrt(12)", "memory"),
    ("10 to 12 V, likely 11 V", "0.40825", "JCGM 100:2008, 4.3.9: half-width/sqrt(6)", "memory"),
    ("11 ± 1 V", "0.5", "JCGM 100:2008, 4.3.3: U/k", "memory"),
    ("11 ± 1.5 V (k=3)", "0.5", "JCGM 100:2008, 4.3.3: U/k", "memory"),
    ("100.02147(35) g", "0.00035", "JCGM 100:2008, 7.2.2", "quoted"),
    ("11.0 V to the last digit", "0.02887", "JCGM 100:2008, F.2.2.1: step/sqrt(12)", "memory"),
]


@pytest.mark.parametrize(("quantity", "printed", "source", "mark"), DIVISORS)
def test_divisors(tmp_path: Path, quantity: str, printed: str, source: str, mark: str) -> None:
    unit = quantity.replace(" (k=3)", "").replace(" to the last digit", "").split()[-1]
    page = f"""# Page

```yaml calc
id: divisor
title: A quantity by itself
inputs:
  value: {{value: "{quantity}", source: bench}}
steps:
  same: value in {unit}
```
"""
    found = result(tmp_path, page, "divisor.same")
    assert agrees(printed, found.standard_uncertainty), (source, mark)
