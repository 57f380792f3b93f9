"""Forecasts: their order in time, when they are overdue, and how they are scored."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from calc.book.model import Forecast, Place
from calc.judge.forecasts import (
    Outcome,
    brier_score,
    frozen,
    out_of_order,
    outcomes,
    overdue,
    reliability,
)
from calc.judge.ledger import Ledger, updated
from calc.judge.publish import compare
from calc.notation.quantity import parse_quantity
from tests.printed import agrees

PAGE = "content/forecasts.md"
OPEN = Forecast(
    id="sodium-price",
    says="Petrel costs less a kilowatt-hour than Gannet",
    probability=parse_quantity("70 %"),
    registered="2026-03-01",
    due="2027-06-30",
    settles="two quotations for the same quantity",
    place=Place(PAGE, 12),
)
SETTLED = replace(OPEN, outcome="true", settled="2027-05-04")


def test_brier_score_of_a_printed_example() -> None:
    """Four forecasts, score 0.0375: the worked example beside `brier_score_loss` in scikit-learn's
    documentation (from memory, to be confirmed)."""
    settled = [
        Outcome("a", 0.1, False),
        Outcome("b", 0.9, True),
        Outcome("c", 0.8, True),
        Outcome("d", 0.3, False),
    ]
    assert agrees("0.0375", brier_score(settled))


def test_the_ends_of_the_score() -> None:
    """Exact: sure and right, sure and wrong, an even guess."""
    assert brier_score([Outcome("a", 1.0, True), Outcome("b", 0.0, False)]) == 0
    assert brier_score([Outcome("a", 0.0, True)]) == 1
    assert brier_score([Outcome("a", 0.5, True), Outcome("b", 0.5, False)]) == 0.25


def test_nothing_settled_has_no_score() -> None:
    with pytest.raises(ValueError, match="nothing to score"):
        brier_score([])
    assert reliability([]) == ()


def test_only_the_settled_are_scored() -> None:
    found = outcomes([OPEN, SETTLED, replace(SETTLED, id="other", outcome="false")])
    assert [(each.id, each.came_true) for each in found] == [
        ("sodium-price", True),
        ("other", False),
    ]
    assert found[0].probability == pytest.approx(0.7)
    assert found[0].score == pytest.approx(0.09)


def test_reliability_puts_every_forecast_in_one_class() -> None:
    settled = [Outcome(str(tenths), tenths / 10, tenths > 4) for tenths in range(11)]
    rows = reliability(settled)
    assert [row.count for row in rows] == [2, 2, 2, 2, 3]
    assert [row.came_true for row in rows] == [0, 0, 0.5, 1, 1]
    assert rows[-1].stated == pytest.approx((0.8 + 0.9 + 1.0) / 3)


@pytest.mark.parametrize(
    ("today", "warnings"), [(date(2027, 6, 30), 0), (date(2027, 7, 1), 1)], ids=["due", "after"]
)
def test_overdue_from_the_day_after(today: date, warnings: int) -> None:
    found = overdue([OPEN, SETTLED], today)
    assert len(found) == warnings
    assert all((each.line, each.severity) == (12, "warning") for each in found)


def test_a_forecast_comes_before_its_outcome() -> None:
    assert out_of_order([OPEN, SETTLED]) == []
    late = out_of_order([replace(OPEN, registered="2027-06-30")])
    assert ["not before it is due" in each.message for each in late] == [True]
    early = out_of_order([replace(SETTLED, settled="2026-02-01")])
    assert ["not after it was registered" in each.message for each in early] == [True]


def test_settling_a_published_forecast_is_free_and_editing_it_is_not() -> None:
    ledger = updated(Ledger(), frozen([OPEN]), date(2026, 3, 2))
    assert compare(ledger, frozen([SETTLED]), [], [PAGE]) == []
    surer = replace(OPEN, probability=parse_quantity("90 %"))
    (problem,) = compare(ledger, frozen([surer]), [], [PAGE])
    assert "sodium-price.probability" in problem.message
    assert "was: 70 %, now: 90 %" in problem.message
    settled = updated(ledger, frozen([SETTLED]), date(2027, 5, 5))
    turned = replace(SETTLED, outcome="false")
    assert len(compare(settled, frozen([turned]), [], [PAGE])) == 1
