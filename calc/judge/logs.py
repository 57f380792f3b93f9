"""Logs that calculations rest on: what is odd in them is said with its line."""

from __future__ import annotations

from collections.abc import Iterator

from calc.book.logs import MOST_REPORTED
from calc.book.model import Book
from calc.book.plan import Plan
from calc.engine.odd_places import odd_places
from calc.problems import Problem

_MENDS = {
    "gap": "cut the log there, or say on the page what is done about it",
    "repeated": "take one of the rows out",
    "backward": "put the rows in order, or cut the log there",
    "spike": "take the row out, or say on the page why it stays",
}


def log_problems(book: Book, plan: Plan) -> Iterator[Problem]:
    """A warning for every odd place of every log that a calc or a sheet reads; rests are none."""
    for name in _read_by_calcs(book):
        log = book.logs.get(name)
        if log is None or log.problems:
            continue  # said where the log is read
        odd = odd_places(log, book, plan)
        for line, kind, sentence in odd[:MOST_REPORTED]:
            yield Problem(log.file, line, "log", f"{sentence}; {_MENDS[kind]}", "warning")
        if len(odd) > MOST_REPORTED:
            said = f"and {len(odd) - MOST_REPORTED} more odd places from here on"
            yield Problem(log.file, odd[MOST_REPORTED].line, "log", said, "warning")


def _read_by_calcs(book: Book) -> list[str]:
    sheets, calcs = book.sheets.values(), book.calcs.values()
    inputs = (given for holders in (sheets, calcs) for holder in holders for given in holder.inputs)
    return sorted({given.log for given in inputs if given.log})
