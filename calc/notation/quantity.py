"""Quantities: a number, what is known of its spread, and a unit, from one string."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from calc.notation.plain import plain
from calc.notation.rounding import last_digit, written
from calc.notation.spelling import MULTIPLIERS, NUMBER, one_spelling
from calc.notation.units import Unit, unit
from calc.problems import Wrong

_MULTIPLE = r"(?: (?:thousand|million|billion|trillion))?"
_PLUS_MINUS = r"\s*(?:\u00b1|\+/-)\s*"
_UNIT = r"(?:1\s*/\s*)?[^\d\s,(+-][^,\u00b1]*?"
_K = re.compile(r"\s*\(\s*k\s*=\s*(\d+(?:\.\d+)?)\s*\)")
_LAST_DIGIT = re.compile(r"\s+to the last digit\s*$")
_RANGE = re.compile(
    rf"(?:between |from )?(?P<low>{NUMBER}{_MULTIPLE})\s*(?P<low_unit>{_UNIT})??\s*"
    rf"(?:\bto\b|\band\b)\s*(?P<high>{NUMBER}{_MULTIPLE})\s*(?P<unit>{_UNIT})?"
    rf"(?:,?\s*likely\s+(?P<mode>{NUMBER}{_MULTIPLE})\s*(?P<mode_unit>{_UNIT})?)?\s*$"
)
_PLUS = re.compile(
    rf"(?P<value>{NUMBER}{_MULTIPLE})\s*(?P<unit>{_UNIT})??{_PLUS_MINUS}"
    rf"(?P<width>{NUMBER}{_MULTIPLE})\s*(?P<width_unit>\S[^\u00b1]*)?$"
)
_CONCISE = re.compile(
    rf"(?P<value>{NUMBER})\s?\((?P<digits>\d+)\)(?P<power>e[-+]?\d+)?"
    rf"(?P<many>{_MULTIPLE})\s*(?P<unit>.*)$"
)
_SIMPLE = re.compile(rf"(?P<value>{NUMBER}{_MULTIPLE})\s*(?P<unit>.*)$")
_PERCENT_FIRST = re.compile(r"%\s*\S")


@dataclass(frozen=True)
class Exact:
    """No uncertainty given."""


@dataclass(frozen=True)
class Normal:
    """A normal spread with a standard uncertainty."""

    standard: float


@dataclass(frozen=True)
class Rectangular:
    """Anything between two ends, equally likely."""

    low: float
    high: float


@dataclass(frozen=True)
class Triangular:
    """Between two ends, most likely at `mode`."""

    low: float
    mode: float
    high: float


Spread = Exact | Normal | Rectangular | Triangular


@dataclass(frozen=True)
class Quantity:
    """A value with its spread, both in `unit`, and the text they were read from.

    `digits` is the number as typed, so that its stated digits survive.
    """

    text: str
    value: float
    unit: Unit
    spread: Spread = Exact()
    digits: str = ""

    @property
    def base(self) -> float:
        """The nominal value in SI base units."""
        return self.unit.to_base(self.value)

    @property
    def base_spread(self) -> Spread:
        """The spread in SI base units."""
        to_base, spread = self.unit.to_base, self.spread
        if isinstance(spread, Normal):
            return Normal(self.unit.width_to_base(spread.standard))
        if isinstance(spread, Rectangular):
            return Rectangular(to_base(spread.low), to_base(spread.high))
        if isinstance(spread, Triangular):
            return Triangular(to_base(spread.low), to_base(spread.mode), to_base(spread.high))
        return spread

    def written(self) -> str:
        """The quantity as a text that reads back as the same quantity."""
        tail = f" {self.unit.text}" if self.unit.text not in ("", "1") else ""
        spread = self.spread
        if isinstance(spread, Normal):
            return f"{self.value!r} ± {spread.standard!r}{tail} (k=1)"
        if isinstance(spread, Rectangular):
            return f"{spread.low!r} to {spread.high!r}{tail}"
        if isinstance(spread, Triangular):
            return f"{spread.low!r} to {spread.high!r}{tail}, likely {spread.mode!r}{tail}"
        return f"{self.value!r}{tail}"


def number(text: str) -> float:
    """A written number as a float; thousands may be parted by spaces, a multiplier may follow.

    >>> number("1.8 million")
    1800000.0
    """
    return float(decimal(text))


def decimal(text: str) -> Decimal:
    """A written number with its multiplier, exactly as it was written."""
    digits, power = _multiplied(text)
    return written(digits).scaleb(power)


def last_place(text: str) -> Decimal:
    """What one unit in the last written digit is worth, a multiplier counted in.

    >>> last_place("3.70"), last_place("1.8 million")
    (Decimal('0.01'), Decimal('1E+5'))
    """
    digits, power = _multiplied(text)
    return last_digit(digits).scaleb(power)


def _multiplied(text: str) -> tuple[str, int]:
    """The digits of a written number, and the power of ten that a word after them stands for."""
    digits, _, word = plain(text).strip().rpartition(" ")
    return (digits, MULTIPLIERS[word]) if word in MULTIPLIERS else (text.strip(), 0)


_ELSEWHERE = (
    (
        re.compile(r"\d\s*\+\s*[\d.]+\s*[-\u2212/]\s*[-\u2212]?\s*\d"),
        "write unequal uncertainties as a range, '3.63 to 3.68 V, likely 3.66 V'",
    ),
    (re.compile(r"\d\s*\.\.+\s*\d|\d\s*\u2026\s*\d"), "write a range as '50 to 58 um'"),
    (re.compile(r"^\s*\d{4}-\d\d-\d\d\s*$"), "it is a day; a quantity has a number and a unit"),
)
"""Ways to write a quantity that are not read here, each with its mend."""


@lru_cache(maxsize=65536)
def parse_quantity(text: str) -> Quantity:
    """A quantity from the writer's text, by the rules of the notation.

    Raises: Wrong (kind "quantity" or "unit").

    >>> parse_quantity("3.66 ± 0.02 V").spread
    Normal(standard=0.01)
    """
    spelled = one_spelling(text)
    body = _K.sub("", spelled).strip()
    if body != spelled and not _PLUS.match(body):
        raise Wrong("quantity", f"'{text}' has a k=, which belongs after an uncertainty (±)")
    if _LAST_DIGIT.search(body):
        return _to_the_last_digit(text, _LAST_DIGIT.sub("", body))
    if any(pattern.search(text) for pattern, _ in _ELSEWHERE):
        raise _unreadable(text)
    for pattern, read in (
        (_CONCISE, _concise),
        (_PLUS, _plus_minus),
        (_RANGE, _range),
        (_SIMPLE, _simple),
    ):
        if found := pattern.match(body):
            return _possible(read(text, found))
    raise _unreadable(text)


def _unreadable(text: str) -> Wrong:
    """What to say of a text that is written as a quantity elsewhere, or is none."""
    for pattern, mend in _ELSEWHERE:
        if pattern.search(text):
            return Wrong("quantity", f"'{text}' is not a quantity; {mend}")
    return Wrong("quantity", f"'{text}' is not a quantity; write it like '3.66 ± 0.02 V'")


def _possible(found: Quantity) -> Quantity:
    spread = found.spread
    low = spread.low if isinstance(spread, Rectangular | Triangular) else found.value
    if found.unit.offset and found.unit.to_base(low) < 0:
        raise Wrong("quantity", f"'{found.text}' lies below absolute zero; check sign and unit")
    return found


def _simple(text: str, found: re.Match[str]) -> Quantity:
    return Quantity(text, number(found["value"]), unit(found["unit"]), Exact(), found["value"])


def _to_the_last_digit(text: str, body: str) -> Quantity:
    found = _SIMPLE.match(body)
    if not found:
        raise Wrong("quantity", f"'{text}' has no number; write it like '3.66 V to the last digit'")
    value, half = decimal(found["value"]), last_place(found["value"]) / 2
    spread = Rectangular(float(value - half), float(value + half))
    return Quantity(text, float(value), unit(found["unit"]), spread, found["value"])


def _concise(text: str, found: re.Match[str]) -> Quantity:
    value = found["value"] + (found["power"] or "") + found["many"]
    standard = float(int(found["digits"]) * last_place(value))
    return Quantity(text, number(value), unit(found["unit"]), Normal(standard), value)


def _range(text: str, found: re.Match[str]) -> Quantity:
    high_unit = found["unit"] or found["low_unit"] or ""
    scale = unit(high_unit)
    low = _in(scale, _alike(found["low"], found["high"]), found["low_unit"])
    high = number(found["high"])
    if low >= high:
        raise Wrong("quantity", f"the range '{text}' does not rise; write the smaller end first")
    if not found["mode"]:
        return Quantity(text, (low + high) / 2, scale, Rectangular(low, high))
    mode = _in(scale, found["mode"], found["mode_unit"])
    if not low <= mode <= high:
        raise Wrong("quantity", f"the likely value of '{text}' lies outside its range")
    return Quantity(text, mode, scale, Triangular(low, mode, high), found["mode"])


def _alike(digits: str, last: str) -> str:
    """The digits with the multiplier that stands once, at the end: `1.7 to 1.9 million`."""
    word = last.rpartition(" ")[2]
    shared = word in MULTIPLIERS and digits.rpartition(" ")[2] not in MULTIPLIERS
    return f"{digits} {word}" if shared else digits


def _in(scale: Unit, digits: str, own: str | None) -> float:
    if not own or own == scale.text:
        return number(digits)
    source = unit(own)
    if source.dimension != scale.dimension:
        raise Wrong("dimension", f"'{own}' and '{scale.text}' are not of one kind")
    return scale.from_base(source.to_base(number(digits)))


def _plus_minus(text: str, found: re.Match[str]) -> Quantity:
    coverage, width_unit = _coverage(text), (found["width_unit"] or "").strip()
    digits = _alike(found["value"], found["width"])
    value, width = number(digits), number(found["width"])
    if found["unit"]:
        scale = unit(found["unit"])
        half = _own_width(text, scale, value, width, width_unit)
    elif _PERCENT_FIRST.match(width_unit):
        own = width_unit.removeprefix("%").strip()
        raise Wrong(
            "quantity",
            f"'{text}' is written '{found['value']} {own} ± {found['width']} %', the unit first",
        )
    else:
        scale, half = unit(width_unit), width
    if half < 0:
        raise Wrong("quantity", f"the uncertainty of '{text}' is negative")
    return Quantity(text, value, scale, Normal(half / coverage), digits)


def _coverage(text: str) -> float:
    """The coverage factor; an expanded uncertainty has k = 2 unless it says so."""
    given = _K.search(plain(text))
    if given and float(given[1]) <= 0:
        raise Wrong("quantity", f"a coverage factor is above zero, not {given[1]}")
    return float(given[1]) if given else 2.0


def _own_width(text: str, scale: Unit, value: float, width: float, width_unit: str) -> float:
    other = unit(width_unit or scale.text)
    if other.text == "%" and scale.dimension == other.dimension and scale.factor == other.factor:
        raise Wrong(
            "quantity",
            f"'{text}' can be read in two ways; write '{value:g} ± {width:g} %' for percentage"
            " points",
        )
    if other.text == "%" and scale.offset:
        raise Wrong(
            "quantity",
            f"'{text}' takes a share of a temperature; write the uncertainty in {scale.text}",
        )
    if other.text == "%":
        return abs(value) * width / 100
    if other.dimension != scale.dimension:
        raise Wrong("dimension", f"the two units of '{text}' are not of one kind")
    return width * other.factor / scale.factor
