"""What charts and tables show, read once: a page draws it, and a file beside it lists it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from calc.book.model import Showing
from calc.problems import Wrong
from calc.whole import Whole
from hooks.charts.values import NotShown

T = TypeVar("T")


class Readings:
    """What the blocks of one whole show, each worked out when it is first asked for."""

    def __init__(self, whole: Whole) -> None:
        self.whole = whole
        self._found: dict[str, Any] = {}

    def of(self, showing: Showing, read: Callable[[Showing, Whole], T]) -> T | None:
        """What a block shows, or None where something that it rests on could not be computed."""
        if showing.id not in self._found:
            try:
                self._found[showing.id] = read(showing, self.whole)
            except (NotShown, Wrong):
                self._found[showing.id] = None
        found: T | None = self._found[showing.id]
        return found
