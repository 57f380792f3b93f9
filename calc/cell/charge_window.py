"""Time, energy and mean power between two states of charge, from a measured charge."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from calc.cell.arguments import Number, Series, above_zero, forward, read_off, series_of
from calc.cell.integrate_log import LOG
from calc.cell.procedure import Procedure

ROUNDS = 6
"""Rounds that settle where a state of charge is reached; each cuts the error by offset/current."""


class ChargeWindow(NamedTuple):
    """Time [s], charge [C], energy [J] and mean power [W] between two states of charge."""

    time: Number
    charge: Number
    energy: Number
    mean_power: Number


def charge_window(
    time: Series,
    voltage: Series,
    current: Series,
    start: Number,
    low: Number,
    high: Number,
    capacity: Number,
    current_gain: Number,
    current_offset: Number,
    voltage_gain: Number,
    voltage_offset: Number,
) -> ChargeWindow:
    """What a measured charge took to go from one state of charge to another.

    Parameters: time [s], voltage [V], current [A, positive into the cell], shape (rows,); start,
    the state of charge [1] at the first row; low and high [1]; capacity [C]; gains [1] and
    offsets [A, V] as in `log_totals`: numbers or draws (n,). The draws meet the running
    integrals of the log, not its rows.
    Raises: ValueError when the log discharges, or does not reach from low to high.
    Source: exact, for values that run straight between samples.

    >>> t = np.linspace(0, 3600, 361)
    >>> v, i = 3.6 + 0.4 * t / 3600, np.full(361, 5.0)
    >>> found = charge_window(t, v, i, 0, 0.1, 0.8, 18000, 1, 0, 1, 0)
    >>> round(found.time / 60, 6), round(found.mean_power, 6)
    (42.0, 18.9)
    """
    time, voltage, current = series_of(time=time, voltage=voltage, current=current)
    above_zero(capacity=capacity, current_gain=current_gain)
    if (np.asarray(high) <= np.asarray(low)).any():
        raise ValueError("the upper state of charge must lie above the lower")
    clock = forward(time) - time[0]
    step = np.diff(clock)
    charge = _running(step * (current[:-1] + current[1:]) / 2)
    if (np.diff(charge) < 0).any():
        row = int(np.argmax(np.diff(charge) < 0)) + 2
        raise ValueError(f"the log discharges in row {row}; cut it to the charge alone")
    moments = []
    for level in (low, high):
        wanted = (level - start) * capacity
        moments.append(
            _reached(clock, charge, wanted / current_gain, current_offset / current_gain)
        )
    begins, ends = moments
    volts = _running(step * (voltage[:-1] + voltage[1:]) / 2)
    i0, i1, v0, v1 = current[:-1], current[1:], voltage[:-1], voltage[1:]
    work = _running(step * (i0 * (2 * v0 + v1) + i1 * (v0 + 2 * v1)) / 6)
    took = ends - begins
    moved = (high - low) * capacity
    energy = (
        voltage_gain
        * (
            current_gain * _between(clock, work, begins, ends)
            + current_offset * _between(clock, volts, begins, ends)
        )
        + voltage_offset * moved
    )
    return ChargeWindow(took, moved, energy, energy / took)


def _running(parts: Series) -> Series:
    return np.concatenate(([0.0], np.cumsum(parts)))


def _between(clock: Series, running: Series, begins: Number, ends: Number) -> Number:
    return read_off(ends, clock, running) - read_off(begins, clock, running)


def _reached(clock: Series, charge: Series, wanted: Number, offset: Number) -> Number:
    """When the recorded charge, corrected for the offset, comes to what is wanted [s]."""
    moment: Number = 0.0
    for _ in range(ROUNDS):
        recorded = wanted - offset * moment
        moment = read_off(recorded, charge, clock)
    low, high = float(charge[0]), float(charge[-1])
    slack = 1e-9 * max(high, 1.0)
    if (np.asarray(recorded) < low - slack).any() or (np.asarray(recorded) > high + slack).any():
        raise ValueError(
            f"the log puts in {high / 3600:.4g} A h, and does not reach from one state of charge "
            "to the other; set its start, or ask for a smaller window"
        )
    return moment


PROCEDURES = {
    "charge_window": Procedure(
        charge_window,
        {
            **LOG,
            "start": "1",
            "low": "1",
            "high": "1",
            "capacity": "C",
            "current_gain": "1",
            "current_offset": "A",
            "voltage_gain": "1",
            "voltage_offset": "V",
        },
        {"time": "s", "charge": "C", "energy": "J", "mean_power": "W"},
    )
}
