"""The judgement: figures, checks, claims and estimates, and every problem they make."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

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
    figures = list(judge_figures(targets))
    checks = list(judge_checks(book, plan, computation))
    claims = list(judge_claims(targets))
    estimates, wrong_estimates = all_estimates(book.estimates.values(), plan, computation)
    open_claims = undecided([claim for claim, _ in claims], book.questions, targets)
    asked = judge_questions(book.questions.values(), open_claims, targets)
    judged_figures = tuple(figure for figure, _ in figures)
    stated = all_stated(book, judged_figures)
    waiting = [(each.page, each.of) for each in judged_figures if not each.shown]
    corrections = tuple(book.corrections.values())
    pages = {page.file for page in book.pages}
    return Judgement(
        judged_figures,
        tuple(check for check, _ in checks if check),
        {claim.claim.id: claim for claim, _ in claims},
        {each.estimates.id: each for each in estimates},
        open_claims,
        {each.question.id: each for each in asked},
        scores(book.forecasts.values()),
        tuple(stated),
        (
            *(problem for _, problem in (*figures, *checks, *claims) if problem),
            *wrong_estimates,
            *source_problems(book),
            *log_problems(book, plan),
            *loose_problems(book),
            *reference_problems(targets),
            *check_showings(book, plan, computation),
            *check_corrections(targets),
            *out_of_order(book.forecasts.values()),
            *(compare(ledger.without(waiting), stated, corrections, pages) if ledger else ()),
            *(stale(book, today) if today else ()),
        ),
    )
