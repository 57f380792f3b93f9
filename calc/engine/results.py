"""What the engine hands on: every result as a whole value, in the unit it is shown in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from calc.book.model import Place
from calc.book.plan import Plan
from calc.engine.reconcile import Reconciliation
from calc.notation.units import Unit
from calc.problems import Problem

LEVELS = 1001
"""How many quantiles of a distribution are kept."""

AND = " and "
"""Between the names of inputs that have one share together."""


@dataclass(frozen=True, eq=False)
class Result:
    """A computed value with its distribution, all in `unit`.

    `interval` holds 95 % of the draws; `quantiles` are LEVELS of them at even steps of
    probability, or empty when nothing is uncertain. `shares` are fractions of the variance by
    input, first order, with "interaction" for what only several inputs together bring, and one
    share, by their names joined with AND, for correlated inputs that make up for one another;
    `total_shares` is filled where inputs interact or the response bends. `bent` says that the
    nominal value and the mean of the draws differ by more than their noise.
    `inputs` names the roots as the calc does; `evidence` is the weakest kind among them.
    """

    id: str
    value: float
    unit: Unit
    standard_uncertainty: float
    interval: tuple[float, float]
    quantiles: NDArray[np.float64]
    place: Place
    shares: Mapping[str, float] = field(default_factory=dict)
    total_shares: Mapping[str, float] = field(default_factory=dict)
    inputs: Mapping[str, str] = field(default_factory=dict)
    bent: bool = False
    mean: float = 0.0

    def share_of(self, name: str) -> tuple[float, tuple[str, ...]]:
        """The share of an input, and the names of the inputs that have it together with it."""
        for key, share in self.shares.items():
            names = key.split(AND)
            if name in names:
                return share, tuple(other for other in names if other != name)
        return 0.0, ()

    @property
    def uncertain(self) -> bool:
        """Whether any uncertainty came with the inputs."""
        return self.standard_uncertainty > 0

    def probability_within(self, low: float, high: float) -> float:
        """The probability that the value lies between two limits in `unit`, both included."""
        slack = 1e-12 * abs(self.value) + 1e-6 * self.standard_uncertainty  # what short floats lose
        low, high = low - slack, high + slack
        if not len(self.quantiles):
            return float(low <= self.value <= high)
        return self._share_below(high, "right") - self._share_below(low, "left")

    def _share_below(self, limit: float, side: Literal["left", "right"]) -> float:
        """The distribution function, from the left or the right where it steps."""
        levels = np.linspace(0, 1, len(self.quantiles))
        at = int(np.searchsorted(self.quantiles, limit, side))
        if at in (0, len(levels)):
            return float(at > 0)
        return float(np.interp(limit, self.quantiles[at - 1 : at + 1], levels[at - 1 : at + 1]))

    def quantile(self, probability: float) -> float:
        """The value below which the given share of the draws lies, in `unit`."""
        if not len(self.quantiles):
            return self.value
        levels = np.linspace(0, 1, len(self.quantiles))
        return float(np.interp(probability, levels, self.quantiles))


@dataclass(frozen=True)
class Solved:
    """What an input would have to be: every value found in the range, or why there is none."""

    name: str
    unit: Unit
    values: tuple[float, ...]
    none: str
    place: Place


@dataclass(frozen=True)
class Computation:
    """All results by id, all solutions by `calc.solve.input`, and what went wrong.

    `plan` is the one computed with, in which estimates are settled; `reconciliations` are what
    their blocks say, by id, each in the unit of its `combined`.
    """

    results: Mapping[str, Result]
    solved: Mapping[str, Solved]
    problems: tuple[Problem, ...]
    plan: Plan
    reconciliations: Mapping[str, Reconciliation]
