"""Charge, energy, mean voltage and efficiency from a log of time, voltage and current.

Current is positive into the cell. Between two samples voltage and current are taken to run
straight. Intervals longer than the largest gap that the analyst allows are left out of every
sum and reported beside it.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from calc.cell.arguments import Number, Series, choice, forward, series_of
from calc.cell.procedure import Procedure

SIGN = {"charge": 1.0, "discharge": -1.0}


class Sums(NamedTuple):
    """Integrals over time of the recorded values: what any calibration is closed over."""

    time: float  # s
    current: float  # A s
    voltage: float  # V s
    power: float  # V A s


class Totals(NamedTuple):
    """One direction of a log: charge [C], energy [J], mean voltage [V], times [s].

    `charge_in_gaps` [C] is what straight lines across the gaps would have added.
    """

    charge: Number
    energy: Number
    mean_voltage: Number
    time: Number
    gap_time: Number
    charge_in_gaps: Number


class Efficiency(NamedTuple):
    """Out over in, of charge and of energy [1], and their charges [C]."""

    coulombic: Number
    energy: Number
    charge_in: Number
    charge_out: Number


def sums(time: Series, voltage: Series, current: Series, chosen: NDArray[np.bool_]) -> Sums:
    """Integrals over the chosen intervals, exact where voltage and current run straight.

    Parameters: time [s], voltage [V], current [A], shape (rows,); chosen, shape (rows - 1,).
    Source: exact; the integral of a product of two straight lines.
    """
    step = np.where(chosen, np.diff(time), 0.0)
    i0, i1, v0, v1 = current[:-1], current[1:], voltage[:-1], voltage[1:]
    return Sums(
        time=float(step.sum()),
        current=float(step @ (i0 + i1)) / 2,
        voltage=float(step @ (v0 + v1)) / 2,
        power=float(step @ (i0 * (2 * v0 + v1) + i1 * (v0 + 2 * v1))) / 6,
    )


def intervals(
    time: Series, current: Series, direction: str, largest_gap: float, rest_current: float
) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Which intervals run in a direction, and which of all are gaps; shape (rows - 1,) each.

    An interval runs in the direction of its mean current [A] when that is beyond rest_current.
    Raises: ValueError for a direction that is neither charge nor discharge.
    """
    if direction not in SIGN:
        raise ValueError(f"direction is 'charge' or 'discharge', not {direction!r}")
    runs = SIGN[direction] * (current[:-1] + current[1:]) / 2 > rest_current
    return runs, np.diff(time) > largest_gap


def log_totals(
    time: Series,
    voltage: Series,
    current: Series,
    direction: str,
    current_gain: Number,
    current_offset: Number,
    voltage_gain: Number,
    voltage_offset: Number,
    largest_gap: Number,
    rest_current: Number,
) -> Totals:
    """Charge, energy and mean voltage of all intervals of one direction.

    Parameters: time [s], voltage [V], current [A], shape (rows,); direction, the word charge or
    discharge; the true value is gain [1] times the recorded one plus offset [A, V], each a
    number or draws (n,); largest_gap [s] and rest_current [A] are choices.
    Returns: totals, each a number or shape (n,); the draws meet four integrals, never the rows.
    Raises: ValueError when time runs backwards, or nothing runs in that direction.
    Source: exact, for voltage [V] and current [A] that run straight between samples.

    >>> t, i = [0.0, 3600.0], [-2.0, -2.0]
    >>> totals = log_totals(t, [4.0, 3.0], i, "discharge", 1, 0, 1, 0, 7200, 0.01)
    >>> totals.charge / 3600, totals.energy / 3600, totals.mean_voltage
    (2.0, 7.0, 3.5)
    """
    time, voltage, current = series_of(time=time, voltage=voltage, current=current)
    gap, rest = choice("largest_gap", largest_gap), choice("rest_current", rest_current)
    runs, gaps = intervals(forward(time), current, direction, gap, rest)
    inside = sums(time, voltage, current, runs & ~gaps)
    if inside.time <= 0:
        raise ValueError(f"nothing in the log runs in the direction {direction!r}")
    skipped = sums(time, voltage, current, runs & gaps)
    charge, energy = _calibrated(
        inside, SIGN[direction], current_gain, current_offset, voltage_gain, voltage_offset
    )
    return Totals(
        charge=charge,
        energy=energy,
        mean_voltage=energy / charge,
        time=inside.time,
        gap_time=skipped.time,
        charge_in_gaps=SIGN[direction] * skipped.current,
    )


def _calibrated(
    recorded: Sums,
    sign: float,
    current_gain: Number,
    current_offset: Number,
    voltage_gain: Number,
    voltage_offset: Number,
) -> tuple[Number, Number]:
    """Charge [C] and energy [J] of the true current and voltage, from the recorded integrals."""
    charge = current_gain * recorded.current + current_offset * recorded.time
    energy = (
        voltage_gain * (current_gain * recorded.power + current_offset * recorded.voltage)
        + voltage_offset * charge
    )
    return sign * charge, sign * energy


def cycle_totals(
    time: Series,
    voltage: Series,
    current: Series,
    cycle: Series,
    number: Number,
    direction: str,
    current_gain: Number,
    current_offset: Number,
    voltage_gain: Number,
    voltage_offset: Number,
    largest_gap: Number,
    rest_current: Number,
) -> Totals:
    """The same as `log_totals` for the rows of one cycle, by the log's own column of cycles.

    Parameters: cycle [1], shape (rows,); number [1], the cycle wanted, a choice.
    Raises: ValueError, also when the log has no such cycle.
    Source: exact, as `log_totals`; charge comes in C [A s], energy in J.

    >>> t, i, n = [0, 10, 20, 30], [1.0, 1.0, -1.0, -1.0], [1, 1, 2, 2]
    >>> cycle_totals(t, [3.0] * 4, i, n, 2, "discharge", 1, 0, 1, 0, 60, 0.01).charge
    10.0
    """
    time, voltage, current, cycle = series_of(
        time=time, voltage=voltage, current=current, cycle=cycle
    )
    rows = of_cycle(cycle, choice("number", number))
    return log_totals(
        time[rows],
        voltage[rows],
        current[rows],
        direction,
        current_gain,
        current_offset,
        voltage_gain,
        voltage_offset,
        largest_gap,
        rest_current,
    )


def of_cycle(cycle: Series, number: float) -> NDArray[np.bool_]:
    """Which rows belong to a cycle, shape (rows,). Raises: ValueError when fewer than two do."""
    rows: NDArray[np.bool_] = cycle == number
    if rows.sum() < 2:
        raise ValueError(
            f"the log has no cycle {number:g}; it has {cycle.min():g} to {cycle.max():g}"
        )
    return rows


def log_efficiency(
    time: Series,
    voltage: Series,
    current: Series,
    current_gain: Number,
    current_offset: Number,
    voltage_gain: Number,
    voltage_offset: Number,
    largest_gap: Number,
    rest_current: Number,
) -> Efficiency:
    """Coulombic and energy efficiency of a log that ends where it began.

    Parameters and errors: as `log_totals`. One meter measured both ways, so its gain cancels
    and its offset counts double.
    Source: exact, as `log_totals`; both efficiencies are fractions [1].

    >>> t, i = [0, 10, 10.001, 19.901], [1.0, 1.0, -1.0, -1.0]
    >>> log_efficiency(t, [4.0, 4.0, 3.0, 3.0], i, 1, 0, 1, 0, 60, 0.01).coulombic
    0.99
    """
    shared = (current_gain, current_offset, voltage_gain, voltage_offset, largest_gap, rest_current)
    into = log_totals(time, voltage, current, "charge", *shared)
    out = log_totals(time, voltage, current, "discharge", *shared)
    return Efficiency(
        coulombic=out.charge / into.charge,
        energy=out.energy / into.energy,
        charge_in=into.charge,
        charge_out=out.charge,
    )


LOG = {"time": "series s", "voltage": "series V", "current": "series A"}
CALIBRATION = {
    "current_gain": "1",
    "current_offset": "A",
    "voltage_gain": "1",
    "voltage_offset": "V",
    "largest_gap": "s",
    "rest_current": "A",
}
_TOTALS = {
    "charge": "C",
    "energy": "J",
    "mean_voltage": "V",
    "time": "s",
    "gap_time": "s",
    "charge_in_gaps": "C",
}

PROCEDURES = {
    "log_totals": Procedure(log_totals, {**LOG, "direction": "text", **CALIBRATION}, _TOTALS),
    "cycle_totals": Procedure(
        cycle_totals,
        {**LOG, "cycle": "series 1", "number": "1", "direction": "text", **CALIBRATION},
        _TOTALS,
    ),
    "log_efficiency": Procedure(
        log_efficiency,
        {**LOG, **CALIBRATION},
        {"coulombic": "1", "energy": "1", "charge_in": "C", "charge_out": "C"},
    ),
}
