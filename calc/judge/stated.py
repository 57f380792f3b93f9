"""What the pages state now: every figure, verdict, part of a forecast and correction, in order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from calc.book.model import Book, Correction, Place
from calc.judge.forecasts import frozen
from calc.judge.ledger import CORRECTIONS, FIGURES, VERDICTS, Stated
from calc.judge.verdicts import JudgedFigure
from calc.notation.prose import GIVEN


def all_stated(book: Book, figures: Iterable[JudgedFigure]) -> list[Stated]:
    """Everything that publishing freezes; a number that is only a name is not among it."""
    return [
        *(
            Stated(FIGURES, figure.page, figure.place.line, figure.of, figure.shown)
            for figure in figures
            if figure.figure.scheme != GIVEN and figure.shown
        ),
        *(
            Stated(VERDICTS, place.file, place.line, id, verdict)
            for id, verdict, place in _verdicts(book)
            if verdict
        ),
        *frozen(book.forecasts.values()),
        *(_correction(each) for each in book.corrections.values()),
    ]


def _verdicts(book: Book) -> Iterator[tuple[str, str, Place]]:
    yield from ((each.id, each.verdict, each.place) for each in book.claims.values())
    yield from ((each.id, each.verdict, each.place) for each in book.estimates.values())


def _correction(each: Correction) -> Stated:
    text = f"{each.date}: {each.figure} was {each.was}, now {each.now}: {each.reason}"
    return Stated(CORRECTIONS, each.place.file, each.place.line, each.id, text)
