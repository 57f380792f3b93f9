"""Mutants of a site: one number moved, far enough that what is stated must no longer agree.

Whether a text must disagree is worked out here from the digits that it states, and not asked of
the judge.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calc.book.model import Book, Page
from calc.book.plan import Root
from calc.engine.evaluate import NotComputed, below, values_again, values_of
from calc.engine.results import Result
from calc.judge.agree import tolerance, unit_like
from calc.judge.verdicts import JudgedFigure
from calc.notation.statement import (
    ABOUT,
    AT_LEAST,
    AT_MOST,
    EXACTLY,
    PLUS_MINUS,
    Statement,
    parse_statement,
)
from calc.notation.units import Unit
from calc.whole import Whole

NOMINAL = (EXACTLY, ABOUT, PLUS_MINUS)
"""Forms that hang on the nominal value; the others hang on the distribution."""
Array = NDArray[np.float64]

MOVES = np.array([sign * 1.07 * 10 ** (half / 2) for half in range(-14, 7) for sign in (1, -1)])
"""How far an input is moved, in multiples of its own size, the shortest way first.

None makes it nothing, which would end in a division by zero and not in another number.
"""


@dataclass(frozen=True)
class Stated:
    """A figure of the site that states a number: what it says, and the node that it names."""

    judged: JudgedFigure
    said: Statement
    target: str

    @property
    def key(self) -> tuple[str, int]:
        """What tells it from all others: its page and its place in it."""
        return self.judged.page, self.judged.figure.start

    @property
    def name(self) -> str:
        """Where it stands and what it says."""
        return f"{self.judged.place.file}:{self.judged.place.line} '{self.said.text}'"


@dataclass(frozen=True)
class Site:
    """The site as worked through, with what mutants are made of."""

    whole: Whole

    @cached_property
    def stated(self) -> tuple[Stated, ...]:
        """Every figure with a text that names a computed node."""
        return tuple(
            Stated(judged, parse_statement(judged.figure.text), nodes.target(judged.of))
            for nodes in (self.whole.computation.plan,)
            for judged in self.whole.judgement.figures
            if judged.agrees is not None and judged.figure.text and judged.of in nodes.nodes
        )

    @cached_property
    def below(self) -> dict[Stated, frozenset[str]]:
        """All that each figure rests on; what estimates say together rests on each of them."""
        named = dict.fromkeys(stated.judged.of for stated in self.stated)
        found = {id: self._below(id) for id in named}
        return {stated: found[stated.judged.of] for stated in self.stated}

    def _below(self, target: str) -> frozenset[str]:
        nodes, estimates = self.whole.computation.plan, self.whole.book.estimates
        found: set[str] = set()
        waiting = [target]
        while waiting:
            new = set(below(waiting, nodes)) - found
            found |= new
            weighed = {nodes.nodes[id].block for id in new} & estimates.keys()
            members = (f"{id}.{each.input.name}" for id in weighed for each in estimates[id].values)
            waiting = [id for id in members if id in nodes.nodes and id not in found]
        return frozenset(found)

    @cached_property
    def roots(self) -> dict[str, tuple[Stated, ...]]:
        """The inputs that figures rest on, each with the figures that do."""
        found: dict[str, list[Stated]] = {}
        nodes = self.whole.computation.plan.nodes
        for stated in self.stated:
            for id in sorted(self.below[stated]):
                node = nodes[id]
                if isinstance(node, Root) and node.input is not None:
                    found.setdefault(id, []).append(stated)
        return {root: tuple(resting) for root, resting in found.items()}

    @cached_property
    def blocks(self) -> dict[Stated, frozenset[str]]:
        """Ids of the blocks that each figure rests on."""
        nodes = self.whole.computation.plan.nodes
        return {
            stated: frozenset(nodes[id].block for id in below)
            for stated, below in self.below.items()
        }

    def solved(self, root: str) -> Iterator[JudgedFigure]:
        """Figures that state what some input would have to be, where the others count too."""
        plan, book = self.whole.computation.plan, self.whole.book
        for judged in self.whole.judgement.figures:
            if judged.of in self.whole.computation.solved:
                block, _, name = judged.of.partition(".solve.")
                wish = next(each for each in book.calcs[block].solve if each.unknown == name)
                if root in below([f"{block}.{wish.result}"], plan):
                    yield judged

    def weighed(self, stated: Stated) -> bool:
        """Whether a figure hangs on how estimates weigh, and not on one formula alone."""
        return not self.blocks[stated].isdisjoint(self.whole.book.estimates)

    @cached_property
    def nominal(self) -> dict[str, Any]:
        """Every value that a figure names, and all below, at the nominal values of the inputs."""
        targets = dict.fromkeys(stated.target for stated in self.stated)
        return values_of(targets, {}, self.whole.computation.plan, self.whole.book.logs)

    def result(self, stated: Stated) -> Result:
        """The result that a figure names."""
        return self.whole.computation.results[stated.target]

    def scale(self, stated: Stated) -> Unit:
        """The unit that a figure states its number in."""
        return unit_like(stated.said, self.result(stated))

    def half(self, stated: Stated) -> float:
        """How far the value may lie from the number that a figure states, in the figure's unit."""
        within = stated.judged.figure.title or stated.said.within
        within = within.removeprefix("within").strip()
        return tolerance(stated.said, 0, within, self.scale(stated))

    @cached_property
    def nominal_figures(self) -> tuple[Stated, ...]:
        """Figures that hang on the nominal value alone."""
        return tuple(each for each in self.stated if each.said.form in NOMINAL)

    def moves(
        self, root: str, resting: Sequence[Stated]
    ) -> tuple[Array, dict[Stated, NDArray[np.bool_]]]:
        """An input at each of MOVES, in SI base units, and where each figure is wrong there."""
        node = self.whole.computation.plan.nodes[root]
        assert isinstance(node, Root)
        own = abs(node.quantity.base - node.unit.offset) or node.unit.factor
        moves = own * MOVES
        if node.unit.text == "" and node.quantity.base == round(node.quantity.base):
            moves = np.where(abs(moves) >= 0.5, np.round(moves), moves)  # it may count something
        places = node.quantity.base + moves
        return places, self.wrong_at(root, places, resting)

    def untouched(self, root: str, places: Array, stated: Stated) -> bool:
        """Whether an input moves a figure nowhere: a procedure takes it for other results."""
        values = self._moved_values(root, places, [stated.target])[stated.target]
        nominal = float(self.nominal[stated.target])
        known = values[np.isfinite(values)]
        return bool(known.size and np.allclose(known, nominal, rtol=1e-9, atol=0))

    def wrong_at(
        self, root: str, places: Array, resting: Sequence[Stated]
    ) -> dict[Stated, NDArray[np.bool_]]:
        """Where figures are wrong when an input is at each of some places, in SI base units."""
        targets = list(dict.fromkeys(each.target for each in resting))
        values = self._moved_values(root, places, targets)
        assert all(np.isfinite(row).any() for row in values.values()), root
        return {each: self._wrong(each, values[each.target]) for each in resting}

    def _moved_values(self, root: str, places: Array, targets: Sequence[str]) -> dict[str, Array]:
        """Targets with an input at each place, in SI base units; nan where they are undefined."""
        rising = np.argsort(places)
        found = self._together(root, places[rising], targets)
        back = np.argsort(rising)
        return {target: row[back] for target, row in found.items()}

    def _together(self, root: str, places: Array, targets: Sequence[str]) -> dict[str, Array]:
        """The same, by halves: a procedure that refuses one place refuses all asked with it."""
        try:
            found = self._values(targets, {root: places})
            return {target: np.broadcast_to(found[target], places.shape) for target in targets}
        except (NotComputed, ValueError, FloatingPointError):
            if len(places) == 1:
                return dict.fromkeys(targets, np.full(1, np.nan))
        parts = [self._together(root, part, targets) for part in np.array_split(places, 2)]
        return {target: np.concatenate([part[target] for part in parts]) for target in targets}

    def _values(self, targets: Sequence[str], moved: Mapping[str, Any]) -> Mapping[str, Any]:
        nodes, logs = self.whole.computation.plan, self.whole.book.logs
        return values_again(targets, moved, self.nominal, nodes, logs)

    def _wrong(self, stated: Stated, values: Array) -> NDArray[np.bool_]:
        """Where a value, in SI base units, lies so far from a text that the text is wrong."""
        scale = self.scale(stated)
        away = (values - scale.offset) / scale.factor - stated.said.numbers[0]
        result = self.result(stated)
        spread = result.unit.width_to_base(result.interval[1] - result.interval[0]) / scale.factor
        reach = 3 * self.half(stated)
        if stated.said.form not in NOMINAL:
            reach += 4 * spread
        with np.errstate(invalid="ignore"):
            if stated.said.form == AT_LEAST:
                return np.asarray(away < -reach)
            return np.asarray(away > reach if stated.said.form == AT_MOST else abs(away) > reach)


def with_texts(book: Book, texts: Mapping[tuple[str, int], str]) -> Book:
    """The book with other texts in some of its figures, and no figures but those."""
    return replace(book, pages=tuple(_page_with(page, texts) for page in book.pages))


def _page_with(page: Page, texts: Mapping[tuple[str, int], str]) -> Page:
    figures = tuple(
        replace(figure, text=texts[page.file, figure.start])
        for figure in page.figures
        if (page.file, figure.start) in texts
    )
    return replace(page, figures=figures, loose=())
