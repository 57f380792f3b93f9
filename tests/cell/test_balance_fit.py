"""Two-electrode balance: a published cell's curve gives its electrodes back, or says it cannot."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from scipy.stats import norm

from calc.cell.balance_fit import balance_fit
from tests.cell.half_cells import CAPACITY, NEGATIVE, POSITIVE, discharge, negative, positive
from tests.cell.trials import enough, hits

CONTENT = np.linspace(0.005, 0.995, 400)
HALF_CELLS = (CONTENT, negative(CONTENT), CONTENT, positive(CONTENT))
TRUE_NEGATIVE = CAPACITY / (NEGATIVE[1] - NEGATIVE[0])
TRUE_POSITIVE = CAPACITY / (POSITIVE[0] - POSITIVE[1])


def test_a_clean_curve_gives_the_published_balance() -> None:
    found = balance_fit(*discharge(), *HALF_CELLS)
    assert found.negative_capacity == pytest.approx(TRUE_NEGATIVE, rel=2e-3)
    assert found.positive_capacity == pytest.approx(TRUE_POSITIVE, rel=2e-3)
    assert found.negative_full == pytest.approx(NEGATIVE[1], abs=2e-3)
    assert found.positive_full == pytest.approx(POSITIVE[1], abs=2e-3)
    lithium = TRUE_NEGATIVE * NEGATIVE[1] + TRUE_POSITIVE * POSITIVE[1]
    assert found.lithium == pytest.approx(lithium, rel=2e-3)
    assert found.misfit < 1e-3
    assert found.told_apart == 1


def test_a_steady_polarisation_is_told_from_the_curves() -> None:
    time, volts, amps = discharge()
    found = balance_fit(time, volts - 0.018, amps, *HALF_CELLS)
    assert found.polarisation == pytest.approx(0.018, abs=1e-3)
    assert found.negative_capacity == pytest.approx(TRUE_NEGATIVE, rel=5e-3)


def test_noise_round_trip() -> None:
    # The half-cell curves are read off at points, as measured ones are; beside 2 mV of noise
    # in 400 averages their own error is a small part.
    log = discharge(4000)

    def trial(random: np.random.Generator) -> bool:
        time, volts, amps = log
        found = balance_fit(time, volts + random.normal(0, 5e-3, len(time)), amps, *HALF_CELLS)
        off = abs(found.negative_capacity - TRUE_NEGATIVE)
        return bool(off <= norm.ppf(0.975) * found.negative_capacity_uncertainty)

    assert enough(hits(trial))


def test_amounts_that_cannot_be_told_apart_are_said() -> None:
    # Two straight half-cell curves: any shift of one is undone by a shift of the other.
    content = np.linspace(0, 1, 50)
    time = np.linspace(0, 3600, 300)
    volts = 3.9 - 0.6 * time / 3600
    noise = np.random.default_rng(3).normal(0, 1e-3, 300)
    found = balance_fit(
        time, volts + noise, -np.ones(300), content, 0.4 - 0.3 * content, content, 4.2 - content
    )
    assert found.told_apart == 0
    assert found.closest_correlation > 0.995


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"current": np.ones(300)}, "a discharge alone"),
        ({"negative_content": CONTENT[::-1]}, "negative curve's content must rise"),
        ({"positive_content": 100 * CONTENT}, "within 0 to 1"),
    ],
)
def test_what_cannot_be_fitted_is_said(change: dict[str, Any], said: str) -> None:
    time, volts, amps = discharge(300)
    given: dict[str, Any] = {"time": time, "voltage": volts, "current": amps}
    names = ("negative_content", "negative_voltage", "positive_content", "positive_voltage")
    given |= dict(zip(names, HALF_CELLS, strict=True))
    with pytest.raises(ValueError, match=said):
        balance_fit(**{**given, **change})
