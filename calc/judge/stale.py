"""What is due to be looked at again on a given day: pages, values, questions, forecasts.

Age alone never fails a build: all of these are warnings. No clock is read; the day is given.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from calc.book.model import Book
from calc.judge.evidence import inputs_of
from calc.judge.forecasts import overdue
from calc.problems import Problem


def stale(book: Book, today: date) -> list[Problem]:
    """A warning for everything whose day has passed, in order of place."""
    found = [
        Problem(
            file,
            line,
            "overdue",
            f"{what} was to be looked at again by {day}; check it, then set a later review_by",
            "warning",
        )
        for file, line, what, day in _dated(book)
        if day < today.isoformat()
    ]
    return sorted((*found, *overdue(book.forecasts.values(), today)))


def _dated(book: Book) -> Iterator[tuple[str, int, str, str]]:
    for page in book.pages:
        if day := str(page.meta.get("review_by", "")):
            yield page.file, 1, "this page", day
    for item in inputs_of(book):
        if item.review_by:
            yield item.place.file, item.place.line, f"the value of {item.name}", item.review_by
    for each in book.questions.values():
        yield each.place.file, each.place.line, f"the question {each.id}", each.review_by
