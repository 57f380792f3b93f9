"""From a plan to results: nominal values, then draws block by block, then what to solve for."""

from __future__ import annotations

import warnings
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from calc.book.model import Book, Calc, Place, Solve
from calc.book.plan import Column, Computed, Guard, Part, Plan, PlanNode, Pooled, Root
from calc.engine.blame import why_undefined
from calc.engine.draws import DRAWS
from calc.engine.evaluate import NotComputed, evaluate, node_value, values_of
from calc.engine.keeper import Keeper
from calc.engine.pooled import settle
from calc.engine.results import Computation, Result, Solved
from calc.engine.solve import crossings
from calc.engine.streams import Streams
from calc.engine.summary import Summariser
from calc.notation.dimensions import Series
from calc.notation.quantity import Rectangular
from calc.notation.units import shown_as
from calc.problems import Problem, nearest

_MOST_OUTSIDE = 0.05
"""The share of the draws that may leave a method's range of validity without a word."""


def compute(book: Book, plan: Plan, count: int = DRAWS) -> Computation:
    """Every result of the book; one problem for each value that cannot be computed."""
    plan, reconciliations, problems = settle(book, plan, count)
    work = _Work(book, plan, Streams(book, plan, count))
    work.problems += (*problems, *work.streams.problems)
    with np.errstate(all="ignore"), warnings.catch_warnings():
        warnings.simplefilter("ignore", RuntimeWarning)
        work.nominal_values()
        work.hold_guards()
        work.draw()
    solved = {
        f"{calc.id}.solve.{wish.unknown}": found
        for calc in book.calcs.values()
        for wish in calc.solve
        if (found := work.solve(calc, wish)) is not None
    }
    return Computation(work.results, solved, tuple(work.problems), plan, reconciliations)


@dataclass
class _Work:
    book: Book
    plan: Plan
    streams: Streams
    nominal: dict[str, Any] = field(default_factory=dict)
    failed: set[str] = field(default_factory=set)
    results: dict[str, Result] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def say(self, place: Place, kind: str, message: str) -> None:
        self.problems.append(Problem(place.file, place.line, kind, message))

    def nominal_values(self) -> None:
        """Every node at the nominal values of its roots."""
        for id, node in self.plan.nodes.items():
            unsettled = isinstance(node, Pooled)
            if unsettled or any(need in self.failed for need in self.plan.needs[id]):
                self.failed.add(id)
            elif isinstance(node, Root):
                self.nominal[id] = np.float64(node.quantity.base)
            else:
                self._nominal(id, node)

    def _nominal(self, id: str, node: PlanNode) -> None:
        try:
            value = node_value(node, self.nominal, self.book.logs)
        except NotComputed as error:
            self.failed.add(id)
            self.say(node.place, "numeric", str(error))
            return
        if isinstance(node, Computed) and not np.all(np.isfinite(value)):
            self.failed.add(id)
            self.say(node.place, "numeric", self._undefined(node, self.nominal))
            return
        if isinstance(node, Computed) and node.unit.offset and np.any(value < 0):
            self.failed.add(id)
            name, shown = node.id.partition(".")[2], node.unit.from_base(float(np.min(value)))
            message = f"{name} is {shown:.4g} {node.unit.text}, below absolute zero; check signs"
            self.say(node.place, "numeric", f"{message}, and show a difference in delta_degC")
            return
        self.nominal[id] = value

    def _undefined(self, node: Computed, values: Mapping[str, Any]) -> str:
        name = node.id.partition(".")[2]
        return f"{name} has no value: {why_undefined(node.tree, values)}; check its inputs"

    def hold_guards(self) -> None:
        """A value outside a method's range of validity is a problem where the method is used."""
        said: set[tuple[object, ...]] = set()
        for guard in self.plan.guards:
            ids = guard.names.values()
            if any(id not in self.nominal for id in ids):
                continue
            key = (guard.block, guard.place, guard.limit)
            if not np.all(evaluate(guard.tree, self.nominal)) and key not in said:
                said.add(key)
                self.say(guard.place, "valid", self._outside(guard))

    def _outside(self, guard: Guard) -> str:
        values = ", ".join(
            f"{name} is {unit.from_base(float(self.nominal[id])):.6g} {unit.text}".rstrip()
            for name, id in guard.names.items()
            for unit in (self.plan.nodes[id].unit,)
        )
        return (
            f"outside the range of the method {guard.method}, which needs {guard.limit.text}:"
            f" {values}; use another method, or check the input"
        )

    def draw(self) -> None:
        """Draws of every node that rests on something uncertain, dropped once they are used."""
        sums = Summariser(self.book, self.plan, self.streams, self.nominal)
        for id, node in self.plan.nodes.items():
            if isinstance(node, Root) and "#" not in node.block:
                self.results[id] = sums.of_root(node)
            elif "#" in node.block and id in self.nominal and isinstance(node, Computed | Part):
                self.results[id] = sums.nominal_alone(id)
        wanted = [id for id in self.plan.nodes if self._has_draws(id)]
        keeper = Keeper(wanted, self.plan)
        for id in wanted:
            if any(need in self.failed for need in self.plan.needs[id]):
                self.failed.add(id)
                keeper.drop(id)
            else:
                self._draw(id, keeper)
            for block in keeper.finished(id):
                self._summarise(block, keeper, sums)

    def _has_draws(self, id: str) -> bool:
        node = self.plan.nodes[id]
        return id in self.nominal and not isinstance(node, Root) and "#" not in node.block

    def _draw(self, id: str, keeper: Keeper) -> None:
        node = self.plan.nodes[id]
        needs = self.plan.needs[id]
        values = {need: keeper.value(need, self.streams) for need in needs}
        if isinstance(node, Column) or not any(map(_is_drawn, values.values())):
            keeper.keep(id, self.nominal[id])
            return
        try:
            value = node_value(node, values, self.book.logs)
        except NotComputed as error:
            self._lost(id, keeper, f"within the uncertainty of its inputs: {error}")
            return
        if isinstance(node, Computed) and not np.all(np.isfinite(value)):
            missing = int(np.sum(~np.isfinite(value)))
            share = f"in {missing} of {self.streams.count} draws"
            self._lost(id, keeper, f"{share}, {self._undefined(node, values)}")
            return
        keeper.keep(id, value)

    def _lost(self, id: str, keeper: Keeper, message: str) -> None:
        self.failed.add(id)
        keeper.drop(id)
        self.say(self.plan.nodes[id].place, "numeric", message)

    def _summarise(self, block: str, keeper: Keeper, sums: Summariser) -> None:
        self._hold_drawn(block, keeper)
        ids = [id for id in self.plan.results[block] if id in keeper.values]
        found = sums.of_block(block, ids, [keeper.values[id] for id in ids])
        self.results |= {result.id: result for result in found}
        keeper.release(block)

    def _hold_drawn(self, block: str, keeper: Keeper) -> None:
        """A method whose range many draws leave, though the stated values do not, is warned of."""
        said: set[tuple[object, ...]] = set()
        for guard in keeper.guards[block]:
            if any(id in self.failed for id in guard.names.values()):
                continue
            values = {id: keeper.value(id, self.streams) for id in guard.names.values()}
            inside = np.asarray(evaluate(guard.tree, values))
            outside, key = 1 - float(inside.mean()), (guard.place, guard.limit)
            if inside.ndim and outside > _MOST_OUTSIDE and key not in said:
                said.add(key)
                message = (
                    f"{100 * outside:.0f} % of the draws leave the range of the method"
                    f" {guard.method}, which needs {guard.limit.text}; narrow the uncertainty, use"
                    " another method, or say on the page what it means"
                )
                self.problems.append(
                    Problem(guard.place.file, guard.place.line, "valid", message, "warning")
                )

    def solve(self, calc: Calc, wish: Solve) -> Solved | None:
        """What an input would have to be; None when the wish itself is wrong."""
        names = self.plan.names[calc.id]
        unknown = names.get(wish.unknown, "")
        result = f"{calc.id}.{wish.result}"
        for name, id in ((wish.unknown, unknown), (wish.result, result)):
            if id not in self.plan.nodes:
                if name.partition(".")[0] not in names:  # what is there was said elsewhere
                    hint = nearest(name, names)
                    self.say(wish.place, "reference", f"nothing here is called '{name}'{hint}")
                return None
        if unknown in self.failed or result in self.failed:
            return None
        return self._solved(wish, self.plan.target(unknown), self.plan.target(result))

    def _solved(self, wish: Solve, unknown: str, result: str) -> Solved | None:
        for id, quantity in ((unknown, wish.between), (result, wish.target)):
            kind = self.plan.kinds[id]
            if isinstance(kind, Series) or shown_as(kind, quantity.unit) is None:
                message = f"'{quantity.text}' is not of the kind of {id}, which is {kind}"
                self.say(wish.place, "dimension", message)
                return None
        shown, spread = wish.between.spread, wish.between.base_spread
        assert isinstance(shown, Rectangular) and isinstance(spread, Rectangular)

        def difference(value: Any) -> Any:
            found = values_of([result], {unknown: value}, self.plan, self.book.logs)[result]
            return np.asarray(found) - wish.target.base

        try:
            places = crossings(difference, spread.low, spread.high)
        except NotComputed as error:
            self.say(wish.place, "numeric", str(error))
            return None
        scale = wish.between.unit
        tail = f" {scale.text}".rstrip()
        ends = f"{shown.low:g}{tail} and {shown.high:g}{tail}"
        none = "" if places else f"nothing between {ends} gives it"
        values = tuple(scale.from_base(place) for place in places)
        return Solved(wish.unknown, scale, values, none, wish.place)


def _is_drawn(value: Any) -> bool:
    if isinstance(value, tuple):
        return any(map(_is_drawn, value))
    return isinstance(value, np.ndarray) and value.ndim > 0
