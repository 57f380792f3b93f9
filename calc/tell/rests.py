"""What rests on a source or an input: results, figures, claims and pictures, and how they move."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from calc.book.evidence import DOES_NOT_HOLD, HOLDS
from calc.book.model import Showing
from calc.book.plan import Computed, Part, Root
from calc.engine.evaluate import values_of
from calc.judge.compared import compared_by
from calc.judge.targets import Targets
from calc.judge.verdicts import JudgedClaim, JudgedFigure
from calc.notation.dimensions import Series
from calc.problems import Wrong, nearest
from calc.whole import Whole

_NAMED = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*(?:\.[a-z][a-z0-9_.]*)?")


@dataclass(frozen=True)
class Moved:
    """A value before and after one input grew by a hundredth, in its own unit.

    `change` is relative, or None where the value was zero.
    """

    id: str
    before: float
    after: float
    unit: str
    change: float | None


@dataclass(frozen=True)
class Rests:
    """All that rests on one value: what moves, by id, and what shows or judges it."""

    id: str
    results: Mapping[str, Moved]
    figures: tuple[JudgedFigure, ...]
    claims: tuple[tuple[JudgedClaim, float, float, str], ...]
    showings: tuple[Showing, ...]


def values_named(name: str, whole: Whole) -> list[str]:
    """The ids that a source or an id stands for. Raises: Wrong when there is nothing so called."""
    roots = [
        id
        for id, node in whole.plan.nodes.items()
        if isinstance(node, Root) and node.input and node.input.source == name
    ]
    if roots or name in whole.book.sources:
        return roots
    if name in whole.plan.nodes:
        return [whole.plan.target(name)]
    known = [*whole.book.sources, *(id for id in whole.plan.nodes if "#" not in id)]
    raise Wrong("reference", f"no source and no value is called '{name}'{nearest(name, known)}")


def rests_on(id: str, whole: Whole) -> Rests:
    """What rests on one value, with how each moves when it grows by a hundredth of itself.

    Raises: NotComputed when a procedure refuses the value so changed.
    """
    dependents = set(_dependents(id, whole))
    moved = _moved(id, [each for each in dependents if each in whole.computation.results], whole)
    return Rests(
        id,
        dict(sorted(moved.items())),
        tuple(each for each in whole.judgement.figures if _target(each.of, whole) in dependents),
        tuple(_claims(id, dependents, whole)),
        tuple(each for each in whole.book.showings.values() if _shows(each, dependents, whole)),
    )


def _dependents(id: str, whole: Whole) -> Iterator[str]:
    """The value itself and every node above it, checks of methods left out."""
    reached = {id}
    for each, needs in whole.plan.needs.items():
        if each == id or any(need in reached for need in needs):
            reached.add(each)
            if "#" not in whole.plan.nodes[each].block:
                yield each


def _grown(id: str, whole: Whole) -> float:
    """The value a hundredth larger, as counted in its own unit, in SI base units."""
    result = whole.computation.results[id]
    return result.unit.to_base(1.01 * result.value)


def _moved(id: str, ids: Iterable[str], whole: Whole) -> dict[str, Moved]:
    plan, found = whole.plan, whole.computation.results
    shown = [each for each in ids if isinstance(plan.nodes[each], Computed | Part | Root)]
    shown = [each for each in shown if not isinstance(plan.kinds[each], Series)]
    after = values_of(shown, {id: np.float64(_grown(id, whole))}, plan, whole.book.logs)
    return {each: _compared(each, float(after[each]), whole) for each in shown if each in found}


def _compared(id: str, after: float, whole: Whole) -> Moved:
    result = whole.computation.results[id]
    later = float(result.unit.from_base(after))
    change = (later - result.value) / abs(result.value) if result.value else None
    return Moved(id, result.value, later, result.unit.text, change)


def _claims(
    id: str, dependents: set[str], whole: Whole
) -> Iterator[tuple[JudgedClaim, float, float, str]]:
    """Claims that rest on a value: what they compare before and after, and what that would say."""
    targets = Targets(whole.book, whole.plan, whole.computation)
    for claim in whole.judgement.claims.values():
        ids = [_target(each, whole) for each in (claim.of, claim.than) if each]
        if claim.value is None or not dependents.intersection(ids):
            continue
        compared = compared_by(claim.claim, targets)
        assert compared is not None  # it has a value
        grown = {id: np.float64(_grown(id, whole))}
        found = values_of(compared.targets, grown, whole.plan, whole.book.logs)
        inside = bool(compared.margin(found) >= 0)
        yield claim, claim.value, float(compared.value(found)), HOLDS if inside else DOES_NOT_HOLD


def _target(of: str, whole: Whole) -> str:
    return whole.plan.target(of) if of in whole.plan.nodes else of


def _shows(showing: Showing, dependents: set[str], whole: Whole) -> bool:
    blocks = {whole.plan.nodes[id].block for id in dependents}
    claims = whole.book.claims
    for name in _names(showing):
        if name in claims and {claims[name].of, claims[name].than} & dependents:
            return True
        if name in blocks and name in {**whole.book.estimates, **whole.book.calcs}:
            return True
        if _target(name, whole) in dependents:
            return True
    return False


def _names(showing: Showing) -> Iterator[str]:
    """Every id that a chart, table or panel could be naming; rows are put into its columns."""
    texts = list(_texts(showing.fields))
    rows = showing.fields.get("rows")
    for text in texts:
        if "{row}" in text and rows:
            for row in _texts(rows):
                yield from _NAMED.findall(text.replace("{row}", row))
        else:
            yield from _NAMED.findall(text)


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for each in value.values():
            yield from _texts(each)
    elif isinstance(value, list | tuple):
        for each in value:
            yield from _texts(each)
