"""Money: printed values, and sums made year by year as another route."""

from __future__ import annotations

from math import log, log2

import pytest
from scipy.optimize import brentq

from calc.notation.quantity import parse_quantity
from tests.helpers import run_method, site_book
from tests.published.printed_row import MEMORY, Row

EXACT = "follows from the definition"
SURVEY = "an industry survey of 2021, as quoted"
ZIEGLER = "Ziegler & Trancik, Energy Environ. Sci. 14 (2021) 1635"
SCHMIDT = "formula of Schmidt et al., Joule 3 (2019) 81; inputs chosen here"
STORE = {
    "capital": "300 USD/kWh",
    "rate": "8 %",
    "life": "15 year",
    "cycles_per_year": "350 year^-1",
    "depth": "0.9",
    "efficiency": "0.86",
    "energy_price": "0.05 USD/kWh",
    "upkeep": "5 USD/kWh/year",
    "fade": "2 %",
}


def loan(rate: str, years: str) -> dict[str, str]:
    return {"rate": rate, "life": f"{years} year"}


PRINTED = [
    Row(
        "share-of-cost",
        {"part": "101 USD/kWh", "total": "132 USD/kWh"},
        "share",
        "77 %",
        SURVEY,
        "seen",
    ),
    Row("learning-exponent", {"learning_rate": "20 %"}, "exponent", "-0.321928", EXACT, "exact"),
    Row("learning-exponent", {"learning_rate": "24 %"}, "exponent", "-0.395929", EXACT, "exact"),
    Row(
        "price-by-yearly-decline",
        {"decline": "13 %", "time": "24 year"},
        "remaining",
        "0.035356",
        EXACT,
        "exact",
    ),
    Row("capital-recovery", loan("7 %", "20"), "factor", "0.0943929", EXACT, "exact"),
    Row("capital-recovery", loan("8 %", "15"), "factor", "0.1168295", EXACT, "exact"),
    Row("capital-recovery", loan("5 %", "10"), "factor", "0.1295046", EXACT, "exact"),
    Row("levelised-cost-of-storage", STORE, "cost", "0.1999911 USD/kWh", SCHMIDT, MEMORY),
]


@pytest.mark.parametrize("row", PRINTED, ids=str)
def test_printed_value(row: Row) -> None:
    row.check()


def test_published_fall_agrees_within_the_rounding_of_its_rate() -> None:
    """97 % since 1991 (Ziegler & Trancik, seen): 13 % a year means 12.5 to 13.5 %."""
    gentle, steep = (
        run_method("price-by-yearly-decline", {"decline": rate, "time": "24 year"})["fall"][0]
        for rate in ("12.5 %", "13.5 %")
    )
    assert gentle <= 97.5 and steep >= 96.5, ZIEGLER


def test_survey_shares_are_kept_as_printed() -> None:
    """They sum to 101 % by rounding, and so they stand in the sheet."""
    sheet = site_book().sheets["cell-cost-shares-2021"]
    shares = [i.quantity.value for i in sheet.inputs if i.quantity and i.quantity.unit.text == "%"]
    assert sum(shares) == 101


def test_levelised_cost_year_by_year() -> None:
    """The closed form of the page against a sum over the years."""
    years = range(1, 16)
    worth = [1.08**-year for year in years]
    energy = sum(350 * 0.9 * 0.98 ** (year - 1) * worth[year - 1] for year in years)
    cost = (300 + 5 * sum(worth)) / energy + 0.05 / 0.86
    found, unit = run_method("levelised-cost-of-storage", STORE)["cost"]
    assert unit == "USD/kWh"
    assert found == pytest.approx(cost)


def test_levelised_cost_without_fade_is_the_annuity_over_the_yearly_energy() -> None:
    """An identity: with the same energy each year, interest enters by the recovery factor alone."""
    plain = {**STORE, "fade": "0 %", "upkeep": "0 USD/kWh/year", "energy_price": "0 USD/kWh"}
    recovery, _ = run_method("capital-recovery", loan("8 %", "15"))["factor"]
    cost, _ = run_method("levelised-cost-of-storage", plain)["cost"]
    assert cost == pytest.approx(300 * recovery / (350 * 0.9))


@pytest.mark.parametrize(("rate", "years"), [(0.07, 20), (0.08, 15), (0.05, 10)])
def test_recovery_factor_pays_off_the_debt(rate: float, years: int) -> None:
    """Another route: the payment that leaves no debt, by a root finder."""

    def debt_left(payment: float) -> float:
        debt = 1.0
        for _ in range(years):
            debt = debt * (1 + rate) - payment
        return debt

    factor, _ = run_method("capital-recovery", loan(f"{rate!r}", str(years)))["factor"]
    assert factor == pytest.approx(brentq(debt_left, 0.0, 2.0, xtol=1e-14))


@pytest.mark.parametrize("learning", [0.10, 0.1547, 0.20, 0.24])
def test_price_and_learning_rate_undo_each_other(learning: float) -> None:
    """15.47 % is the rate of Kittner et al., Nat. Energy 2 (2017) 17125 (seen)."""
    amounts = {"amount": "10 GWh", "later_amount": "700 GWh"}
    price, _ = run_method(
        "price-by-learning", {"price": "500 USD/kWh", "learning_rate": repr(learning), **amounts}
    )["later_price"]
    assert price == pytest.approx(500 * 70 ** log2(1 - learning))
    given = {
        "early_price": "500 USD/kWh",
        "late_price": f"{price!r} USD/kWh",
        "early_amount": "10 GWh",
        "late_amount": "700 GWh",
    }
    back, unit = run_method("learning-rate-from-two-prices", given)["learning_rate"]
    assert unit == "%"
    assert back / 100 == pytest.approx(learning)


def test_a_part_saves_no_more_than_its_share() -> None:
    saved = [
        run_method("most-a-part-can-save", {"share": "12 %", "factor": factor})["saved"][0]
        for factor in ("1", "2", "10", "1000")
    ]
    assert saved == sorted(saved)
    assert saved[-1] < 12


def test_dear_and_cheap_break_even_at_the_highest_price() -> None:
    """At the price that the page names, the yearly payments are the same."""
    cells = {"cheap_price": "90 USD/kWh", "dear_life": "14 year", "cheap_life": "5 year"}
    first = run_method("dear-against-cheap", {**cells, "rate": "6 %", "dear_price": "160 USD/kWh"})
    limit, _ = first["highest_price"]
    again = run_method(
        "dear-against-cheap", {**cells, "rate": "6 %", "dear_price": f"{limit!r} USD/kWh"}
    )
    assert again["discounted_ratio"][0] == pytest.approx(1.0)
    assert again["dear_yearly"][0] == pytest.approx(again["cheap_yearly"][0])


def test_present_value_in_small_steps() -> None:
    """Another route: interest compounded in ever smaller steps at the force of the same rate."""
    given = {"payment": "100 USD", "rate": "8 %", "time": "9 year"}
    found, _ = run_method("present-value", given)["value"]
    steps = 1_000_000
    small = 100 * (1 + log(1.08) / steps) ** (-9 * steps)
    assert found == pytest.approx(small, rel=1e-6)


def test_price_years_are_units() -> None:
    """Money of one year times an index to another is money of the other."""
    given = {"price": "100 USD_2019/kWh", "index": "1.25 USD_2024/USD_2019"}
    _, unit = run_method("price-in-another-year", given)["later"]
    assert parse_quantity(f"1 {unit}").unit.dimension.money == ("USD_2024",)
