"""What a claim compares: one result with a region, or how one result stands to another."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from calc.book.evidence import CHANGE
from calc.book.model import Claim
from calc.engine.conformity import Region
from calc.engine.results import Solved
from calc.judge.agree import tolerance, unit_like
from calc.judge.targets import Targets
from calc.notation.statement import AT_LEAST, AT_MOST, NEARLY, PLUS_MINUS, RANGE, Statement
from calc.notation.units import PLAIN, Unit
from calc.problems import Wrong

ITSELF, RATIO, RELATIVE_CHANGE, DIFFERENCE = "itself", "ratio", "relative change", "difference"


@dataclass(frozen=True)
class Compared:
    """A quantity made of one or two results, and the region in which a statement is true.

    `targets` are the ids it is made of; `way` is how. Region and values are in `unit`.
    """

    targets: tuple[str, ...]
    way: str
    unit: Unit
    region: Region

    def value(self, found: Mapping[str, Any]) -> Any:
        """The quantity, from the values of its targets in SI base units, floats or arrays."""
        first = found[self.targets[0]]
        if self.way == ITSELF:
            return self.unit.from_base(first)
        second = found[self.targets[1]]
        if self.way == DIFFERENCE:
            return (first - second) / self.unit.factor
        with np.errstate(all="ignore"):  # over nothing it has no value, which is said by the judge
            above = first if self.way == RATIO else first - second
            return above / second / self.unit.factor

    def margin(self, found: Mapping[str, Any]) -> Any:
        """How far inside its region the quantity lies; below zero where the statement is false."""
        value = self.value(found)
        return np.minimum(value - self.region.low, self.region.high - value)


def compared_by(claim: Claim, targets: Targets) -> Compared | None:
    """What a claim compares, or None when a result of it could not be computed.

    Raises: Wrong when it names nothing, or its statement does not fit the result's kind.
    """
    page = next(page for page in targets.book.pages if page.file == claim.place.file)
    ids = [targets.find(id, page) for id in (claim.of, claim.than) if id]
    if not claim.of or not all(_computed(id, targets) for id in ids):
        return None
    said = claim.says
    results = [targets.computation.results[targets.plan.target(id)] for id in ids]
    if len(ids) == 1:
        scale = unit_like(said, results[0])
        return Compared(tuple(ids), ITSELF, scale, region_of(said, scale))
    dimension = results[0].unit.dimension
    if dimension != results[1].unit.dimension:
        raise Wrong(
            "dimension",
            f"{ids[0]} is in '{results[0].unit.text}' and {ids[1]} in '{results[1].unit.text}';"
            " only quantities of one kind compare",
        )
    if said.unit.dimension == PLAIN:
        way = RELATIVE_CHANGE if said.noun == CHANGE else RATIO
        return Compared(tuple(ids), way, said.unit, region_of(said, said.unit))
    if said.noun == CHANGE and said.unit.dimension == dimension:
        return Compared(tuple(ids), DIFFERENCE, said.unit, region_of(said, said.unit))
    raise Wrong(
        "dimension",
        f"'{said.text}' does not compare {ids[0]} with {ids[1]}; write a multiple, a percentage"
        f" more or less, or so many '{results[0].unit.text}' more or less",
    )


def region_of(said: Statement, scale: Unit) -> Region:
    """Where a quantity lies when a statement about it is true, in `scale`.

    A bare number means what rounds to it; ± means between the two ends; "nearly" means below.
    Raises: Wrong when a tolerance is of another kind.
    """
    first = said.numbers[0]
    if said.form == AT_LEAST:
        return Region(low=first)
    if said.form == AT_MOST:
        return Region(high=first)
    if said.form == RANGE:
        return Region(*said.numbers)
    half = said.numbers[1] if said.form == PLUS_MINUS else tolerance(said, 0, said.within, scale)
    return Region(first - half, first if said.form == NEARLY else first + half)


def _computed(id: str, targets: Targets) -> bool:
    found = targets.result(id)
    if isinstance(found, Solved):
        raise Wrong("reference", f"{id} is what was solved for; a claim is of a result or an input")
    if targets.is_column(id):
        raise Wrong("log", f"{id} is a column of a log; a claim is of one value")
    return found is not None
