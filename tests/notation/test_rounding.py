"""Digits that a text states, and texts that numbers are given."""

from __future__ import annotations

from decimal import Decimal
from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.notation.rounding import (
    digit_place,
    last_digit,
    last_nonzero_digit,
    round_half_up,
    rounded,
    significant_place,
    stated,
    written,
)


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("3.70", "0.01"),
        ("270", "1"),
        ("2.5e3", "100"),
        ("1.2e-3", "0.0001"),
        ("400\u202f000", "1"),
        ("\u22120.50", "0.01"),
        ("0", "1"),
        ("5.", "1"),
        (".25", "0.01"),
    ],
)
def test_last_digit(text: str, unit: str) -> None:
    assert last_digit(text) == Decimal(unit)


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("270", "10"),
        ("400 000", "100000"),
        ("400\u2009000", "100000"),
        ("1000", "1000"),
        ("0.30", "0.1"),
        ("12.5", "0.1"),
        ("101", "1"),
        ("2.50e3", "100"),
        ("0.0", "0.1"),
    ],
)
def test_last_nonzero_digit(text: str, unit: str) -> None:
    assert last_nonzero_digit(text) == Decimal(unit)


@pytest.mark.parametrize("text", ["", "x", "3 V", "1,000", "nan", "--1", "1e", "12.3.4"])
def test_a_text_that_is_no_number_is_refused_with_the_text(text: str) -> None:
    with pytest.raises(ValueError, match="a number is expected") as refusal:
        written(text)
    assert repr(text) in str(refusal.value)


@pytest.mark.parametrize(
    ("value", "place", "text"),
    [
        (12.35, "0.1", "12.4"),
        (-12.35, "0.1", "-12.4"),
        (2.675, "0.01", "2.68"),
        (0.5, "1", "1"),
        (2.5, "1", "3"),
        (9.999, "0.01", "10.00"),
        (1e300, "1e295", "1.00000e300"),
        (0.0, "0.01", "0.00"),
        (-0.0, "1", "0"),
        (1.25e-7, "1e-8", "1.3e-7"),
        (0.00012, "1e-5", "0.00012"),
        (123456.0, "1000", "123000"),
        (1.2e9, "1", "1200000000"),
    ],
)
def test_rounded(value: float, place: str, text: str) -> None:
    assert rounded(value, Decimal(place)) == text


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (1234.0, "1234"),
        (12345.0, "12\u202f345"),
        (-400000.0, "-400\u202f000"),
        (1234567.0, "1\u202f234\u202f567"),
    ],
)
def test_grouping_parts_thousands_of_five_digits_or_more(value: float, text: str) -> None:
    assert rounded(value, Decimal(1), grouped=True) == text
    assert written(text) == Decimal(value)


@pytest.mark.parametrize(
    ("uncertainty", "place"),
    [
        (0.100, "0.01"),
        (0.354, "0.01"),
        (0.3549, "0.01"),
        (0.355, "0.1"),
        (0.949, "0.1"),
        (0.950, "0.1"),
        (0.999, "0.1"),
        (354, "10"),
        (355, "100"),
    ],
)
def test_place_at_the_edges_of_the_rule(uncertainty: float, place: str) -> None:
    assert significant_place(uncertainty) == Decimal(place)


def test_an_uncertainty_just_below_a_power_of_ten_keeps_two_digits() -> None:
    assert stated(10.0, 0.962) == ("10.0", "1.0")
    assert stated(12345.0, 96.2) == ("12350", "100")


@pytest.mark.parametrize("uncertainty", [0.0, -1.0, nan, inf])
def test_no_place_without_an_uncertainty(uncertainty: float) -> None:
    with pytest.raises(ValueError, match="expected"):
        significant_place(uncertainty)


@pytest.mark.parametrize("value", [nan, inf, -inf])
def test_what_is_not_finite_is_not_rounded(value: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        rounded(value, Decimal(1))


def test_significant_digits() -> None:
    assert digit_place(270.4, 3) == Decimal(1)
    assert digit_place(0.0, 2) == Decimal("0.1")
    with pytest.raises(ValueError, match="at least one"):
        digit_place(1.0, 0)


NUMBERS = st.floats(min_value=-1e12, max_value=1e12)
PLACES = st.integers(min_value=-6, max_value=6).map(lambda power: Decimal(1).scaleb(power))


@given(NUMBERS, PLACES)
def test_rounding_moves_a_number_by_half_a_place_at_most(value: float, place: Decimal) -> None:
    assert abs(round_half_up(value, place) - Decimal(repr(value))) <= place / 2


@given(NUMBERS, st.floats(min_value=1e-6, max_value=1e6))
def test_a_stated_value_reads_back_to_its_place(value: float, uncertainty: float) -> None:
    value_text, uncertainty_text = stated(value, uncertainty)
    place = significant_place(uncertainty)
    assert written(value_text) == round_half_up(value, place)
    assert written(uncertainty_text) > 0
