"""A charge, step by step: time, energy, power, heat, and how long each limit governs.

Steps of time outside, draws inside: 10 000 draws of a charge cost hardly more than one.
"""

from __future__ import annotations

from typing import NamedTuple, Unpack

import numpy as np

from calc.cell.arguments import Number, Series, choice
from calc.cell.charge_cell import LIMITS, Relaxation
from calc.cell.charge_parts import PARTS, Parts, cell_of, charger_of
from calc.cell.charge_run import Course, Ends, begun, check_step, run
from calc.cell.procedure import Procedure


class Charge(NamedTuple):
    """What a charge took and gave: see `charge_simulation`. Numbers or shape (n,)."""

    time: Number
    energy: Number
    charge: Number
    mean_power: Number
    peak_power: Number
    peak_temperature: Number
    heat: Number
    final_state_of_charge: Number
    final_voltage: Number
    final_current: Number
    final_temperature: Number
    governing: Number
    reached: Number
    time_plating: Number
    time_voltage: Number
    time_temperature: Number
    time_supply: Number
    time_cable: Number
    final_plating: Number
    final_voltage_limit: Number
    final_temperature_limit: Number
    final_supply: Number
    final_cable: Number


def charge_simulation(
    start_state_of_charge: Number,
    start_temperature: Number,
    end_state_of_charge: Number,
    end_current: Number,
    longest: Number,
    time_step: Number,
    capacity: Number,
    relaxation_resistance: Number,
    relaxation_time: Number,
    slow_resistance: Number,
    slow_time: Number,
    **parts: Unpack[Parts],
) -> Charge:
    """Charge a cell at the largest current that every limit allows, until it is full enough.

    Parameters: start_state_of_charge, end_state_of_charge [1]; start_temperature [K]; the charge
    also ends when the current falls to end_current [A] or after `longest` [s]; time_step [s], a
    choice; capacity [C]; a relaxation, and a slow one beside it, each with its resistance [ohm],
    nought to leave it out, and time [s]; else the cell and the charger as `charge_parts.Parts`
    says. Numbers or draws (n,).
    Returns: time [s]; energy [J] and charge [C] into the cell; mean and peak power [W]; peak
    temperature [K]; heat [J]; the final state; the number of the governing limit at the end;
    reached, 1 where the end state of charge was reached; the time [s] that each limit governed,
    and the current [A] that each allows at the end.
    Raises: ValueError for a time step too long for the relaxation or for the charge.
    Source: exact circuit, integrated by Heun's second-order method.

    >>> whole, one = np.array([0.0, 1.0]), np.ones(2)
    >>> found = charge_simulation(
    ...     0.1, 298.15, 0.8, 0.1, 1e5, 10, 18000, 0, 1, 0, 1,
    ...     curve_content=whole, curve_voltage=np.array([3.0, 3.9]), resistance=0.03,
    ...     shape_content=whole, shape_factor=one, activation=0, reference_temperature=298.15,
    ...     heat_capacity=1e9, cooling=0, ambient=298.15, plating_current=100,
    ...     share_content=whole, share_allowed=one, plating_activation=0, voltage_max=4.2,
    ...     temperature_max=333.15, supply_power=1e6, cable_current=5,
    ... )
    >>> round(float(found.time) / 60, 3), float(found.time_cable) == float(found.time)
    (42.0, True)
    """
    relaxations = (
        Relaxation(relaxation_resistance, relaxation_time),
        Relaxation(slow_resistance, slow_time),
    )
    cell, charger = cell_of(parts, capacity, relaxations), charger_of(parts)
    step = choice("time_step", time_step)
    ends = Ends(end_state_of_charge, end_current, longest)
    start = begun(cell, charger, start_state_of_charge, start_temperature, ends)
    check_step(step, cell, longest)
    end = np.broadcast_to(np.asarray(end_state_of_charge, dtype=np.float64), start.time.shape)
    if (end <= start.content).any() or (end > 1).any():
        raise ValueError("the end state of charge must lie above the start and at most at 1")
    return _told(run(cell, charger, start, ends, step), end, capacity)


def _told(course: Course, wanted: Series, capacity: Number) -> Charge:
    """What a course came to, for the state of charge [1] that was wanted; shape (n,)."""
    end, last = course.end, course.last
    reached = end.content >= wanted - 1e-9
    # What was reached was reached exactly, without the last digits of the straight line.
    content = np.where(reached, wanted, end.content)
    took_time = end.time > 0
    mean = np.where(took_time, end.energy / np.where(took_time, end.time, 1.0), course.first.power)
    return Charge(
        end.time,
        end.energy,
        (content - course.start.content) * capacity,
        mean,
        course.peak_power,
        course.peak_temperature,
        end.heat,
        content,
        last.voltage,
        last.current,
        end.temperature,
        np.asarray(last.limit, dtype=np.float64) + 1,
        np.asarray(reached, dtype=np.float64),
        *end.governed,
        *last.allowed,
    )


PROCEDURES = {
    "charge_simulation": Procedure(
        charge_simulation,
        {
            "start_state_of_charge": "1",
            "start_temperature": "K",
            "end_state_of_charge": "1",
            "end_current": "A",
            "longest": "s",
            "time_step": "s",
            "capacity": "C",
            "relaxation_resistance": "ohm",
            "relaxation_time": "s",
            "slow_resistance": "ohm",
            "slow_time": "s",
            **PARTS,
        },
        {
            "time": "s",
            "energy": "J",
            "charge": "C",
            "mean_power": "W",
            "peak_power": "W",
            "peak_temperature": "K",
            "heat": "J",
            "final_state_of_charge": "1",
            "final_voltage": "V",
            "final_current": "A",
            "final_temperature": "K",
            "governing": "1",
            "reached": "1",
            **{f"time_{name}": "s" for name in LIMITS},
            "final_plating": "A",
            "final_voltage_limit": "A",
            "final_temperature_limit": "A",
            "final_supply": "A",
            "final_cable": "A",
        },
    )
}
