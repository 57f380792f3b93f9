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
from calc.engine.evaluate import NotComputed, below, values_again, values_of
from calc.engine.results import AND, LEVELS, Result
from calc.engine.shares import STRAIGHT, LinearFit, Shares, interacting, linear_fit
from calc.engine.streams import Streams

COVERAGE = 0.95
"""The share of the draws that an interval holds."""

_SMALL_SET = 400
"""Draws for taking apart what a procedure gives, which may be slow."""

_NOISE = 1e-12
"""A standard uncertainty below this share of its value is what rounding leaves of none."""

_NEGATIVE = 1e-6
"""A part of the variance that is no further below zero is none."""

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
        shares, variance = self._shares(drawn)
        found: list[Result] = []
        for id in ids:
            inputs = {labels[root]: root for root in self.plan.roots[id]}
            if id in drawn:
                settled = drawn[id].settled(variance[id])
                part = _named(shares[id], labels)
                found.append(self._result(id, settled, interval, part, inputs))
            else:
                found.append(self.nominal_alone(id, inputs))
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

    def _shares(self, drawn: Mapping[str, Drawn]) -> tuple[dict[str, Shares], dict[str, float]]:
        """Shares, and the variance that a fit settles as a multiple of the drawn one."""
        fit, varied = self._fit(drawn)
        if fit is None:
            return {id: Shares({}, {}) for id in drawn}, dict.fromkeys(drawn, 1.0)
        parts, bent = fit.shares(), []
        shares: dict[str, Shares] = {}
        for at, id in enumerate(drawn):
            roots = set(self.plan.roots[id])
            own = zip(varied, parts[:, at].tolist(), strict=True)
            first = self._joined({root: part for root, part in own if root in roots})
            straight = fit.straight[at] >= STRAIGHT * fit.variance[at]
            if not straight and not self.streams.correlated(roots):
                bent.append(id)
            elif not straight:
                first |= {"interaction": max(0.0, 1 - sum(first.values()))}
            shares[id] = Shares(first, {})
        variance = dict(zip(drawn, fit.variance.tolist(), strict=True))
        return {**shares, **self._interacting(bent)}, variance

    def _joined(self, parts: Mapping[str, float]) -> dict[str, float]:
        """Shares by root; one for all roots of a group whose errors take from one another.

        A part below zero says that an input makes up for others: it is no share of its own.
        """
        found: dict[str, float] = {}
        for root, part in parts.items():
            group = [each for each in self.streams.group(root) if each in parts]
            apart = all(parts[each] >= -_NEGATIVE for each in group)
            key = root if apart else AND.join(group)
            found[key] = found.get(key, 0.0) + (max(0.0, part) if apart else part)
        return found

    def _interacting(self, ids: Sequence[str]) -> dict[str, Shares]:
        """Shares of results that bend, all of one block together; none where one refuses."""
        roots = dict.fromkeys(root for id in ids for root in self.plan.roots[id])
        varied = [root for root in roots if self.streams.varied(root)]
        runs = any(isinstance(self.plan.nodes[item], Run) for item in below(ids, self.plan))
        count = min(_SMALL_SET, self.streams.count) if runs else self.streams.count
        first, second = (
            {root: np.asarray(self.streams.of(root, stream))[:count] for root in varied}
            for stream in ("", " again")
        )
        try:
            found = self._taken_apart(ids, first, second, count)
        except NotComputed:
            return {}
        return {
            id: Shares(
                {name: part for name, part in shares.first.items() if name in self._near(id)},
                {name: part for name, part in shares.total.items() if name in self._near(id)},
            )
            for id, shares in zip(ids, found, strict=True)
        }

    def _near(self, id: str) -> set[str]:
        return {*self.plan.roots[id], "interaction"}

    def _taken_apart(
        self,
        ids: Sequence[str],
        first: Mapping[str, Array],
        second: Mapping[str, Array],
        count: int,
    ) -> list[Shares]:
        if not ids:
            return []
        plan, logs = self.plan, self.book.logs
        here, there = (values_of(ids, drawn, plan, logs) for drawn in (first, second))

        def stacked(values: Mapping[str, Any]) -> Array:
            return np.array([np.broadcast_to(values[id], (count,)) for id in ids])

        def with_second(root: str) -> Array:
            return stacked(values_again(ids, {root: second[root]}, here, plan, logs))

        return interacting(first, second, stacked(here), stacked(there), with_second)

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
            if spread > _NOISE * abs(mean):
                standard /= spread
                found[id] = Drawn(mean, spread, standard)
    return found


def _named(shares: Shares, labels: Mapping[str, str]) -> Shares:
    def name(key: str) -> str:
        return AND.join(labels.get(root, root) for root in key.split(AND))

    first, total = (
        {name(key): share for key, share in part.items()} for part in (shares.first, shares.total)
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
