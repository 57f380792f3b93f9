"""Charging against closed forms: each part of the circuit alone."""

from __future__ import annotations

import numpy as np
import pytest

from tests.cell.charging import POUCH, charge
from tests.printed import agrees


def test_constant_current_then_constant_voltage_to_a_thousandth() -> None:
    found = charge()
    assert float(found.final_state_of_charge) == pytest.approx(0.99375, rel=1e-3)
    assert float(found.time) == pytest.approx(0.775 * 3600 + 1348.1, rel=1e-3)
    # The switch is known to a step of time.
    assert float(found.time_cable) == pytest.approx(0.775 * 3600, abs=5)
    assert agrees("0.99375", round(float(found.final_state_of_charge), 9))


def test_constant_voltage_alone_to_its_printed_digits() -> None:
    found = charge(start_state_of_charge=0.875, time_step=1.0)
    assert agrees("1348.1", float(found.time))


def test_ten_to_eighty_per_cent_at_one_c_takes_42_minutes() -> None:
    found = charge(end_state_of_charge=0.8)
    assert agrees("42.0", float(found.time) / 60)
    # Energy of a linear curve, and what resistance adds to it.
    stored = 0.7 * 5 * (3.0 + 1.2 * 0.45)
    assert float(found.energy) / 3600 == pytest.approx(stored + 0.7 * 5 * 5 * 0.03, rel=1e-9)


def test_heat_of_a_constant_current() -> None:
    found = charge(
        end_state_of_charge=0.5,
        resistance=0.025,
        cable_current=15.0,
        voltage_max=9.0,
        heat_capacity=900.0,
    )
    assert agrees("5.625", float(found.heat / found.time))
    rise = float(found.peak_temperature) - 298.15
    assert rise == pytest.approx(float(found.heat) / 900, rel=1e-9)


def test_warming_towards_a_cooled_steady_state() -> None:
    # Constant heat against cooling: T - T_a = (Q/G)(1 - exp(-G t / C)), exact.
    found = charge(
        resistance=0.05,
        cable_current=10.0,
        voltage_max=9.0,
        heat_capacity=50.0,
        cooling=0.2,
        end_state_of_charge=0.9,
    )
    time = float(found.time)
    expected = 5.0 / 0.2 * (1 - np.exp(-0.2 * time / 50))
    assert float(found.final_temperature) - 298.15 == pytest.approx(expected, rel=1e-4)


def test_each_relaxation_settles_with_its_own_time() -> None:
    # Constant current: v = U + I (R + R_1 (1 - exp(-t/τ_1)) + R_2 (1 - exp(-t/τ_2))), exact.
    found = charge(
        longest=300.0,
        time_step=0.25,
        voltage_max=9.0,
        relaxation_resistance=0.02,
        relaxation_time=15.0,
        slow_resistance=0.04,
        slow_time=400.0,
        shape_factor=np.array([1.5, 1.5]),
    )
    settled = 0.02 * (1 - np.exp(-300 / 15)) + 0.04 * (1 - np.exp(-300 / 400))
    open_circuit = 3.0 + 1.2 * (0.1 + 300 / 3600)
    expected = open_circuit + 5 * 1.5 * (0.03 + settled)
    assert float(found.final_voltage) == pytest.approx(expected, abs=1e-6)


def test_a_relaxation_without_resistance_is_as_if_it_were_not_there() -> None:
    alone = charge(POUCH, slow_resistance=0.0)
    swapped = charge(
        POUCH,
        relaxation_resistance=0.0,
        slow_resistance=POUCH["relaxation_resistance"],
        slow_time=POUCH["relaxation_time"],
    )
    assert swapped == alone


def test_heat_where_resistance_grows_with_the_charge() -> None:
    # I² R f(s) over the charge, f straight from 1 to 2: by its mean between the ends, exact.
    found = charge(
        start_state_of_charge=0.2,
        end_state_of_charge=0.6,
        voltage_max=9.0,
        shape_factor=np.array([1.0, 2.0]),
    )
    assert float(found.heat) == pytest.approx(25 * 0.03 * 1.4 * 0.4 * 3600, rel=1e-9)
