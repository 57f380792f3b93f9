"""The judgement: figures, checks, claims and estimates, and every problem they make."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from calc.book.model import Book
from calc.book.plan import Plan
from calc.engine.results import Computation
from calc.judge.checks import judge_checks
from calc.judge.claims import judge_claims
from calc.judge.estimates import all_estimates
from calc.judge.evidence import source_problems
from calc.judge.figures import Targets, judge_figures, loose_problems
from calc.judge.needed import judge_questions, undecided
from calc.judge.verdicts import (
    JudgedCheck,
    JudgedClaim,
    JudgedEstimates,
    JudgedFigure,
    JudgedQuestion,
    Undecided,
)
from calc.problems import Problem


@dataclass(frozen=True)
class Judgement:
    """What agrees and what does not; claims, estimates and questions by id.

    `undecided` are the claims that nothing decides yet, the easiest to decide first.
    """

    figures: tuple[JudgedFigure, ...]
    checks: tuple[JudgedCheck, ...]
    claims: Mapping[str, JudgedClaim]
    estimates: Mapping[str, JudgedEstimates]
    undecided: tuple[Undecided, ...]
    questions: Mapping[str, JudgedQuestion]
    problems: tuple[Problem, ...]


def judge(book: Book, plan: Plan, computation: Computation) -> Judgement:
    """Every stated figure, check, claim and verdict of a book against what was computed."""
    targets = Targets(book, plan, computation)
    figures = list(judge_figures(targets))
    checks = list(judge_checks(book, plan, computation))
    claims = list(judge_claims(targets))
    estimates, wrong_estimates = all_estimates(book.estimates.values(), plan, computation)
    open_claims = undecided([claim for claim, _ in claims], book.questions, targets)
    asked = judge_questions(book.questions.values(), open_claims, targets)
    return Judgement(
        tuple(figure for figure, _ in figures),
        tuple(check for check, _ in checks if check),
        {claim.claim.id: claim for claim, _ in claims},
        {each.estimates.id: each for each in estimates},
        open_claims,
        {each.question.id: each for each in asked},
        (
            *(problem for _, problem in (*figures, *checks, *claims) if problem),
            *wrong_estimates,
            *source_problems(book),
            *loose_problems(book),
        ),
    )
