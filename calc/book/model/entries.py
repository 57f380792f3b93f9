"""What enters: quantities with their sources, one by one and as the sheet of a subject."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from calc.notation.quantity import Quantity

ASSUMPTION = "assumption"


@dataclass(frozen=True)
class Place:
    """A line of a file."""

    file: str
    line: int


@dataclass(frozen=True)
class Source:
    """Where values come from, in the names of CSL-JSON, with its kind and mark.

    `mark` says whether the text was at hand: seen, copy or memory.
    """

    id: str
    kind: str
    mark: str
    title: str
    place: Place
    csl: Mapping[str, object] = field(default_factory=dict)
    note: str = ""


@dataclass(frozen=True)
class Input:
    """A quantity that enters: a value with its source, a reference, or a column of a log."""

    name: str
    place: Place
    quantity: Quantity | None = None
    reference: str = ""
    log: str = ""
    column: str = ""
    source: str = ""
    mark: str = ""
    because: str = ""
    about: str = ""
    symbol: str = ""
    review_by: str = ""


@dataclass(frozen=True)
class Correlation:
    """Two inputs that share an error, with their correlation coefficient."""

    first: str
    second: str
    r: float
    place: Place


@dataclass(frozen=True)
class Sheet:
    """The inputs of one subject; `lost` are those that could not be read."""

    id: str
    title: str
    kind: str
    about: str
    place: Place
    inputs: tuple[Input, ...]
    lost: tuple[str, ...] = ()
