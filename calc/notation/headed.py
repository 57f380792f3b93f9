"""Bare numbers in tables whose unit stands in the heading: `Mass / kg` over `999`."""

from __future__ import annotations

import re
from collections.abc import Iterator

from calc.notation.numbered import is_unit

_RULE = re.compile(r"\n[ \t>]*[|:-][-|:\t ]*(?=\n|\Z)")
_EDGE = re.compile(r"[ \t>]*\|?")
_CELL = re.compile(r"(?P<cell>(?:\\\||[^|])*)(?:\||$)")
_UNIT = re.compile(r"(?:/\s*|\(|\bin\s+)(?P<unit>[^\s()][^()]*?)\s*\)?$")
_WHOLE = re.compile(r"(?P<unit>[^\s/]+/[^\s/]+)")
_FIRST = re.compile(r"%|\u2030|ppm|[^\W\d_]+")
_BARE = re.compile(r"(?=[^\n]*\d)[^A-Za-z\ufffc]*(?:to[^A-Za-z\ufffc]*)?")


def numbers_under_units(prose: str) -> Iterator[tuple[int, int, str]]:
    """Where every bare number under a heading with a unit begins and ends, and the unit."""
    for rule in _RULE.finditer(prose):
        if "|" in rule.group() and "-" in rule.group():
            head = prose.rfind("\n", 0, rule.start()) + 1
            yield from _under(prose, head, rule.end() + 1)


def _under(prose: str, head: int, at: int) -> Iterator[tuple[int, int, str]]:
    units = [_unit_of(prose[start:end]) for start, end in _cells(prose, head)]
    while any(units) and "|" in prose[at : (end_of_line := _end(prose, at))]:
        for unit, (start, end) in zip(units, _cells(prose, at), strict=False):
            if unit and _BARE.fullmatch(prose[start:end]):
                yield start, end, unit
        at = end_of_line + 1


def _end(prose: str, at: int) -> int:
    end = prose.find("\n", at)
    return len(prose) if end < 0 else end


def _cells(prose: str, start: int) -> list[tuple[int, int]]:
    """Where the cells of a line begin and end, without the pipes around it."""
    end = _end(prose, start)
    edge = _EDGE.match(prose, start, end)
    first = edge.end() if edge else start
    return [found.span("cell") for found in _CELL.finditer(prose, first, end)]


def _unit_of(heading: str) -> str:
    """The unit that a heading ends with, or ""."""
    found = _WHOLE.fullmatch(heading.strip()) or _UNIT.search(heading.strip())
    first = _FIRST.match(found["unit"]) if found else None
    if found is None or first is None:
        return ""
    sure = first.group() in ("%", "\u2030", "ppm") or is_unit(first.group())
    return found["unit"] if sure else ""
