"""Many seeded trials of one recovery, and how many of them may miss."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from scipy.stats import binom

TRIALS = 200
"""Trials of a round trip: a log is simulated from known values, and they are recovered."""


def hits(trial: Callable[[np.random.Generator], bool]) -> int:
    """How many of the seeded trials the recovery's interval holds the truth."""
    return sum(bool(trial(np.random.default_rng(seed))) for seed in range(TRIALS))


def within_binomial(count: int, share: float = 0.95) -> bool:
    """Whether so many hits are what chance allows (999 times in 1000) when `share` is true."""
    low, high = binom.interval(0.999, TRIALS, share)
    return bool(low <= count <= high)


def enough(count: int, share: float = 0.95) -> bool:
    """Whether the hits are no fewer than chance allows: for intervals that promise at least."""
    return bool(count >= binom.ppf(0.0005, TRIALS, share))
