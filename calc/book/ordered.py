"""The order of evaluation, and the dimension of every node, found in that order."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from calc.book.guards import guards
from calc.book.model import Book, Place
from calc.book.plan import Alias, Column, Computed, Plan, PlanNode, Pooled, Root, Run, roots_of
from calc.book.pool import COMBINED, MEANS, pooled_kind
from calc.book.unfold import UNKNOWN_UNIT, Unfolded, edges, unfold
from calc.notation.dimensions import (
    Kind,
    Scope,
    Series,
    Signature,
    argument_fits,
    dimension_of,
)
from calc.notation.formula import Node, names_in
from calc.notation.units import PLAIN, Dimension, Unit, base_unit, shown_as, unit
from calc.problems import Problem, Wrong, nearest


def plan(book: Book, procedures: Mapping[str, Signature]) -> Plan:
    """The book as one graph in order of evaluation, with all that is wrong in it."""
    raw = unfold(book, procedures)
    order = _Order(raw)
    for id in raw.nodes:
        order.visit(id)
    typed = _Typing(raw, book, procedures)
    for id in order.done:
        typed.check(id)
    typed.check_bound()
    needs = {id: tuple(dict.fromkeys(edges(node))) for id, node in typed.nodes.items()}
    return Plan(
        nodes=typed.nodes,
        needs=needs,
        roots=roots_of(typed.nodes, needs),
        results={
            block: tuple(id for id in ids if id in typed.nodes)
            for block, ids in raw.results.items()
        },
        names=raw.names,
        kinds=typed.kinds,
        guards=tuple(guards(raw, typed.scope)),
        applied=tuple(raw.applied),
        procedures=procedures,
        problems=tuple(raw.problems),
    )


@dataclass
class _Order:
    """Depth first, iteratively, since chains across pages may be long."""

    raw: Unfolded

    def __post_init__(self) -> None:
        self.done: dict[str, None] = {}
        self.open: dict[str, None] = {}

    def visit(self, start: str) -> None:
        stack: list[tuple[str, Iterable[str]]] = []
        self._enter(start, stack)
        while stack:
            id, waiting = stack[-1]
            following = next(iter(waiting), None)
            if following is None:
                stack.pop()
                del self.open[id]
                self.done[id] = None
            elif following in self.open:
                self._cycle(following)
            else:
                self._enter(following, stack)

    def _enter(self, id: str, stack: list[tuple[str, Iterable[str]]]) -> None:
        if id in self.raw.nodes and id not in self.done:
            self.open[id] = None
            stack.append((id, iter(tuple(edges(self.raw.nodes[id])))))

    def _cycle(self, id: str) -> None:
        path = list(self.open)
        path = path[path.index(id) :]
        if self.raw.failed.issuperset(path):
            return
        self.raw.failed.update(path)
        first = min(path, key=lambda item: self._place(item))
        path = path[path.index(first) :] + path[: path.index(first)]
        self.raw.say(
            self.raw.nodes[first].place,
            "cycle",
            f"this needs itself: {' → '.join((*path, first))}; give one of them a value",
        )

    def _place(self, id: str) -> tuple[str, int]:
        place = self.raw.nodes[id].place
        return (place.file, place.line)


class _Typing:
    """Nodes that are right, with their kinds; the others are noted once and left out."""

    def __init__(self, raw: Unfolded, book: Book, procedures: Mapping[str, Signature]) -> None:
        self.raw, self.book, self.procedures = raw, book, procedures
        self.nodes: dict[str, PlanNode] = {}
        self.kinds: dict[str, Kind] = {}
        self.scope = Scope(self.kinds, procedures)

    def check(self, id: str) -> None:
        node = self.raw.nodes[id]
        if id in self.raw.failed:
            return
        try:
            if all(self._known(need, node.place) for need in edges(node)):
                self._keep(node)
                return
        except Wrong as error:
            self.raw.problems.append(error.at(node.place.file, node.place.line))
        self.raw.failed.add(id)

    def _known(self, need: str, place: Place) -> bool:
        if need in self.nodes:
            return True
        head = need.partition(".")[0]
        explained = need in self.raw.nodes or need in self.raw.failed or head in self.raw.failed
        below = any(
            failed.startswith(f"{need}.") or need.startswith(f"{failed}.")
            for failed in self.raw.failed
        )
        if not explained and not below:
            raise Wrong("reference", self._unknown(need))
        return False

    def _unknown(self, need: str) -> str:
        head, _, rest = need.partition(".")
        if head in self.raw.names:
            known = self._below(head)
            return (
                f"'{head}' has no '{rest}'{nearest(rest, known) or '; it has ' + ', '.join(known)}"
            )
        return f"nothing is called '{need}'{nearest(need, self.raw.nodes)}"

    def _below(self, head: str) -> list[str]:
        return [id.partition(".")[2] for id in self.raw.nodes if id.startswith(f"{head}.")]

    def _keep(self, node: PlanNode) -> None:
        if isinstance(node, Root):
            self.kinds[node.id] = node.unit.dimension
        elif isinstance(node, Alias):
            self.kinds[node.id] = self.kinds[node.of]
            node = replace(node, unit=self.nodes[node.of].unit)
        elif isinstance(node, Column):
            node = self._column(node)
        elif isinstance(node, Computed):
            node = self._computed(node)
        elif isinstance(node, Run):
            self._run(node)
        elif isinstance(node, Pooled) and node.field in MEANS:
            node = self._pooled(node)
        else:
            self.kinds[node.id] = node.unit.dimension
        self.nodes[node.id] = node

    def _column(self, node: Column) -> Column:
        log = self.book.logs.get(node.log)
        if log is None or log.problems:
            raise Wrong("log", f"the log '{node.log}' cannot be used until it is mended")
        try:
            scale = unit(log.column(node.column).unit)
        except ValueError as error:
            message = error.message if isinstance(error, Wrong) else str(error)
            raise Wrong("log", message) from None
        self.kinds[node.id] = Series(scale.dimension)
        return replace(node, unit=scale)

    def _computed(self, node: Computed) -> Computed:
        found = dimension_of(node.tree, self.scope)
        self.kinds[node.id] = found
        if node.unit is UNKNOWN_UNIT:
            return replace(node, unit=self._unit_like(node.tree, found))
        shown = shown_as(found, node.unit)
        if shown is None:
            raise Wrong("dimension", self._misfit(node, found))
        return replace(node, unit=shown)

    def _unit_like(self, tree: Node, found: Dimension) -> Unit:
        """The unit of the first thing in the formula of the same kind, else SI base units."""
        for name in names_in(tree):
            if self.kinds.get(name) == found and found != PLAIN:
                return self.nodes[name].unit
        return base_unit(found)

    def _pooled(self, node: Pooled) -> Pooled:
        if node.field != COMBINED:
            combined = f"{node.block}.{COMBINED}"
            self.kinds[node.id] = self.kinds[combined]
            return replace(node, unit=self.nodes[combined].unit)
        found = pooled_kind(node, self.kinds)
        shown = self.nodes[node.members[0]].unit
        if node.unit is not UNKNOWN_UNIT:
            wanted = shown_as(found, node.unit)
            if wanted is None:
                raise Wrong("dimension", f"'{node.unit.text}' does not fit, the values are {found}")
            shown = wanted
        self.kinds[node.id] = found
        return replace(node, unit=shown)

    def _misfit(self, node: Computed, found: Dimension) -> str:
        bare = [
            name.rpartition(".")[2]
            for name in names_in(node.tree)
            if isinstance(item := self.nodes.get(self._aliased(name)), Root)
            and item.unit.text == ""
        ]
        name = node.id.partition(".")[2]
        hint = (
            f"; {', '.join(bare)} has no unit: write one after its number"
            if bare
            else f"; divide or multiply by what is missing, or show it in {found}"
        )
        return f"'{node.unit.text}' expected, got {found} for {name}{hint}"

    def _aliased(self, id: str) -> str:
        node = self.nodes.get(id)
        while isinstance(node, Alias):
            id, node = node.of, self.nodes.get(node.of)
        return id

    def _run(self, node: Run) -> None:
        signature = self.procedures[node.procedure]
        for parameter, argument in node.arguments.items():
            if not isinstance(argument, str):
                wanted = signature.takes[parameter]
                argument_fits(node.procedure, parameter, wanted, argument, self.scope)
        self.kinds[node.id] = PLAIN

    def check_bound(self) -> None:
        """What methods were given must be of the kind that they declare."""
        for bound in self.raw.bound:
            kind = self.kinds.get(bound.id)
            if kind is None:
                if bound.id not in self.raw.failed and bound.id not in self.raw.nodes:
                    self.raw.say(bound.place, "reference", self._unknown(bound.id))
                continue
            wanted = bound.parameter.unit
            found = kind.dimension if isinstance(kind, Series) else kind
            if isinstance(kind, Series) != bound.parameter.series or (
                found != wanted.dimension and found.without_year() != wanted.dimension
            ):
                self.raw.say(
                    bound.place,
                    "dimension",
                    f"'{wanted.text}' expected for {bound.parameter.name} of {bound.method}, got"
                    f" {found}; give it a quantity of that kind",
                )


def without_twins(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Problems in order of place, each said once."""
    return tuple(sorted(set(problems)))
