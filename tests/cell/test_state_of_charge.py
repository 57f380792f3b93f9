"""Counting charge, and the open-circuit curve amid two slow passes."""

from __future__ import annotations

import numpy as np
import pytest

from calc.cell.state_of_charge import coulomb_count, open_circuit
from tests.cell.trials import hits, within_binomial


def test_counting_in_closed_form() -> None:
    time = np.linspace(0, 7200, 721)
    amps = -10 * np.sin(time * np.pi / 7200)
    at = np.array([0.0, 3600.0, 7200.0])
    found = coulomb_count(time, amps, at, 0.9, 75 * 3600.0, 1, 0)
    moved = 10 * 7200 / np.pi * (1 - np.cos(at * np.pi / 7200))
    np.testing.assert_allclose(found.state_of_charge, 0.9 - moved / (75 * 3600), atol=1e-6)


def test_drift_grows_with_time() -> None:
    time = np.linspace(0, 36000, 361)
    found = coulomb_count(time, 0 * time, np.array([3600.0, 36000.0]), 0.5, 72000.0, 1, 0.02)
    np.testing.assert_allclose(found.drift, [0.001, 0.01])
    np.testing.assert_allclose(found.state_of_charge, [0.501, 0.51])


def test_a_time_outside_the_log_is_said() -> None:
    with pytest.raises(ValueError, match="the log runs from 0 s to 10 s"):
        coulomb_count(np.array([0.0, 10.0]), np.ones(2), 11, 0.5, 3600.0, 1, 0)


def test_counting_round_trip() -> None:
    time = np.linspace(0, 5 * 3600, 1801)
    true_amps = 8 * np.sin(time / 700) - 3
    true = 0.8 + np.trapezoid(true_amps, time) / (75 * 3600)

    def trial(random: np.random.Generator) -> bool:
        gain, offset = random.normal(1, 2e-3), random.normal(0, 0.05)
        capacity = random.normal(75 * 3600, 500)
        start = random.normal(0.8, 0.005)
        seen = (true_amps - offset) / gain + random.normal(0, 0.05, len(time))
        found = coulomb_count(
            time,
            seen,
            time[-1],
            random.normal(start, 0.005, 2000),
            random.normal(capacity, 500, 2000),
            random.normal(1, 2e-3, 2000),
            random.normal(0, 0.05, 2000),
        )
        low, high = np.quantile(found.state_of_charge, [0.025, 0.975])
        return bool(low <= true <= high)

    assert within_binomial(hits(trial))


def test_open_circuit_lies_amid_the_passes() -> None:
    time = np.linspace(0, 36000, 721)
    level = time / 36000
    curve = 3.3 + 0.8 * level + 0.05 * np.tanh(20 * (level - 0.4))
    at = np.linspace(0.05, 0.95, 19)
    found = open_circuit(
        time, curve + 0.015, np.full(721, 7.5), time, curve[::-1] - 0.015, np.full(721, -7.4), at
    )
    np.testing.assert_allclose(found.voltage, np.interp(at, level, curve), atol=1e-5)
    np.testing.assert_allclose(found.half_gap, 0.015, atol=1e-5)


def test_a_pass_that_turns_round_is_refused_with_its_row() -> None:
    time, volts = np.arange(3.0), np.array([3.0, 3.5, 4.0])
    up, down = (time, volts, np.ones(3)), (time, volts[::-1], np.array([-1.0, -1.0, 3.0]))
    with pytest.raises(ValueError, match="discharge log runs the other way in row 3"):
        open_circuit(*up, *down, 0.5)
    with pytest.raises(ValueError, match="0 to 1"):
        open_circuit(*up, *up, 1.2)
