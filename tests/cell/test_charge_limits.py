"""The limits of a charge: each can govern, none is passed, and at a point they are the same."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from calc.cell.charge_cell import GAS_CONSTANT, LIMITS
from calc.cell.charge_limits import charge_limits
from calc.cell.charge_parts import PARTS
from tests.cell.charging import POUCH, charge


@pytest.mark.parametrize(
    ("limit", "change", "number"),
    [
        ("plating", {"plating_current": 40.0}, 1),
        ("voltage", {"voltage_max": 3.6}, 2),
        ("temperature", {"temperature_max": 297.5, "start_temperature": 297.15}, 3),
        ("supply", {"supply_power": 100.0}, 4),
        ("cable", {"cable_current": 20.0}, 5),
    ],
)
def test_each_limit_can_govern(limit: str, change: dict[str, Any], number: int) -> None:
    found = charge(POUCH, end_state_of_charge=0.5, **change)
    times = {name: float(getattr(found, f"time_{name}")) for name in LIMITS}
    assert max(times, key=times.__getitem__) == limit
    assert sum(times.values()) == pytest.approx(float(found.time))
    assert float(found.governing) == number


def test_the_highest_temperature_is_never_passed() -> None:
    found = charge(POUCH, temperature_max=300.15, cooling=0.5, end_current=0.1)
    assert float(found.peak_temperature) <= 300.15 + 1e-6
    assert float(found.time_temperature) > 0


def test_limits_at_a_point_are_those_of_the_simulation() -> None:
    same = {name: POUCH[name] for name in PARTS}
    found = charge_limits(0.2, 283.15, **same)
    begun = charge(POUCH, longest=0.0)
    assert float(found.current) == pytest.approx(float(begun.final_current))
    assert float(found.governing) == float(begun.governing)
    assert float(found.supply) == pytest.approx(float(begun.final_supply))
    assert float(found.plating) == pytest.approx(float(begun.final_plating))
    # By hand: a fifth charged, the table of shapes stands at 1.1; supply 420 W at the terminals.
    grows = 1.1 * np.exp(25e3 / GAS_CONSTANT * (1 / 283.15 - 1 / 298.15))
    assert float(found.voltage) == pytest.approx((4.2 - 3.456) / (0.6e-3 * grows), rel=1e-9)
    supply = float(found.supply)
    assert supply * (3.456 + supply * 0.6e-3 * grows) == pytest.approx(420.0, rel=1e-9)


@pytest.mark.parametrize("change", [{"ambient": None}, {"surroundings": 298.15}])
def test_a_part_that_is_missing_or_unknown_is_said(change: dict[str, Any]) -> None:
    held = {name: POUCH[name] for name in PARTS if name not in change}
    extra = {name: value for name, value in change.items() if value is not None}
    with pytest.raises(TypeError, match=f"missing or unknown: {next(iter(change))}"):
        charge_limits(0.2, 283.15, **{**held, **extra})
