"""What a verdict turns on: the value of each input at which a statement becomes true or false."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from calc.book.plan import Guard, Root, Run
from calc.engine.draws import Array
from calc.engine.evaluate import NotComputed, below, evaluate, values_of
from calc.judge.compared import Compared
from calc.judge.targets import Targets
from calc.judge.verdicts import Flip

_NEAR, _FAR = 6.0, 10.0
"""How far is looked: so many standard uncertainties, and so many times the input or one in it."""


@dataclass(frozen=True)
class Effort:
    """Points of the search on each side of near and far, and of each round of refinement."""

    points: int
    fine: int
    rounds: int


_FORMULAS, _PROCEDURES, _ONE_BY_ONE = Effort(121, 33, 4), Effort(25, 9, 6), 13
"""Formulas are cheap; procedures are not, and least when they take one place at a time."""


def flips(compared: Compared, targets: Targets, labels: Mapping[str, str]) -> tuple[Flip, ...]:
    """For each input on which the quantity rests, the nearest value that turns the statement.

    Inputs that turn it nowhere in the range looked at, or only where a method is not valid, are
    left out. Parameters: labels, root by the input's name.
    Returns: nearest first, in standard uncertainties; inputs without uncertainty last.
    Source: exact; bracketing by a grid, then by finer ones, far below 0.1 % of the value.
    """
    names = {root: name for name, root in labels.items()}
    margin = _Margin(compared, targets)
    found = [
        flip
        for root in margin.roots
        if (flip := _flip(margin, root, names.get(root, root), targets)) is not None
    ]
    return tuple(sorted(found, key=lambda flip: _distance(flip, targets)))


def _flip(margin: _Margin, root: str, name: str, targets: Targets) -> Flip | None:
    node = targets.plan.nodes[root]
    assert isinstance(node, Root)
    known = targets.computation.results[root]
    width = known.standard_uncertainty * node.unit.factor
    places = _places(node.quantity.base, width, margin.effort.points)
    if not len(places):
        return None
    turns = _turns(lambda at: margin.at(root, at), places, node.quantity.base, margin.effort)
    turn = next(turns, None)
    if turn is None:
        return None
    value = float(node.unit.from_base(turn))
    low, high = known.interval
    return Flip(name, root, value, known.value, node.unit, known.uncertain and low <= value <= high)


class _Margin:
    """How far inside its region a quantity lies, as a function of one input at a time."""

    def __init__(self, compared: Compared, targets: Targets) -> None:
        self.compared, self.plan, self.logs = compared, targets.plan, targets.book.logs
        ids = below(compared.targets, self.plan)
        self.roots = [id for id in ids if _entered(self.plan.nodes[id])]
        self.guards = _guards_within(set(ids), self.plan.guards)
        runs = any(isinstance(self.plan.nodes[id], Run) for id in ids)
        self.effort = _PROCEDURES if runs else _FORMULAS

    def at(self, root: str, places: Array) -> Array:
        """The margin at some places of an input, shape (n,); nan where there is no value."""
        try:
            return self._all_at_once(root, places)
        except NotComputed:
            enough = len(places) <= self.effort.fine
            few = places if enough else places[:: max(1, len(places) // _ONE_BY_ONE)]
            known = np.array([self._one(root, place) for place in few])
            return known if len(few) == len(places) else _spread_out(places, few, known)

    def _one(self, root: str, place: float) -> float:
        try:
            return float(self._all_at_once(root, np.array([place]))[0])
        except NotComputed:
            return float("nan")

    def _all_at_once(self, root: str, places: Array) -> Array:
        found = values_of(self.compared.targets, {root: places}, self.plan, self.logs)
        with np.errstate(all="ignore"):
            margin = np.array(np.broadcast_to(self.compared.margin(found), places.shape), float)
            for guard in self.guards:
                margin[~np.broadcast_to(evaluate(guard.tree, found), places.shape)] = np.nan
        return margin


def _entered(node: object) -> bool:
    return isinstance(node, Root) and node.input is not None


def _guards_within(ids: set[str], guards: tuple[Guard, ...]) -> list[Guard]:
    return [guard for guard in guards if ids.issuperset(guard.names.values())]


def _spread_out(places: Array, few: Array, known: Array) -> Array:
    """What is known at a few places, at the first of the many places that each stands for."""
    margin = np.full(len(places), np.nan)
    margin[np.searchsorted(places, few)] = known
    return margin


def _places(nominal: float, width: float, points: int) -> Array:
    near = nominal + width * np.linspace(-_NEAR, _NEAR, points)
    far = nominal * np.geomspace(1 / _FAR, _FAR, points)
    parts = ([near] if width else []) + ([far] if nominal else [])
    return np.unique(np.concatenate(parts)) if parts else np.empty(0)


def _turns(
    margin: Callable[[Array], Array], places: Array, nominal: float, effort: Effort
) -> Iterator[float]:
    """Places where the statement turns, nearest to the nominal value first."""
    values = margin(places)
    known = np.flatnonzero(np.isfinite(values))
    places, values = places[known], values[known]
    at = np.flatnonzero((values[:-1] >= 0) != (values[1:] >= 0))
    for k in sorted(at, key=lambda k: abs((places[k] + places[k + 1]) / 2 - nominal)):
        most = max(abs(values[k]), abs(values[k + 1]))
        turn = _narrowed(margin, places[k], places[k + 1], most, effort)
        if turn is not None:
            yield turn


def _narrowed(
    margin: Callable[[Array], Array], low: float, high: float, most: float, effort: Effort
) -> float | None:
    """The turn between two places; None when the margin runs away there, as at a pole."""
    for _ in range(effort.rounds):
        places = np.linspace(low, high, effort.fine)
        values = margin(places)
        if not np.all(np.isfinite(values)):
            return None
        at = np.flatnonzero((values[:-1] >= 0) != (values[1:] >= 0))
        if not len(at):
            return None
        low, high = places[at[0]], places[at[0] + 1]
        ends = values[at[0]], values[at[0] + 1]
    if max(abs(ends[0]), abs(ends[1])) > most * (1 + 1e-9):
        return None
    return float(low - ends[0] * (high - low) / (ends[1] - ends[0]))


def _distance(flip: Flip, targets: Targets) -> tuple[bool, float, str]:
    width = targets.computation.results[flip.root].standard_uncertainty
    away = abs(flip.value - flip.nominal)
    return not width, away / (width or abs(flip.nominal) or 1.0), flip.root
