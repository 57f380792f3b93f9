"""Time, energy and mean power between two states of charge of a measured charge."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from calc.cell.charge_window import charge_window
from tests.cell.half_cells import Columns
from tests.cell.trials import hits, within_binomial
from tests.printed import agrees

TRUE = {"current_gain": 1.0, "current_offset": 0.0, "voltage_gain": 1.0, "voltage_offset": 0.0}


def tapering(rows: int = 400) -> Columns:
    """An hour and a half at a current that falls from 80 A; voltage rises on a line."""
    time = np.linspace(0, 5400, rows)
    return time, 3.5 + 0.6 * time / 5400, 80 - 60 * time / 5400


def test_ten_to_eighty_per_cent_at_one_c() -> None:
    time = np.linspace(0, 3600, 37)
    found = charge_window(time, np.full(37, 4.0), np.full(37, 5.0), 0, 0.1, 0.8, 18000, **TRUE)
    assert agrees("42.0", float(found.time) / 60)
    assert found.energy == pytest.approx(0.7 * 5 * 4 * 3600)
    assert found.mean_power == pytest.approx(20)


def test_draws_are_what_each_alone_would_be() -> None:
    random = np.random.default_rng(8)
    draws: dict[str, Any] = {
        "capacity": random.normal(75 * 3600, 400, 6),
        "current_gain": random.normal(1, 2e-3, 6),
        "current_offset": random.normal(0, 0.05, 6),
        "voltage_gain": random.normal(1, 1e-3, 6),
        "voltage_offset": random.normal(0, 2e-3, 6),
    }
    time, volts, amps = tapering(4001)
    together = charge_window(time, volts, amps, 0.05, 0.2, 0.8, **draws)
    for place in range(6):
        one = {name: values[place] for name, values in draws.items()}
        true_amps = one["current_gain"] * amps + one["current_offset"]
        true_volts = one["voltage_gain"] * volts + one["voltage_offset"]
        alone = charge_window(time, true_volts, true_amps, 0.05, 0.2, 0.8, one["capacity"], **TRUE)
        assert np.asarray(together.time)[place] == pytest.approx(alone.time, rel=1e-6)
        assert np.asarray(together.energy)[place] == pytest.approx(alone.energy, rel=1e-6)


def test_round_trip() -> None:
    time, volts, amps = tapering()
    true = charge_window(time, volts, amps, 0.1, 0.2, 0.8, 75 * 3600, **TRUE)

    def trial(random: np.random.Generator) -> bool:
        gain, offset = random.normal(1, 2e-3), random.normal(0, 0.1)
        capacity = random.normal(75 * 3600, 400)
        seen = (amps - offset) / gain + random.normal(0, 0.02, len(time))
        found = charge_window(
            time,
            volts,
            seen,
            0.1,
            0.2,
            0.8,
            random.normal(capacity, 400, 2000),
            random.normal(1, 2e-3, 2000),
            random.normal(0, 0.1, 2000),
            1,
            0,
        )
        low, high = np.quantile(found.time, [0.025, 0.975])
        return bool(low <= true.time <= high)

    assert within_binomial(hits(trial))


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"high": 1.5}, "does not reach"),
        ({"low": -0.5}, "does not reach"),
        ({"low": 0.9, "high": 0.8}, "must lie above"),
        ({"current": -np.ones(400)}, "discharges in row 2"),
        ({"capacity": -1.0}, "capacity must be above zero"),
    ],
)
def test_what_cannot_be_answered_is_said(change: dict[str, Any], said: str) -> None:
    time, volts, amps = tapering()
    given: dict[str, Any] = {"time": time, "voltage": volts, "current": amps, **TRUE}
    given |= {"start": 0.1, "low": 0.2, "high": 0.8, "capacity": 75 * 3600.0}
    with pytest.raises(ValueError, match=said):
        charge_window(**{**given, **change})
