"""Rounding against the rules that standards and reviews publish."""

from __future__ import annotations

from decimal import Decimal

import pytest

from calc.notation.rounding import last_digit, rounded, significant_place, stated, written

PARTICLES = "Particle Data Group, Review of Particle Physics 2010, introduction, 5.3"
GUIDE = "JCGM 100:2008, 7.2.6"
ISO_ROUNDING = "ISO 80000-1:2009, annex B"
ISO_DIGITS = "ISO 80000-1:2009, 7.3.4"

STATED = [
    # value, uncertainty, printed value, printed uncertainty, source, mark
    ("0.827", "0.119", "0.83", "0.12", PARTICLES, "seen"),
    ("0.827", "0.367", "0.8", "0.4", PARTICLES, "seen"),
    ("10.05762", "0.027", "10.058", "0.027", GUIDE, "from memory, to be confirmed"),
]
LEADING_DIGITS = [
    # first and last of the three leading digits, digits kept, source, mark
    (100, 354, 2, PARTICLES, "seen"),
    (355, 949, 1, PARTICLES, "seen"),
]
ONCE = [
    # unrounded, place, printed, source, mark
    ("12.254", "0.1", "12.3", ISO_ROUNDING, "from memory, to be confirmed"),
]
MEANT = [
    # text, from, to, source, mark
    ("401 008", "401007.5", "401008.5", ISO_DIGITS, "seen"),
    ("262", "261.5", "262.5", ISO_DIGITS, "seen"),
]


@pytest.mark.parametrize(("value", "uncertainty", "value_text", "text", "source", "mark"), STATED)
def test_value_and_uncertainty_share_a_place(
    value: str, uncertainty: str, value_text: str, text: str, source: str, mark: str
) -> None:
    assert stated(float(value), float(uncertainty)) == (value_text, text)


@pytest.mark.parametrize(("first", "last", "digits", "source", "mark"), LEADING_DIGITS)
def test_leading_digits_decide(first: int, last: int, digits: int, source: str, mark: str) -> None:
    places = {significant_place(leading) for leading in range(first, last + 1)}
    assert places == {Decimal(1).scaleb(3 - digits)}


def test_950_to_999_become_1000_and_keep_two_digits() -> None:
    """Particle Data Group, Review of Particle Physics 2010, introduction, 5.3; seen."""
    for leading in range(950, 1000):
        place = significant_place(leading)
        assert place == 100
        assert rounded(leading, place) == "1000"


@pytest.mark.parametrize(("unrounded", "place", "text", "source", "mark"), ONCE)
def test_rounding_once(unrounded: str, place: str, text: str, source: str, mark: str) -> None:
    assert rounded(unrounded, Decimal(place)) == text
    assert rounded(float(unrounded), Decimal(place)) == text


@pytest.mark.parametrize(("text", "low", "high", "source", "mark"), MEANT)
def test_a_whole_number_states_all_its_digits(
    text: str, low: str, high: str, source: str, mark: str
) -> None:
    half = last_digit(text) / 2
    assert (written(text) - half, written(text) + half) == (Decimal(low), Decimal(high))
