"""Figures in prose against what is recomputed, and loose figures that nothing stands behind."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from calc.book.model import Book, Page, Place
from calc.book.plan import Root
from calc.engine.results import Result, Solved
from calc.judge.agree import agreement, filled
from calc.judge.quotes import on_record, quoted
from calc.judge.targets import Targets
from calc.judge.verdicts import JudgedFigure
from calc.notation.prose import GIVEN, QUOTE, Figure
from calc.notation.statement import AT_LEAST, AT_MOST, PLUS_MINUS, RANGE, parse_statement
from calc.problems import Problem, Wrong, nearest

_OF_THE_UNCERTAIN = (PLUS_MINUS, RANGE, AT_LEAST, AT_MOST)


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
    if targets.is_column(id):
        raise Wrong("log", f"{id} is a column of a log; a figure states one value")
    if found is None:
        return _silent(figure, page, place, id), None
    if not figure.text:
        shown = _own_digits(found, targets) or filled(found)
        return JudgedFigure(figure, page.file, place, id, True, shown, "", shown), None
    said = parse_statement(figure.text)
    if id in targets.computation.solved and said.form in _OF_THE_UNCERTAIN:
        raise Wrong(
            "statement",
            f"{id} is reckoned at the stated values and has no uncertainty; state one number, as in"
            f" '{filled(found)}' or 'about {filled(found)}'",
        )
    outcome = agreement(said, found, figure.title)
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


def _own_digits(found: Result, targets: Targets) -> str:
    """An exact input is shown as it was typed."""
    node = targets.plan.nodes.get(found.id)
    exact = isinstance(node, Root) and not found.uncertain and node.quantity.digits
    return node.quantity.text if isinstance(node, Root) and exact else ""


def _as_result(id: str, solved: Solved) -> Result:
    if not solved.values:
        raise Wrong("drift", f"{id} has no value: {solved.none}; say so in words")
    if len(solved.values) > 1:
        raise Wrong(
            "drift",
            f"{id} has {len(solved.values)} values; narrow its between: so that one is left",
        )
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
