"""What questions and forecasts are of: ids that must exist."""

from __future__ import annotations

from collections.abc import Iterator

from calc.book.model import Book, Place
from calc.judge.targets import Targets
from calc.problems import Problem, Wrong, nearest


def reference_problems(targets: Targets) -> Iterator[Problem]:
    """A problem for every id that a question or a forecast names and that stands for nothing."""
    for id, place in _named(targets.book):
        try:
            _find(id, targets, place)
        except Wrong as error:
            yield error.at(place.file, place.line)


def _named(book: Book) -> Iterator[tuple[str, Place]]:
    for question in book.questions.values():
        yield from ((id, question.place) for id in question.of)
    for forecast in book.forecasts.values():
        if forecast.of:
            yield forecast.of, forecast.place


def _find(id: str, targets: Targets, place: Place) -> None:
    book = targets.book
    if "." in id:
        page = next(page for page in book.pages if page.file == place.file)
        targets.find(id, page)
        return
    blocks = {*book.claims, *book.estimates, *book.calcs, *book.sheets, *book.lost}
    if id not in blocks:
        raise Wrong("reference", f"nothing is called '{id}'{nearest(id, blocks)}")
