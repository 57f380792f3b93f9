"""What a reader may call an input that a result rests on."""

from __future__ import annotations

from calc.engine.results import AND
from calc.whole import Whole
from hooks.wording import spoken

_SHORT = 24
"""Characters of a title that may stand in brackets after a name."""


def input_label(name: str, whole: Whole) -> str:
    """An input by its name as shares have it; one from elsewhere says whose it is.

    Inputs that have one share together are named together.
    """
    if AND in name:
        return AND.join(input_label(each, whole) for each in name.split(AND))
    block, dot, rest = name.rpartition(".")
    if not dot:
        return spoken(name)
    holder = whole.book.sheets.get(block) or whole.book.calcs.get(block)
    home = holder.title if holder and len(holder.title) < _SHORT else block.replace("-", " ")
    return f"{spoken(rest)} ({home})"
