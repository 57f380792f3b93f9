"""Quoted figures: what a page says that a source said, against what is on record of it."""

from __future__ import annotations

import math

from calc.book.evidence import CHANGE, compared, way_compared
from calc.book.model import Book, Page, Place
from calc.judge.agree import tolerance
from calc.judge.verdicts import JudgedFigure
from calc.notation.prose import Figure
from calc.notation.statement import Statement
from calc.problems import Problem, Wrong


def on_record(target: str, book: Book) -> tuple[Statement, str] | None:
    """What a claim, or an estimate that is a bound, says, and the source that says it."""
    if claim := book.claims.get(target):
        return claim.says, claim.source
    block, _, name = target.partition(".")
    for each in book.estimates[block].values if block in book.estimates else ():
        if each.input.name == name and each.bound:
            return each.bound, each.input.source
    return None


def quoted(
    figure: Figure, page: Page, place: Place, says: Statement, source: str
) -> tuple[JudgedFigure, Problem | None]:
    """A quoted figure against what is on record, with the problem it makes, if any."""
    of, record = figure.target, says.text
    if figure.title:
        raise Wrong("statement", f'a quote takes no tolerance; take away "{figure.title}"')
    if not figure.text:
        return JudgedFigure(figure, page.file, place, of, True, record, "", record), None
    agrees = same_statement(figure.text, says)
    judged = JudgedFigure(figure, page.file, place, of, agrees, record, record, figure.text)
    message = f"'{figure.text}' is not what {source} says; '{record}' is on record"
    return judged, None if agrees else Problem(page.file, figure.line, "drift", message)


def same_statement(text: str, record: Statement) -> bool:
    """Whether a quoted text says what is on record: the same hedge, numbers, unit and words.

    What is counted and the tolerance may be left to the words around the quote; the word that
    compares, as in "20 % more", may not.
    """
    said = compared(text, record.noun == CHANGE)
    return (
        (said.form, said.unit.dimension) == (record.form, record.unit.dimension)
        and _same_words(said, record)
        and (not said.within or _same_width(said, record))
        and all(
            math.isclose(said.unit.to_base(a), record.unit.to_base(b), rel_tol=1e-9)
            for a, b in zip(said.numbers, record.numbers, strict=True)
        )
    )


def _same_words(said: Statement, record: Statement) -> bool:
    if record.noun == CHANGE:
        return way_compared(said.text) == way_compared(record.text)
    return not said.noun or _one(said.noun) == _one(record.noun)


def _one(noun: str) -> str:
    """The noun as said of one: a 40-layer cell has 40 layers."""
    return noun.lower().removesuffix("s")


def _same_width(said: Statement, record: Statement) -> bool:
    if not record.within:
        return False
    widths = [tolerance(each, 0, each.within, each.unit) * each.unit.factor
              for each in (said, record)]  # fmt: skip
    return math.isclose(*widths, rel_tol=1e-9)
