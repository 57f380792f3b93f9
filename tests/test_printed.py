"""The tolerance rule itself: what a printed number allows, and what it refuses."""

from __future__ import annotations

import math

import pytest

from tests.printed import agrees

INSIDE = [
    ("262", 261.5),
    ("262", 262.5),
    ("3.70", 3.7049),
    ("0.125", 0.125),
    ("1.2e-3", 0.00124),
    ("2.5e3", 2549.0),
    ("400\u2009000", 400_000.4),
    ("50\u202f000\u00a0623", 50_000_623.0),
    ("50 000 623", 50_000_623.0),
    ("\u22120.7141", -0.71412),
    ("+4", 4.2),
    ("0", -0.4),
    ("6.02214076e23", 6.022140764e23),
]
OUTSIDE = [
    ("262", 262.51),
    ("262", 261.49),
    ("270", 274.0),
    ("3.70", 3.706),
    ("3.7", 3.76),
    ("1.2e-3", 0.00126),
    ("\u22120.7141", 0.7141),
    ("0.00", 0.0051),
]


@pytest.mark.parametrize(("printed", "computed"), INSIDE)
def test_agrees_within_half_the_last_digit(printed: str, computed: float) -> None:
    assert agrees(printed, computed)


@pytest.mark.parametrize(("printed", "computed"), OUTSIDE)
def test_differs_beyond_half_the_last_digit(printed: str, computed: float) -> None:
    assert not agrees(printed, computed)


@pytest.mark.parametrize("computed", [math.nan, math.inf, -math.inf])
def test_what_is_not_a_number_agrees_with_nothing(computed: float) -> None:
    assert not agrees("0", computed)


@pytest.mark.parametrize("printed", ["", "about 3", "nan", "inf", "1_000", "3 V", "1e", "3,7"])
def test_anything_but_one_number_is_refused(printed: str) -> None:
    with pytest.raises(ValueError, match="a printed number is expected"):
        agrees(printed, 1.0)
