"""Draws of results made anew, as they are or with some inputs known better."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

import numpy as np

from calc.book.plan import Root
from calc.engine.draws import DRAWS, Array
from calc.engine.evaluate import below, values_of
from calc.engine.streams import Streams
from calc.judge.targets import Targets


class Sampler:
    """Draws every root once and evaluates results on them."""

    def __init__(self, targets: Targets) -> None:
        self.plan, self.logs = targets.plan, targets.book.logs
        self.streams = Streams(targets.book, targets.plan, DRAWS)

    def values(
        self, ids: Iterable[str], better: Mapping[str, float] | None = None
    ) -> dict[str, Any]:
        """Draws of results by id in SI base units, numbers or shape (count,).

        Parameters: better, by root, what its deviations from the nominal value are multiplied
        with. Raises: NotComputed when a procedure refuses its arguments.
        """
        wanted = list(ids)
        used = (self.plan.nodes[id] for id in below(wanted, self.plan))
        roots = [node for node in used if isinstance(node, Root)]
        factors = better or {}
        drawn = {root.id: self._drawn(root, factors.get(root.id, 1.0)) for root in roots}
        return values_of(wanted, drawn, self.plan, self.logs)

    def row(self, value: Any) -> Array:
        """A value as a row of draws, whether it varies or not."""
        return np.array(np.broadcast_to(value, (self.streams.count,)), dtype=float)

    def varied(self, ids: Iterable[str]) -> list[str]:
        """The roots of some results that have any spread."""
        used = below(list(ids), self.plan)
        roots = [id for id in used if isinstance(self.plan.nodes[id], Root)]
        return [id for id in roots if self.streams.varied(id)]

    def _drawn(self, root: Root, factor: float) -> Array | float:
        nominal = root.quantity.base
        return nominal + factor * (self.streams.of(root.id) - nominal)
