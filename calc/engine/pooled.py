"""Estimates settled: what they say together takes its place in the plan, before the nominal pass.

The combined value becomes the weighted sum of its estimates, so that it moves with their inputs
and shares their errors, plus one root for what their disagreement adds to its uncertainty.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations
from math import sqrt

import numpy as np

from calc.book.model import Book, Estimates
from calc.book.plan import Computed, Plan, PlanNode, Pooled, Root, roots_of
from calc.book.pool import COMBINED, DISAGREEMENT, MEANS
from calc.book.sources import BUILT_IN
from calc.engine.covariance import shared_covariance
from calc.engine.draws import Array
from calc.engine.evaluate import NotComputed, below, values_of
from calc.engine.means import Mean
from calc.engine.reconcile import Reconciliation, reconcile
from calc.engine.streams import Streams
from calc.notation.formula import Name, Node, Number, Operation
from calc.notation.quantity import Exact, Normal, Quantity
from calc.notation.rounding import digit_place, rounded
from calc.notation.units import Unit, base_unit
from calc.problems import Problem

Settled = tuple[Plan, Mapping[str, Reconciliation], tuple[Problem, ...]]


def settle(book: Book, plan: Plan, count: int) -> Settled:
    """The plan with every block of estimates settled, what each says, and what is wrong.

    A block that cannot be settled stays as it is, with a problem unless its members have one.
    Parameters: count, how many draws the covariance of the estimates is taken from.
    """
    work = _Settling(book, plan, count)
    for id, node in plan.nodes.items():
        if isinstance(node, Pooled) and node.field == COMBINED:
            work.settle(id, node)
    return work.plan_now(), work.found, tuple(work.problems)


@dataclass
class _Settling:
    book: Book
    plan: Plan
    count: int
    found: dict[str, Reconciliation] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.nodes = dict(self.plan.nodes)
        self.needs = dict(self.plan.needs)
        self.working = replace(self.plan, nodes=self.nodes, needs=self.needs, roots={})
        self.streams = Streams(self.book, self.working, self.count)

    def plan_now(self) -> Plan:
        """Nodes in their old order, each new root before the sum that needs it."""
        if not self.found:
            return self.plan
        nodes: dict[str, PlanNode] = {}
        for id in self.plan.nodes:
            added = f"{self.nodes[id].block}.{DISAGREEMENT}"
            if added in self.nodes and added not in nodes:
                nodes[added] = self.nodes[added]
            nodes[id] = self.nodes[id]
        return replace(self.plan, nodes=nodes, needs=self.needs, roots=roots_of(nodes, self.needs))

    def settle(self, id: str, node: Pooled) -> None:
        draws = self._draws(node)
        if draws is None:
            return
        estimates = self.book.estimates[node.block]
        nominal = values_of(node.members, {}, self.working, self.book.logs)
        values = [node.unit.from_base(float(nominal[member])) for member in node.members]
        drawn = self._in_common(node, np.cov(draws / node.unit.factor, bias=True))
        try:
            found = reconcile(
                [member.partition(".")[2] for member in node.members],
                values,
                np.sqrt(np.diag(drawn)),
                self._with_shared_sources(node, drawn),
                self.book.settings.significance,
            )
        except ValueError as error:
            self._say(estimates, str(error))
            return
        self.found[node.block] = found
        self._put_combined(id, node, found.combined, drawn)
        self._put_others(node.block, found)

    def _draws(self, node: Pooled) -> Array | None:
        """Draws of every member in SI base units, (n, count); None where there are not all."""
        used = below(node.members, self.working)
        if any(isinstance(self.nodes[id], Pooled) for id in used):
            return None
        roots = [id for id in used if isinstance(self.nodes[id], Root)]
        try:
            values = values_of(node.members, self.streams.all(roots), self.working, self.book.logs)
        except NotComputed:
            return None
        draws = np.array([np.broadcast_to(values[id], (self.count,)) for id in node.members])
        return draws if np.all(np.isfinite(draws)) else None

    def _in_common(self, node: Pooled, drawn: Array) -> Array:
        """Covariance by draws where estimates share an error, and otherwise none.

        Between estimates with nothing in common it is zero, whatever the noise of their draws.
        """
        roots = [self._roots(member) for member in node.members]
        c = np.diag(np.diag(drawn))
        for a, b in combinations(range(len(roots)), 2):
            if any(not roots[b].isdisjoint(self.streams.group(root)) for root in roots[a]):
                c[a, b] = c[b, a] = drawn[a, b]
        return c

    def _with_shared_sources(self, node: Pooled, drawn: Array) -> Array:
        """The same, with what estimates from one source share by convention."""
        sources = [self._source(member) for member in node.members]
        share = self.book.settings.shared_source
        common = shared_covariance(np.sqrt(np.diag(drawn)), sources, share)
        return np.where(drawn == 0, common, drawn)

    def _roots(self, member: str) -> set[str]:
        ids = below([member], self.working)
        return {id for id in ids if isinstance(self.nodes[id], Root) and self.streams.varied(id)}

    def _source(self, member: str) -> str:
        """The source of a value stated as it is; what is reckoned has none but itself."""
        node = self.nodes[self.working.target(member)]
        source = node.input.source if isinstance(node, Root) and node.input else ""
        return source if source and source not in BUILT_IN else f"{member}!"

    def _put_combined(self, id: str, node: Pooled, mean: Mean, drawn: Array) -> None:
        weights = np.array(mean.weights)
        excess = mean.standard_uncertainty**2 - float(weights @ drawn @ weights)
        tree = _weighted_sum(node.members, mean.weights)
        needs = node.members
        if excess > 1e-9 * mean.standard_uncertainty**2:
            added = self._disagreement(node, sqrt(excess))
            tree = Operation("+", tree, Name(added))
            needs = (*needs, added)
        self.nodes[id] = Computed(id, node.block, tree, node.unit, node.place)
        self.needs[id] = needs

    def _disagreement(self, node: Pooled, standard: float) -> str:
        id = f"{node.block}.{DISAGREEMENT}"
        scale = base_unit(node.unit.dimension) if node.unit.offset else node.unit
        width = standard * node.unit.factor / scale.factor
        quantity = Quantity("", 0.0, scale, Normal(width))
        self.nodes[id] = Root(id, node.block, quantity, scale, node.place)
        self.needs[id] = ()
        return id

    def _put_others(self, block: str, found: Reconciliation) -> None:
        means = {name: getattr(found, name) for name in MEANS if name != COMBINED}
        for name, mean in means.items():
            self._put(f"{block}.{name}", mean.value, Normal(mean.standard_uncertainty), "")
        self._put(f"{block}.chi_squared", found.chi_squared, Exact(), _digits(found.chi_squared, 3))
        self._put(f"{block}.birge_ratio", found.birge_ratio, Exact(), _digits(found.birge_ratio, 3))
        percent = 100 * found.chi_squared_probability
        self._put(f"{block}.chi_squared_probability", percent, Exact(), _digits(percent, 2))

    def _put(self, id: str, value: float, spread: Exact | Normal, digits: str) -> None:
        pooled = self.nodes[id]
        text = f"{digits} {_shown(pooled.unit)}".rstrip()
        quantity = Quantity(text, value, pooled.unit, spread, digits)
        self.nodes[id] = Root(id, pooled.block, quantity, pooled.unit, pooled.place)
        self.needs[id] = ()

    def _say(self, estimates: Estimates, sentence: str) -> None:
        place = estimates.place
        message = f"the estimates of {estimates.id} cannot be combined: {sentence}"
        self.problems.append(Problem(place.file, place.line, "estimates", message))


def _weighted_sum(members: Sequence[str], weights: Sequence[float]) -> Node:
    parts: list[Node] = [
        Operation("*", Number(repr(weight)), Name(member))
        for member, weight in zip(members, weights, strict=True)
    ]
    tree = parts[0]
    for part in parts[1:]:
        tree = Operation("+", tree, part)
    return tree


def _digits(value: float, digits: int) -> str:
    return rounded(value, digit_place(value, digits))


def _shown(unit: Unit) -> str:
    return "" if unit.text == "1" else unit.text
