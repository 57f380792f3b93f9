"""Where a statement is true, in the unit of the value that it is about."""

from __future__ import annotations

from math import inf

from calc.engine.conformity import Region, around
from calc.notation.quantity import parse_quantity
from calc.notation.statement import AT_LEAST, AT_MOST, PLUS_MINUS, RANGE, Statement
from calc.notation.units import Unit


def region_of(said: Statement, scale: Unit) -> Region:
    """The values, in `scale`, for which a statement holds, both ends included."""
    region = _own(said)
    return Region(*(end if abs(end) == inf else scale.from_base(said.unit.to_base(end))
                    for end in (region.low, region.high)))  # fmt: skip


def _own(said: Statement) -> Region:
    first = said.numbers[0]
    if said.form == AT_LEAST:
        return Region(low=first)
    if said.form == AT_MOST:
        return Region(high=first)
    if said.form == RANGE:
        return Region(*sorted(said.numbers))
    if said.form == PLUS_MINUS:
        return Region(first - said.numbers[1], first + said.numbers[1])
    if said.within:
        allowed = parse_quantity(said.within)
        if allowed.unit.text == "%" and said.unit.text != "%":
            return around(first, allowed.value / 100)
        half = allowed.value * allowed.unit.factor / said.unit.factor
        return Region(first - half, first + half)
    half = float(said.place()) / 2
    return Region(first - half, first + half)
