"""Loose figures: numbers with a unit, percentages and multiples that are bound to nothing."""

from __future__ import annotations

import re
from dataclasses import dataclass

from calc.notation.headed import numbers_under_units
from calc.notation.numbered import numbers_with_units
from calc.notation.prose import without_figures
from calc.notation.visible import as_read


@dataclass(frozen=True)
class Loose:
    """A number with a unit in prose that nothing stands behind."""

    text: str
    line: int


def loose_figures(text: str) -> tuple[Loose, ...]:
    """Every number of a page with a unit, percentage or multiple that is bound to nothing."""
    prose = as_read(without_figures(text))
    found = [_said(prose, start, end) for start, end in numbers_with_units(prose)]
    found += [_said(prose, start, end, unit) for start, end, unit in numbers_under_units(prose)]
    return tuple(sorted(found, key=lambda each: each.line))


def _said(prose: str, start: int, end: int, unit: str = "") -> Loose:
    said = re.sub(r"\s+(?:>\s*)*", " ", f"{prose[start:end].strip()} {unit}").strip()
    return Loose(said, prose.count("\n", 0, start) + 1)
