"""A printed value beside the method page that has to give it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tests.helpers import run_method
from tests.printed import agrees

MEMORY = "from memory, to be confirmed"


@dataclass(frozen=True)
class Row:
    """What a source printed for a step of a method on given quantities, with its mark."""

    method: str
    given: Mapping[str, str]
    step: str
    printed: str
    source: str
    mark: str

    def __str__(self) -> str:
        return f"{self.method}({', '.join(self.given.values())}).{self.step}={self.printed}"

    def check(self) -> None:
        """Raises: AssertionError when the page's own formula gives another value or unit."""
        number, _, unit = self.printed.partition(" ")
        value, shown = run_method(self.method, self.given)[self.step]
        assert (shown if shown != "1" else "") == unit
        assert agrees(number, value), f"{value} {shown}; {self.source}; {self.mark}"
