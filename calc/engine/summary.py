"""Summaries: from draws to a standard uncertainty, an interval, quantiles and shares."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calc.book.model import Book
from calc.book.plan import Alias, Plan, Root, Run
from calc.engine.draws import Array, quantiles_of
from calc.engine.evaluate import NotComputed, below, values_of
from calc.engine.results import LEVELS, Result
from calc.engine.shares import STRAIGHT, LinearFit, Shares, interacting, linear_fit
from calc.engine.streams import Streams

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
        rising = quantiles_of(root.quantity.base_spread, root.quantity.base, LEVELS)
        name = root.id.partition(".")[2]
        if not isinstance(rising, np.ndarray):
            return self.nominal_alone(root.id, {name: root.id})
        mean, spread = float(rising.mean()), float(rising.std())
        drawn = Drawn(mean, spread, (rising - mean) / spread)
        return self._result(root.id, drawn, "symmetric", Shares({name: 1.0}, {}), {name: root.id})

    def nominal_alone(self, id: str, inputs: Mapping[str, str] | None = None) -> Result:
        """A result with no draws, such as that of a check."""
        node = self.plan.nodes[id]
        value = float(node.unit.from_base(float(self.nominal[id])))
        nothing = np.empty(0)
        return Result(
            id, value, node.unit, 0.0, (value, value), nothing, node.place, inputs=inputs or {},
            mean=value,
        )  # fmt: skip

    def of_block(self, block: str, ids: Sequence[str], draws: Sequence[Any]) -> list[Result]:
        """The results of one block, from draws in SI base units, each a number or shape (n,)."""
        calc = self.book.calcs.get(block)
        interval = calc.interval if calc else "symmetric"
        labels = self._labels(block, ids)
        drawn = _standardised(ids, draws)
        fit, varied = self._fit(drawn)
        found: list[Result] = []
        for id in ids:
            inputs = {labels[root]: root for root in self.plan.roots[id]}
            if id not in drawn:
                found.append(self.nominal_alone(id, inputs))
                continue
            at = list(drawn).index(id)
            settled = drawn[id].settled(float(fit.variance[at])) if fit else drawn[id]
            shares = self._one(id, varied, fit, at) if fit else Shares({}, {})
            found.append(self._result(id, settled, interval, _named(shares, labels), inputs))
        return found

    def _labels(self, block: str, ids: Sequence[str]) -> dict[str, str]:
        roots = dict.fromkeys(root for id in ids for root in self.plan.roots[id])
        return {root: self._label(block, root) for root in roots}

    def _label(self, block: str, root: str) -> str:
        """The input's name in the block, or its id when it lies further up."""
        head, _, rest = root.partition(".")
        if head == block:
            return rest
        for name, id in self.plan.names.get(block, {}).items():
            if isinstance(self.plan.nodes.get(id), Alias) and self.plan.target(id) == root:
                return name
        return root

    def _fit(self, drawn: Mapping[str, Drawn]) -> tuple[LinearFit | None, list[str]]:
        roots = dict.fromkeys(root for id in drawn for root in self.plan.roots[id])
        varied = [root for root in roots if self.streams.varied(root)]
        if not varied:
            return None, varied
        inputs = np.array([self.streams.of(root) for root in varied])
        inputs -= inputs.mean(axis=1, keepdims=True)
        inputs /= inputs.std(axis=1, keepdims=True)
        results = np.array([item.standard for item in drawn.values()])
        return linear_fit(inputs, results, self.streams.correlation(varied)), varied

    def _one(self, id: str, varied: Sequence[str], fit: LinearFit, at: int) -> Shares:
        roots = set(self.plan.roots[id])
        parts = fit.shares()[:, at]
        first = {
            root: max(0.0, float(share))
            for root, share in zip(varied, parts, strict=True)
            if root in roots
        }
        straight = fit.straight[at] / fit.variance[at]
        if straight >= STRAIGHT or self.streams.correlated(roots):
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
        self, id: str, drawn: Drawn, interval: str, shares: Shares, inputs: Mapping[str, str]
    ) -> Result:
        node = self.plan.nodes[id]
        scale = node.unit
        value = float(scale.from_base(float(self.nominal[id])))
        mean, spread = float(scale.from_base(drawn.mean)), drawn.spread / scale.factor
        rising = drawn.rising()
        ends = _shortest(rising) if interval == "shortest" else _symmetric(rising)
        low, high = (mean + spread * end for end in ends)
        return Result(
            id,
            value,
            scale,
            spread,
            (low, high),
            mean + spread * _quantiles(rising),
            node.place,
            shares.first,
            shares.total,
            inputs,
            abs(mean - value) > _BENT * spread,
            mean,
        )


@dataclass(frozen=True, eq=False)
class Drawn:
    """Draws of one result: mean and standard uncertainty in SI base units, and what is left.

    `standard` has mean 0 and standard deviation 1, shape (n,).
    """

    mean: float
    spread: float
    standard: Array

    def settled(self, variance: float) -> Drawn:
        """The same with the variance that a fit has settled, as a multiple of the drawn one."""
        return Drawn(self.mean, self.spread * float(np.sqrt(variance)), self.standard)

    def rising(self) -> Array:
        """The standardised draws in order.

        Single precision sorts twice as fast, and costs a ten-millionth of the uncertainty.
        """
        return np.sort(self.standard.astype(np.float32)).astype(np.float64)


def _standardised(ids: Sequence[str], draws: Sequence[Any]) -> dict[str, Drawn]:
    found: dict[str, Drawn] = {}
    for id, values in zip(ids, draws, strict=True):
        if isinstance(values, np.ndarray) and values.ndim:
            mean = float(values.mean())
            standard = values - mean
            spread = float(np.sqrt(np.dot(standard, standard) / len(standard)))
            if spread > 0:
                standard /= spread
                found[id] = Drawn(mean, spread, standard)
    return found


def _named(shares: Shares, labels: Mapping[str, str]) -> Shares:
    first, total = (
        {labels.get(root, root): share for root, share in part.items()}
        for part in (shares.first, shares.total)
    )
    return Shares(first, total)


def _symmetric(rising: Array) -> tuple[float, float]:
    tail = (1 - COVERAGE) / 2
    return _quantile(rising, tail), _quantile(rising, 1 - tail)


def _quantile(rising: Array, probability: float) -> float:
    """The value at a probability; draw i of n stands at (i + 1/2) / n."""
    at = min(max(probability * len(rising) - 0.5, 0.0), len(rising) - 1.0)
    low = int(at)
    high = min(low + 1, len(rising) - 1)
    return float(rising[low] + (at - low) * (rising[high] - rising[low]))


def _shortest(rising: Array) -> tuple[float, float]:
    inside = int(np.ceil(COVERAGE * len(rising)))
    widths = rising[inside - 1 :] - rising[: len(rising) - inside + 1]
    at = int(widths.argmin())
    return float(rising[at]), float(rising[at + inside - 1])


@lru_cache(maxsize=4)
def _steps(count: int) -> tuple[NDArray[np.int64], Array]:
    at = np.clip(np.linspace(0, 1, LEVELS) * count - 0.5, 0, count - 1)
    low = np.minimum(at.astype(np.int64), count - 2)
    return low, at - low


def _quantiles(rising: Array) -> Array:
    low, part = _steps(len(rising))
    found: Array = rising[low] + part * (rising[low + 1] - rising[low])
    return found
