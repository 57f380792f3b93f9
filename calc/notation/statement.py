"""Statements: what a stated number says, hedges and digits included.

One reader serves figures in prose and claims alike: `about 270 Wh/kg`, `at least 3 times`,
`260 to 280 Wh/kg`, `270 ± 4 Wh/kg`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from difflib import get_close_matches
from functools import lru_cache
from html import unescape

from calc.notation.number_words import SHARES, in_digits
from calc.notation.quantity import last_place, number
from calc.notation.rounding import last_nonzero_digit
from calc.notation.spelling import MULTIPLIERS, NUMBER, one_spelling
from calc.notation.units import PLAIN, NoUnit, Unit, unit
from calc.problems import Wrong

EXACTLY, ABOUT, NEARLY, AT_LEAST, AT_MOST = "exactly", "about", "nearly", "at least", "at most"
RANGE, PLUS_MINUS = "range", "plus or minus"
LOOSELY = (ABOUT, NEARLY)
"""Forms that bind the last digit that is not zero; "nearly" agrees from below alone."""

_HEDGES = (
    (ABOUT, r"about|roughly|around|approximately|some|close to|~|\u2248"),
    (NEARLY, r"nearly|almost"),
    (AT_LEAST, r"at least|over|more than|no less than|not less than|above|from|>=|>|\u2265"),
    (
        AT_MOST,
        r"at most|under|less than|fewer than|up to|no more than|not more than|below|<=|<|\u2264",
    ),
)
_HEDGE = tuple(
    (name, re.compile(rf"(?:{words})(?:\s+|(?=[\d.+-]))", re.I)) for name, words in _HEDGES
)
_DIGITS = rf"(?<![\w.]){NUMBER}"
_OWN = r"(?:\D|(?<=[\^*])\d|(?<=[\^*]-)\d)"  # a unit between two numbers, with its powers
_MANY = rf"(?: (?:{'|'.join(MULTIPLIERS)})\b)?"
_ONE = re.compile(rf"(?P<a>{_DIGITS}{_MANY})\s*(?P<unit>.*)$")
_PLUS = re.compile(
    rf"(?P<a>{_DIGITS}{_MANY})\s*(?P<own>[^\d\u00b1+]*?)\s*(?:\u00b1|\+/-)\s*"
    rf"(?P<b>{_DIGITS}{_MANY})\s*(?P<unit>.*)$"
)
_RANGE = re.compile(
    rf"(?P<lead>between\s+|from\s+)?(?P<a>{_DIGITS}{_MANY})\s*(?P<own>{_OWN}*?)\s*"
    rf"(?P<join>\bto\b|\band\b)\s*(?P<b>{_DIGITS}{_MANY})\s*(?P<unit>.*)$"
)
_CONCISE = re.compile(rf"(?P<a>{_DIGITS})\s?\((?P<b>\d+)\)\s*(?P<unit>.*)$")
_COVERAGE = re.compile(r"\(\s*k\s*=")
_TIMES = re.compile(r"^(?:times|\*|x|fold|-fold)(?:\s+(?:as|the|more|what)\b.*)?$")
_PER_COUNT = re.compile(
    r"\s+(?:per|an?)\s+(?:crossing|trip|cell|turn|layer|cycle|pack|day of service)$"
)
_POWERS = {"square": 2, "cubic": 3}
_POWER_IN_WORDS = re.compile(r"\b(square|cubic)\s+(\w+)")
_NOUN = re.compile(r"[A-Za-z][a-z]{2,}(?:[ -][a-z]+)*")
_UNIT_WORDS = (
    "kilowatts kilowatt-hours megawatts watt-hours millivolts amperes milliamperes ampere-hours"
    " kilograms milligrams tonnes kilometres millimetres micrometres metres litres minutes seconds"
    " degrees"
).split()
"""Units in words that a slip turns into a noun."""
_POINTS = re.compile(r"percentage[ -]points?")
_WITHIN = re.compile(r"\s*,?\s*\bwithin\s+(.+)$")
_NO_COUNT = re.compile(
    r"(?<!-)\b(?:hundreds?|thousands?|[mbtr]+illions?|dozens?|hal(?:f|ves)|thirds?|quarters?|"
    r"(?:four|fif|six|seven|eigh|nin|ten|eleven|twelf|hundred|thousand|[mb]illion)ths?|"
    r"mille|basis|magnitude|times|fewer|less|and|out of|one|two|three|four|five|six|seven|eight|"
    r"nine|ten)\b(?!-)",
    re.I,
)
"""Words that change the number before them; what follows a number is else what it counts."""


@dataclass(frozen=True)
class Statement:
    """What a text states of a quantity.

    `digits` are the numbers as typed, in `unit`; two of them for a range and for ±.
    `noun` is set when what follows the number is a plain word for what is counted.
    `within` is a tolerance given in words ("10 %"), or "".
    """

    text: str
    form: str
    digits: tuple[str, ...]
    unit: Unit
    noun: str = ""
    within: str = ""

    @property
    def numbers(self) -> tuple[float, ...]:
        """The stated numbers, in `unit`."""
        return tuple(number(digits) for digits in self.digits)

    def place(self, index: int = 0) -> Decimal:
        """What one unit in the binding digit of a number is worth, in `unit`.

        The last digit binds; after "about" and its like, the last that is not zero.
        """
        if self.form not in LOOSELY:
            return last_place(self.digits[index])
        return last_nonzero_digit(self.mantissa(index)).scaleb(self.power(index))

    def mantissa(self, index: int = 0) -> str:
        """The digits of a number without what multiplies it: `1.8` of `1.8 million` or `1.8e6`."""
        return _MULTIPLIED.sub("", self.digits[index])

    def power(self, index: int = 0) -> int:
        """The power of ten that multiplies the mantissa of a number."""
        found = _MULTIPLIED.search(self.digits[index])
        if not found:
            return 0
        return MULTIPLIERS[found["word"]] if found["word"] else int(found["exponent"])

    def restated(self, *mantissas: str) -> str:
        """The same wording with other mantissas, in order."""
        waiting = iter(mantissas)
        return _FIND.sub(lambda found: next(waiting, found.group()), in_digits(self.text))

    def said_about(self) -> Statement:
        """The same with "about" in place of its hedge."""
        _, body = _hedge(self.text)
        return parse_statement(f"{ABOUT} {body}")


_MULTIPLIED = re.compile(rf"[eE](?P<exponent>[-+]?\d+)$| (?P<word>{'|'.join(MULTIPLIERS)})$")
_FIND = re.compile(
    r"(?<![\w.^/])(?<!\w\*\*)(?<!\^[-\u2212])(?<![\u00d7\u00b7])(?<![\u00d7\u00b7] )"
    r"[-+\u2212]?\d+(?:[ \u00a0\u2009\u202f]\d{3})*(?:\.\d+(?:[ \u00a0\u2009\u202f]\d{1,3})*)?"
)
"""The mantissas of a text; not exponents, nor the ten of a power of ten."""


@lru_cache(maxsize=65536)
def parse_statement(text: str) -> Statement:
    """What a figure's or a claim's text says.

    Raises: Wrong (kind "statement" or "unit") when it is no number in the notation.

    >>> parse_statement("about 270 Wh/kg").form
    'about'
    """
    body, within = _without_tolerance(_tidy(text))
    form, body = _hedge(body)
    _only_expanded(text, body)
    factor = re.match(r"(?:by )?a factor of (.*)$", body)
    if factor:
        body = f"{factor[1]} times"
    if form == EXACTLY and (found := _PLUS.match(body)):
        return _pair(text, PLUS_MINUS, found, within)
    found = _RANGE.match(body)
    if found and (found["join"] == "to" or found["lead"]):
        if form != EXACTLY:
            raise Wrong("statement", f"'{text}' is a range and '{form}' at once; write one of them")
        return _pair(text, RANGE, found, within)
    if found := _ONE.match(body):
        scale, noun = _unit_or_noun(found["unit"])
        return Statement(text, form, (found["a"],), scale, noun, within)
    raise Wrong(
        "statement",
        f"'{text}' does not read as a number; write it like '270 Wh/kg', 'about 270 Wh/kg',"
        " '260 to 280 Wh/kg' or 'at least 3 times', and keep other words outside the link",
    )


def _only_expanded(text: str, body: str) -> None:
    """In prose ± is the expanded uncertainty, and nothing else is."""
    if found := _CONCISE.match(body):
        expanded = 2 * int(found["b"]) * last_place(found["a"])
        raise Wrong(
            "statement",
            f"'{text}' gives a standard uncertainty; in prose write the expanded one, k = 2:"
            f" '{found['a']} \u00b1 {expanded} {found['unit']}'",
        )
    if _COVERAGE.search(body):
        raise Wrong(
            "statement", f"'{text}' names a k; in prose write the expanded uncertainty, k = 2"
        )


def _tidy(text: str) -> str:
    bare = re.sub(r"[*`]+|(?<!\w)_+(?=\w)|(?<=\w)_+(?!\w)", "", unescape(text))
    return re.sub(r"(?<=\d)-(?=[a-z])", " ", one_spelling(in_digits(bare)))


def _without_tolerance(body: str) -> tuple[str, str]:
    found = _WITHIN.search(body)
    return (body[: found.start()], found[1].strip()) if found else (body, "")


def _hedge(body: str) -> tuple[str, str]:
    if re.match(r"from .* to ", body):
        return EXACTLY, body
    for form, words in _HEDGE:
        if found := words.match(body):
            return form, body[found.end() :].strip()
    return EXACTLY, body


def _pair(text: str, form: str, found: re.Match[str], within: str) -> Statement:
    first, second = found["a"], found["b"]
    word = second.rpartition(" ")[2]
    if word in MULTIPLIERS and first.rpartition(" ")[2] not in MULTIPLIERS:
        first = f"{first} {word}"
    scale, noun = _unit_or_noun(found["unit"] or found["own"])
    own = found["own"].strip()
    if own and found["unit"] and unit_in_words(own) != unit_in_words(found["unit"]):
        raise Wrong("statement", f"the two numbers of '{text}' carry different units")
    return Statement(text, form, (first, second), scale, noun, within)


def _unit_or_noun(text: str) -> tuple[Unit, str]:
    written = text.strip().rstrip(".,;:")
    if _TIMES.match(written):
        return unit("1"), "times"
    if _POINTS.fullmatch(written):
        return unit("%"), ""
    if written in SHARES:
        return Unit(written, SHARES[written], 0.0, PLAIN), ""
    if changed := _NO_COUNT.search(written):
        raise Wrong(
            "statement",
            f"'{changed.group()}' in '{written}' changes the number before it; write the number"
            " out, and other words outside the link",
        )
    try:
        return unit_in_words(_PER_COUNT.sub("", written)), ""
    except NoUnit:
        if not _NOUN.fullmatch(written):
            raise
    _no_slip(written)
    return unit("1"), written


def _no_slip(noun: str) -> None:
    """Raises: Wrong when a noun is perhaps a unit with a slip in it, or money without its year."""
    if noun in ("dollars", "euros", "pounds", "yen"):
        raise Wrong(
            "unit", f"money carries its price year; write '5 USD (2024 prices)', not {noun}"
        )
    if meant := get_close_matches(noun, _UNIT_WORDS, 1, 0.85):
        raise Wrong("unit", f"no unit is called '{noun}'; did you mean {meant[0]}?")


def unit_in_words(text: str) -> Unit:
    """A unit as prose may spell it: `Wh per kg`, `per cent`, `kilowatt-hours`."""
    spelled = re.sub(r"\bper ?cent\b", "%", text.strip())
    spelled = _POWER_IN_WORDS.sub(lambda found: f"{found[2]}^{_POWERS[found[1]]}", spelled)
    spelled = re.sub(r"\s+(?:per|an?)\s+", "/", spelled)
    spelled = re.sub(r"(?<=[a-z])-(?=[a-z])", " ", spelled)
    return unit(spelled)
