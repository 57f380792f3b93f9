"""What is stated: claims, estimates, forecasts, open questions and corrections."""

from __future__ import annotations

from dataclasses import dataclass

from calc.book.model.entries import Correlation, Input, Place
from calc.notation.quantity import Quantity
from calc.notation.statement import Statement


@dataclass(frozen=True)
class Claim:
    """Somebody's statement about a quantity, and the verdict that the page relies on."""

    id: str
    source: str
    says: Statement
    of: str
    than: str
    verdict: str
    place: Place
    title: str = ""


@dataclass(frozen=True)
class Estimate:
    """One of several values for one quantity; `bound` when it is one-sided."""

    input: Input
    bound: Statement | None = None


@dataclass(frozen=True)
class Estimates:
    """Several values for one quantity, side by side; `lost` are those that could not be read."""

    id: str
    title: str
    place: Place
    values: tuple[Estimate, ...]
    unit: str = ""
    verdict: str = ""
    correlated: tuple[Correlation, ...] = ()
    lost: tuple[str, ...] = ()


@dataclass(frozen=True)
class Forecast:
    """A statement about what will be, with its probability; later its outcome.

    `source` is who makes it; none means whoever writes the pages.
    """

    id: str
    says: str
    probability: Quantity
    registered: str
    due: str
    settles: str
    place: Place
    of: str = ""
    outcome: str = ""
    settled: str = ""
    source: str = ""


@dataclass(frozen=True)
class Question:
    """What is not known, what would settle it, and what hangs on it."""

    id: str
    asks: str
    settles: str
    of: tuple[str, ...]
    review_by: str
    place: Place


@dataclass(frozen=True)
class Correction:
    """The public record of a published figure that changed; `source` is what it changed by."""

    id: str
    date: str
    figure: str
    was: str
    now: str
    reason: str
    place: Place
    source: str = ""
