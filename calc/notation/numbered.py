"""Numbers with a unit, percentages and multiples in prose, in digits and in words."""

from __future__ import annotations

import re
from collections.abc import Iterator

from calc.notation.number_words import NUMBER_WORD, RATIO_WORDS
from calc.notation.units import CURRENCIES, measures

EVERYDAY = frozenset(
    "a act acts am app apps are as at bag bags bars bus care cares cat cats chain chains cup"
    " cups dare de den dens dot dots exact fat fifth fifths fin fins fly grain grains hand hands"
    " has hat hats he in ins link links lis mat mats me molar molecule molecules nat ne nth"
    " particle particles pat pats pin pins pixel pixels point points pole poles quad quads quarter"
    " quarters ramp ramps rare rat rats re rod rods section sections shot shots slug slugs stone"
    " th unit units us b c e k u D G H M P R U"
    " Ba Bi Cl Es Eu Fr Ga Gd Ge Mg Ne Pb Pd Pt Pu Ra Rb Re Rh Ru Ta Tc Te Th Tl Tm Yb".split()
)
"""Words, letters and chemical elements that pint takes for units and prose does not."""

_GAP = r"[^\S\n]*(?:\n[ \t>]*)?"
_PLAIN = r"\d+(?:[ \u00a0\u2009\u202f]\d{3}(?!\d))*(?:[.,\u00b7]\d+)?(?:[eE][-+]?\d+)?"
_TEN = r"10(?:[\u2070\u00b9\u00b2\u00b3\u2074-\u2079\u207a\u207b]+|\^[-+\u2212]?\d+)"
_FRACTION = r"\d*[\u00bc-\u00be\u2150-\u215e]|\d+/\d+(?![\d/])"
_DIGITS = rf"(?:{_TEN}|{_FRACTION}|(?:{_PLAIN}|\.\d+)(?:\s?[\u00d7\u00b7*x]\s?{_TEN})?)"
_MANY = r"(?:\s?(?:hundred|thousand|million|billion|trillion|dozen|bn|mn)\b)?"
_SIGN = "[$\u20ac\u00a3\u00a5]"
_CODE = "|".join(sorted(CURRENCIES))
_COUNTED = (
    f"(?:{RATIO_WORDS}|percents?|per ?mille"
    r"|degrees?|deg|pp[mb]|dB|rpm|kWp|[Cc]elsius|nautical miles?"
    r"|(?:US )?dollars?|euros?|cents?)\b|\u00b0(?![A-Za-z])"
)
_LETTERS = r"[A-Za-z\u00b5\u03bc\u03a9\u2126\u00b0\u00ba\u2103]+"
_POWER = r"(?:(?<=m)[23]\b|[\u207b\u00b9\u00b2\u00b3\u2074-\u2079]+|\^[-\u2212]?\d+)?"
_NUMBER = re.compile(
    r"(?<![\w.,\u00b7/#^\u00bc-\u00be])(?<!(?<!\d)-)"
    rf"(?:{_DIGITS}{_GAP}(?:[\u2013-]|\bto\b){_GAP})?[-+\u2212~]?{_DIGITS}(?:\(\d{{1,3}}\))?{_MANY}"
    r"(?!(?:st|nd|rd|th)\b|(?<=\d\d\d0)s\b)"
    rf"(?:{_GAP}(?P<sure>[%\u2030](?!\w)|\u00d7(?!\w|{_GAP}\d)|(?<=\d)x(?![\w-])|[kmM]?{_SIGN})"
    rf"|(?:{_GAP}|-)(?P<counted>{_COUNTED})"
    rf"|(?:{_GAP}|-)(?:(?:square|cubic)\s)?(?P<unit>{_LETTERS}){_POWER}(?!\w))"
)
_ANY_CASE = frozenset("wh kwh mwh gwh twh ah mah".split())
"""Units that are often typed in other letters than they have."""
_START = re.compile("[\\d\u00bc-\u00be\u2150-\u215e]+")
_MONEY_BEFORE = re.compile(rf"(?<!\w)(?:(?:US|AU|CA|NZ|HK)?{_SIGN}|(?:{_CODE})\s?)\s?$")
_MONEY = re.compile(r"\d[\d ,.]*\d|\d")
_MORE = re.compile(rf"[/\u00b7*\u22c5 \u00a0-]?(?P<unit>{_LETTERS}){_POWER}(?!\w)")
_RATIO = re.compile(rf"(?:{RATIO_WORDS})\b")
_COUNT_BEFORE = re.compile(rf"\b{NUMBER_WORD}[\s-]*$", re.I)
_LONGEST = 24  # letters of a number in words, the gap after it included
_FACTOR = re.compile(rf"\b(?:[Aa] )?factor of \d+(?:\.\d+)?|\b[Aa] factor of {NUMBER_WORD}\b")


def numbers_with_units(prose: str) -> list[tuple[int, int]]:
    """Where every number with a unit, percentage and multiple begins and ends, in order."""
    return sorted((*numbers_in_digits(prose), *_in_words(prose)))


def numbers_in_digits(prose: str) -> Iterator[tuple[int, int]]:
    """The same of numbers in digits alone."""
    done = 0
    for digits in _START.finditer(prose):
        if digits.start() >= done and (found := _from(prose, digits.start())):
            yield found
            done = found[1]


def _from(prose: str, first: int) -> tuple[int, int] | None:
    """Where the loose figure begins and ends whose first digit stands there, if there is one."""
    before = prose[max(0, first - 6) : first]
    if money := _MONEY_BEFORE.search(before):
        end = _MONEY.match(prose, first)
        return first - len(before) + money.start(), end.end() if end else first
    start = first - bool(re.search(r"(?<!\d)[-+\u2212~.]$", before))
    found = _NUMBER.match(prose, start)
    if found is None or found["unit"] is None:
        return found and found.span()
    unit, after = found["unit"], found.end()
    part_of_word = len(unit) == 1 and prose[after : after + 1] == "-"  # T-shirts
    return None if part_of_word or not is_unit(unit) else (start, _end_of_unit(prose, after))


def is_unit(word: str) -> bool:
    """Whether a word after a number is its unit, as prose goes: V, volts, Volts, not cells."""
    word = word.replace("\u00ba", "\u00b0")
    if word.lower() in _ANY_CASE:
        return True
    if word in EVERYDAY or (len(word) > 1 and word.lower() in EVERYDAY):
        return False
    return measures(word) or (len(word) > 3 and measures(word.lower()))


def _end_of_unit(prose: str, end: int) -> int:
    found = _MORE.match(prose, end)
    while found and is_unit(found["unit"]):
        end = found.end()
        found = _MORE.match(prose, end)
    return end


def _in_words(prose: str) -> Iterator[tuple[int, int]]:
    for found in _RATIO.finditer(prose):
        first = max(0, found.start() - _LONGEST)
        if count := _COUNT_BEFORE.search(prose[first : found.start()]):
            yield first + count.start(), found.end()
    for found in _FACTOR.finditer(prose):
        yield found.span()
