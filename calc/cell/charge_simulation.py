"""A charge, step by step: time, energy, power, heat, and how long each limit governs.

Steps of time outside, draws inside: 10 000 draws of a charge cost hardly more than one.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from calc.cell.arguments import Number, Series, above_zero, choice
from calc.cell.charge_cell import LIMITS, Cell, Charger, Curve, Relaxation
from calc.cell.charge_limits import CELL, CHARGER
from calc.cell.charge_steps import Rates, State, between, moved, rates
from calc.cell.procedure import Procedure

MOST_STEPS = 100_000


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
    curve_content: Series,
    curve_voltage: Series,
    resistance: Number,
    shape_content: Series,
    shape_factor: Series,
    activation: Number,
    reference_temperature: Number,
    heat_capacity: Number,
    cooling: Number,
    ambient: Number,
    plating_current: Number,
    share_content: Series,
    share_allowed: Series,
    plating_activation: Number,
    voltage_max: Number,
    temperature_max: Number,
    supply_power: Number,
    cable_current: Number,
) -> Charge:
    """Charge a cell at the largest current that every limit allows, until it is full enough.

    Parameters: start_state_of_charge, end_state_of_charge [1]; start_temperature [K]; the charge
    also ends when the current falls to end_current [A] or after `longest` [s]; time_step [s], a
    choice; a relaxation, and a slow one beside it, each with its resistance [ohm], nought to leave
    it out, and time [s]; shape_factor, how many times [1] all resistances are what is stated, at
    the states of charge of shape_content [1]; else the cell and the charger as
    `charge_cell.Cell` and `charge_cell.Charger` say. Numbers or draws (n,).
    Returns: time [s]; energy [J] and charge [C] into the cell; mean and peak power [W]; peak
    temperature [K]; heat [J]; the final state; the number of the governing limit at the end;
    reached, 1 where the end state of charge was reached; the time [s] that each limit governed,
    and the current [A] that each allows at the end.
    Raises: ValueError for a time step too long for the relaxation or for the charge.
    Source: exact circuit, integrated by Heun's second-order method.

    >>> whole, one = np.array([0.0, 1.0]), np.ones(2)
    >>> found = charge_simulation(
    ...     0.1, 298.15, 0.8, 0.1, 1e5, 10, 18000, 0, 1, 0, 1, whole, np.array([3.0, 3.9]),
    ...     0.03, whole, one, 0, 298.15, 1e9, 0, 298.15, 100, whole, one, 0, 4.2, 333.15, 1e6, 5,
    ... )
    >>> round(float(found.time) / 60, 3), float(found.time_cable) == float(found.time)
    (42.0, True)
    """
    relaxations = (
        Relaxation(relaxation_resistance, relaxation_time),
        Relaxation(slow_resistance, slow_time),
    )
    cell = Cell(
        open_circuit=Curve.of("open-circuit", curve_content, curve_voltage),
        capacity=capacity,
        resistance=resistance,
        relaxations=tuple(part for part in relaxations if part.at_work),
        resistance_shape=Curve.of("resistance", shape_content, shape_factor),
        activation=activation,
        reference_temperature=reference_temperature,
        heat_capacity=heat_capacity,
        cooling=cooling,
        ambient=ambient,
    )
    charger = Charger(
        plating_current=plating_current,
        plating_share=Curve.of("plating", share_content, share_allowed),
        plating_activation=plating_activation,
        voltage_max=voltage_max,
        temperature_max=temperature_max,
        supply_power=supply_power,
        cable_current=cable_current,
    )
    others = (longest, end_state_of_charge, end_current)
    start = _start(cell, charger, start_state_of_charge, start_temperature, others)
    step = _step(choice("time_step", time_step), cell, longest)
    end = np.broadcast_to(np.asarray(end_state_of_charge, dtype=np.float64), start.time.shape)
    if (end <= start.content).any() or (end > 1).any():
        raise ValueError("the end state of charge must lie above the start and at most at 1")
    return _run(cell, charger, start, end, end_current, longest, step)


def _start(
    cell: Cell,
    charger: Charger,
    content: Number,
    temperature: Number,
    others: tuple[Number, ...],
) -> State:
    numbers = [content, temperature, *others]
    for holder in (cell, charger, *cell.relaxations):
        numbers += [part for part in vars(holder).values() if not isinstance(part, Curve | tuple)]
    shape = np.broadcast_shapes(*map(np.shape, numbers))
    zero = np.zeros(shape)
    return State(
        time=zero,
        content=zero + content,
        relaxed=np.zeros((len(cell.relaxations), *shape)),
        temperature=zero + temperature,
        energy=zero,
        heat=zero,
        governed=np.zeros((len(LIMITS), *shape)),
    )


def _step(step: float, cell: Cell, longest: Number) -> float:
    above_zero(time_step=step)
    if float(np.max(longest)) / step > MOST_STEPS:
        raise ValueError(f"more than {MOST_STEPS} steps; take a longer time step")
    # On constant voltage relaxations settle faster, by the share of resistance that they hold;
    # the sum of all their rates is no less than the rate of the quickest.
    fastest = sum(
        (1 + np.asarray(part.resistance) / cell.resistance) / part.time for part in cell.relaxations
    )
    quickest = 1 / float(np.max(fastest)) if cell.relaxations else np.inf
    if step > quickest:
        raise ValueError(
            f"a time step of {step:g} s is too long for a relaxation that settles in "
            f"{quickest:.3g} s; take half of that"
        )
    return step


def _run(
    cell: Cell,
    charger: Charger,
    start: State,
    end: Series,
    end_current: Number,
    longest: Number,
    step: float,
) -> Charge:
    state, now = start, rates(cell, charger, start)
    first = now
    peak_power, peak_temperature = now.power, state.temperature
    done = now.current <= end_current
    while not (done | (state.time >= longest)).all():
        ahead = np.where(done, 0.0, np.minimum(step, longest - state.time))
        guess = moved(state, ahead, now, now)
        later = moved(state, ahead, now, rates(cell, charger, guess))
        after = rates(cell, charger, later)
        # The last step ends where the first of its ends is met, on a straight line within it.
        part = np.minimum(
            _part(state.content, later.content, end),
            _part(-now.current, -after.current, -np.asarray(end_current)),
        )
        ends = ~done & (part < 1)
        if ends.any():
            later = between(state, later, np.where(ends, part, 1.0))
            after = rates(cell, charger, later)
            done = done | ends
        state, now = later, after
        # A draw that has run off to no number would never end.
        done = done | ~np.isfinite(state.time + state.content + state.temperature)
        peak_power = np.maximum(peak_power, now.power)
        peak_temperature = np.maximum(peak_temperature, state.temperature)
    return _told(cell, start, state, first, now, end, peak_power, peak_temperature)


def _part(before: Series, after: Series, target: Series) -> Series:
    """The part [1] of a step after which a target is met; 2 where the step does not meet it."""
    way = after - before
    meets = (before < target) & (after >= target)
    part: Series = np.where(meets, (target - before) / np.where(way == 0, 1.0, way), 2.0)
    # A target met at the very end of a step ends it there.
    return np.minimum(part, np.where(meets, 1 - 1e-15, 2.0))


def _told(
    cell: Cell,
    start: State,
    state: State,
    first: Rates,
    last: Rates,
    end: Series,
    peak_power: Series,
    peak_temperature: Series,
) -> Charge:
    reached = state.content >= end - 1e-9
    # What was reached was reached exactly, without the last digits of the straight line.
    content = np.where(reached, end, state.content)
    took_time = state.time > 0
    power = np.where(took_time, state.energy / np.where(took_time, state.time, 1.0), first.power)
    return Charge(
        state.time,
        state.energy,
        (content - start.content) * cell.capacity,
        power,
        peak_power,
        peak_temperature,
        state.heat,
        content,
        last.voltage,
        last.current,
        state.temperature,
        np.asarray(last.limit, dtype=np.float64) + 1,
        np.asarray(reached, dtype=np.float64),
        *state.governed,
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
            **CELL,
            **CHARGER,
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
