"""What the judges hand on: figures, checks and claims, each with whether it agrees."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from calc.book.model import Check, Place
from calc.notation.prose import Figure


@dataclass(frozen=True)
class JudgedFigure:
    """A figure in prose against what is recomputed.

    `of` is the id of the result, claim or reason that it names; `agrees` is None where nothing
    can be said (its result could not be computed, or it is a given number). `recomputed` is the
    value as the text would state it, `would_agree` the whole text that would agree, and `shown`
    what the page prints: the text, or for an empty one what fills it.
    """

    figure: Figure
    page: str
    place: Place
    of: str
    agrees: bool | None
    recomputed: str = ""
    would_agree: str = ""
    shown: str = ""


@dataclass(frozen=True)
class JudgedCheck:
    """A check of a method against the outside world."""

    method: str
    check: Check
    name: str
    given: Mapping[str, str]
    expected: str
    computed: str
    agrees: bool
    source: str
    mark: str
