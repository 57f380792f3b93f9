"""What unfolding gives: nodes in the order in which they were met, not yet checked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from calc.book.model import Limit, Parameter, Place
from calc.book.plan import Alias, Applied, Computed, Part, PlanNode, Pooled, Run
from calc.book.pool import COMBINED
from calc.notation.formula import names_in
from calc.notation.units import PLAIN, Unit
from calc.problems import Problem

UNKNOWN_UNIT = Unit("", 1.0, 0.0, PLAIN)
"""Stands in a node until its dimension is known."""


@dataclass(frozen=True)
class Bound:
    """An input of a method where it is used, with the unit that the method declares."""

    id: str
    parameter: Parameter
    method: str
    place: Place
    prefix: str


@dataclass(frozen=True)
class RawGuard:
    """A limit of a method where it is used, with the ids of its names."""

    limit: Limit
    ids: Mapping[str, str]
    method: str
    block: str
    place: Place
    prefix: str


@dataclass
class Unfolded:
    """Nodes in the order in which they were met, not yet checked."""

    nodes: dict[str, PlanNode] = field(default_factory=dict)
    results: dict[str, list[str]] = field(default_factory=dict)
    names: dict[str, dict[str, str]] = field(default_factory=dict)
    bound: list[Bound] = field(default_factory=list)
    guards: list[RawGuard] = field(default_factory=list)
    applied: list[Applied] = field(default_factory=list)
    failed: set[str] = field(default_factory=set)
    misgiven: set[tuple[str, str]] = field(default_factory=set)
    problems: list[Problem] = field(default_factory=list)

    def say(self, place: Place, kind: str, message: str) -> None:
        """Notes one problem."""
        self.problems.append(Problem(place.file, place.line, kind, message))


def edges(node: PlanNode) -> Iterator[str]:
    """The ids that a node reads."""
    if isinstance(node, Alias):
        yield node.of
    elif isinstance(node, Computed):
        yield from names_in(node.tree)
    elif isinstance(node, Part):
        yield node.run
    elif isinstance(node, Pooled):
        yield from node.members if node.field == COMBINED else (f"{node.block}.{COMBINED}",)
    elif isinstance(node, Run):
        for argument in node.arguments.values():
            if not isinstance(argument, str):
                yield from names_in(argument)
