"""Which of several results cannot be told apart: the difference of two may as well be nought."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import numpy as np

from calc.judge.sampler import Sampler
from calc.whole import Whole
from hooks.charts.values import Value, targets_of

Pairs = frozenset[tuple[int, int]]
"""Places of two results, the first before the second."""


def alike_pairs(values: Sequence[Value | None], whole: Whole) -> Pairs:
    """The pairs whose difference has nought in its 95 % interval.

    Inputs that two results share are drawn once for both, so what moves them together does not
    count as a doubt about which is larger.
    """
    known = {at: whole.plan.target(value.id) for at, value in enumerate(values) if value}
    doubted = {at for at in known if (value := values[at]) and value.standard}
    if not doubted or len(known) < 2:
        return frozenset()
    sampler = Sampler(targets_of(whole))
    drawn = sampler.values(dict.fromkeys(known.values()))
    return frozenset(
        (one, other)
        for one, other in combinations(known, 2)
        if {one, other} & doubted
        and _around_nought(sampler.row(drawn[known[one]]) - sampler.row(drawn[known[other]]))
    )


def _around_nought(differences: np.ndarray[tuple[int], np.dtype[np.float64]]) -> bool:
    low, high = np.quantile(differences, [0.025, 0.975])
    return bool(low <= 0 <= high)
