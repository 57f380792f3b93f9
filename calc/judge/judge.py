"""The judgement: figures, checks, claims and estimates, and every problem they make."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TypeVar

from calc.book.model import Book
from calc.book.plan import Plan
from calc.engine.results import Computation
from calc.judge.checks import judge_checks
from calc.judge.claims import judge_claims
from calc.judge.corrections import check_corrections
from calc.judge.estimates import all_estimates
from calc.judge.figures import judge_figures, loose_problems
from calc.judge.forecasts import Scores, out_of_order, scores
from calc.judge.ledger import Ledger, Stated
from calc.judge.logs import log_problems
from calc.judge.needed import judge_questions, undecided
from calc.judge.publish import compare
from calc.judge.references import reference_problems
from calc.judge.showings import check_showings
from calc.judge.sources import source_problems
from calc.judge.stale import stale
from calc.judge.stated import all_stated
from calc.judge.targets import Targets
from calc.judge.verdicts import (
    JudgedCheck,
    JudgedClaim,
    JudgedEstimates,
    JudgedFigure,
    JudgedQuestion,
    Undecided,
)
from calc.problems import Problem

Judged = TypeVar("Judged")


@dataclass(frozen=True)
class Judgement:
    """What agrees and what does not; claims, estimates and questions by id.

    `undecided` are the claims that nothing decides yet, the easiest to decide first; `stated` is
    all that publishing would freeze.
    """

    figures: tuple[JudgedFigure, ...]
    checks: tuple[JudgedCheck, ...]
    claims: Mapping[str, JudgedClaim]
    estimates: Mapping[str, JudgedEstimates]
    undecided: tuple[Undecided, ...]
    questions: Mapping[str, JudgedQuestion]
    forecasts: Scores
    stated: tuple[Stated, ...]
    problems: tuple[Problem, ...]


def judge(
    book: Book,
    plan: Plan,
    computation: Computation,
    ledger: Ledger | None = None,
    today: date | None = None,
) -> Judgement:
    """Every stated figure, check, claim and verdict of a book against what was computed.

    Parameters: ledger, what was published, which may not change in silence; today, the day for
    which to say what is overdue, and nothing is when it is left out.
    """
    targets = Targets(book, plan, computation)
    figures, wrong_figures = _apart(judge_figures(targets))
    checks, wrong_checks = _apart(judge_checks(book, plan, computation))
    claims, wrong_claims = _apart(judge_claims(targets))
    estimates, wrong_estimates = all_estimates(book.estimates.values(), plan, computation)
    open_claims = undecided(claims, book.questions, targets)
    asked = judge_questions(book.questions.values(), open_claims, targets)
    stated = tuple(all_stated(book, figures))
    return Judgement(
        figures,
        checks,
        {claim.claim.id: claim for claim in claims},
        {each.estimates.id: each for each in estimates},
        open_claims,
        {each.question.id: each for each in asked},
        scores(book.forecasts.values()),
        stated,
        (
            *wrong_figures,
            *wrong_checks,
            *wrong_claims,
            *wrong_estimates,
            *_elsewhere(targets),
            *(_silent(ledger, stated, figures, book) if ledger else ()),
            *(stale(book, today) if today else ()),
        ),
    )


def _apart(
    judged: Iterable[tuple[Judged | None, Problem | None]],
) -> tuple[tuple[Judged, ...], tuple[Problem, ...]]:
    """What could be judged, and what is wrong."""
    pairs = list(judged)
    found = tuple(each for each, _ in pairs if each is not None)
    return found, tuple(problem for _, problem in pairs if problem is not None)


def _elsewhere(targets: Targets) -> Iterator[Problem]:
    """What is wrong with a book besides what it states and checks."""
    book = targets.book
    yield from source_problems(book)
    yield from log_problems(book, targets.plan)
    yield from loose_problems(book)
    yield from reference_problems(targets)
    yield from check_showings(book, targets.plan, targets.computation)
    yield from check_corrections(targets)
    yield from out_of_order(book.forecasts.values())


def _silent(
    ledger: Ledger, stated: Sequence[Stated], figures: Iterable[JudgedFigure], book: Book
) -> list[Problem]:
    """What was published and changed in silence; a figure that waits is not gone."""
    waiting = [(each.page, each.of) for each in figures if not each.shown]
    corrections = tuple(book.corrections.values())
    return compare(ledger.without(waiting), stated, corrections, {page.file for page in book.pages})
