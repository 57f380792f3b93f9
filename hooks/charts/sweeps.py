"""Results while one input is led over a range: nominal values, and the band of their draws."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calc.book.plan import Computed, Guard, Plan, Root, Run
from calc.cell.catalogue import PROCEDURES
from calc.engine.evaluate import NotComputed, below, evaluate, values_of
from calc.engine.streams import Streams
from calc.judge.shown import Sweep
from calc.notation.formula import Call, Node, children
from calc.whole import Whole

POINTS, DRAWS = 61, 2000
_SLOW_POINTS, _SLOW_DRAWS = 25, 200
"""Where procedures run, which may be slow, fewer points and draws must do."""

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Swept:
    """Where the input was led, and what came out, in SI base units; nan where nothing did.

    `nominal` has shape (points,) by id, `low` and `high` hold 95 % of the draws. `outside` names
    the methods whose range of validity ended on the way.
    """

    places: Array
    nominal: Mapping[str, Array]
    low: Mapping[str, Array]
    high: Mapping[str, Array]
    outside: tuple[str, ...]


def swept(ids: Sequence[str], led: Sweep, whole: Whole) -> Swept:
    """Results over a range of one input, all others nominal, and drawn for the band."""
    plan = whole.plan
    slow = any(_runs(plan, id) for id in below(ids, plan))
    points, count = (_SLOW_POINTS, _SLOW_DRAWS) if slow else (POINTS, DRAWS)
    places: Array = led.unit.offset + led.unit.factor * np.linspace(led.low, led.high, points)
    nominal = {id: np.full(points, np.nan) for id in ids}
    low, high = ({id: np.full(points, np.nan) for id in ids} for _ in range(2))
    draws = _draws(ids, led, whole, count)
    limits = guards_below(ids, plan)
    outside: dict[str, None] = {}
    for at, place in enumerate(places):
        try:
            found = values_of(ids, {led.node: np.float64(place)}, plan, whole.book.logs)
        except NotComputed:
            continue
        broken = [guard for guard in limits if not np.all(evaluate(guard.tree, found))]
        outside |= {guard.method: None for guard in broken}
        for id in ids:
            if not any(guard_touches(guard, id, plan) for guard in broken):
                nominal[id][at] = float(found[id])
        _band(ids, at, {**draws, led.node: np.float64(place)}, whole, (low, high))
    for id in ids:
        blank = ~np.isfinite(nominal[id])
        low[id][blank] = high[id][blank] = np.nan
    return Swept(places, nominal, low, high, tuple(outside))


def _runs(plan: Plan, id: str) -> bool:
    node = plan.nodes[id]
    return isinstance(node, Run) or (isinstance(node, Computed) and calls_procedure(node.tree))


def calls_procedure(tree: Node) -> bool:
    """Whether a formula calls a procedure somewhere."""
    own = isinstance(tree, Call) and tree.function in PROCEDURES
    return own or any(map(calls_procedure, children(tree)))


def _draws(ids: Sequence[str], led: Sweep, whole: Whole, count: int) -> dict[str, Any]:
    plan = whole.plan
    streams = Streams(whole.book, plan, count)
    roots = [id for id in below(ids, plan) if isinstance(plan.nodes[id], Root) and id != led.node]
    return {id: streams.of(id) for id in roots if streams.varied(id)}


def _band(
    ids: Sequence[str], at: int, roots: Mapping[str, Any], whole: Whole,
    ends: tuple[dict[str, Array], dict[str, Array]],
) -> None:  # fmt: skip
    try:
        drawn = values_of(ids, roots, whole.plan, whole.book.logs)
    except NotComputed:
        return
    for id in ids:
        values = np.asarray(drawn[id])
        if values.ndim and np.all(np.isfinite(values)):
            ends[0][id][at], ends[1][id][at] = np.quantile(values, (0.025, 0.975))


def guards_below(ids: Sequence[str], plan: Plan) -> list[Guard]:
    """The limits of methods that results rest on, their own checks left out."""
    used = set(below(ids, plan))
    return [
        guard
        for guard in plan.guards
        if "#" not in guard.block and used.issuperset(guard.names.values())
    ]


def guard_touches(guard: Guard, id: str, plan: Plan) -> bool:
    """Whether a result rests on a method used where this limit holds."""
    return set(below([id], plan)).issuperset(guard.names.values())
