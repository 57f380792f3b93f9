"""Grids for what only procedures give: values at even settings, interpolated in the browser."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
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

_KEPT = 7
"""Significant digits of a value on a grid: fewer would show, more only weigh."""

_PROBES = 2048
"""Settings at random, beside the middles of all cells, at which a grid is measured."""

MARGIN = 2.0
"""The worst error that was measured, times this, covers what lies between the probes. In a cell
cut by a kink, a straight line errs at most twice what it errs in the middle; a smooth bend is
worst near the middle."""


@dataclass(frozen=True, eq=False)
class Grid:
    """Values of one node in SI base units, the last axis running fastest.

    Between them runs a polynomial of degree `order` along each axis: a cubic through the four
    nearest settings, or a straight line where a procedure refuses some of them (nan).
    """

    id: str
    axes: tuple[Sweep, ...]
    count: int
    order: int
    values: Array


def grids(ids: Sequence[str], sliders: Sequence[Sweep], whole: Whole) -> tuple[Grid, ...]:
    """The values of nodes over the sliders that each rests on; nan where there is none."""
    together: dict[tuple[Sweep, ...], list[str]] = defaultdict(list)
    for id in ids:
        under = set(below([id], whole.plan))
        together[tuple(led for led in sliders if led.node in under)].append(id)
    found = {
        made.id: made for axes, alike in together.items() for made in _alike(alike, axes, whole)
    }
    return tuple(found[id] for id in ids)


def _alike(ids: Sequence[str], axes: tuple[Sweep, ...], whole: Whole) -> Iterable[Grid]:
    """Grids over the same axes, from one run of what stands behind them."""
    count = _COUNTS[len(axes)]
    evenly = [np.linspace(0.0, 1.0, count)] * len(axes)
    mesh = [flat.ravel() for flat in np.meshgrid(*evenly, indexing="ij")]
    for id, values in settled(ids, based(axes, mesh), whole).items():
        kept = np.array([float(f"{value:.{_KEPT}g}") for value in values])
        yield Grid(id, axes, count, 3 if np.isfinite(kept).all() else 1, kept)


def based(axes: Sequence[Sweep], shares: Sequence[Array]) -> dict[str, Array]:
    """Settings in SI base units, from shares of the way along each axis."""
    return {
        led.node: led.unit.offset + led.unit.factor * (led.low + (led.high - led.low) * share)
        for led, share in zip(axes, shares, strict=True)
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
    """What a grid gives at settings in SI base units, as the browser takes it."""
    along = [_along(held, led, moved[led.node]) for led in held.axes]
    total = np.zeros(len(along[0][0]))
    for corner in product(range(held.order + 1), repeat=len(held.axes)):
        place, weight = np.zeros(len(total), int), np.ones(len(total))
        for (first, weights), step in zip(along, corner, strict=True):
            place, weight = place * held.count + first + step, weight * weights[step]
        total += np.where(weight == 0, 0.0, weight * held.values[place])
    return total


def _along(held: Grid, led: Sweep, moved: Array) -> tuple[NDArray[np.int64], list[Array]]:
    """Along one axis: the first setting that counts, and the weights of it and the next ones."""
    own = (moved - led.unit.offset) / led.unit.factor
    at = (own - led.low) / (led.high - led.low) * (held.count - 1)
    first = np.clip(np.floor(at) - held.order // 2, 0, held.count - 1 - held.order).astype(int)
    steps = range(held.order + 1)
    weights = [
        np.prod([(at - first - other) / (step - other) for other in steps if other != step], axis=0)
        for step in steps
    ]
    return first, weights


def errors(
    targets: Sequence[str], held: Sequence[Grid], sliders: Sequence[Sweep], whole: Whole
) -> dict[str, float]:
    """How far off each target can be for being interpolated, in SI base units.

    Measured at the middles of all cells, the sliders that no grid rests on standing at their ends
    and middles in turn, and at settings at random; see MARGIN for what is between.
    """
    worst = dict.fromkeys(targets, 0.0)
    for axes in dict.fromkeys(each.axes for each in held):
        count = next(each.count for each in held if each.axes == axes)
        moved = based(sliders, _probes(axes, count, sliders))
        exact = settled(targets, moved, whole)
        taken = {each.id: interpolated(each, moved) for each in held}
        near = settled(targets, {**moved, **taken}, whole)
        for id in targets:
            apart = np.abs(exact[id] - near[id])
            apart = apart[np.isfinite(apart)]
            worst[id] = max(worst[id], MARGIN * float(apart.max(initial=0.0)))
    return worst


def _probes(axes: Sequence[Sweep], count: int, sliders: Sequence[Sweep]) -> list[Array]:
    """Shares of the way along each slider."""
    halves = (np.arange(count - 1) + 0.5) / (count - 1)
    mesh = np.meshgrid(*([halves] * len(axes)), indexing="ij")
    at_random = np.random.default_rng(1).random((len(sliders), _PROBES))
    return [
        np.concatenate(
            [
                mesh[axes.index(led)].ravel()
                if led in axes
                else np.resize([0.0, 0.5, 1.0], mesh[0].size),
                chance,
            ]
        )
        for led, chance in zip(sliders, at_random, strict=True)
    ]
