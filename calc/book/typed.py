"""The kind of every node: its dimension, the unit it is shown in, or what does not fit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from calc.book.model import Book
from calc.book.plan import Alias, Column, Computed, Part, PlanNode, Pooled, Root, Run
from calc.book.pool import COMBINED, MEANS, pooled_kind
from calc.book.temperatures import DIFFERENCE, temperature
from calc.book.unfolded import UNKNOWN_UNIT, Bound, Unfolded, edges
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
from calc.problems import Wrong, nearest


class Typing:
    """Nodes that are right, with their kinds; the others are noted once and left out."""

    def __init__(self, raw: Unfolded, book: Book, procedures: Mapping[str, Signature]) -> None:
        self.raw, self.book, self.procedures = raw, book, procedures
        self.nodes: dict[str, PlanNode] = {}
        self.kinds: dict[str, Kind] = {}
        self.scope = Scope(self.kinds, procedures)
        self._bounds: dict[str, list[Bound]] = {}
        for bound in raw.bound:
            self._bounds.setdefault(bound.prefix, []).append(bound)

    def check(self, id: str) -> None:
        """Types one node, after all that it needs."""
        node = self.raw.nodes[id]
        if id in self.raw.failed:
            return
        if self._misgiven(node) or (isinstance(node, Column) and self._log_lost(node)):
            self.raw.failed.add(id)
            return
        try:
            if all(self._known(need) for need in edges(node)):
                self._keep(node)
                return
        except Wrong as error:
            self.raw.problems.append(error.at(node.place.file, node.place.line))
        self.raw.failed.add(id)

    def _misgiven(self, node: PlanNode) -> bool:
        """Whether it lies within a method that was given something of another kind."""
        if not isinstance(node, Computed | Run | Part):
            return False
        parts = node.id.split(".")
        given = isinstance(node, Computed) and node.hidden
        within = (".".join(parts[:end]) for end in range(1, len(parts) - given))
        bounds = (bound for prefix in within for bound in self._bounds.get(prefix, ()))
        return any(bound.id in self.kinds and self._misfits(bound) for bound in bounds)

    def _log_lost(self, node: Column) -> bool:
        log = self.book.logs.get(node.log)
        return log is None or bool(log.problems)

    def _known(self, need: str) -> bool:
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
        try:
            scale = unit(self.book.logs[node.log].column(node.column).unit)
        except ValueError as error:
            message = error.message if isinstance(error, Wrong) else str(error)
            raise Wrong("log", message) from None
        self.kinds[node.id] = Series(scale.dimension)
        return replace(node, unit=scale)

    def _computed(self, node: Computed) -> Computed:
        found = dimension_of(node.tree, self.scope)
        self.kinds[node.id] = found
        meant = temperature(node.tree, lambda name: self.nodes[name].unit)
        if node.unit is UNKNOWN_UNIT:
            like = self._unit_like(node.tree, found)
            bare = like.offset and meant == DIFFERENCE
            return replace(node, unit=base_unit(found) if bare else like)
        shown = shown_as(found, node.unit)
        if shown is None:
            raise Wrong("dimension", self._misfit(node, found))
        if shown.offset and meant == DIFFERENCE:
            name = node.id.partition(".")[2]
            raise Wrong(
                "dimension",
                f"{name} is a difference of temperatures; show it in delta_degC or K, not in"
                f" {shown.text}",
            )
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
            and "#" not in item.block
        ]
        name = node.id.partition(".")[2]
        hint = (
            f"; {', '.join(bare)} has no unit: write one after its number if it has one"
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

    def _misfits(self, bound: Bound) -> bool:
        kind, wanted = self.kinds[bound.id], bound.parameter.unit.dimension
        if isinstance(kind, Series) or bound.parameter.series:
            return kind != (Series(wanted) if bound.parameter.series else wanted)
        return kind != wanted and kind.without_year() != wanted

    def check_bound(self) -> None:
        """What methods were given must be of the kind that they declare."""
        for bound in self.raw.bound:
            kind = self.kinds.get(bound.id)
            if kind is None:
                if bound.id not in self.raw.failed and bound.id not in self.raw.nodes:
                    self.raw.say(bound.place, "reference", self._unknown(bound.id))
            elif self._misfits(bound):
                self.raw.misgiven.add((bound.prefix, bound.parameter.name))
                found = kind.dimension if isinstance(kind, Series) else kind
                self.raw.say(
                    bound.place,
                    "dimension",
                    f"'{bound.parameter.unit.text}' expected for {bound.parameter.name} of"
                    f" {bound.method}, got {found}; give it a quantity of that kind",
                )
