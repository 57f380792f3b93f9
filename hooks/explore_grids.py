"""Grids for what only procedures give: values at even settings, interpolated in the browser."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calc.engine.evaluate import NotComputed, below, values_of
from calc.judge.shown import Sweep
from calc.whole import Whole

Array = NDArray[np.float64]
_COUNTS = {1: 65, 2: 33, 3: 13, 4: 7, 5: 5, 6: 4}
"""Settings along each slider, by how many sliders a value rests on."""

KINK = 2.0
"""The error at the middle of a cell, times this, covers the worst of the cell: a smooth bend is
worst in the middle, and a kink at a distance t from the cell's edge errs by t (1 - t), which is at
most twice what it errs in the middle."""


@dataclass(frozen=True, eq=False)
class Grid:
    """Values of one node in SI base units, the last axis running fastest."""

    id: str
    axes: tuple[Sweep, ...]
    count: int
    values: Array


def grid(id: str, sliders: Sequence[Sweep], whole: Whole) -> Grid:
    """The values of a node over the sliders that it rests on; nan where there is none."""
    under = set(below([id], whole.plan))
    axes = tuple(led for led in sliders if led.node in under)
    count = _COUNTS[len(axes)]
    places = [np.linspace(led.low, led.high, count) for led in axes]
    mesh = [flat.ravel() for flat in np.meshgrid(*places, indexing="ij")]
    values = settled([id], _based(axes, mesh), whole)[id]
    return Grid(id, axes, count, values)


def _based(axes: Sequence[Sweep], settings: Sequence[Array]) -> dict[str, Array]:
    return {
        led.node: led.unit.offset + led.unit.factor * at
        for led, at in zip(axes, settings, strict=True)
    }


def settled(ids: Sequence[str], moved: Mapping[str, Array], whole: Whole) -> dict[str, Array]:
    """Values of nodes at many settings, all of shape (n,); nan where a procedure refuses."""
    size = len(next(iter(moved.values())))
    try:
        found = values_of(ids, moved, whole.plan, whole.book.logs)
        return {id: np.broadcast_to(np.asarray(found[id], float), (size,)) for id in ids}
    except (NotComputed, ValueError, TypeError):
        return _one_by_one(ids, moved, size, whole)


def _one_by_one(
    ids: Sequence[str], moved: Mapping[str, Array], size: int, whole: Whole
) -> dict[str, Array]:
    values = {id: np.full(size, np.nan) for id in ids}
    for at in range(size):
        setting: dict[str, Any] = {node: places[at] for node, places in moved.items()}
        try:
            found = values_of(ids, setting, whole.plan, whole.book.logs)
        except NotComputed:
            continue
        for id in ids:
            values[id][at] = float(found[id])
    return values


def interpolated(held: Grid, moved: Mapping[str, Array]) -> Array:
    """Multilinear interpolation at settings in SI base units, as the browser does it."""
    cells, shares = [], []
    for led in held.axes:
        own = (moved[led.node] - led.unit.offset) / led.unit.factor
        along = (own - led.low) / (led.high - led.low) * (held.count - 1)
        cell = np.clip(np.floor(along), 0, held.count - 2).astype(int)
        cells.append(cell)
        shares.append(along - cell)
    total = np.zeros(len(shares[0]))
    for corner in product((0, 1), repeat=len(held.axes)):
        place = np.zeros(len(total), int)
        weight = np.ones(len(total))
        for cell, share, up in zip(cells, shares, corner, strict=True):
            place = place * held.count + cell + up
            weight = weight * (share if up else 1 - share)
        total += np.where(weight == 0, 0.0, weight * held.values[place])
    return total


def errors(
    targets: Sequence[str], grids: Sequence[Grid], sliders: Sequence[Sweep], whole: Whole
) -> dict[str, float]:
    """How far off each target can be for being interpolated, in SI base units.

    Measured at the middles of all cells, the sliders that no grid rests on at their ends and
    middles in turn; see KINK for what is between.
    """
    if not grids:
        return dict.fromkeys(targets, 0.0)
    worst = dict.fromkeys(targets, 0.0)
    for held in grids:
        moved = _middles(held, sliders)
        exact = settled(targets, moved, whole)
        taken = {each.id: interpolated(each, moved) for each in grids}
        near = settled(targets, {**moved, **taken}, whole)
        for id in targets:
            apart = np.abs(exact[id] - near[id])
            apart = apart[np.isfinite(apart)]
            worst[id] = max(worst[id], KINK * float(apart.max(initial=0.0)))
    return worst


def _middles(held: Grid, sliders: Sequence[Sweep]) -> dict[str, Array]:
    halves = (np.arange(held.count - 1) + 0.5) / (held.count - 1)
    mesh = np.meshgrid(*([halves] * len(held.axes)), indexing="ij")
    size = mesh[0].size
    settings = {}
    for led in sliders:
        if led in held.axes:
            share = mesh[held.axes.index(led)].ravel()
        else:
            share = np.resize([0.0, 0.5, 1.0], size)
        settings[led.node] = led.unit.offset + led.unit.factor * (
            led.low + (led.high - led.low) * share
        )
    return settings
