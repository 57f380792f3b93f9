"""Prose: figures bound to a value, and loose figures that are not.

A figure is a Markdown link whose address starts with calc:, quote: or given:. Anything else
that looks like a number with a unit, a percentage or a multiple is loose.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from html import unescape

from calc.notation.blocks import fences, front_matter

CALC, QUOTE, GIVEN = "calc", "quote", "given"

_FIGURE = re.compile(
    r"\[(?P<text>[^\]\[]*)\]\((?P<scheme>calc|quote|given):(?P<target>[^)\s\"]*)"
    r"(?:\s+(?P<quote>[\"'])(?P<title>[^\"\n]*?)(?P=quote))?\s*\)"
)
_HIDDEN = re.compile(
    r"(?P<code>(?P<ticks>`+)(?!`).+?(?<!`)(?P=ticks)(?!`))"
    r"|<!--.*?-->"
    r"|<[A-Za-z/][^>\n]*>"
    r"|(?<=\])\([^)\n]*\)"
    r"|(?<=\])\[[^\]\n]*\]"
    r"|^\[[^\]]+\]:[^\n]*$"
    r"|\{[:#.][^}\n]*\}"
    r"|https?://[^\s)>]+",
    re.S | re.M,
)
_PREFIXED = "V A W Wh Ah g m L mol Hz J N Pa bar K ohm \u03a9 \u2126 F S C eV t".split()
_BARE = (
    "% \u2030 \u00b0C \u00b0 s h min d kg km \u00b5m um ppm ppb degC ha l kn nmi MPa GPa kWp rpm"
    " USD EUR GBP JPY CNY AUD CAD CHF"
).split()
_WORDS = (
    "percent|per ?cent|volts?|amps?|amperes?|watts?|kilowatts?|megawatts?|gigawatts?|"
    "(?:kilo|mega|giga|tera|milli)?watt[- ]hours?|(?:milli)?amp(?:ere)?[- ]hours?|"
    "seconds?|minutes?|hours?|days?|weeks?|months?|years?|metres?|kilometres?|millimetres?|micrometres?|microns?|miles?|"
    "nautical miles?|grams?|kilograms?|milligrams?|tonnes?|litres?|millilitres?|degrees?|kelvin|"
    "ohms?|milliohms?|joules?|megajoules?|pascals?|dollars?|euros?|knots?|moles?|"
    "times|fold|percentage points?"
)
_SYMBOL = (
    r"(?:"
    + "|".join(sorted(map(re.escape, _BARE), key=len, reverse=True))
    + r"|[\u00b5umkcdMGTpn]?(?:"
    + "|".join(sorted(map(re.escape, _PREFIXED), key=len, reverse=True))
    + r"))"
)
_SPACE = r"[\s\u00a0\u2009\u202f]"
_DIGITS = r"\d+(?:[ \u00a0\u2009\u202f]\d{3})*(?:[.,]\d+)?(?:[eE][-+]?\d+)?"
_ORDINAL = r"(?!(?:st|nd|rd|th)\b|(?<=\d\d\d0)s\b)"
_MONEY = "[$\u20ac\u00a3]|(?:USD|EUR|GBP|JPY|CNY|AUD|CAD|CHF) ?"
_LOOSE = re.compile(
    r"(?<![\w.,\u00b7/#^])(?<!(?<!\d)-)"
    rf"(?:{_DIGITS}{_SPACE}*(?:[\u2013-]|\bto\b){_SPACE}*)?"
    rf"[-+\u2212~]?{_DIGITS}(?:{_SPACE}(?:thousand|million|billion|trillion))?"
    rf"[*_]{{0,3}}{_ORDINAL}(?:(?:{_SPACE}|-)?(?:{_WORDS})\b"
    rf"|{_SPACE}?(?:[%\u2030](?!\w)|\u00d7(?!\w|{_SPACE}*\d))"
    rf"|(?:{_SPACE}|-)?{_SYMBOL}(?:[/\u00b7*\u22c5 \u00a0]?{_SYMBOL}"
    r"|[/]?[a-z]{1,2}[\u00b2\u00b3]|[\u207b\u00b9\u00b2\u00b3]+|\^-?\d)*(?![\w\u00b0]|-\w))"
    rf"|(?<!\w)(?:{_MONEY})\s?\d[\d ,.]*\d?"
    r"|\ba factor of \d+(?:\.\d+)?"
)
_UNREAD = re.compile(
    r"\]\s?\(\s*<?\s*(?:calc|quote|given)\s*:[^)\n]*\)?|^\[[^\]\n]+\]:\s*(?:calc|quote|given):[^\n]*",
    re.I | re.M,
)


@dataclass(frozen=True)
class Figure:
    """A number stated in prose, bound to a value.

    `start` and `end` are offsets of the whole link in the page's text.
    """

    text: str
    scheme: str
    target: str
    title: str
    line: int
    start: int
    end: int


@dataclass(frozen=True)
class Loose:
    """A number with a unit in prose that nothing stands behind."""

    text: str
    line: int


def blanked(text: str) -> str:
    """The page's text with front matter and fenced blocks blanked out, offsets unchanged."""
    _, body = front_matter(text)
    pieces = [_blank(text[:body])]
    at = body
    for fence in fences(text):
        if fence.start >= body:
            pieces += [text[at : fence.start], _blank(text[fence.start : fence.end])]
            at = fence.end
    return "".join(pieces) + text[at:]


def _blank(text: str) -> str:
    return re.sub(r"[^\n]", " ", text)


def _without_code(text: str) -> str:
    """Code spans and comments blanked, offsets unchanged."""
    return _HIDDEN.sub(
        lambda found: (
            _blank(found.group())
            if found["code"] or found.group().startswith("<!--")
            else found.group()
        ),
        text,
    )


@lru_cache(maxsize=8)
def figures(text: str) -> tuple[Figure, ...]:
    """Every figure of a page, in order."""
    return tuple(_figures(text))


def _figures(text: str) -> Iterator[Figure]:
    line, at = 1, 0
    for found in _FIGURE.finditer(_without_code(blanked(text))):
        line += text.count("\n", at, found.start())
        at = found.start()
        stated = re.sub(r"\s+", " ", text[found.start("text") : found.end("text")]).strip()
        title = found["title"] or ""
        yield Figure(
            stated, found["scheme"], found["target"], title, line, found.start(), found.end()
        )


def loose_figures(text: str) -> tuple[Loose, ...]:
    """Every number with a unit, percentage or multiple that is bound to nothing."""
    without = _FIGURE.sub(lambda found: _blank(found.group()), blanked(text))
    prose = unescape(_HIDDEN.sub(lambda found: _blank(found.group()), without))
    return tuple(_said(found, prose) for found in _LOOSE.finditer(prose))


def unread_figures(text: str) -> tuple[Loose, ...]:
    """Every address of a figure that stands in no link that could be read."""
    prose = _without_code(blanked(text))
    without = _FIGURE.sub(lambda found: _blank(found.group()), prose)
    return tuple(_said(found, without) for found in _UNREAD.finditer(without))


def _said(found: re.Match[str], text: str) -> Loose:
    said = re.sub(r"\s+|(?<=\d)[*_]+", " ", found.group()).strip(" ]")
    return Loose(re.sub(" +", " ", said), text.count("\n", 0, found.start()) + 1)
