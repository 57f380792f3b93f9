"""A mutant with one input moved: what some figures rest on, worked through from the start.

The rest of the site is left out, so that a run costs little.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Set
from dataclasses import dataclass, replace
from functools import cached_property

from calc.book.model import Book, Calc, Estimates, Input, Method, Sheet
from calc.book.ordered import plan
from calc.engine.compute import compute
from calc.engine.draws import DRAWS
from calc.engine.procedures import signatures
from calc.judge.figures import judge_figures
from calc.judge.targets import Targets
from calc.notation.quantity import Exact, Quantity, Rectangular, Spread, Triangular
from calc.notation.statement import (
    PLUS_MINUS,
)
from tests.mutants import Site, Stated, with_texts


@dataclass(frozen=True)
class Mutant:
    """One input moved to a value in SI base units, in what some figures rest on and no more.

    `exact` takes all uncertainties away, so that a run costs little.
    """

    site: Site
    resting: tuple[Stated, ...]
    root: str
    base: float
    exact: bool = True

    @cached_property
    def blocks(self) -> set[str]:
        """Ids of the blocks that the figures rest on."""
        return set().union(*(self.site.blocks[each] for each in self.resting))

    def reported(self, figures: Iterable[Stated]) -> set[Stated]:
        """Which figures no longer agree when all is planned, computed and judged from the start.

        Figures that rest on other blocks too are left out.
        """
        asked = [each for each in figures if self.site.blocks[each] <= self.blocks]
        texts = {each.key: self._text(each) for each in asked}
        needed = set().union(*(self.site.below[each] for each in asked))
        book = with_texts(self.book(needed), texts)
        planned = plan(book, signatures())
        computed = compute(book, planned, 64 if self._exact else DRAWS)
        judged = (one for one, _ in judge_figures(Targets(book, computed.plan, computed)))
        wrong = {(one.page, one.figure.start) for one in judged if one.agrees is False}
        return {each for each in asked if each.key in wrong}

    def _text(self, stated: Stated) -> str:
        """Without uncertainties there is no width that "270 ± 4" could agree with."""
        said = stated.said
        if not self._exact or said.form != PLUS_MINUS:
            return said.text
        return f"{said.digits[0]} {said.unit.text}".strip()

    @cached_property
    def _exact(self) -> bool:
        """Estimates are weighed by their uncertainties, which have to stay."""
        return self.exact and self.blocks.isdisjoint(self.site.whole.book.estimates)

    def book(self, needed: Set[str]) -> Book:
        """The book cut down to what is needed, with the input moved."""
        book, blocks = self.site.whole.book, self.blocks
        applied = self.site.whole.computation.plan.applied
        methods = {each.method for each in applied if each.block in blocks}
        return replace(
            book,
            sheets={id: self._sheet(each) for id, each in book.sheets.items() if id in blocks},
            calcs={id: self._calc(each, needed) for id, each in book.calcs.items() if id in blocks},
            methods={id: replace(book.methods[id], checks=()) for id in methods},
            estimates={
                id: self._estimates(each) for id, each in book.estimates.items() if id in blocks
            },
            claims={},
            problems=(),
        )

    def _sheet(self, sheet: Sheet) -> Sheet:
        return replace(sheet, inputs=tuple(self._input(each, sheet.id) for each in sheet.inputs))

    def _calc(self, calc: Calc, needed: Set[str]) -> Calc:
        heads = {tuple(re.split(r"[.!]", id)[:2]) for id in needed}
        named = {head[1] for head in heads if head[0] == calc.id}
        wanted = _with_what_they_name(calc, named, self.site.whole.book.methods)
        return replace(
            calc,
            inputs=tuple(self._input(each, calc.id) for each in calc.inputs),
            steps=tuple(each for each in calc.steps if each.name in wanted),
            solve=(),
            correlated=() if self._exact else calc.correlated,
        )

    def _estimates(self, estimates: Estimates) -> Estimates:
        return replace(
            estimates,
            values=tuple(
                replace(each, input=self._input(each.input, estimates.id))
                for each in estimates.values
            ),
        )

    def _input(self, item: Input, block: str) -> Input:
        quantity = item.quantity
        if item.reference and item.reference.partition(".")[0] not in self.blocks:
            quantity = self._as_it_was(item.reference)
        if quantity is None:
            return item
        spread = Exact() if self._exact else quantity.spread
        if f"{block}.{item.name}" == self.root:
            value = quantity.unit.from_base(self.base)
            spread = _carried(spread, value - quantity.value)
            quantity = replace(quantity, value=value, digits="")
        return replace(item, quantity=replace(quantity, spread=spread), reference="")

    def _as_it_was(self, id: str) -> Quantity | None:
        """The value of something that no figure asked about rests on."""
        plan = self.site.whole.computation.plan
        found = self.site.whole.computation.results.get(plan.target(id))
        return Quantity("", found.value, found.unit) if found else None


def _with_what_they_name(calc: Calc, wanted: set[str], methods: Mapping[str, Method]) -> set[str]:
    """Steps, and those whose results they are given, by name or because a method asks for it."""
    steps = {each.name: each for each in calc.steps}
    waiting = [steps[name] for name in wanted if name in steps]
    while waiting:
        step = waiting.pop()
        asked = {each.name for each in methods[step.use].parameters} if step.use else set()
        given = re.findall(r"[a-z_0-9]+", " ".join(step.given.values()))
        new = ({*given, *asked} & steps.keys()) - wanted
        wanted |= new
        waiting += [steps[name] for name in new]
    return wanted


def _carried(spread: Spread, by: float) -> Spread:
    """A spread moved along with its value."""
    if isinstance(spread, Rectangular):
        return Rectangular(spread.low + by, spread.high + by)
    if isinstance(spread, Triangular):
        return Triangular(spread.low + by, spread.mode + by, spread.high + by)
    return spread
