"""Agreement: every row of the table at its edges, and what would agree really agrees."""

from __future__ import annotations

from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as some

from calc.book.evidence import compared
from calc.book.model import Page, Place
from calc.engine.results import LEVELS, Result
from calc.judge.agree import agreement, filled
from calc.judge.quotes import quoted, same_statement
from calc.notation.prose import Figure
from calc.notation.rounding import significant_place
from calc.notation.statement import parse_statement
from calc.notation.units import unit
from calc.problems import Wrong

_P = (np.arange(LEVELS - 2) + 1) / (LEVELS - 1)
_STANDARD = np.array([-4, *(NormalDist().inv_cdf(float(p)) for p in _P), 4])
"""Quantiles of the standard normal distribution, the ends cut at four."""


def result(value: float, u: float = 0.0, scale: str = "Wh/kg") -> Result:
    """A normal result with a standard uncertainty, in a unit."""
    spread = value + u * _STANDARD if u else np.empty(0)
    ends = (value - 1.96 * u, value + 1.96 * u)
    return Result("cell.energy", value, unit(scale), u, ends, spread, Place("page.md", 1))


def agrees(text: str, found: Result, title: str = "") -> bool:
    """Whether a text agrees with a result."""
    return agreement(parse_statement(text), found, title).agrees


# text; values that agree, ends included; values that do not. Exact results, in Wh/kg.
EDGES = [
    ("270 Wh/kg", (269.5, 270, 270.5), (269.49, 270.51)),
    ("270.0 Wh/kg", (269.95, 270.05), (269.94, 270.06)),
    ("0.27 kWh/kg", (265, 270, 275), (264.9, 275.1)),
    ("972 kJ/kg", (269.87, 270.13), (269.85, 270.15)),
    ("400 Wh/kg", (399.5, 400.5), (399.4, 400.6)),  # a whole number states all its digits
    ("about 270 Wh/kg", (265, 270, 275), (264.9, 275.1)),
    ("about 300 Wh/kg", (250, 300, 350), (249, 351)),
    ("about 305 Wh/kg", (304.5, 305.5), (304.4, 305.6)),
    ("~0.30 kWh/kg", (250, 350), (249, 351)),
    ("roughly 1000 Wh/kg", (500, 1500), (499, 1501)),
    ("nearly 270 Wh/kg", (265, 270), (264, 270.1)),  # from below alone
    ("almost 100 Wh/kg", (51, 99.9), (49, 101, 149)),
    ("around 270 Wh/kg", (265, 275), (264, 276)),
    ("1.8 million Wh/kg", (1.75e6, 1.85e6), (1.749e6, 1.851e6)),
    ("about 1.80 million Wh/kg", (1.75e6, 1.85e6), (1.749e6, 1.851e6)),
    ("2.7e2 Wh/kg", (265, 275), (264, 276)),
    ("2.70 × 10² Wh/kg", (269.5, 270.5), (269.4, 270.6)),
    ("270 ± 0 Wh/kg", (269.5, 270.5), (269.4, 270.6)),
    ("at least 260 Wh/kg", (260, 261), (259.9, 0)),
    ("over 260 Wh/kg", (260, 261), (259.9,)),
    ("at most 260 Wh/kg", (260, 259), (260.1,)),
    ("under 260 Wh/kg", (260, 259), (260.1,)),
    ("up to 260 Wh/kg", (260, 1), (260.1,)),
    ("-20 Wh/kg", (-20.5, -19.5), (-20.6, -19.4, 20)),
    ("0 Wh/kg", (-0.5, 0.5), (0.6,)),
]
# text; unit of the result; values that agree; values that do not
OTHER_UNITS = [
    ("3 times", "1", (2.5, 3.5), (2.4, 3.6)),
    ("3×", "%", (250, 350), (249, 351)),
    ("a factor of 3", "1", (2.5, 3.5), (2.4,)),
    ("about three times", "1", (2.5, 3.5), (2.4,)),
    ("three tenths", "1", (0.25, 0.35), (0.24, 0.36, 3)),
    ("twenty-five per cent", "1", (0.245, 0.255), (0.244, 0.256)),
    ("about twenty per cent", "1", (0.15, 0.25), (0.14, 0.26)),
    ("tenfold", "1", (9.5, 10.5), (9.4, 10.6)),
    ("at least 3 times", "1", (3, 4), (2.9,)),
    ("25 %", "1", (0.245, 0.255), (0.244, 0.256)),
    ("25 per cent", "ppm", (245000, 255000), (244000,)),
    ("5 percentage points", "%", (4.5, 5.5), (4.4,)),
    ("12 layers", "1", (11.5, 12.5), (11.4, 12.6)),
    ("25 °C", "degC", (24.5, 25.5), (24.4, 25.6)),
    ("25 °C", "K", (297.65, 298.65), (297.6, 298.7, 25)),
    ("5 °C", "delta_degC", (4.5, 5.5), (4.4, 5.6)),
    ("5 K", "delta_degC", (4.5, 5.5), (4.4, 5.6)),
    ("80 %", "%", (79.5, 80.5), (79.4,)),
    ("112 USD/kWh", "USD_2024/kWh", (111.5, 112.5), (111.4,)),
    ("112 USD/kWh (2024 prices)", "USD_2024/kWh", (111.5, 112.5), (111.4,)),
    ("40-minute", "s", (39.5 * 60, 40.5 * 60), (39.4 * 60,)),
]
# text; value, standard uncertainty; whether it agrees
UNCERTAIN = [
    ("270 ± 4 Wh/kg", 270.4, 2.2, True),
    ("270 ± 4 Wh/kg", 270.6, 2.0, False),
    ("270 ± 4 Wh/kg", 270.0, 2.3, False),
    ("270 ± 4 Wh/kg", 270.0, 1.7, False),
    ("270.0 ± 4.0 Wh/kg", 270.0, 2.02, True),
    ("270.0 ± 4.0 Wh/kg", 270.0, 2.03, False),
    ("260 to 280 Wh/kg", 270, 10 / 1.96, True),
    ("260 to 280 Wh/kg", 270, 10.4 / 1.96, True),
    ("260 to 280 Wh/kg", 270, 10.6 / 1.96, False),
    ("between 260 and 280 Wh/kg", 270.6, 10 / 1.96, False),
    ("260–280 Wh/kg", 269.6, 10 / 1.96, True),
    ("0.26 to 0.28 kWh/kg", 272, 11 / 1.96, True),
    ("280 to 260 Wh/kg", 270, 10 / 1.96, False),
    # true with a probability of 95 %: 1.645 standard uncertainties
    ("at least 260 Wh/kg", 260 + 1.66 * 5, 5, True),
    ("at least 260 Wh/kg", 260 + 1.63 * 5, 5, False),
    ("more than 260 Wh/kg", 260 + 1.66 * 5, 5, True),
    ("at most 260 Wh/kg", 260 - 1.66 * 5, 5, True),
    ("less than 260 Wh/kg", 260 - 1.63 * 5, 5, False),
    ("up to 0.26 kWh/kg", 260 - 1.66 * 5, 5, True),
]
# text; title; value; whether it agrees
TITLED = [
    ("270 Wh/kg", "within 5 %", 283.5, True),
    ("270 Wh/kg", "within 5 %", 283.6, False),
    ("270.00 Wh/kg", "within 1 Wh/kg", 271, True),
    ("270.00 Wh/kg", "within 1 kJ/kg", 270.3, False),
    ("about 300 Wh/kg", "within 1 %", 304, False),
    ("about 300 Wh/kg within 1 %", "", 303, True),
    ("about 300 Wh/kg within 1 %", "", 304, False),
]
REFUSED = [
    ("270", "", "'270' has no unit; energy is in 'Wh/kg'"),
    ("3 times", "", "has no unit"),
    ("270 Wh/L", "", "state it in a unit of that kind"),
    ("12 layers", "", "is in 'layers'"),
    ("270 Wh/kg", "within 5 kg", "is not of the kind of"),
    ("270 Wh/kg", "within 5 apples", "is no tolerance"),
    ("270 Wh/kg", "within 5 ± 1 %", "is no tolerance"),
    ("270 Wh/kg", "the bench figure", "the title of a figure's link is its tolerance"),
    ("at least 270 Wh/kg", "within 5 %", "take away the tolerance"),
    ("270 Wh/kg", "within 11 %", "is more than a tenth of '270 Wh/kg'"),
    ("270 Wh/kg within 28 Wh/kg", "", "is more than a tenth of"),
    ("999 Wh/kg", "within 1000 %", "is more than a tenth of"),
]


@pytest.mark.parametrize(("text", "good", "bad"), EDGES)
def test_exact_results_agree_up_to_the_edge(
    text: str, good: tuple[float, ...], bad: tuple[float, ...]
) -> None:
    assert [value for value in good if not agrees(text, result(value))] == []
    assert [value for value in bad if agrees(text, result(value))] == []


@pytest.mark.parametrize(("text", "scale", "good", "bad"), OTHER_UNITS)
def test_a_text_is_compared_in_its_own_unit(
    text: str, scale: str, good: tuple[float, ...], bad: tuple[float, ...]
) -> None:
    assert [value for value in good if not agrees(text, result(value, scale=scale))] == []
    assert [value for value in bad if agrees(text, result(value, scale=scale))] == []


@pytest.mark.parametrize(("text", "value", "u", "expected"), UNCERTAIN)
def test_uncertain_results_agree_by_their_distribution(
    text: str, value: float, u: float, expected: bool
) -> None:
    assert agrees(text, result(value, u)) is expected


@pytest.mark.parametrize(("text", "title", "value", "expected"), TITLED)
def test_a_link_title_is_the_tolerance_instead(
    text: str, title: str, value: float, expected: bool
) -> None:
    assert agrees(text, result(value), title) is expected


@pytest.mark.parametrize(("text", "title", "phrase"), REFUSED)
def test_what_cannot_be_compared_is_refused(text: str, title: str, phrase: str) -> None:
    with pytest.raises(Wrong) as refused:
        agreement(parse_statement(text), result(270), title)
    assert phrase in refused.value.message


@pytest.mark.parametrize(
    ("text", "value", "u", "expected"),
    [
        ("270 Wh/kg", 283.4, 0, "283 Wh/kg"),
        ("270.0 Wh/kg", 283.44, 0, "283.4 Wh/kg"),
        ("about 270 Wh/kg", 283, 0, "about 280 Wh/kg"),
        ("about 270 Wh/kg", 4, 0, "about 4 Wh/kg"),
        ("~ 270 Wh/kg", 0.04, 0, "~ 0 Wh/kg"),
        ("270 ± 4 Wh/kg", 283.4, 3.1, "283 ± 6 Wh/kg"),
        ("260–280 Wh/kg", 270.4, 8 / 1.96, "262–278 Wh/kg"),
        ("260-280 Wh/kg", 0, 10 / 1.96, "-10-10 Wh/kg"),
        ("between 260 and 280 Wh/kg", 0, 10 / 1.96, "between -10 and 10 Wh/kg"),
        ("at least 260 Wh/kg", 250, 0, "at least 250 Wh/kg"),
        ("at least 260 Wh/kg", 250, 10, "at least 233 Wh/kg"),
        ("at most 260 Wh/kg", 270, 10, "at most 287 Wh/kg"),
        ("1.8 million Wh/kg", 2.54e6, 0, "2.5 million Wh/kg"),
        ("2.5e3 Wh/kg", 2640, 0, "2.6e3 Wh/kg"),
        ("2.5 × 10³ Wh/kg", 2640, 0, "2.6 × 10³ Wh/kg"),
        ("250 000 Wh/kg", 1234567.8, 0, "1\u202f234\u202f568 Wh/kg"),
        ("−20 Wh/kg", -21.2, 0, "-21 Wh/kg"),
        ("0.27 kWh/kg", 283, 0, "0.28 kWh/kg"),
        ("nearly 270 Wh/kg", 283, 0, "about 280 Wh/kg"),
        ("almost 300 Wh/kg", 304, 0, "about 300 Wh/kg"),
        ("300 Wh/kg within 0.01 %", 304.6, 0, "304.6 Wh/kg within 0.01 %"),
        ("about 300 Wh/kg within 1 %", 252, 0, "about 250 Wh/kg within 1 %"),
    ],
)
def test_the_text_that_would_agree_keeps_the_wording(
    text: str, value: float, u: float, expected: str
) -> None:
    assert agreement(parse_statement(text), result(value, u)).would_agree == expected


WORDINGS = [
    "270 Wh/kg", "270.00 kJ/kg", "0.3 kWh/kg", "about 270 Wh/kg", "~0.3 kWh/kg", "270 ± 4 Wh/kg",
    "nearly 270 Wh/kg",
    "0.27 ± 0.01 kWh/kg", "260 to 280 Wh/kg", "260–280 Wh/kg", "260-280 Wh/kg",
    "between 0.26 and 0.28 kWh/kg", "at least 260 Wh/kg", "over 0.3 kWh/kg", "at most 260 Wh/kg",
    "up to 300.0 Wh/kg", "1.8 million Wh/kg", "about 1.8 million Wh/kg", "2.5e3 Wh/kg",
    "2.5 × 10³ Wh/kg", "270 000 Wh/kg", "270 Wh/kg within 1 %", "about 300 Wh/kg within 2 Wh/kg",
    "−20 Wh/kg", "**270 Wh/kg**", "1.7 to 1.9 million Wh/kg",
]  # fmt: skip
VALUES = some.floats(-1e7, 1e7).filter(lambda value: value == 0 or abs(value) > 1e-4)


@given(some.sampled_from(WORDINGS), VALUES, some.sampled_from([0.0, 1e-3, 0.02, 0.3]))
def test_the_text_that_would_agree_agrees(text: str, value: float, relative: float) -> None:
    found = result(value, abs(value) * relative)
    outcome = agreement(parse_statement(text), found)
    again = agreement(parse_statement(outcome.would_agree), found)
    assert again.agrees, outcome


@given(VALUES, some.sampled_from([1e-3, 0.02, 0.3]), some.sampled_from(["Wh/kg", "%", "1"]))
def test_an_empty_figure_is_filled_to_what_its_uncertainty_supports(
    value: float, relative: float, scale: str
) -> None:
    found = result(value, abs(value) * relative, scale)
    assume(found.uncertain)
    shown = parse_statement(filled(found))
    assert shown.unit == unit(scale) or scale == "1"
    half = float(significant_place(found.standard_uncertainty)) / 2
    assert abs(shown.numbers[0] - value) <= half * (1 + 1e-9)


@given(VALUES)
def test_an_empty_figure_of_an_exact_result_is_filled_so_that_it_agrees(value: float) -> None:
    assert agrees(filled(result(value)), result(value))


@given(VALUES, some.sampled_from(WORDINGS))
def test_agreement_does_not_hang_on_the_unit_of_the_result(value: float, text: str) -> None:
    numbers = [abs(number) for number in parse_statement(text).numbers]
    assume(value and all(abs(number / value - 1) > 1e-6 for number in numbers))
    found = result(value, abs(value) / 50)
    moved = result(value * 3.6, abs(value) * 3.6 / 50, "J/g")
    assert agrees(text, found) == agrees(text, moved)


@pytest.mark.parametrize(
    ("said", "record", "same"),
    [
        ("at least 280 Wh/kg", "at least 280 Wh/kg", True),
        ("over 280 Wh/kg", "at least 280 Wh/kg", True),
        ("at least 0.28 kWh/kg", "at least 280 Wh/kg", True),
        ("280 Wh/kg", "at least 280 Wh/kg", False),
        ("at most 280 Wh/kg", "at least 280 Wh/kg", False),
        ("at least 281 Wh/kg", "at least 280 Wh/kg", False),
        ("at least 280 Wh/L", "at least 280 Wh/kg", False),
        ("at least 200 trips", "at least 200 trips", True),
        ("at least 200", "at least 200 trips", True),
        ("200-trip", "200 trips", True),
        ("at least 200 layers", "at least 200 trips", False),
        ("about 300", "about 300 within 10 %", True),
        ("about 300 within 10 %", "about 300 within 10 %", True),
        ("about 300 within 30", "about 300 within 10 %", True),
        ("about 300 within 50 %", "about 300 within 10 %", False),
        ("about 300 within 10 %", "about 300", False),
    ],
)
def test_a_quote_repeats_what_is_on_record(said: str, record: str, same: bool) -> None:
    assert same_statement(said, parse_statement(record)) is same


@pytest.mark.parametrize(
    ("said", "record", "same"),
    [
        ("at least 50 % more", "at least 50 % more", True),
        ("at least 50 % more than Gannet", "at least 50 % more", True),
        ("at least 50 %", "at least 50 % more", False),
        ("at least 50 % better", "at least 50 % more", False),
        ("at least 50 % less", "at least 50 % more", False),
        ("at most 50 % less", "at most 50 % less", True),
    ],
)
def test_a_quote_keeps_the_word_that_compares(said: str, record: str, same: bool) -> None:
    assert same_statement(said, compared(record, relative=True)) is same


def test_a_quote_takes_no_tolerance() -> None:
    figure = Figure("about 300", "quote", "said", "within 50 %", 1, 0, 9)
    page = Page("a.md", "a.md", "", 0, "A", {}, (figure,), (), ())
    with pytest.raises(Wrong, match="takes no tolerance"):
        quoted(figure, page, Place("a.md", 1), parse_statement("about 300 within 10 %"), "bench")
