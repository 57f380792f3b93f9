"""Two cells on charge, and the same physics written once more, for a general solver."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from scipy.integrate import solve_ivp

from calc.cell.charge_cell import GAS_CONSTANT, Curve
from calc.cell.charge_simulation import Charge, charge_simulation

WHOLE, ONE = np.array([0.0, 1.0]), np.ones(2)

# The case of constant current, then constant voltage, that has a closed form: a linear
# open-circuit curve 3.0 + 1.2 s volts, 5 A h, 30 milliohm, 4.2 V, 1C; exact.
CLOSED: dict[str, Any] = {
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


def charge(base: Mapping[str, Any] = CLOSED, **change: Any) -> Charge:
    """A charge of one of the two, with some numbers changed."""
    return charge_simulation(**{**base, **change})


def independent(parts: Mapping[str, Any]) -> tuple[float, ...]:
    """The same physics written once more, for a general solver with adaptive steps.

    Returns: time [s], state of charge [1], voltage of both relaxations [V], temperature [K] and
    energy [J] at the end.
    """
    open_circuit = Curve.of("open-circuit", parts["curve_content"], parts["curve_voltage"])
    share = Curve.of("plating", parts["share_content"], parts["share_allowed"])
    settles = [(f"{name}_resistance", f"{name}_time") for name in ("relaxation", "slow")]

    def current(s: float, v: float, t: float) -> tuple[float, float, float, float]:
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

    def slope(_: float, state: Sequence[float]) -> list[float]:
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

    def full(_: float, state: Sequence[float]) -> float:
        return float(state[0] - parts["end_state_of_charge"])

    def tapered(_: float, state: Sequence[float]) -> float:
        return float(current(state[0], state[1] + state[2], state[3])[0] - parts["end_current"])

    full.terminal = tapered.terminal = True  # type: ignore[attr-defined]
    start = [parts["start_state_of_charge"], 0.0, 0.0, parts["start_temperature"], 0.0]
    found = solve_ivp(
        slope, (0, 3e4), start, events=(full, tapered), rtol=1e-8, atol=1e-10, max_step=20.0
    )
    return found.t[-1], *found.y[:, -1]
