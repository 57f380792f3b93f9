"""The draws of every root of a plan, correlated where the book says so, made when needed."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterable, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from calc.book.model import Book, Calc, Correlation, Estimates, Place
from calc.book.plan import Alias, Plan, Root
from calc.engine.draws import Array, correlated_orders, order, quantiles_of
from calc.notation.quantity import Exact, Normal
from calc.problems import Problem

_KEPT = 256  # arrays of 10 000 draws kept at hand: about 20 MB


_LEVELS = 1000
"""Quantiles from which it is seen how closely two shapes can go together."""

_NEAR = 0.02
"""How much more an r may ask for: with the usual shapes it is no more than a rounding."""


class Streams:
    """Draws by root and stream name; the same id and name always give the same draws."""

    def __init__(self, book: Book, plan: Plan, count: int) -> None:
        self.plan, self.count = plan, count
        self.problems: list[Problem] = []
        self._groups = _Groups(book, plan, self.problems)
        self._kept: OrderedDict[tuple[str, str], Array | float] = OrderedDict()
        self._joint: dict[tuple[tuple[str, ...], str], Mapping[str, NDArray[np.int64]]] = {}

    def of(self, id: str, stream: str = "") -> Array | float:
        """Draws of one root in SI base units, shape (count,); a bare number when it is exact."""
        key = (id, stream)
        if key not in self._kept:
            self._kept[key] = self._made(id, stream)
            if len(self._kept) > _KEPT:
                self._kept.popitem(last=False)
        self._kept.move_to_end(key)
        return self._kept[key]

    def all(self, ids: Iterable[str], stream: str = "") -> dict[str, Array | float]:
        """Draws of several roots."""
        return {id: self.of(id, stream) for id in ids}

    def varied(self, id: str) -> bool:
        """Whether a root has any spread."""
        root = self.plan.nodes[id]
        assert isinstance(root, Root)
        spread = root.quantity.spread
        return not isinstance(spread, Exact) and spread != Normal(0.0)

    def correlated(self, ids: Iterable[str]) -> bool:
        """Whether any two of these roots share an error."""
        seen: set[tuple[str, ...]] = set()
        for id in ids:
            group = self._groups.of.get(id)
            if group in seen:
                return True
            if group:
                seen.add(group)
        return False

    def group(self, id: str) -> tuple[str, ...]:
        """The roots that share an error with a root, itself among them."""
        return self._groups.of.get(id, (id,))

    def correlation(self, ids: Sequence[str]) -> Array:
        """What the correlation of these roots is meant to be, shape (k, k)."""
        matrix = np.eye(len(ids))
        for i, first in enumerate(ids):
            group = self._groups.of.get(first, ())
            for j, second in enumerate(ids):
                if second in group:
                    own = self._groups.matrices[group]
                    matrix[i, j] = own[group.index(first), group.index(second)]
        return matrix

    def _made(self, id: str, stream: str) -> Array | float:
        root = self.plan.nodes[id]
        assert isinstance(root, Root)
        rising = quantiles_of(root.quantity.base_spread, root.quantity.base, self.count)
        if not isinstance(rising, np.ndarray):
            return rising
        group = self._groups.of.get(id)
        if group is None:
            return np.asarray(rising[order(id, self.count, stream)])
        key = (group, stream)
        if key not in self._joint:
            matrix = self._groups.matrices[group]
            self._joint[key] = correlated_orders(group, matrix, self.count, stream)
        return np.asarray(rising[self._joint[key][id]])


class _Groups:
    """Roots that share errors, gathered from every block, with their correlation matrices."""

    def __init__(self, book: Book, plan: Plan, problems: list[Problem]) -> None:
        self.of: dict[str, tuple[str, ...]] = {}
        self.matrices: dict[tuple[str, ...], Array] = {}
        pairs = self._pairs(book, plan, problems)
        for group in _linked(pairs):
            matrix = np.eye(len(group))
            for (a, b), (r, _) in pairs.items():
                if a in group:
                    i, j = group.index(a), group.index(b)
                    matrix[i, j] = matrix[j, i] = r
            if np.linalg.eigvalsh(matrix)[0] < -1e-9:
                place = next(place for (a, _), (_, place) in pairs.items() if a in group)
                problems.append(
                    Problem(
                        place.file,
                        place.line,
                        "correlation",
                        f"no values of {', '.join(group)} can be correlated like that; make the"
                        " coefficients smaller",
                    )
                )
                continue
            self.matrices[group] = matrix
            self.of |= dict.fromkeys(group, group)

    def _pairs(
        self, book: Book, plan: Plan, problems: list[Problem]
    ) -> dict[tuple[str, str], tuple[float, Place]]:
        """Coefficients by the two roots, in order of id; each pair has one, wherever it is said."""
        found: dict[tuple[str, str], tuple[float, Place]] = {}
        holders: tuple[Calc | Estimates, ...] = (*book.calcs.values(), *book.estimates.values())
        for holder in holders:
            for pair in holder.correlated:
                first, second = (
                    _root(f"{holder.id}.{name}", name, plan) for name in (pair.first, pair.second)
                )
                wrong = _unlinked(pair, first, second, holder.id, plan)
                wrong = _out_of_reach(pair, first, second, plan) if wrong is None else wrong
                ends = (min(first, second), max(first, second))
                if wrong is None and found.setdefault(ends, (pair.r, pair.place))[0] != pair.r:
                    other = found[ends][1]
                    wrong = f"{ends[0]} and {ends[1]} have another r at {other.file}:{other.line}"
                if wrong:
                    place = pair.place
                    problems.append(Problem(place.file, place.line, "correlation", wrong))
        return {ends: value for ends, value in found.items() if all(ends) and ends[0] != ends[1]}


def _unlinked(pair: Correlation, first: str, second: str, block: str, plan: Plan) -> str | None:
    """Why two names cannot be correlated; "" when what is wrong was said elsewhere."""
    if first and first == second:
        return f"'{pair.first}' and '{pair.second}' are the same input; correlate two of them"
    for name, root in ((pair.first, first), (pair.second, second)):
        meant = plan.names.get(block, {}).get(name)
        if not root and meant and meant not in plan.nodes:
            return ""
        if not root:
            return f"'{name}' is no input with a value of its own; correlate inputs, not results"
    return None


def _out_of_reach(pair: Correlation, first: str, second: str, plan: Plan) -> str | None:
    """Why two inputs of such shapes cannot go together so closely, or None when they can."""
    one, other = (_rising(root, plan) for root in (first, second))
    if one is None or other is None:
        return None
    facing = other[::-1] if pair.r < 0 else other
    closest = float(np.corrcoef(one, facing)[0, 1])
    if abs(pair.r) <= abs(closest) + _NEAR:
        return None
    return (
        f"r of '{pair.first}' and '{pair.second}' is {pair.r:g}, but shapes so unlike go together"
        f" with {closest:.2f} at the most; write an r nearer to zero"
    )


def _rising(id: str, plan: Plan) -> Array | None:
    root = plan.nodes[id]
    assert isinstance(root, Root)
    rising = quantiles_of(root.quantity.base_spread, root.quantity.base, _LEVELS)
    return rising if isinstance(rising, np.ndarray) and np.ptp(rising) > 0 else None


def _root(local: str, name: str, plan: Plan) -> str:
    id = local if local in plan.nodes else name
    node = plan.nodes.get(id)
    while isinstance(node, Alias):
        node = plan.nodes[node.of]
    return node.id if isinstance(node, Root) else ""


def _linked(pairs: Iterable[tuple[str, str]]) -> list[tuple[str, ...]]:
    groups: list[set[str]] = []
    for pair in pairs:
        touching = [group for group in groups if group & set(pair)]
        groups = [group for group in groups if not group & set(pair)]
        groups.append(set(pair).union(*touching))
    return sorted(tuple(sorted(group)) for group in groups)
