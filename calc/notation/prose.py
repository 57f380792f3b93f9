"""Prose: figures, which are numbers bound to a value.

A figure is a Markdown link whose address starts with calc:, quote: or given:.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from calc.notation.number_words import in_digits
from calc.notation.visible import MARK, blanked, without_code

CALC, QUOTE, GIVEN = "calc", "quote", "given"

_FIGURE = re.compile(
    r"\[(?P<text>[^\]\[]*)\]\((?P<scheme>calc|quote|given):(?P<target>[^)\s\"]*)"
    r"(?:\s+(?P<quote>[\"'])(?P<title>[^\"\n]*?)(?P=quote))?\s*\)"
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
class Unread:
    """An address of a figure that stands in no link that could be read."""

    text: str
    line: int


@lru_cache(maxsize=8)
def figures(text: str) -> tuple[Figure, ...]:
    """Every figure of a page, in order."""
    return tuple(_figures(text))


def _figures(text: str) -> Iterator[Figure]:
    line, at = 1, 0
    for found in _FIGURE.finditer(without_code(text)):
        line += text.count("\n", at, found.start())
        at = found.start()
        stated = re.sub(r"\s+", " ", text[found.start("text") : found.end("text")]).strip()
        title = found["title"] or ""
        yield Figure(
            stated, found["scheme"], found["target"], title, line, found.start(), found.end()
        )


def unread_figures(text: str) -> tuple[Unread, ...]:
    """Every address of a figure that stands in no link that could be read."""
    prose = without_code(text)
    without = _FIGURE.sub(lambda found: re.sub(r"[^\n]", " ", found.group()), prose)
    return tuple(
        Unread(
            re.sub(r"\s+", " ", found.group()).strip(" ]"),
            without.count("\n", 0, found.start()) + 1,
        )
        for found in _UNREAD.finditer(without)
    )


def without_figures(text: str) -> str:
    """The page's text with a mark for every figure and no block, line by line.

    A link that states no number is no figure, and its text stays: 5 [kg](given:unit) is loose.
    """
    return _FIGURE.sub(_marked, blanked(text))


def _marked(found: re.Match[str]) -> str:
    stated = found["text"]
    if stated and not re.search(r"\d", in_digits(stated)):
        return stated
    return MARK + "\n" * found.group().count("\n")
