"""What a panel computes, as data: the part of the graph that its sliders move, as trees.

The browser interprets the same trees that the build evaluates; nothing is written as code.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from calc.book.plan import Alias, Computed, Guard, Part, Plan
from calc.engine.evaluate import below, values_of
from calc.notation.formula import Call, Comparison, Name, Negative, Node, Number, Operation
from calc.whole import Whole
from hooks.charts.sweeps import calls_procedure, guards_below

Tree = float | str | list["Tree"]
"""A number, the id of a value, or a sign or function followed by what it is applied to."""


@dataclass(frozen=True)
class Program:
    """Values in SI base units that sliders leave alone, and steps in order for the others.

    `looked_up` are the ids that only procedures give; the browser takes them from grids.
    `limits` are the methods' ranges of validity that sliders can leave, each with its words.
    """

    given: Mapping[str, float]
    steps: tuple[tuple[str, Tree], ...]
    looked_up: tuple[str, ...]
    limits: tuple[tuple[Tree, str], ...]


def program(targets: Sequence[str], moved: Sequence[str], whole: Whole) -> Program:
    """The program that gives targets from the moved nodes, all by the ids of their nodes."""
    plan = whole.plan
    guards = [guard for guard in guards_below(targets, plan) if _rests(guard, moved, plan)]
    wanted = [*targets, *(name for guard in guards for name in guard.names.values())]
    order = [id for id in below(wanted, plan) if not isinstance(plan.nodes[id], Alias)]
    moving = _moving(order, moved, plan)
    looked_up = tuple(id for id in order if id in moving and _needs_procedure(id, plan))
    steps = tuple(
        (id, tree_data(node.tree, plan))
        for id in _reached(wanted, looked_up, moved, plan)
        if id in moving and isinstance(node := plan.nodes[id], Computed) and id not in looked_up
    )
    named = {name for _, tree in steps for name in names(tree)}
    named |= {plan.target(id) for id in wanted}
    nominal = values_of(wanted, {}, plan, whole.book.logs)
    given = {id: float(nominal[id]) for id in order if id in named and id not in moving}
    given = {id: value for id, value in given.items() if id not in moved}
    used = named | {name for guard in guards for name in map(plan.target, guard.names.values())}
    limits = {_limit(guard): tree_data(guard.tree, plan) for guard in guards}
    return Program(
        given,
        steps,
        tuple(id for id in looked_up if id in used),
        tuple((tree, words) for words, tree in limits.items()),
    )


def _limit(guard: Guard) -> str:
    return f"{guard.method} needs {guard.limit.text}"


def _moving(order: Sequence[str], moved: Sequence[str], plan: Plan) -> set[str]:
    """What changes when sliders move; a moved node itself is given from outside."""
    found: set[str] = set(moved)
    for id in order:
        if any(plan.target(need) in found for need in plan.needs[id]):
            found.add(id)
    return found - set(moved)


def _needs_procedure(id: str, plan: Plan) -> bool:
    node = plan.nodes[id]
    return isinstance(node, Part) or (isinstance(node, Computed) and calls_procedure(node.tree))


def _reached(
    wanted: Sequence[str], looked_up: Sequence[str], moved: Sequence[str], plan: Plan
) -> list[str]:
    """Wanted nodes and what they need, without going below what is looked up or moved."""
    done: dict[str, None] = {}

    def visit(id: str) -> None:
        id = plan.target(id)
        if id in done or id in moved:
            return
        if id not in looked_up:
            for need in plan.needs[id]:
                visit(need)
        done[id] = None

    for id in wanted:
        visit(id)
    return list(done)


def _rests(guard: Guard, moved: Sequence[str], plan: Plan) -> bool:
    return not set(below(list(guard.names.values()), plan)).isdisjoint(moved)


def tree_data(node: Node, plan: Plan) -> Tree:
    """A formula's tree as lists, its names as the ids of nodes."""
    if isinstance(node, Number):
        return node.value
    if isinstance(node, Name):
        return plan.target(node.name)
    if isinstance(node, Negative):
        return ["-", tree_data(node.of, plan)]
    if isinstance(node, Operation | Comparison):
        return [node.sign, tree_data(node.left, plan), tree_data(node.right, plan)]
    assert isinstance(node, Call)
    return [node.function, *(tree_data(argument, plan) for argument in node.arguments)]


def names(tree: Tree) -> set[str]:
    """The ids that a tree reads."""
    if isinstance(tree, str):
        return {tree}
    if isinstance(tree, list):
        return {name for part in tree[1:] for name in names(part)}
    return set()
