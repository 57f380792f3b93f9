"""One way to say what is wrong: a place, what was found, and the mend."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches

UNREADABLE = frozenset(
    {
        "file",
        "yaml",
        "block",
        "quantity",
        "unit",
        "dimension",
        "formula",
        "source",
        "reference",
        "cycle",
        "double-id",
        "numeric",
        "valid",
        "log",
        "correlation",
        "estimates",
        "statement",
    }
)
"""Kinds that mean something could not be read or computed (exit code 2)."""


@dataclass(frozen=True, order=True)
class Problem:
    """Something wrong at one place, said in one sentence with its mend.

    `severity` is "error" or "warning"; a warning never fails a build by itself.
    """

    file: str
    line: int
    kind: str
    message: str
    severity: str = "error"

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.message}"


class Wrong(ValueError):
    """What a parser raises: a kind and a sentence, without a place.

    The reader that knows file and line turns it into a Problem. `offset` is the
    number of lines below the start of the text at hand.
    """

    def __init__(self, kind: str, message: str, offset: int = 0) -> None:
        super().__init__(message)
        self.kind = kind
        self.message = message
        self.offset = offset

    def at(self, file: str, line: int) -> Problem:
        """The same, with its place."""
        return Problem(file, line + self.offset, self.kind, self.message)


class Explained(Exception):
    """Raised where something rests on what is wrong and was said at its own place."""


def exit_code(problems: Iterable[Problem]) -> int:
    """0 when nothing is wrong, 2 when something cannot be computed, else 1."""
    errors = {problem.kind for problem in problems if problem.severity == "error"}
    if errors & UNREADABLE:
        return 2
    return 1 if errors else 0


def nearest(name: str, known: Iterable[str]) -> str:
    """A clause that offers the nearest known names, or nothing.

    >>> nearest("enrgy", ["energy", "mass"])
    '; did you mean energy?'
    """
    close = get_close_matches(name, sorted(known), n=3, cutoff=0.6)
    return f"; did you mean {' or '.join(close)}?" if close else ""
