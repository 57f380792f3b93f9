"""One step of a charge: how its state moves under the limit that governs, by Heun's method."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from calc.cell.arguments import Series
from calc.cell.charge_cell import LIMITS, Cell, Charger, allowed


@dataclass(frozen=True)
class State:
    """Where a charge stands, and what it has come to; shape (n,) each, governed (5, n), and
    relaxed, the voltage across each relaxation, (relaxations, n).

    time [s], content [1], relaxed [V], temperature [K], energy [J], heat [J], governed [s].
    """

    time: Series
    content: Series
    relaxed: NDArray[np.float64]
    temperature: Series
    energy: Series
    heat: Series
    governed: NDArray[np.float64]


class Rates(NamedTuple):
    """How fast each part of a state moves, per second, with the current [A], voltage [V]
    and the current [A] that each limit allows, shape (5, n)."""

    content: Series
    relaxed: NDArray[np.float64]
    temperature: Series
    power: Series
    heat: Series
    current: Series
    voltage: Series
    limit: NDArray[np.int64]
    allowed: NDArray[np.float64]


def rates(cell: Cell, charger: Charger, state: State) -> Rates:
    """How fast a state [its own units] moves at the largest current that every limit allows."""
    now = cell.at(state.content, state.relaxed.sum(axis=0), state.temperature)
    each = allowed(cell, charger, now)
    limit = np.argmin(each, axis=0)
    current = each.min(axis=0)
    drop = current * cell.resistance * now.hinders
    heat = current * (drop + now.relaxed)
    voltage = now.inner + drop
    return Rates(
        content=current / cell.capacity,
        relaxed=_settling(cell, current * now.hinders, state.relaxed),
        temperature=(heat - cell.cooling * (state.temperature - cell.ambient)) / cell.heat_capacity,
        power=current * voltage,
        heat=heat,
        current=current,
        voltage=voltage,
        limit=np.asarray(limit),
        allowed=each,
    )


def _settling(cell: Cell, load: Series, relaxed: NDArray[np.float64]) -> NDArray[np.float64]:
    """How fast [V/s] each relaxation nears its resistance times the load [A]; as relaxed."""
    slopes = np.empty_like(relaxed)
    for at, part in enumerate(cell.relaxations):
        slopes[at] = (load * part.resistance - relaxed[at]) / part.time
    return slopes


def moved(state: State, step: Series, first: Rates, second: Rates) -> State:
    """The state a step later, by the mean of two rates; times and sums move with it."""
    half = step / 2
    order = np.arange(len(LIMITS)).reshape(-1, *[1] * step.ndim)
    governs = (order == first.limit).astype(np.float64) + (order == second.limit)
    return State(
        time=state.time + step,
        content=state.content + half * (first.content + second.content),
        relaxed=state.relaxed + half * (first.relaxed + second.relaxed),
        temperature=state.temperature + half * (first.temperature + second.temperature),
        energy=state.energy + half * (first.power + second.power),
        heat=state.heat + half * (first.heat + second.heat),
        governed=state.governed + half * governs,
    )


def between(before: State, after: State, part: Series) -> State:
    """The state a part [1] of the way between two, on a straight line; shape (n,)."""
    mixed = {
        name: getattr(before, name) + part * (getattr(after, name) - getattr(before, name))
        for name in vars(before)
    }
    return replace(before, **mixed)
