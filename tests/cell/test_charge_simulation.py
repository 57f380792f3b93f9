"""Charging: closed forms, an independent solver, every limit, convergence, and draws at once."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from calc.cell.charge_cell import GAS_CONSTANT, Curve
from calc.cell.charge_limits import charge_limits
from calc.cell.charge_simulation import charge_simulation
from tests.printed import agrees

WHOLE, ONE = np.array([0.0, 1.0]), np.ones(2)

# The case of constant current, then constant voltage, that has a closed form: a linear
# open-circuit curve 3.0 + 1.2 s volts, 5 A h, 30 milliohm, 4.2 V, 1C; exact.
CLOSED = {
    "start_state_of_charge": 0.1,
    "start_temperature": 298.15,
    "end_state_of_charge": 1.0,
    "end_current": 0.25,
    "longest": 1e5,
    "time_step": 5.0,
    "capacity": 5 * 3600.0,
    "relaxation_resistance": 0.0,
    "relaxation_time": 1.0,
    "slow_resistance": 0.0,
    "slow_time": 1.0,
    "curve_content": WHOLE,
    "curve_voltage": np.array([3.0, 4.2]),
    "resistance": 0.03,
    "shape_content": WHOLE,
    "shape_factor": ONE,
    "activation": 0.0,
    "reference_temperature": 298.15,
    "heat_capacity": 1e9,
    "cooling": 0.0,
    "ambient": 298.15,
    "plating_current": 1e3,
    "share_content": WHOLE,
    "share_allowed": ONE,
    "plating_activation": 0.0,
    "voltage_max": 4.2,
    "temperature_max": 333.15,
    "supply_power": 1e6,
    "cable_current": 5.0,
}

# A pouch cell with every part of the circuit at work: 75 A h, cold start, warm plate.
POUCH = CLOSED | {
    "start_state_of_charge": 0.2,
    "start_temperature": 283.15,
    "end_state_of_charge": 0.95,
    "end_current": 1.0,
    "capacity": 75 * 3600.0,
    "relaxation_resistance": 0.4e-3,
    "relaxation_time": 30.0,
    "slow_resistance": 0.5e-3,
    "slow_time": 400.0,
    "shape_content": np.array([0.0, 0.25, 0.75, 1.0]),
    "shape_factor": np.array([1.5, 1.0, 1.0, 1.25]),
    "curve_voltage": np.array([3.29, 4.12]),
    "resistance": 0.6e-3,
    "activation": 25e3,
    "heat_capacity": 1040.0,
    "cooling": 2.0,
    "ambient": 297.15,
    "plating_current": 120.0,
    "share_allowed": np.array([1.0, 0.6]),
    "plating_activation": 20e3,
    "temperature_max": 323.15,
    "cable_current": 110.0,
    "supply_power": 420.0,
}


def charge(base=CLOSED, **change):
    return charge_simulation(**{**base, **change})


def test_constant_current_then_constant_voltage_to_a_thousandth():
    found = charge()
    assert float(found.final_state_of_charge) == pytest.approx(0.99375, rel=1e-3)
    assert float(found.time) == pytest.approx(0.775 * 3600 + 1348.1, rel=1e-3)
    # The switch is known to a step of time.
    assert float(found.time_cable) == pytest.approx(0.775 * 3600, abs=5)
    assert agrees("0.99375", round(float(found.final_state_of_charge), 9))


def test_constant_voltage_alone_to_its_printed_digits():
    found = charge(start_state_of_charge=0.875, time_step=1.0)
    assert agrees("1348.1", float(found.time))


def test_ten_to_eighty_per_cent_at_one_c_takes_42_minutes():
    found = charge(end_state_of_charge=0.8)
    assert agrees("42.0", float(found.time) / 60)
    # Energy of a linear curve, and what resistance adds to it.
    stored = 0.7 * 5 * (3.0 + 1.2 * 0.45)
    assert float(found.energy) / 3600 == pytest.approx(stored + 0.7 * 5 * 5 * 0.03, rel=1e-9)


def test_heat_of_a_constant_current():
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


def test_warming_towards_a_cooled_steady_state():
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


def test_each_relaxation_settles_with_its_own_time():
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


def test_a_relaxation_without_resistance_is_as_if_it_were_not_there():
    alone = charge(POUCH, slow_resistance=0.0)
    swapped = charge(
        POUCH,
        relaxation_resistance=0.0,
        slow_resistance=POUCH["relaxation_resistance"],
        slow_time=POUCH["relaxation_time"],
    )
    assert swapped == alone


def test_heat_where_resistance_grows_with_the_charge():
    # I² R f(s) over the charge, f straight from 1 to 2: by its mean between the ends, exact.
    found = charge(
        start_state_of_charge=0.2,
        end_state_of_charge=0.6,
        voltage_max=9.0,
        shape_factor=np.array([1.0, 2.0]),
    )
    assert float(found.heat) == pytest.approx(25 * 0.03 * 1.4 * 0.4 * 3600, rel=1e-9)


def independent(parts):
    """The same physics written once more, for a general solver with adaptive steps."""
    open_circuit = Curve.of("open-circuit", parts["curve_content"], parts["curve_voltage"])
    share = Curve.of("plating", parts["share_content"], parts["share_allowed"])
    settles = [(f"{name}_resistance", f"{name}_time") for name in ("relaxation", "slow")]

    def current(s, v, t):
        warm = 1 / t - 1 / parts["reference_temperature"]
        grows = np.exp(parts["activation"] / GAS_CONSTANT * warm)
        grows *= np.interp(s, parts["shape_content"], parts["shape_factor"])
        r = parts["resistance"] * grows
        inner = float(open_circuit.at(np.array([s]))[0]) + v
        plating = parts["plating_current"] * float(share.at(np.array([s]))[0])
        plating *= np.exp(-parts["plating_activation"] / GAS_CONSTANT * warm)
        roots = np.roots([r, inner, -parts["supply_power"]])
        limits = [plating, (parts["voltage_max"] - inner) / r, roots.max(), parts["cable_current"]]
        return max(min(limits), 0.0), r, grows, inner

    def slope(_, state):
        s, quick, slow, t, _energy = state
        i, r, grows, inner = current(s, quick + slow, t)
        heat = i * (i * r + quick + slow)
        return [
            i / parts["capacity"],
            *(
                (i * parts[held] * grows - v) / parts[time]
                for (held, time), v in zip(settles, (quick, slow), strict=True)
            ),
            (heat - parts["cooling"] * (t - parts["ambient"])) / parts["heat_capacity"],
            i * (inner + i * r),
        ]

    def full(_, state):
        return state[0] - parts["end_state_of_charge"]

    def tapered(_, state):
        return current(state[0], state[1] + state[2], state[3])[0] - parts["end_current"]

    full.terminal = tapered.terminal = True
    start = [parts["start_state_of_charge"], 0.0, 0.0, parts["start_temperature"], 0.0]
    found = solve_ivp(
        slope, (0, 3e4), start, events=(full, tapered), rtol=1e-8, atol=1e-10, max_step=20.0
    )
    return found.t[-1], *found.y[:, -1]


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
def test_an_independent_solver_agrees(change):
    parts = POUCH | change
    time, content, _, _, temperature, energy = independent(parts)
    found = charge_simulation(**parts)
    assert float(found.time) == pytest.approx(time, rel=2e-4)
    assert float(found.final_state_of_charge) == pytest.approx(content, rel=1e-4)
    assert float(found.final_temperature) == pytest.approx(temperature, abs=2e-3)
    assert float(found.energy) == pytest.approx(energy, rel=2e-4)


def test_halving_the_time_step_changes_less_than_is_stated():
    """A charge is stated to a tenth of a minute, a tenth of a degree, a watt-hour in 300."""
    coarse, fine = (charge(POUCH, time_step=step) for step in (10.0, 5.0))
    assert abs(float(coarse.time - fine.time)) < 0.05 * 60
    assert abs(float(coarse.peak_temperature - fine.peak_temperature)) < 0.05
    assert abs(float(coarse.energy - fine.energy)) < 0.5 * 3600


def test_draws_side_by_side_are_what_each_alone_would_be():
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
def test_each_limit_can_govern(limit, change, number):
    found = charge(POUCH, end_state_of_charge=0.5, **change)
    times = {name: float(getattr(found, f"time_{name}")) for name in LIMITS}
    assert max(times, key=times.get) == limit
    assert sum(times.values()) == pytest.approx(float(found.time))
    assert float(found.governing) == number


LIMITS = ("plating", "voltage", "temperature", "supply", "cable")


def test_the_highest_temperature_is_never_passed():
    found = charge(POUCH, temperature_max=300.15, cooling=0.5, end_current=0.1)
    assert float(found.peak_temperature) <= 300.15 + 1e-6
    assert float(found.time_temperature) > 0


def test_what_ends_a_charge_is_told():
    tapered = charge(POUCH, voltage_max=4.0, end_state_of_charge=0.95, end_current=2.0)
    assert float(tapered.reached) == 0
    assert float(tapered.final_current) == pytest.approx(2.0, rel=1e-3)
    stopped = charge(POUCH, longest=540.0)
    assert float(stopped.time) == 540
    assert float(stopped.reached) == 0
    begun = charge(POUCH, longest=np.array([0.0, 60.0]))
    assert begun.time.tolist() == [0, 60]
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
def test_what_cannot_be_simulated_is_said(change, said):
    with pytest.raises(ValueError, match=said):
        charge(POUCH, **change)


def test_limits_at_a_point_are_those_of_the_simulation():
    names = (
        "curve_content",
        "curve_voltage",
        "shape_content",
        "shape_factor",
        "activation",
        "reference_temperature",
        "heat_capacity",
        "cooling",
        "ambient",
        "plating_current",
        "share_content",
        "share_allowed",
        "plating_activation",
        "voltage_max",
        "temperature_max",
        "supply_power",
        "cable_current",
    )
    same = {name: POUCH[name] for name in names}
    found = charge_limits(0.2, 283.15, resistance=0.6e-3, **same)
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
