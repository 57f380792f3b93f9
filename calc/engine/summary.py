"""Summaries: from draws to a standard uncertainty, an interval, quantiles and shares."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from calc.book.model import Book
from calc.book.plan import Alias, Plan, Root, Run
from calc.engine.draws import Array, quantiles_of
from calc.engine.evaluate import NotComputed, below, values_of
from calc.engine.results import LEVELS, Result
from calc.engine.shares import STRAIGHT, Shares, interacting, linear_fit
from calc.engine.streams import Streams
from calc.notation.units import Unit

COVERAGE = 0.95
"""The share of the draws that an interval holds."""

_SMALL_SET = 1000
"""Draws for taking apart what a procedure gives, which may be slow."""

_BENT = 0.05
"""Mean and nominal value apart by more of a standard uncertainty than this are worth a word;
the noise of a mean of 10 000 draws is a hundredth."""


@dataclass(frozen=True)
class Summariser:
    """Makes results of draws; `nominal` holds every node's nominal value in SI base units."""

    book: Book
    plan: Plan
    streams: Streams
    nominal: Mapping[str, Any]

    def of_root(self, root: Root) -> Result:
        """An input as a result of its own, from its spread alone."""
        spread = root.quantity.base_spread
        rising = quantiles_of(spread, root.quantity.base, 20 * LEVELS)
        name = root.id.partition(".")[2]
        shares = {name: 1.0} if isinstance(rising, np.ndarray) else {}
        return self._result(root.id, rising, "symmetric", shares, {}, {name: root.id})

    def nominal_alone(self, id: str) -> Result:
        """A result with no draws, such as that of a check."""
        return self._result(id, None, "symmetric", {}, {}, {})

    def of_block(self, block: str, ids: Sequence[str], draws: Sequence[Any]) -> list[Result]:
        """The results of one block, from draws in SI base units, each a number or shape (n,)."""
        calc = self.book.calcs.get(block)
        interval = calc.interval if calc else "symmetric"
        roots = list(dict.fromkeys(root for id in ids for root in self.plan.roots[id]))
        varied = [root for root in roots if self.streams.varied(root)]
        labels = {root: self._label(block, root) for root in roots}
        drawn = [at for at, values in enumerate(draws) if isinstance(values, np.ndarray)]
        parts = self._shares([ids[at] for at in drawn], [draws[at] for at in drawn], varied)
        shares = {ids[at]: part for at, part in zip(drawn, parts, strict=True)}
        none = Shares({}, {})
        return [
            self._result(
                id,
                values,
                interval,
                _named(shares.get(id, none).first, labels),
                _named(shares.get(id, none).total, labels),
                {labels[root]: root for root in self.plan.roots[id]},
            )
            for id, values in zip(ids, draws, strict=True)
        ]

    def _label(self, block: str, root: str) -> str:
        """The input's name in the block, or its id when it lies further up."""
        head, _, rest = root.partition(".")
        if head == block:
            return rest
        for name, id in self.plan.names.get(block, {}).items():
            if isinstance(self.plan.nodes.get(id), Alias) and self.plan.target(id) == root:
                return name
        return root

    def _shares(
        self, ids: Sequence[str], draws: Sequence[Array], varied: Sequence[str]
    ) -> list[Shares]:
        if not ids or not varied:
            return [Shares({}, {}) for _ in ids]
        inputs = np.array([self.streams.of(root) for root in varied])
        inputs = (inputs - inputs.mean(axis=1, keepdims=True)) / inputs.std(axis=1, keepdims=True)
        results = np.array(draws)
        results = results - results.mean(axis=1, keepdims=True)
        scale = np.abs(results).max(axis=1, keepdims=True)
        fit = linear_fit(inputs, results / np.where(scale > 0, scale, 1.0))
        return [
            self._one(id, at, varied, fit.shares[:, at], float(fit.explained[at]), scale[at, 0])
            for at, id in enumerate(ids)
        ]

    def _one(
        self, id: str, at: int, varied: Sequence[str], shares: Array, explained: float, size: float
    ) -> Shares:
        roots = set(self.plan.roots[id])
        first = {
            root: max(0.0, float(share))
            for root, share in zip(varied, shares, strict=True)
            if root in roots
        }
        if explained >= STRAIGHT or size == 0 or self.streams.correlated(roots):
            return Shares(first, {})
        try:
            return self._interacting(id, list(first))
        except NotComputed:
            return Shares(first, {})

    def _interacting(self, id: str, roots: list[str]) -> Shares:
        runs = any(isinstance(self.plan.nodes[item], Run) for item in below([id], self.plan))
        count = _SMALL_SET if runs else self.streams.count
        sets = [
            {root: np.asarray(self.streams.of(root, stream))[:count] for root in roots}
            for stream in ("", " again")
        ]

        def value(inputs: Mapping[str, Array]) -> Array:
            return np.asarray(values_of([id], inputs, self.plan, self.book.logs)[id])

        found = interacting(roots, value, sets[0], sets[1])
        alone = sum(found.first.values())
        if alone > 1:
            return Shares({root: part / alone for root, part in found.first.items()}, found.total)
        return Shares({**found.first, "interaction": 1 - alone}, found.total)

    def _result(
        self,
        id: str,
        draws: Any,
        interval: str,
        shares: Mapping[str, float],
        total: Mapping[str, float],
        inputs: Mapping[str, str],
    ) -> Result:
        node = self.plan.nodes[id]
        scale = node.unit
        value = float(scale.from_base(float(self.nominal[id])))
        if not isinstance(draws, np.ndarray) or not draws.std():
            return Result(
                id, value, scale, 0.0, (value, value), np.empty(0), node.place, inputs=inputs,
                mean=value,
            )  # fmt: skip
        rising = np.sort(scale.from_base(draws))
        spread, mean = float(rising.std()), float(rising.mean())
        ends = _shortest(rising) if interval == "shortest" else _symmetric(rising)
        return Result(
            id,
            value,
            scale,
            spread,
            ends,
            _quantiles(rising),
            node.place,
            shares,
            total,
            inputs,
            abs(mean - value) > _BENT * spread,
            mean,
        )


def _named(shares: Mapping[str, float], labels: Mapping[str, str]) -> dict[str, float]:
    return {labels.get(root, root): share for root, share in shares.items()}


def _symmetric(rising: Array) -> tuple[float, float]:
    tail = (1 - COVERAGE) / 2
    low, high = np.interp([tail, 1 - tail], _levels(len(rising)), rising)
    return float(low), float(high)


def _shortest(rising: Array) -> tuple[float, float]:
    inside = int(np.ceil(COVERAGE * len(rising)))
    widths = rising[inside - 1 :] - rising[: len(rising) - inside + 1]
    at = int(widths.argmin())
    return float(rising[at]), float(rising[at + inside - 1])


def _levels(count: int) -> Array:
    return (np.arange(count) + 0.5) / count


def _quantiles(rising: Array) -> Array:
    return np.interp(np.linspace(0, 1, LEVELS), _levels(len(rising)), rising)


