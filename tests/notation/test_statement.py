"""Statements: every row of the agreement table as it is read, and what is refused."""

from __future__ import annotations

import pytest

from calc.notation.statement import (
    ABOUT,
    AT_LEAST,
    AT_MOST,
    EXACTLY,
    NEARLY,
    PLUS_MINUS,
    RANGE,
    parse_statement,
)
from calc.notation.units import unit
from calc.problems import Wrong

# text; form; numbers; unit
READ: list[tuple[str, str, tuple[float, ...], str]] = [
    ("270 Wh/kg", EXACTLY, (270,), "Wh/kg"),
    ("**270 Wh/kg**", EXACTLY, (270,), "Wh/kg"),
    ("*270* Wh/kg", EXACTLY, (270,), "Wh/kg"),
    ("270 Wh per kg", EXACTLY, (270,), "Wh/kg"),
    ("270 watt-hours per kilogram", EXACTLY, (270,), "Wh/kg"),
    ("300 Wh a kilogram", EXACTLY, (300,), "Wh/kg"),
    ("−20 °C", EXACTLY, (-20,), "degC"),
    ("40-minute", EXACTLY, (40,), "min"),
    ("25 per cent", EXACTLY, (25,), "%"),
    ("5 percentage points", EXACTLY, (5,), "%"),
    ("1.8 million t", EXACTLY, (1.8e6,), "t"),
    ("250\u202f000 km", EXACTLY, (250000,), "km"),
    ("3.2 × 10⁵ m", EXACTLY, (3.2e5,), "m"),
    ("12 layers", EXACTLY, (12,), "1"),
    ("5 EUR (2023 prices) a crossing", EXACTLY, (5,), "EUR_2023"),
    ("112 USD/kWh (2024 prices)", EXACTLY, (112,), "USD_2024/kWh"),
    *[
        (f"{word} 270 Wh/kg", ABOUT, (270,), "Wh/kg")
        for word in ("about", "About", "roughly", "around", "approximately", "~", "≈")
    ],
    *[(f"{word} 270 Wh/kg", NEARLY, (270,), "Wh/kg") for word in ("nearly", "Almost")],
    ("~270 Wh/kg", ABOUT, (270,), "Wh/kg"),
    ("270 ± 4 Wh/kg", PLUS_MINUS, (270, 4), "Wh/kg"),
    ("270 +/- 4 Wh/kg", PLUS_MINUS, (270, 4), "Wh/kg"),
    ("270 Wh/kg ± 4 Wh/kg", PLUS_MINUS, (270, 4), "Wh/kg"),
    ("(270 ± 4) Wh/kg", PLUS_MINUS, (270, 4), "Wh/kg"),
    ("1.8 ± 0.2 million t", PLUS_MINUS, (1.8e6, 0.2e6), "t"),
    ("260 to 280 Wh/kg", RANGE, (260, 280), "Wh/kg"),
    ("260–280 Wh/kg", RANGE, (260, 280), "Wh/kg"),
    ("260-280 Wh/kg", RANGE, (260, 280), "Wh/kg"),
    ("260 Wh/kg to 280 Wh/kg", RANGE, (260, 280), "Wh/kg"),
    ("between 260 and 280 Wh/kg", RANGE, (260, 280), "Wh/kg"),
    ("from 260 to 280 Wh/kg", RANGE, (260, 280), "Wh/kg"),
    ("−20 to −10 °C", RANGE, (-20, -10), "degC"),
    ("1.7 to 1.9 million t", RANGE, (1.7e6, 1.9e6), "t"),
    *[
        (f"{words} 260 Wh/kg", AT_LEAST, (260,), "Wh/kg")
        for words in ("at least", "over", "more than", "above", "no less than", ">", "≥", ">=")
    ],
    *[
        (f"{words} 260 Wh/kg", AT_MOST, (260,), "Wh/kg")
        for words in ("at most", "under", "less than", "up to", "below", "no more than", "<", "≤")
    ],
    ("3 times", EXACTLY, (3,), "1"),
    ("3×", EXACTLY, (3,), "1"),
    ("3 × as much", EXACTLY, (3,), "1"),
    ("a factor of 3", EXACTLY, (3,), "1"),
    ("by a factor of 3", EXACTLY, (3,), "1"),
    ("3-fold", EXACTLY, (3,), "1"),
    ("three times", EXACTLY, (3,), "1"),
    ("about three times", ABOUT, (3,), "1"),
    ("at least 3 times as much", AT_LEAST, (3,), "1"),
    ("tenfold", EXACTLY, (10,), "1"),
    ("ten per cent", EXACTLY, (10,), "%"),
    ("over a hundred per cent", AT_LEAST, (100,), "%"),
    ("thirty-five percentage points", EXACTLY, (35,), "%"),
    ("two hundred times", EXACTLY, (200,), "1"),
    ("12 one-way trips", EXACTLY, (12,), "1"),
    ("12 layers per cell", EXACTLY, (12,), "1"),
    ("12 turns", EXACTLY, (12,), "1"),
]
# text; what one unit in the binding digit is worth
BINDING = [
    ("270 Wh/kg", "1"),
    ("270.0 Wh/kg", "0.1"),
    ("about 270 Wh/kg", "10"),
    ("about 400 000 km", "100000"),
    ("about 0.30 V", "0.1"),
    ("about 1.80 million t", "100000"),
    ("1.80 million t", "10000"),
    ("3.20 × 10⁵ m", "1000"),
    ("about 3.20e5 m", "10000"),
]
REFUSED = [
    ("", "statement", "does not read as a number"),
    ("rather a lot", "statement", "does not read as a number"),
    ("just over 5 V", "statement", "keep other words outside the link"),
    ("twice", "statement", "does not read as a number"),
    ("5,000 km", "quantity", "write a point for decimals"),
    ("5 Vv", "unit", "did you mean V?"),
    ("about 260 to 280 Wh/kg", "statement", "a range and 'about' at once"),
    ("270 Wh/kg ± 1.5 %", "statement", "carry different units"),
    ("3.660(12) V", "statement", "'3.660 ± 0.024 V'"),
    ("3.66 ± 0.01 V (k=1)", "statement", "k = 2"),
    ("5 V and 6 V", "statement", "'and' in 'V and 6 V' changes the number before it"),
    *[
        (text, "statement", f"'{word}' in '{text[2:]}' changes the number before it")
        for text, word in (
            ("3 hundred layers", "hundred"), ("2 thirds", "thirds"), ("5 dozen", "dozen"),
            ("3 per mille", "mille"), ("3 basis points", "basis"), ("3 times fewer", "times"),
            ("2 orders of magnitude", "magnitude"), ("4 out of ten", "out of"),
            ("3 and a half times", "and"), ("3 layers less", "less"),
            ("3 thousandths", "thousandths"), ("3 quarters", "quarters"),
            ("3 parts per million", "million"), ("3 tenths of it", "tenths"),
        )
    ],
    ("20 dB", "unit", "'dB' counts in logarithms"),
    ("10 decades", "unit", "'decades' counts in logarithms"),
    ("7 pH", "unit", "a pH is a plain number"),
    ("5 pct", "unit", "write %"),
    ("60 rpm", "unit", "write 1/min for turns"),
]  # fmt: skip
RESTATED = [
    ("270 Wh/kg", ("268",), "268 Wh/kg"),
    ("**about 270 Wh/kg**", ("280",), "**about 280 Wh/kg**"),
    ("−20 °C", ("-21",), "-21 °C"),
    ("260–280 Wh/kg", ("261", "279"), "261–279 Wh/kg"),
    ("between 260 mAh/cm^2 and 280 mAh/cm^2", ("1", "2"), "between 1 mAh/cm^2 and 2 mAh/cm^2"),
    ("4.9 mAh cm^-2", ("5.0",), "5.0 mAh cm^-2"),
    ("1.8 million t", ("1.9",), "1.9 million t"),
    ("2.5e3 V", ("2.6",), "2.6e3 V"),
    ("3.2 × 10^5 m to 3.3 × 10^5 m", ("3.1", "3.4"), "3.1 × 10^5 m to 3.4 × 10^5 m"),
    ("112 USD/kWh (2024 prices)", ("113",), "113 USD/kWh (2024 prices)"),
    ("about three times", ("4",), "about 4 times"),
    ("about ten per cent", ("20",), "about 20 per cent"),
    ("a factor of 3", ("4",), "a factor of 4"),
    ("3 times within 10 %", ("4",), "4 times within 10 %"),
]


@pytest.mark.parametrize(("text", "form", "numbers", "scale"), READ)
def test_a_statement_is_read(text: str, form: str, numbers: tuple[float, ...], scale: str) -> None:
    found = parse_statement(text)
    assert (found.form, found.numbers) == (form, numbers)
    assert found.unit.dimension == unit(scale).dimension
    assert (found.unit.factor, found.unit.offset) == (unit(scale).factor, unit(scale).offset)


@pytest.mark.parametrize(("text", "place"), BINDING)
def test_the_last_digit_binds_and_after_about_the_last_that_is_not_zero(
    text: str, place: str
) -> None:
    assert f"{parse_statement(text).place():f}" == place


@pytest.mark.parametrize(("text", "kind", "phrase"), REFUSED)
def test_what_is_no_statement_is_refused(text: str, kind: str, phrase: str) -> None:
    with pytest.raises(Wrong) as refused:
        parse_statement(text)
    assert refused.value.kind == kind
    assert phrase in refused.value.message


@pytest.mark.parametrize(("text", "mantissas", "expected"), RESTATED)
def test_a_statement_keeps_its_wording_with_other_numbers(
    text: str, mantissas: tuple[str, ...], expected: str
) -> None:
    assert parse_statement(text).restated(*mantissas) == expected


@pytest.mark.parametrize(
    ("text", "noun"), [("12 layers", "layers"), ("3 times", "times"), ("3 V", "")]
)
def test_what_is_counted_is_kept(text: str, noun: str) -> None:
    assert parse_statement(text).noun == noun


@pytest.mark.parametrize(
    ("text", "within"),
    [("about 3 times within 10 %", "10 %"), ("270 Wh/kg, within 5 Wh/kg", "5 Wh/kg")],
)
def test_a_tolerance_may_be_given_in_words(text: str, within: str) -> None:
    assert parse_statement(text).within == within
