"""Resistance from steps: known circuits give back what they were made of."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from calc.cell.resistance_steps import step_resistance, step_state, two_rate_resistance
from tests.cell.half_cells import Columns
from tests.cell.trials import hits, within_binomial

SERIES, RELAXED, TAU = 0.85e-3, 0.40e-3, 20.0
GIVEN: dict[str, Any] = {
    "averaging": 2.0,
    "smallest_step": 1.0,
    "current_gain": 1,
    "voltage_gain": 1,
}


def pulse(noise: float = 0.0, random: np.random.Generator | None = None) -> Columns:
    """Rest, a discharge of 60 s at 75 A from 30 s on, rest: resistance and one relaxation."""
    time = np.arange(0, 120, 0.1)
    on, off = time >= 30, time >= 90
    amps = np.where(on & ~off, -75.0, 0.0)
    drop = np.where(on, -75 * RELAXED * (1 - np.exp(-(time - 30) / TAU)), 0.0)
    back = np.where(off, 75 * RELAXED * (1 - np.exp(-(time - 90) / TAU)), 0.0)
    volts = 3.7 + SERIES * amps + drop + back
    return time, volts + (random.normal(0, noise, len(time)) if random else 0), amps


@pytest.mark.parametrize(("number", "delay"), [(1, 5), (1, 10), (1, 30), (2, 5), (2, 10)])
def test_a_known_circuit_is_recovered_at_each_delay(number: int, delay: float) -> None:
    found = step_resistance(*pulse(), number=number, delay=delay, **GIVEN)
    # The second step begins with the relaxation of the first not over: what it left decays on.
    expected = SERIES + RELAXED * (1 - np.exp(-delay / TAU))
    if number == 2:
        left = RELAXED * (1 - np.exp(-60 / TAU))
        expected = SERIES + left * (1 - np.exp(-delay / TAU))
    assert found.resistance == pytest.approx(expected, rel=2e-3)
    assert found.steps == 2


def test_the_meters_gains_scale_and_offsets_cancel() -> None:
    time, volts, amps = pulse()
    gains = {"current_gain": np.array([1.0, 1.01]), "voltage_gain": np.array([1.0, 1.002])}
    found = step_resistance(time, volts + 0.05, amps + 0.3, 1, 10.0, 2.0, 1.0, **gains)
    plain = step_resistance(time, volts, amps, 1, 10.0, **GIVEN)
    first, second = np.asarray(found.resistance)
    assert first == pytest.approx(plain.resistance, rel=1e-9)
    assert second == pytest.approx(plain.resistance * 1.002 / 1.01, rel=1e-9)


def test_noise_round_trip() -> None:
    true = step_resistance(*pulse(), number=1, delay=10.0, **GIVEN).resistance

    def trial(random: np.random.Generator) -> bool:
        found = step_resistance(*pulse(2e-4, random), number=1, delay=10.0, **GIVEN)
        # Twenty samples before the step know their own scatter: Student's 2.09 for 95 %.
        return abs(float(found.resistance - true)) <= 2.09 * float(found.from_noise)

    assert within_binomial(hits(trial))


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"number": 3}, "no step 3: the log has 2"),
        ({"delay": 61.0}, "sooner than"),
        ({"averaging": 0.01}, "no sample"),
    ],
)
def test_what_the_log_cannot_answer_is_said(change: dict[str, Any], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        step_resistance(*pulse(), **{"number": 1, "delay": 10.0, **GIVEN, **change})


def test_state_at_a_step_counts_charge_to_it() -> None:
    time, _, amps = pulse()
    found = step_state(time, amps, 298.15 + time / 100, 2, 1.0, 0.6, 75 * 3600.0)
    one_sample = 0.1 / 3600
    assert found.state_of_charge == pytest.approx(0.6 - 60 / 3600, abs=one_sample)
    assert found.temperature == pytest.approx(299.05, abs=0.01)
    assert (found.current_before, found.current_after) == (-75, 0)


def test_two_rates_give_the_resistance_between_them() -> None:
    def discharge(current: float) -> Columns:
        time = np.linspace(0, 36000 / current, 301)
        return time, 4.2 - 1.2 * time * current / 36000 - 0.02 * current, np.full(301, -current)

    slow, fast = discharge(1.0), discharge(5.0)
    at = np.array([3600.0, 18000.0, 30000.0])
    assert two_rate_resistance(*slow, *fast, at) == pytest.approx(0.02, rel=1e-9)
    with pytest.raises(ValueError, match="slow log removes"):
        two_rate_resistance(*slow, *fast, 40000.0)
    with pytest.raises(ValueError, match="same current"):
        two_rate_resistance(*slow, *slow, 3600.0)
