"""State of charge by counting charge, and the open-circuit curve from two slow passes."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from calc.cell.arguments import Number, Series, above_zero, forward, read_off, series_of
from calc.cell.integrate_log import LOG
from calc.cell.procedure import Procedure


class Count(NamedTuple):
    """State of charge [1] at a time, and the part of it that the meter's offset brought [1]."""

    state_of_charge: Number
    drift: Number


class OpenCircuit(NamedTuple):
    """Voltage [V] amid a slow charge and a slow discharge, and half the gap between them [V]."""

    voltage: Number
    half_gap: Number


def coulomb_count(
    time: Series,
    current: Series,
    at: Number,
    start: Number,
    capacity: Number,
    current_gain: Number,
    current_offset: Number,
) -> Count:
    """State of charge at a time of a log, counted from its first row.

    Parameters: time [s], current [A, positive into the cell], shape (rows,); at [s], on the
    log's clock; start [1]; capacity [C]; current_gain [1] and current_offset [A] as in
    `log_totals`: numbers or draws (n,).
    Returns: the count; drift grows with time, so the same offset matters more in a long log.
    Raises: ValueError when `at` is outside the log or time runs backwards.
    Source: exact; the definition of state of charge [1] by counting.

    >>> count = coulomb_count([0, 3600], [-10, -10], 1800, 0.9, 72000, 1, 0.01)
    >>> round(float(count.state_of_charge), 6)
    0.65025
    """
    time, current = series_of(time=time, current=current)
    above_zero(capacity=capacity)
    moment = np.asarray(at, dtype=np.float64)
    if (moment < time[0]).any() or (moment > time[-1]).any():
        raise ValueError(
            f"the log runs from {time[0]:g} s to {time[-1]:g} s, not to the time asked"
        )
    moved = np.diff(forward(time)) * (current[:-1] + current[1:]) / 2
    passed = read_off(at, time, np.concatenate(([0.0], np.cumsum(moved))))
    drift = current_offset * (at - time[0]) / capacity
    return Count(start + current_gain * passed / capacity + drift, drift)


def open_circuit(
    charge_time: Series,
    charge_voltage: Series,
    charge_current: Series,
    discharge_time: Series,
    discharge_voltage: Series,
    discharge_current: Series,
    at: Number,
) -> OpenCircuit:
    """Open-circuit voltage at a state of charge, amid a slow charge and a slow discharge.

    Parameters: two logs between the same end voltages, time [s], voltage [V], current [A]; at,
    the state of charge [1], a number or draws (n,). Each pass is measured by its own total.
    Returns: the mean of both voltages, and half the gap: polarisation and hysteresis together,
    the bound within which the open-circuit voltage lies.
    Raises: ValueError when a pass has charge in the other direction, or `at` is outside 0 to 1.
    Source: practice; the middle of two slow passes stands for equilibrium.

    >>> t, one = np.array([0.0, 1.0]), np.ones(2)
    >>> found = open_circuit(t, 3.02 + t, one, t, 3.98 - t, -one, 0.5)
    >>> round(found.voltage, 6), round(found.half_gap, 6)
    (3.5, 0.02)
    """
    wanted = np.asarray(at, dtype=np.float64)
    if (wanted < 0).any() or (wanted > 1).any():
        raise ValueError("state of charge runs from 0 to 1")
    up = _pass("charge", charge_time, charge_voltage, charge_current, 1.0)
    down = _pass("discharge", discharge_time, discharge_voltage, discharge_current, -1.0)
    above = read_off(at, *up)
    below = read_off(1.0 - np.asarray(at, dtype=np.float64), *down)
    return OpenCircuit((above + below) / 2, (above - below) / 2)


def _pass(
    name: str, time: Series, voltage: Series, current: Series, sign: float
) -> tuple[Series, Series]:
    """Share of the pass [1] and voltage [V], shape (rows,), of the rows where charge moves on."""
    time, voltage, current = series_of(time=time, voltage=voltage, current=current)
    moved = sign * np.diff(forward(time)) * (current[:-1] + current[1:]) / 2
    if (moved < 0).any():
        row = int(np.argmax(moved < 0)) + 2
        raise ValueError(f"the {name} log runs the other way in row {row}")
    done = np.concatenate(([0.0], np.cumsum(moved)))
    if done[-1] <= 0:
        raise ValueError(f"no charge passes in the {name} log")
    return done / done[-1], voltage


PROCEDURES = {
    "coulomb_count": Procedure(
        coulomb_count,
        {
            "time": "series s",
            "current": "series A",
            "at": "s",
            "start": "1",
            "capacity": "C",
            "current_gain": "1",
            "current_offset": "A",
        },
        {"state_of_charge": "1", "drift": "1"},
    ),
    "open_circuit": Procedure(
        open_circuit,
        {
            **{f"charge_{name}": unit for name, unit in LOG.items()},
            **{f"discharge_{name}": unit for name, unit in LOG.items()},
            "at": "1",
        },
        {"voltage": "V", "half_gap": "V"},
    ),
}
