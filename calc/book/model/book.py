"""The book as a whole: its pages with what they show, and everything by its id."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from calc.book.logs import Log
from calc.book.model.entries import Place, Sheet, Source
from calc.book.model.statements import Claim, Correction, Estimates, Forecast, Question
from calc.book.model.workings import Calc, Method
from calc.book.settings import Settings
from calc.notation.loose import Loose
from calc.notation.prose import Figure
from calc.problems import Problem


@dataclass(frozen=True)
class Showing:
    """A chart, table or explore panel: its kind, its id, and its fields as texts."""

    id: str
    kind: str
    title: str
    place: Place
    fields: Mapping[str, object]


Block = Calc | Method | Claim | Estimates | Forecast | Question | Correction | Showing


@dataclass(frozen=True)
class Page:
    """A page as read: its text, what is in its front matter, and where its blocks stand.

    `fences` maps the offsets of a block in `text` to its id.
    """

    file: str
    path: str
    text: str
    body: int
    title: str
    meta: Mapping[str, object]
    figures: tuple[Figure, ...]
    loose: tuple[Loose, ...]
    fences: tuple[tuple[int, int, str], ...]


@dataclass(frozen=True)
class Book:
    """Everything that was read; `lost` are ids of what stands there and could not be read."""

    pages: tuple[Page, ...]
    sources: Mapping[str, Source]
    sheets: Mapping[str, Sheet]
    calcs: Mapping[str, Calc]
    methods: Mapping[str, Method]
    claims: Mapping[str, Claim]
    estimates: Mapping[str, Estimates]
    forecasts: Mapping[str, Forecast]
    questions: Mapping[str, Question]
    corrections: Mapping[str, Correction]
    showings: Mapping[str, Showing]
    logs: Mapping[str, Log]
    problems: tuple[Problem, ...]
    settings: Settings = field(default_factory=Settings)
    lost: frozenset[str] = frozenset()
