"""Statements: what a stated number says, hedges and digits included.

One reader serves figures in prose and claims alike: `about 270 Wh/kg`, `at least 3 times`,
`260 to 280 Wh/kg`, `270 ± 4 Wh/kg`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from calc.notation.plain import plain
from calc.notation.quantity import MULTIPLIERS, last_place, number
from calc.notation.rounding import last_nonzero_digit
from calc.notation.units import Unit, unit
from calc.problems import Wrong

EXACTLY, ABOUT, AT_LEAST, AT_MOST = "exactly", "about", "at least", "at most"
RANGE, PLUS_MINUS = "range", "plus or minus"

_HEDGES = (
    (ABOUT, r"about|roughly|around|nearly|approximately|some|almost|close to|~|\u2248"),
    (AT_LEAST, r"at least|over|more than|no less than|not less than|above|from|>=|>|\u2265"),
    (AT_MOST, r"at most|under|less than|up to|no more than|not more than|below|<=|<|\u2264"),
)
_HEDGE = tuple(
    (name, re.compile(rf"(?:{words})(?:\s+|(?=[\d.+-]))", re.I)) for name, words in _HEDGES
)
_DIGITS = r"(?<![\w.])[-+]?\d+(?: \d{3})*(?:\.\d+)?(?:[eE][-+]?\d+)?"
_MANY = rf"(?: (?:{'|'.join(MULTIPLIERS)}))?"
_ONE = re.compile(rf"(?P<a>{_DIGITS}{_MANY})\s*(?P<unit>.*)$")
_PLUS = re.compile(
    rf"(?P<a>{_DIGITS}{_MANY})\s*(?P<own>[^\d\u00b1+]*?)\s*(?:\u00b1|\+/-)\s*"
    rf"(?P<b>{_DIGITS}{_MANY})\s*(?P<unit>.*)$"
)
_BETWEEN = re.compile(
    rf"(?:between\s+|from\s+)?(?P<a>{_DIGITS}{_MANY})\s*(?P<own>[^\d]*?)\s*"
    rf"(?:\bto\b|\band\b)\s*(?P<b>{_DIGITS}{_MANY})\s*(?P<unit>.*)$"
)
_TIMES = re.compile(r"^(?:times|\*|x|fold|-fold)(?:\s+(?:as|the|more|what)\b.*)?$")
_PER_COUNT = re.compile(
    r"\s+(?:per|an?)\s+(?:crossing|trip|cell|turn|layer|cycle|pack|day of service)$"
)
_WITHIN = re.compile(r"\s*,?\s*\bwithin\s+(.+)$")
_WORDS = {
    word: str(count)
    for count, word in enumerate(
        "one two three four five six seven eight nine ten eleven twelve".split(), start=1
    )
}
_WORD = re.compile(rf"\b(?:{'|'.join(_WORDS)})\b(?=[\s-]*times\b)", re.I)


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
        if self.form != ABOUT:
            return last_place(self.digits[index])
        digits, _, word = self.digits[index].rpartition(" ")
        if word in MULTIPLIERS:
            return last_nonzero_digit(digits).scaleb(MULTIPLIERS[word])
        return last_nonzero_digit(self.digits[index])

    def restated(self, *texts: str) -> str:
        """The same wording with other numbers, in order."""
        waiting = iter(texts)
        return _FIND.sub(lambda found: next(waiting, found.group()), _one_for_one(self.text))


_FIND = re.compile(r"(?<![\w.])[-+]?\d+(?:[ \u00a0\u2009\u202f]\d{3})*(?:\.\d+)?(?:[eE][-+]?\d+)?")


def _one_for_one(text: str) -> str:
    return _WORD.sub(lambda found: _WORDS[found.group().lower()], text)


@lru_cache(maxsize=65536)
def parse_statement(text: str) -> Statement:
    """What a figure's or a claim's text says.

    Raises: Wrong (kind "statement" or "unit") when it is no number in the notation.

    >>> parse_statement("about 270 Wh/kg").form
    'about'
    """
    body, within = _without_tolerance(_tidy(text))
    form, body = _hedge(body)
    factor = re.match(r"(?:by )?a factor of (.*)$", body)
    if factor:
        body = f"{factor[1]} times"
    if form == EXACTLY and (found := _PLUS.match(body)):
        return _pair(text, PLUS_MINUS, found, within)
    if form == EXACTLY and (found := _BETWEEN.match(body)):
        return _pair(text, RANGE, found, within)
    if found := _ONE.match(body):
        scale, noun = _unit_or_noun(found["unit"])
        return Statement(text, form, (found["a"],), scale, noun, within)
    raise Wrong(
        "statement",
        f"'{text}' does not read as a number; write it like '270 Wh/kg', 'about 270 Wh/kg',"
        " '260 to 280 Wh/kg' or 'at least 3 times'",
    )


def _tidy(text: str) -> str:
    spelled = _one_for_one(re.sub(r"[*`]+|(?<!\w)_+(?=\w)|(?<=\w)_+(?!\w)", "", text))
    dashes = re.sub("(?<=[\\d\\w%])\\s*\u2013\\s*(?=[\\d-])", " to ", spelled)
    once = re.sub(r"(?<=\d)-(?=\d)", " to ", dashes)
    body = re.sub(r"\s+", " ", plain(once)).strip()
    return re.sub(r"(?<=\d)-(?=[a-z])", " ", body)


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
    try:
        return unit_in_words(_PER_COUNT.sub("", written)), ""
    except Wrong:
        if re.fullmatch(r"[A-Za-z][a-z]{2,}(?:[ -][a-z]+)*", written):
            return unit("1"), written
        raise


def unit_in_words(text: str) -> Unit:
    """A unit as prose may spell it: `Wh per kg`, `per cent`, `kilowatt-hours`."""
    spelled = re.sub(r"\bper ?cent\b", "%", text.strip())
    spelled = re.sub(r"\s+(?:per|an?)\s+", "/", spelled)
    spelled = re.sub(r"(?<=[a-z])-(?=[a-z])", " ", spelled)
    return unit(spelled)
