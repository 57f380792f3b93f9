"""The judgement: figures, checks and claims, all of them, and every problem they make."""

from __future__ import annotations

from dataclasses import dataclass

from calc.book.model import Book
from calc.book.plan import Plan
from calc.engine.results import Computation
from calc.judge.checks import judge_checks
from calc.judge.evidence import source_problems
from calc.judge.figures import Targets, judge_figures, loose_problems
from calc.judge.verdicts import JudgedCheck, JudgedFigure
from calc.problems import Problem


@dataclass(frozen=True)
class Judgement:
    """What agrees and what does not."""

    figures: tuple[JudgedFigure, ...]
    checks: tuple[JudgedCheck, ...]
    problems: tuple[Problem, ...]


def judge(book: Book, plan: Plan, computation: Computation) -> Judgement:
    """Every stated figure, check and claim of a book against what was computed."""
    figures = list(judge_figures(Targets(book, plan, computation)))
    checks = list(judge_checks(book, plan, computation))
    problems = [problem for _, problem in (*figures, *checks) if problem]
    problems += source_problems(book)
    problems += loose_problems(book)
    return Judgement(
        tuple(figure for figure, _ in figures),
        tuple(check for check, _ in checks if check),
        tuple(problems),
    )
