"""The whole way through: from two folders to everything that a report or a site tells."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from calc.book.model import Book
from calc.book.ordered import plan, without_twins
from calc.book.plan import Plan
from calc.book.read import read_book
from calc.engine.compute import compute
from calc.engine.procedures import signatures
from calc.engine.results import Computation
from calc.judge.judge import Judgement, judge
from calc.judge.ledger import Ledger, read_ledger
from calc.judge.unjudged import unjudged
from calc.problems import Problem, Wrong

LEDGER_NAME = "published.json"
"""The published ledger, in the folder of facts."""


@dataclass(frozen=True)
class Whole:
    """What each stage handed on, and every problem found on the way, in order of place."""

    book: Book
    plan: Plan
    computation: Computation
    judgement: Judgement
    ledger: Ledger
    problems: tuple[Problem, ...]


def work_through(content: Path, data: Path, today: date | None = None) -> Whole:
    """Reads, plans, computes and judges everything below two folders.

    Parameters: today, the day for which to say what is overdue; left out, nothing is.
    """
    book = read_book(content, data)
    planned = plan(book, signatures())
    computation = compute(book, planned)
    ledger, unread = _ledger(data)
    judgement = judge(book, computation.plan, computation, ledger, today)
    problems = without_twins(
        (*book.problems, *planned.problems, *computation.problems, *judgement.problems, *unread)
    )
    if not any(problem.severity == "error" for problem in problems):
        problems = without_twins((*problems, *unjudged(book, judgement)))
    return Whole(book, computation.plan, computation, judgement, ledger, problems)


def _ledger(data: Path) -> tuple[Ledger, list[Problem]]:
    try:
        return read_ledger(data / LEDGER_NAME), []
    except Wrong as error:
        return Ledger(), [error.at(f"{data.resolve().name}/{LEDGER_NAME}", 1)]
