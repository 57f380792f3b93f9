"""Figures in prose against what is recomputed, and loose figures that nothing stands behind."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from calc.book.model import Book, Page, Place
from calc.book.plan import Plan, Root
from calc.book.pool import MEANS, STATISTICS
from calc.engine.results import Computation, Result, Solved
from calc.judge.agree import agreement, filled
from calc.judge.quotes import on_record, quoted
from calc.judge.verdicts import JudgedFigure
from calc.notation.prose import GIVEN, QUOTE, Figure
from calc.notation.statement import parse_statement
from calc.problems import Problem, Wrong, nearest


@dataclass(frozen=True)
class Targets:
    """What the addresses of figures may name."""

    book: Book
    plan: Plan
    computation: Computation

    def find(self, target: str, page: Page) -> str:
        """The id that an address names. Raises: Wrong when it names none, or several."""
        if "." in target:
            return self._full(target)
        return self._local(target, page)

    def result(self, id: str) -> Result | Solved | None:
        """The result of an id, or None when it could not be computed."""
        if id in self.computation.solved:
            return self.computation.solved[id]
        if id not in self.plan.nodes:
            return None
        return self.computation.results.get(self.plan.target(id))

    def _full(self, target: str) -> str:
        block, _, name = target.partition(".")
        if target in self.plan.nodes or target in self.computation.solved:
            return target
        if block in self.book.lost or self._was_meant(block, name):
            return target
        if block in self.plan.names:
            known = [id.partition(".")[2] for id in self.plan.nodes if id.startswith(f"{block}.")]
            raise Wrong("reference", f"'{block}' has no '{name}'{nearest(name, known)}")
        raise Wrong("reference", f"nothing is called '{block}'{nearest(block, self.plan.names)}")

    def _was_meant(self, block: str, name: str) -> bool:
        """Whether a block declares a name that could not be planned, which is said elsewhere."""
        calc = self.book.calcs.get(block)
        head = name.partition(".")[0]
        if head == "solve" and calc:
            return any(name == f"solve.{wish.unknown}" for wish in calc.solve)
        if block in self.book.estimates:
            members = {each.input.name for each in self.book.estimates[block].values}
            return name in (members | {*MEANS, *STATISTICS})
        declared = (
            {step.name for step in calc.steps} | {item.name for item in calc.inputs} | {*calc.lost}
            if calc
            else set()
        )
        method = self.book.methods.get(calc.use) if calc else None
        return head in declared or bool(method and head in {step.name for step in method.steps})

    def _local(self, target: str, page: Page) -> str:
        here = [
            f"{block}.{target}"
            for block, places in self.plan.names.items()
            if block in self.book.calcs
            and self.book.calcs[block].place.file == page.file
            and target in places
        ]
        if len(here) == 1:
            return here[0]
        if here:
            raise Wrong("reference", f"'{target}' could be {' or '.join(here)}; write one in full")
        if not target:
            raise Wrong("reference", "calc: needs the id of a result, as in calc:id.name")
        if any(not id for _, _, id in page.fences):
            return target  # perhaps of the block that could not be read
        names = [name for places in self.plan.names.values() for name in places]
        raise Wrong("reference", f"no calc of this page has '{target}'{nearest(target, names)}")


def judge_figures(targets: Targets) -> Iterator[tuple[JudgedFigure, Problem | None]]:
    """Every figure of every page, with the problem it makes, if any."""
    for page in targets.book.pages:
        for figure in page.figures:
            place = Place(page.file, figure.line)
            try:
                yield _judge(figure, page, place, targets)
            except Wrong as error:
                kind = "statement" if error.kind == "quantity" else error.kind
                problem = Problem(page.file, figure.line, kind, error.message)
                yield _silent(figure, page, place, figure.target), problem


def _silent(figure: Figure, page: Page, place: Place, of: str) -> JudgedFigure:
    return JudgedFigure(figure, page.file, place, of, None, shown=figure.text)


def _judge(
    figure: Figure, page: Page, place: Place, targets: Targets
) -> tuple[JudgedFigure, Problem | None]:
    if figure.scheme == GIVEN:
        if not figure.target:
            raise Wrong("reference", "given: needs a reason, such as given:name-of-the-system")
        return _silent(figure, page, place, figure.target), None
    record = on_record(figure.target, targets.book) if figure.scheme == QUOTE else None
    if record:
        return quoted(figure, page, place, *record)
    if figure.scheme == QUOTE and figure.target in targets.book.lost:
        return _silent(figure, page, place, figure.target), None
    if figure.scheme == QUOTE and "." not in figure.target:
        hint = nearest(figure.target, targets.book.claims)
        raise Wrong("reference", f"no claim is called '{figure.target}'{hint}")
    return _calculated(figure, page, place, targets)


def _calculated(
    figure: Figure, page: Page, place: Place, targets: Targets
) -> tuple[JudgedFigure, Problem | None]:
    id = targets.find(figure.target, page)
    found = targets.result(id)
    if isinstance(found, Solved):
        found = _as_result(id, found)
    if found is None:
        return _silent(figure, page, place, id), None
    if not figure.text:
        shown = _own_digits(id, found, targets) or filled(found)
        return JudgedFigure(figure, page.file, place, id, True, shown, "", shown), None
    outcome = agreement(parse_statement(figure.text), found, figure.title)
    judged = JudgedFigure(
        figure,
        page.file,
        place,
        id,
        outcome.agrees,
        outcome.recomputed,
        outcome.would_agree,
        figure.text,
    )
    if outcome.agrees:
        return judged, None
    message = (
        f"'{figure.text}' is stated, {outcome.recomputed} is recomputed for {id};"
        f" '{outcome.would_agree}' would agree"
    )
    return judged, Problem(page.file, figure.line, "drift", message)


def _own_digits(id: str, found: Result, targets: Targets) -> str:
    """An exact input is shown as it was typed."""
    node = targets.plan.nodes.get(found.id)
    exact = isinstance(node, Root) and not found.uncertain and node.quantity.digits
    return node.quantity.text if isinstance(node, Root) and exact else ""


def _as_result(id: str, solved: Solved) -> Result:
    if not solved.values:
        raise Wrong("drift", f"{id} has no value: {solved.none}; say so in words")
    value = solved.values[0]
    nothing = np.empty(0)
    return Result(id, value, solved.unit, 0.0, (value, value), nothing, solved.place)


def loose_problems(book: Book) -> Iterator[Problem]:
    """Numbers in prose that are bound to nothing."""
    for page in book.pages:
        for loose in page.loose:
            yield Problem(
                page.file,
                loose.line,
                "loose",
                f"'{loose.text}' is a loose figure; bind it, as in [{loose.text}](calc:id.name), or"
                f" mark it as a name with [{loose.text}](given:the-reason)",
            )
