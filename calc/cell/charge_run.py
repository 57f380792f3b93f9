"""A charge from its start to its end, in steps of time; each draw ends where it ends."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from calc.cell.arguments import Number, Series, above_zero
from calc.cell.charge_cell import LIMITS, Cell, Charger, Curve
from calc.cell.charge_steps import Rates, State, between, moved, rates

MOST_STEPS = 100_000


class Ends(NamedTuple):
    """What ends a charge: a state of charge [1], a current [A] or a time [s]; numbers or (n,)."""

    content: Number
    current: Number
    longest: Number


class Course(NamedTuple):
    """A charge from start to end, how fast it moved there, and its peaks; shape (n,).

    peak_power [W]; peak_temperature [K].
    """

    start: State
    end: State
    first: Rates
    last: Rates
    peak_power: Series
    peak_temperature: Series


def begun(cell: Cell, charger: Charger, content: Number, temperature: Number, ends: Ends) -> State:
    """The state before a charge, at a state of charge [1] and a temperature [K].

    Returns: arrays of one shape (n,), as many as all numbers together have draws.
    """
    numbers = [content, temperature, *ends]
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


def check_step(step: float, cell: Cell, longest: Number) -> None:
    """Nothing, when a step [s] is short enough for the cell and long enough for the charge [s].

    Raises: ValueError when it is not, with a step that is.
    """
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


def run(cell: Cell, charger: Charger, start: State, ends: Ends, step: float) -> Course:
    """Charges a cell in steps of time [s] until each draw has met one of its ends."""
    state, now = start, rates(cell, charger, start)
    first = now
    peak_power, peak_temperature = now.power, state.temperature
    done = now.current <= ends.current
    while not (done | (state.time >= ends.longest)).all():
        ahead = np.where(done, 0.0, np.minimum(step, ends.longest - state.time))
        guess = moved(state, ahead, now, now)
        later = moved(state, ahead, now, rates(cell, charger, guess))
        after = rates(cell, charger, later)
        # The last step ends where the first of its ends is met, on a straight line within it.
        part = np.minimum(
            _part(state.content, later.content, np.asarray(ends.content)),
            _part(-now.current, -after.current, -np.asarray(ends.current)),
        )
        met = ~done & (part < 1)
        if met.any():
            later = between(state, later, np.where(met, part, 1.0))
            after = rates(cell, charger, later)
            done = done | met
        state, now = later, after
        # A draw that has run off to no number would never end.
        done = done | ~np.isfinite(state.time + state.content + state.temperature)
        peak_power = np.maximum(peak_power, now.power)
        peak_temperature = np.maximum(peak_temperature, state.temperature)
    return Course(start, state, first, now, peak_power, peak_temperature)


def _part(before: Series, after: Series, target: Series) -> Series:
    """The part [1] of a step after which a target is met; 2 where the step does not meet it."""
    way = after - before
    meets = (before < target) & (after >= target)
    part: Series = np.where(meets, (target - before) / np.where(way == 0, 1.0, way), 2.0)
    # A target met at the very end of a step ends it there.
    return np.minimum(part, np.where(meets, 1 - 1e-15, 2.0))
