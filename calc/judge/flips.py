"""What a verdict turns on: the value of each input at which a statement becomes true or false."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

import numpy as np

from calc.book.plan import Guard, Root
from calc.engine.draws import Array
from calc.engine.evaluate import NotComputed, below, evaluate, values_of
from calc.judge.compared import Compared
from calc.judge.figures import Targets
from calc.judge.verdicts import Flip

_NEAR, _FAR = 6.0, 10.0
"""How far is looked: so many standard uncertainties, and so many times the input or one in it."""

_POINTS, _FEW, _FINE, _ROUNDS = 121, 13, 33, 4
"""Points of the search, points where a procedure takes one at a time, and of each refinement."""


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
    places = _places(node.quantity.base, width)
    if not len(places):
        return None
    turn = next(_turns(lambda at: margin.at(root, at), places, node.quantity.base), None)
    if turn is None:
        return None
    value = float(node.unit.from_base(turn))
    low, high = known.interval
    return Flip(
        name, root, value, known.value, node.unit, known.uncertain and low <= value <= high
    )


class _Margin:
    """How far inside its region a quantity lies, as a function of one input at a time."""

    def __init__(self, compared: Compared, targets: Targets) -> None:
        self.compared, self.plan, self.logs = compared, targets.plan, targets.book.logs
        ids = below(compared.targets, self.plan)
        self.roots = [id for id in ids if _entered(self.plan.nodes[id])]
        self.guards = _guards_within(set(ids), self.plan.guards)

    def at(self, root: str, places: Array) -> Array:
        """The margin at some places of an input, shape (n,); nan where there is no value."""
        try:
            return self._all_at_once(root, places)
        except NotComputed:
            few = places if len(places) <= _FINE else places[:: len(places) // _FEW]
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


def _places(nominal: float, width: float) -> Array:
    near = nominal + width * np.linspace(-_NEAR, _NEAR, _POINTS)
    far = nominal * np.geomspace(1 / _FAR, _FAR, _POINTS)
    parts = ([near] if width else []) + ([far] if nominal else [])
    return np.unique(np.concatenate(parts)) if parts else np.empty(0)


def _turns(margin: Callable[[Array], Array], places: Array, nominal: float) -> Iterator[float]:
    """Places where the statement turns, nearest to the nominal value first."""
    values = margin(places)
    known = np.flatnonzero(np.isfinite(values))
    places, values = places[known], values[known]
    at = np.flatnonzero((values[:-1] >= 0) != (values[1:] >= 0))
    for k in sorted(at, key=lambda k: abs((places[k] + places[k + 1]) / 2 - nominal)):
        turn = _narrowed(margin, places[k], places[k + 1], max(abs(values[k]), abs(values[k + 1])))
        if turn is not None:
            yield turn


def _narrowed(
    margin: Callable[[Array], Array], low: float, high: float, most: float
) -> float | None:
    """The turn between two places; None when the margin runs away there, as at a pole."""
    for _ in range(_ROUNDS):
        places = np.linspace(low, high, _FINE)
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
