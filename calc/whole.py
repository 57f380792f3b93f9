"""The whole way through: from two folders to everything that a report or a site tells."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from calc.book.model import Book
from calc.book.ordered import plan, without_twins
from calc.book.plan import Plan
from calc.book.read import read_book
from calc.engine.compute import compute
from calc.engine.procedures import signatures
from calc.engine.results import Computation
from calc.judge.judge import Judgement, judge
from calc.problems import Problem


@dataclass(frozen=True)
class Whole:
    """What each stage handed on, and every problem found on the way, in order of place."""

    book: Book
    plan: Plan
    computation: Computation
    judgement: Judgement
    problems: tuple[Problem, ...]


def work_through(content: Path, data: Path) -> Whole:
    """Reads, plans, computes and judges everything below two folders."""
    book = read_book(content, data)
    planned = plan(book, signatures())
    computation = compute(book, planned)
    judgement = judge(book, computation.plan, computation)
    problems = without_twins(
        (*book.problems, *planned.problems, *computation.problems, *judgement.problems)
    )
    return Whole(book, computation.plan, computation, judgement, problems)
