"""The plan: every block unfolded into one graph of nodes, checked and put in order.

Names become full ids, methods are unfolded where they are used, dimensions are found once.
A node that is wrong is noted and left out, with all that hangs on it, so that one mistake gives
one message.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from calc.book.model import Input, Limit, Place
from calc.notation.dimensions import Kind, Signature
from calc.notation.formula import Node
from calc.notation.quantity import Quantity
from calc.notation.units import Unit
from calc.problems import Problem


@dataclass(frozen=True)
class Root:
    """A value that enters, with its spread; `unit` is the one it is shown in."""

    id: str
    block: str
    quantity: Quantity
    unit: Unit
    place: Place
    input: Input | None = None


@dataclass(frozen=True)
class Column:
    """A column of a log in SI base units: base = number * factor + offset."""

    id: str
    block: str
    log: str
    column: str
    unit: Unit
    place: Place


@dataclass(frozen=True)
class Alias:
    """Another name for a node."""

    id: str
    block: str
    of: str
    unit: Unit
    place: Place


@dataclass(frozen=True)
class Computed:
    """A formula whose names are full ids. `hidden` nodes are a method's bound inputs."""

    id: str
    block: str
    tree: Node
    unit: Unit
    place: Place
    hidden: bool = False


@dataclass(frozen=True)
class Run:
    """A procedure run once, for all the fields it gives."""

    id: str
    block: str
    procedure: str
    arguments: Mapping[str, Node | str]
    place: Place
    unit: Unit


@dataclass(frozen=True)
class Part:
    """One field of a run."""

    id: str
    block: str
    run: str
    field: str
    unit: Unit
    place: Place


@dataclass(frozen=True)
class Pooled:
    """One field of what a block of estimates says together, before it is reckoned.

    `members` are the ids of the estimates that have values of their own. The engine puts a
    formula or a value in its place; one that stays could not be reckoned.
    """

    id: str
    block: str
    field: str
    members: tuple[str, ...]
    unit: Unit
    place: Place


PlanNode = Root | Column | Alias | Computed | Run | Part | Pooled


@dataclass(frozen=True)
class Guard:
    """A limit of a method where it is used: `tree` must be true."""

    block: str
    tree: Node
    limit: Limit
    method: str
    place: Place
    names: Mapping[str, str]


@dataclass(frozen=True)
class Applied:
    """Where a method is used: the prefix of its results and what its inputs were bound to."""

    method: str
    prefix: str
    block: str
    place: Place


@dataclass(frozen=True)
class Plan:
    """Nodes by id in an order in which each comes after what it needs.

    `needs`: the ids that a node reads; `roots`: the roots that it rests on, in order of id.
    `results`: of each block, the ids of what it shows (steps, and results of sub-steps).
    `names`: of each block, what its local names stand for.
    """

    nodes: Mapping[str, PlanNode]
    needs: Mapping[str, tuple[str, ...]]
    roots: Mapping[str, tuple[str, ...]]
    results: Mapping[str, tuple[str, ...]]
    names: Mapping[str, Mapping[str, str]]
    kinds: Mapping[str, Kind]
    guards: tuple[Guard, ...]
    applied: tuple[Applied, ...]
    procedures: Mapping[str, Signature]
    problems: tuple[Problem, ...] = field(default=())

    def target(self, id: str) -> str:
        """The id that an id stands for once aliases are followed."""
        node = self.nodes[id]
        while isinstance(node, Alias):
            node = self.nodes[node.of]
        return node.id

    def below(self, id: str) -> tuple[str, ...]:
        """The ids of a step's several results, in order; none when it has one, or no plan."""
        named = (each for each in self.nodes if each.startswith(f"{id}."))
        return tuple(each for each in named if self.names_one(each))

    def names_one(self, id: str) -> bool:
        """Whether an id is that of one value; the run of a procedure has no name of its own."""
        return id in self.nodes and not isinstance(self.nodes[id], Run)

    def has(self, id: str) -> bool:
        """Whether anything of a step or input was planned."""
        return id in self.nodes or bool(self.below(id))


def roots_of(
    nodes: Mapping[str, PlanNode], needs: Mapping[str, tuple[str, ...]]
) -> dict[str, tuple[str, ...]]:
    """The roots that each node rests on; nodes come in an order that follows their needs."""
    roots: dict[str, tuple[str, ...]] = {}
    for id, node in nodes.items():
        own = (id,) if isinstance(node, Root) else ()
        below = (root for need in needs[id] for root in roots[need])
        roots[id] = tuple(dict.fromkeys((*own, *below)))
    return roots
