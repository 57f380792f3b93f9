"""The procedures of the trade as the planner sees them: names, kinds and units."""

from __future__ import annotations

from collections.abc import Mapping

from calc.cell.catalogue import PROCEDURES
from calc.notation.dimensions import Kind, Series, Signature
from calc.notation.units import unit


def signatures() -> Mapping[str, Signature]:
    """What every procedure takes and gives, with units looked up."""
    return {
        name: Signature(
            {parameter: _kind(text) for parameter, text in row.takes.items()},
            {field: unit(text) for field, text in row.gives.items()},
        )
        for name, row in sorted(PROCEDURES.items())
    }


def _kind(text: str) -> Kind | None:
    if text == "text":
        return None
    if text.startswith("series"):
        return Series(unit(text.removeprefix("series").strip()).dimension)
    return unit(text).dimension
