"""Resistance from steps of current, and from the same cell discharged at two rates."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from calc.cell.arguments import Number, Series, choice, forward, read_off, series_of
from calc.cell.integrate_log import LOG
from calc.cell.procedure import Procedure


class StepResistance(NamedTuple):
    """Resistance [ohm] at a delay after a step, what its noise brings, and the step [A]."""

    resistance: Number
    from_noise: Number
    step: Number
    steps: float


class StepState(NamedTuple):
    """Where the cell stood when a step came: state of charge [1], temperature [K], currents [A]."""

    state_of_charge: Number
    temperature: float
    current_before: float
    current_after: float


class _Window(NamedTuple):
    """Mean, standard deviation [the unit of the values] and number of samples in a window."""

    mean: float
    deviation: float
    samples: int


def steps_of(current: Series, smallest_step: float) -> NDArray[np.int64]:
    """Index of the first row after each step of current [A], shape (steps,).

    A current that takes several rows to arrive is one step, and it ends at the last of them.
    """
    jumps = np.flatnonzero(np.abs(np.diff(current)) >= smallest_step) + 1
    last = np.append(np.diff(jumps) > 1, True)[: len(jumps)]
    ends: NDArray[np.int64] = jumps[last]
    return ends


def step_resistance(
    time: Series,
    voltage: Series,
    current: Series,
    number: Number,
    delay: Number,
    averaging: Number,
    smallest_step: Number,
    current_gain: Number,
    voltage_gain: Number,
) -> StepResistance:
    """Change of voltage over change of current, a delay after the number-th step of a log.

    Parameters: time [s], voltage [V], current [A], shape (rows,); number counts steps from 1;
    delay [s] after the step; averaging [s], the time over which voltage is averaged before the
    step and about the delay; smallest_step [A]; gains [1], numbers or draws (n,). Offsets of the
    meters cancel.
    Returns: resistance [ohm]; from_noise [ohm], its standard uncertainty from the scatter of the
    voltage about its mean; the step [A]; how many steps the log has.
    Raises: ValueError when there is no such step, the next comes before the delay is over, or a
    window holds no sample.
    Source: exact; Ohm's law on the change that the step brings.

    >>> t, i = np.arange(20.0), np.repeat([0.0, -10.0], 10)
    >>> found = step_resistance(t, 3.7 + 0.002 * i, i, 1, 5.0, 4.0, 1.0, 1, 1)
    >>> round(found.resistance, 9), found.steps
    (0.002, 1.0)
    """
    time, voltage, current = series_of(time=time, voltage=voltage, current=current)
    forward(time)
    steps = steps_of(current, choice("smallest_step", smallest_step))
    at = _step(steps, choice("number", number))
    wait, span = choice("delay", delay), choice("averaging", averaging)
    _undisturbed(time, steps, at, wait + span / 2)
    before = _window(time, voltage, time[at] - span, time[at], at, "before the step")
    after = _about(time, voltage, time[at] + wait, span, at)
    step = _window(time, current, time[at], time[at] + wait + span / 2, None, "after").mean
    step -= _window(time, current, time[at] - span, time[at], at, "before the step").mean
    scale = voltage_gain / current_gain
    noise = np.hypot(
        before.deviation / np.sqrt(before.samples), before.deviation / np.sqrt(after.samples)
    )
    return StepResistance(
        resistance=scale * ((after.mean - before.mean) / step),
        from_noise=scale * abs(float(noise) / step),
        step=current_gain * step,
        steps=float(len(steps)),
    )


def step_state(
    time: Series,
    current: Series,
    temperature: Series,
    number: Number,
    smallest_step: Number,
    start_state_of_charge: Number,
    capacity: Number,
) -> StepState:
    """State of charge and temperature at the number-th step, to set beside its resistance.

    Parameters: time [s], current [A], temperature [K], shape (rows,); start_state_of_charge [1]
    at the first row, capacity [C], numbers or draws (n,).
    Raises: ValueError as `step_resistance`.
    Source: exact; charge counted up to the last row before the step.

    >>> t, i = np.arange(20.0), np.repeat([-1.0, -10.0], 10)
    >>> round(step_state(t, i, np.full(20, 298.15), 1, 5.0, 0.5, 900.0).state_of_charge, 3)
    0.49
    """
    time, current, temperature = series_of(time=time, current=current, temperature=temperature)
    forward(time)
    steps = steps_of(current, choice("smallest_step", smallest_step))
    at = _step(steps, choice("number", number))
    # Up to the last row before the step: how the current got from one to the other is unknown.
    moved = float(np.diff(time[:at]) @ (current[: at - 1] + current[1:at])) / 2
    return StepState(
        state_of_charge=start_state_of_charge + moved / capacity,
        temperature=float(temperature[at]),
        current_before=float(current[max(at - 1, 0)]),
        current_after=float(current[at]),
    )


def two_rate_resistance(
    slow_time: Series,
    slow_voltage: Series,
    slow_current: Series,
    fast_time: Series,
    fast_voltage: Series,
    fast_current: Series,
    at: Number,
) -> Number:
    """Resistance [ohm] from two discharges: the gap in voltage over the gap in current.

    Parameters: the two logs, time [s], voltage [V], current [A, positive into the cell]; at [C],
    the charge removed from a full cell at which both are read, a number or draws (n,).
    Raises: ValueError when `at` lies beyond either log, or both run at one current there.
    Source: exact; Ohm's law between two states that differ in current alone.

    >>> t, full = np.linspace(0, 100, 11), np.ones(11)
    >>> two_rate_resistance(t, 3.69 * full, -1 * full, t / 4, 3.66 * full, -4 * full, 50.0)
    0.01
    """
    slow = _at_charge("slow", slow_time, slow_voltage, slow_current, at)
    fast = _at_charge("fast", fast_time, fast_voltage, fast_current, at)
    apart = slow[1] - fast[1]
    if (np.abs(apart) < 1e-12).any():
        raise ValueError("both discharges run at the same current there")
    return (slow[0] - fast[0]) / apart


def _step(steps: NDArray[np.int64], number: float) -> int:
    if not 1 <= number <= len(steps) or number != int(number):
        raise ValueError(f"there is no step {number:g}: the log has {len(steps)} steps of current")
    return int(steps[int(number) - 1])


def _undisturbed(time: Series, steps: NDArray[np.int64], at: int, wait: float) -> None:
    later = steps[steps > at]
    end = time[later[0] - 1] if len(later) else time[-1]
    if time[at] + wait > end:
        raise ValueError(
            f"the current changes, or the log ends, {end - time[at]:g} s after the step, "
            f"sooner than the {wait:g} s asked for"
        )


def _window(
    time: Series, values: Series, start: float, end: float, before: int | None, where: str
) -> _Window:
    """The samples with start <= time <= end, of the rows before an index only."""
    inside = (time >= start) & (time <= end)
    if before is not None:
        inside[before:] = False
    chosen = values[inside]
    if not len(chosen):
        raise ValueError(f"no sample in the time of averaging {where}; average over longer")
    deviation = float(np.std(chosen, ddof=1)) if len(chosen) > 1 else 0.0
    return _Window(float(np.mean(chosen)), deviation, len(chosen))


def _about(time: Series, values: Series, moment: float, span: float, at: int) -> _Window:
    """Samples within half a span of a moment, never before the step; a lone moment is read."""
    half = min(span / 2, moment - time[at])
    inside = (time >= moment - half) & (time <= moment + half)
    if inside.sum() < 2:
        return _Window(float(np.interp(moment, time, values)), 0.0, 1)
    return _window(time, values, moment - half, moment + half, None, "after the step")


def _at_charge(
    name: str, time: Series, voltage: Series, current: Series, at: Number
) -> tuple[Number, Number]:
    time, voltage, current = series_of(time=time, voltage=voltage, current=current)
    removed = -np.diff(forward(time)) * (current[:-1] + current[1:]) / 2
    charge = np.concatenate(([0.0], np.cumsum(removed)))
    if (np.diff(charge) < 0).any():
        raise ValueError(f"the {name} log must be a discharge alone, without charging in it")
    if (np.asarray(at) > charge[-1]).any() or (np.asarray(at) < 0).any():
        raise ValueError(f"the {name} log removes {charge[-1]:g} C, and is asked about {at} C")
    return read_off(at, charge, voltage), read_off(at, charge, current)


PROCEDURES = {
    "step_resistance": Procedure(
        step_resistance,
        {
            **LOG,
            "number": "1",
            "delay": "s",
            "averaging": "s",
            "smallest_step": "A",
            "current_gain": "1",
            "voltage_gain": "1",
        },
        {"resistance": "ohm", "from_noise": "ohm", "step": "A", "steps": "1"},
    ),
    "step_state": Procedure(
        step_state,
        {
            "time": "series s",
            "current": "series A",
            "temperature": "series K",
            "number": "1",
            "smallest_step": "A",
            "start_state_of_charge": "1",
            "capacity": "C",
        },
        {"state_of_charge": "1", "temperature": "K", "current_before": "A", "current_after": "A"},
    ),
    "two_rate_resistance": Procedure(
        two_rate_resistance,
        {
            "slow_time": "series s",
            "slow_voltage": "series V",
            "slow_current": "series A",
            "fast_time": "series s",
            "fast_voltage": "series V",
            "fast_current": "series A",
            "at": "C",
        },
        {"": "ohm"},
    ),
}
