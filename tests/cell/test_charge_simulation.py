"""Charging: an independent solver, convergence, draws at once, ends, and what is refused."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from calc.cell.charge_simulation import charge_simulation
from tests.cell.charging import POUCH, charge, independent


@pytest.mark.parametrize(
    "change",
    [
        {},
        {"start_temperature": 303.15, "plating_activation": 40e3},
        {"relaxation_resistance": 0.0},
        {"slow_resistance": 0.0, "shape_factor": np.ones(4)},
        {"end_state_of_charge": 1.0, "end_current": 8.0, "supply_power": 300.0},
    ],
)
def test_an_independent_solver_agrees(change: dict[str, Any]) -> None:
    parts = POUCH | change
    time, content, _, _, temperature, energy = independent(parts)
    found = charge_simulation(**parts)
    assert float(found.time) == pytest.approx(time, rel=2e-4)
    assert float(found.final_state_of_charge) == pytest.approx(content, rel=1e-4)
    assert float(found.final_temperature) == pytest.approx(temperature, abs=2e-3)
    assert float(found.energy) == pytest.approx(energy, rel=2e-4)


def test_halving_the_time_step_changes_less_than_is_stated() -> None:
    """A charge is stated to a tenth of a minute, a tenth of a degree, a watt-hour in 300."""
    coarse, fine = (charge(POUCH, time_step=step) for step in (10.0, 5.0))
    assert abs(float(coarse.time - fine.time)) < 0.05 * 60
    assert abs(float(coarse.peak_temperature - fine.peak_temperature)) < 0.05
    assert abs(float(coarse.energy - fine.energy)) < 0.5 * 3600


def test_draws_side_by_side_are_what_each_alone_would_be() -> None:
    random = np.random.default_rng(4)
    draws = {
        "capacity": random.normal(75 * 3600, 500, 5),
        "resistance": random.normal(0.6e-3, 3e-5, 5),
        "start_state_of_charge": random.normal(0.2, 0.01, 5),
        "cooling": random.uniform(1.6, 2.4, 5),
    }
    together = charge(POUCH, **draws)
    for place in range(5):
        alone = charge(POUCH, **{name: values[place] for name, values in draws.items()})
        for name in ("time", "energy", "peak_temperature", "time_plating", "reached"):
            whole, one = getattr(together, name), getattr(alone, name)
            assert whole[place] == pytest.approx(float(one), rel=1e-9), name


def test_what_ends_a_charge_is_told() -> None:
    tapered = charge(POUCH, voltage_max=4.0, end_state_of_charge=0.95, end_current=2.0)
    assert float(tapered.reached) == 0
    assert float(tapered.final_current) == pytest.approx(2.0, rel=1e-3)
    stopped = charge(POUCH, longest=540.0)
    assert float(stopped.time) == 540
    assert float(stopped.reached) == 0
    begun = charge(POUCH, longest=np.array([0.0, 60.0]))
    assert np.asarray(begun.time).tolist() == [0, 60]
    assert np.isfinite(begun.mean_power).all()


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"end_state_of_charge": 0.1}, "must lie above the start"),
        ({"end_state_of_charge": 1.2}, "at most at 1"),
        ({"time_step": 40.0}, "too long for a relaxation"),
        ({"time_step": 1e-6}, "take a longer time step"),
        ({"slow_resistance": -1e-3}, "must not be below zero"),
        ({"slow_time": 0.0}, "relaxation_time must be above zero"),
        ({"shape_factor": np.array([1.0, 0.0, 1.0, 1.0])}, "resistance_shape must be above zero"),
        ({"capacity": 0.0}, "capacity must be above zero"),
        ({"curve_content": np.array([1.0, 0.0])}, "open-circuit curve must rise"),
        ({"time_step": np.array([1.0, 2.0])}, "time_step is a choice"),
    ],
)
def test_what_cannot_be_simulated_is_said(change: dict[str, Any], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        charge(POUCH, **change)
