"""Forecasts: in order, overdue, and how good they have been.

Dates are compared as their ISO texts (2026-06-30), which sort as the days do.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from calc.book.model import Forecast
from calc.judge.ledger import FORECASTS, Stated
from calc.problems import Problem

FIFTHS = (0.0, 0.2, 0.4, 0.6, 0.8, 1.0)
"""Edges of the classes of stated probability in a reliability table; few forecasts, few classes."""


@dataclass(frozen=True)
class Outcome:
    """A settled forecast: the probability stated beforehand (0 to 1), and whether it came true."""

    id: str
    probability: float
    came_true: bool

    @property
    def score(self) -> float:
        """Squared error, from 0 (sure and right) to 1 (sure and wrong); 0.25 for an even guess."""
        return (self.probability - self.came_true) ** 2


@dataclass(frozen=True)
class ReliabilityRow:
    """Settled forecasts of one class of stated probability.

    `low` and `high` are the class's edges; `stated` is the mean probability that was stated,
    `came_true` the share that came true, all from 0 to 1; `count` how many there are.
    """

    low: float
    high: float
    count: int
    stated: float
    came_true: float


@dataclass(frozen=True)
class Scores:
    """How good the settled forecasts have been; `brier` is None while none is settled."""

    settled: tuple[Outcome, ...]
    brier: float | None
    rows: tuple[ReliabilityRow, ...]


def scores(forecasts: Iterable[Forecast]) -> Scores:
    """The settled ones among forecasts, scored."""
    settled = outcomes(forecasts)
    return Scores(settled, brier_score(settled) if settled else None, reliability(settled))


def outcomes(forecasts: Iterable[Forecast]) -> tuple[Outcome, ...]:
    """The settled ones among forecasts, in their order."""
    return tuple(
        Outcome(each.id, each.probability.base, each.outcome == "true")
        for each in forecasts
        if each.outcome
    )


def brier_score(settled: Sequence[Outcome]) -> float:
    """Mean squared error of stated probabilities: 0 is best, 1 worst [dimensionless].

    Raises: ValueError when nothing is settled.
    Source: G. W. Brier, Monthly Weather Review 78 (1950) 1, in the form for two outcomes, which
    counts one of them (citation from memory, to be confirmed).

    >>> brier_score([Outcome("a", 0.8, True), Outcome("b", 0.6, False)])
    0.2
    """
    if not settled:
        raise ValueError("no forecast is settled yet, so there is nothing to score")
    return sum(each.score for each in settled) / len(settled)


def reliability(
    settled: Iterable[Outcome], edges: Sequence[float] = FIFTHS
) -> tuple[ReliabilityRow, ...]:
    """How often forecasts came true, by the probability that was stated for them.

    Parameters: settled; edges, ascending from 0 to 1, each class open at its upper edge but for
    the last.
    Returns: a row for each class that has any, lowest first. Well-judged forecasts come true
    about as often as stated.
    Source: exact; the usual reliability table.

    >>> reliability([Outcome("a", 0.7, True), Outcome("b", 0.7, False)])
    (ReliabilityRow(low=0.6, high=0.8, count=2, stated=0.7, came_true=0.5),)
    """
    all_settled = tuple(settled)
    rows = []
    for low, high in pairwise(edges):
        inside = [
            each
            for each in all_settled
            if low <= each.probability < high or each.probability == high == edges[-1]
        ]
        if inside:
            stated = sum(each.probability for each in inside) / len(inside)
            came_true = sum(each.came_true for each in inside) / len(inside)
            rows.append(ReliabilityRow(low, high, len(inside), stated, came_true))
    return tuple(rows)


def overdue(forecasts: Iterable[Forecast], today: date) -> list[Problem]:
    """A warning for every forecast whose due day has passed without an outcome."""
    return [
        _problem(
            each,
            f"the forecast {each.id} was due on {each.due} and has no outcome; add "
            "outcome: true or false, and settled: the day it was decided",
            "overdue",
            "warning",
        )
        for each in forecasts
        if not each.outcome and each.due < today.isoformat()
    ]


def out_of_order(forecasts: Iterable[Forecast]) -> list[Problem]:
    """An error for every forecast registered after it was due, or settled before it was made."""
    all_of_them = tuple(forecasts)
    late = [
        _problem(
            each,
            f"the forecast {each.id} was registered on {each.registered}, not before it is due "
            f"on {each.due}; a forecast comes before its outcome",
        )
        for each in all_of_them
        if each.registered and "" < each.due <= each.registered
    ]
    early = [
        _problem(
            each,
            f"the forecast {each.id} was settled on {each.settled}, not after it was registered "
            f"on {each.registered}; check both dates",
        )
        for each in all_of_them
        if each.outcome and "" < each.settled <= each.registered
    ]
    return sorted(late + early)


def frozen(forecasts: Iterable[Forecast]) -> list[Stated]:
    """The parts of forecasts that the ledger freezes; settling one adds parts, changing none.

    Each part is `of` id.part, so a correction names `sodium-price.probability` and the like.
    """
    return [
        Stated(FORECASTS, each.place.file, each.place.line, f"{each.id}.{part}", text)
        for each in forecasts
        for part, text in _parts(each).items()
        if text
    ]


def _parts(forecast: Forecast) -> dict[str, str]:
    return {
        "says": forecast.says,
        "probability": forecast.probability.text,
        "registered": forecast.registered,
        "due": forecast.due,
        "settles": forecast.settles,
        "of": forecast.of,
        "outcome": forecast.outcome,
        "settled": forecast.settled,
    }


def _problem(
    forecast: Forecast, message: str, kind: str = "forecast", severity: str = "error"
) -> Problem:
    return Problem(forecast.place.file, forecast.place.line, kind, message, severity)
