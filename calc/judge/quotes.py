"""Quoted figures: what a page says that a source said, against what is on record of it."""

from __future__ import annotations

from calc.book.model import Book, Page, Place
from calc.judge.agree import same_statement
from calc.judge.verdicts import JudgedFigure
from calc.notation.prose import Figure
from calc.notation.statement import Statement
from calc.problems import Problem


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
    if not figure.text:
        return JudgedFigure(figure, page.file, place, of, True, record, "", record), None
    agrees = same_statement(figure.text, says)
    judged = JudgedFigure(figure, page.file, place, of, agrees, record, record, figure.text)
    message = f"'{figure.text}' is not what {source} says; '{record}' is on record"
    return judged, None if agrees else Problem(page.file, figure.line, "drift", message)
