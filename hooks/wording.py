"""Numbers, units and names as a reader sees them."""

from __future__ import annotations

import re
from decimal import Decimal

from calc.engine.results import Result
from calc.notation.rounding import digit_place, rounded, significant_place
from calc.notation.units import Unit, price_year_shown

NO_BREAK = "\u00a0"
_RAISED = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")
_SIGNS = (
    (re.compile(r"\*\*\s*(-?\d+)|\^\s*(-?\d+)"), lambda f: (f[1] or f[2]).translate(_RAISED)),
    (re.compile(r"\bdelta_degC\b"), lambda f: "°C"),
    (re.compile(r"\bdegC\b"), lambda f: "°C"),
    (re.compile(r"\bangstrom(?![a-z])"), lambda f: "Å"),
    (re.compile(r"\b([mkM]?)ohm\b"), lambda f: f"{f[1]}Ω"),
    (re.compile(r"\bu(?=(?:m|g|s|A|V|W|L|F|Ω|mol|Wh|Ah)\b)"), lambda f: "µ"),
    (re.compile(r"\bA h\b"), lambda f: "Ah"),
    (re.compile(r"(?<=\w)\s*\*\s*(?=[A-Za-zµΩ])"), lambda f: "·"),
    (re.compile(r"(?<=[A-Za-zµΩ²³]) (?=[A-Za-zµΩ])(?!prices)"), lambda f: "·"),
)
_COUNTED = ("year", "month", "week", "day", "cycle")
"""Units that are words, and have a plural; tests/browser/test_explore.py holds the script to it."""
_NUMBER_AND_WORD = re.compile(rf"(?<![\d.])(\d[\d.]*)[ \u00a0]({'|'.join(_COUNTED)})(?![\w/·])")
_EXPONENT = re.compile(r"(?<=\d)[eE]([+-]?\d+)")
_COMPUTED_DIGITS = 5
"""Significant digits of a computed value that rests on no uncertainty; zeros at the end go."""


def unit_text(unit: Unit | str) -> str:
    """A unit as printed.

    >>> unit_text("mAh/cm^2"), unit_text("ohm cm^2"), unit_text("USD_2024/kWh")
    ('mAh/cm²', 'Ω·cm²', 'USD/kWh (2024 prices)')
    """
    text = unit if isinstance(unit, str) else unit.text
    if text in ("", "1"):
        return ""
    shown = price_year_shown(text)
    body, year = (shown, "") if " (" not in shown else tuple(shown.split(" (", 1))
    for pattern, sign in _SIGNS:
        body = pattern.sub(sign, body)
    return f"{body} ({year}" if year else body


def without_year(text: str) -> str:
    """A text without the year of its prices, where that was said just before.

    >>> without_year("5 USD/kWh (2024 prices)")
    '5 USD/kWh'
    """
    return re.sub(r" \(\d{4} prices\)", "", text)


def counted(shown: str, number: str) -> str:
    """A unit that is a word, as it stands after a number; any other as it is.

    >>> counted("year", "7.1 ± 1.6"), counted("year", "1"), counted("kWh", "2")
    ('years', 'year', 'kWh')
    """
    return f"{shown}s" if shown in _COUNTED and number != "1" else shown


def typed(text: str) -> str:
    """A quantity as its writer typed it, with the signs of print.

    >>> typed("57.0 +/- 1.5 um"), typed("8 to 25 year")
    ('57.0\\xa0±\\xa01.5\\xa0µm', '8 to 25\\xa0years')
    """
    body = text.replace("+/-", "±")
    for pattern, sign in _SIGNS[:6]:
        body = pattern.sub(sign, body)
    body = re.sub(r"\bA h\b", "Ah", body)
    body = _NUMBER_AND_WORD.sub(lambda f: f"{f[1]} {counted(f[2], f[1])}", body)
    joined = re.sub(r"(?<=\d) (?=[A-Za-zµΩ%°](?!o\b))", NO_BREAK, with_powers(body))
    return joined.replace(" ± ", f"{NO_BREAK}±{NO_BREAK}")


def grouped(text: str) -> str:
    """A text with thin spaces between the thousands of its long numbers.

    >>> grouped("at least 35000 trips").replace(chr(0x202F), "_")
    'at least 35_000 trips'
    """
    return re.sub(
        r"(?<![\d.])\d{5,}(?![\d.])", lambda n: f"{int(n[0]):,}".replace(",", "\u202f"), text
    )


def prose(text: str) -> str:
    """A writer's remark with the signs of print for units that have no other."""
    return re.sub(r"(?<=\d) ?degC\b", f"{NO_BREAK}°C", text).replace("degC", "°C")


def with_powers(text: str) -> str:
    """`1.2e-05` as `1.2 × 10⁻⁵`, and the minus of print."""
    shown = _EXPONENT.sub(lambda found: " × 10" + str(int(found[1])).translate(_RAISED), text)
    return re.sub(r"(?<![\w⁻])-(?=\d)", "−", shown)


def with_unit(number: str, unit: Unit | str) -> str:
    """A number and its unit, kept on one line."""
    shown = counted(unit_text(unit), number)
    return f"{with_powers(number)}{NO_BREAK}{shown}" if shown else with_powers(number)


def digits(value: float, count: int = _COMPUTED_DIGITS) -> str:
    """A number to so many significant digits, without zeros at its end.

    >>> digits(0.30000000004), digits(1234567.0)
    ('0.3', '1\\u202f234\\u202f600')
    """
    text = rounded(value, digit_place(value, count), grouped=True)
    if "." in text and "e" not in text:
        text = text.rstrip("0").rstrip(".")
    return text


def to_two(value: float) -> str:
    """A number to two significant digits, its zeros kept.

    >>> to_two(2.0), to_two(0.2604)
    ('2.0', '0.26')
    """
    return with_powers(rounded(value, digit_place(value, 2)))


def value_text(result: Result) -> str:
    """A result with its expanded uncertainty (k = 2), or what is known of it."""
    if not result.uncertain:
        return with_unit(digits(result.value), result.unit)
    number, spread = _stated(result)
    return with_unit(f"{number}{NO_BREAK}±{NO_BREAK}{spread}", result.unit)


def nominal(result: Result, guard: int = 0) -> str:
    """A result's number alone, to the digits that its uncertainty supports and `guard` more."""
    if not result.uncertain:
        return digits(result.value, _COMPUTED_DIGITS + guard)
    return rounded(result.value, place_of(result).scaleb(-guard), grouped=True)


def place_of(result: Result) -> Decimal:
    """The place of the last digit that a result is shown to."""
    if not result.uncertain:
        return digit_place(result.value, _COMPUTED_DIGITS)
    place = significant_place(result.standard_uncertainty)
    if result.value and abs(result.value) < float(place):
        place = digit_place(result.value, 2)
    return place


def _stated(result: Result) -> tuple[str, str]:
    """Value and expanded uncertainty, to the digits that a filled figure shows."""
    place = significant_place(result.standard_uncertainty)
    spread = 2 * result.standard_uncertainty
    return rounded(result.value, place, grouped=True), rounded(spread, place, grouped=True)


def number_between(value: float, low: float, high: float, unit: Unit | str) -> str:
    """A value to the digits that its 95 % interval supports, with the interval."""
    if not high > low:
        return with_unit(digits(value), unit)
    place = significant_place((high - low) / 2)
    shown, least, most = (rounded(each, place, grouped=True) for each in (value, low, high))
    return f"{with_unit(shown, unit)} ({with_powers(least)} to {with_unit(most, unit)})"


def interval_text(result: Result) -> str:
    """The 95 % interval: `268.5 to 271.8 Wh/kg`."""
    low, high = (_end(result, end) for end in result.interval)
    return with_unit(f"{low} to {high}", result.unit)


def interval_words(result: Result) -> str:
    """The 95 % interval in plain words."""
    if not result.uncertain:
        return "No uncertainty came with what it rests on."
    low, high = (_end(result, end) for end in result.interval)
    between = f"{with_powers(low)} and {with_unit(high, result.unit)}"
    return f"Between {between}, most likely: nineteen times in twenty the true value lies there."


def _end(result: Result, end: float) -> str:
    return rounded(end, significant_place(result.standard_uncertainty), grouped=True)


def percent(share: float) -> str:
    """A share as a percentage a reader can use.

    >>> percent(0.6861), percent(0.031), percent(0.0004)
    ('69\\xa0%', '3.1\\xa0%', 'under 0.1\\xa0%')
    """
    if 0 < share < 0.001:
        return f"under 0.1{NO_BREAK}%"
    if share < 0.1:
        return f"{rounded(100 * share, Decimal('0.1'))}{NO_BREAK}%"
    return f"{rounded(100 * share, Decimal(1))}{NO_BREAK}%"


def spoken(name: str) -> str:
    """A name of a formula as words.

    >>> spoken("anode.areal_capacity")
    'anode: areal capacity'
    """
    return name.replace("_", " ").replace(".", ": ")


def sentence(text: str) -> str:
    """A phrase with a capital, as it may begin a line."""
    return text[:1].upper() + text[1:]
