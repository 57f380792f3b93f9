"""What a cycling record says of a cell's fade: which law fits, and cycles to an end of life."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from scipy.special import stdtr

from calc.cell.arguments import Number, Series, above_zero, choice, read_off
from calc.cell.fade_models import Fit, fits, weights
from calc.cell.procedure import Procedure

INSISTENCE = "beyond the tested range"
"""The words by which a writer insists on an answer that the tests do not reach."""

HORIZON = 100.0
"""Multiple of the tested range to which the search goes; an end there means none was found."""


class FadeFit(NamedTuple):
    """Weight of each law [1]; first capacity [C] and scatter [C] of the best; its bends.

    `exponent` [1] is the power law's, `knee` [cycle] and the slopes [C per cycle] before and
    after are the two-slope law's, whatever their weight. `chosen` is 1 linear, 2 square root,
    3 power, 4 knee.
    """

    linear: float
    square_root: float
    power: float
    knee_weight: float
    chosen: float
    first_capacity: float
    scatter: float
    exponent: float
    knee: float
    slope_before: float
    slope_after: float


class FadeLife(NamedTuple):
    """Cycles [1] to an end of life at the rank asked for, at the middle, and at 2.5 and 97.5 %."""

    cycles: Number
    middle: float
    low: float
    high: float
    beyond: float


def fade_fit(cycle: Series, capacity: Series) -> FadeFit:
    """Fit linear, square-root, power and two-slope laws, weighed against one another.

    Parameters: cycle [1] and capacity [C], shape (points,).
    Raises: ValueError as `fade_models.fits`.
    Source: exact; least squares, weighed by the criterion that `fade_models` names.

    >>> n = np.arange(0.0, 1000.0, 20.0)
    >>> ripple = 1e-3 * np.where(np.arange(50) % 3, 1.0, -2.0)
    >>> found = fade_fit(n, 1 - 1e-4 * n - 4e-4 * np.maximum(n - 600, 0) + ripple)
    >>> found.chosen, round(found.knee, -1)
    (4.0, 600.0)
    """
    found = fits(cycle, capacity)
    share = dict(zip((fit.name for fit in found), weights(found), strict=True))
    best = min(found, key=lambda fit: fit.criterion)
    bends = {fit.name: fit for fit in found}
    last = float(np.max(cycle))
    knee = bends.get("knee")
    before, after = _slopes(knee or bends["linear"], last)
    return FadeFit(
        linear=float(share["linear"]),
        square_root=float(share["square root"]),
        power=float(share["power"]),
        knee_weight=float(share.get("knee", 0.0)),
        chosen=float(1 + found.index(best)),
        first_capacity=float(best.linear[0]),
        scatter=best.scatter,
        exponent=float(bends["power"].bend or 0.0),
        knee=last * float((knee.bend if knee else None) or 1.0),
        slope_before=before,
        slope_after=after,
    )


def _slopes(law: Fit, last: float) -> tuple[float, float]:
    """Loss [C] per cycle before and after the knee; the same where there is none."""
    return float(law.linear[1]) / last, float(law.linear[1:].sum()) / last


def fade_life(
    cycle: Series,
    capacity: Series,
    end: Number,
    rank: Number,
    furthest: Number,
    insist: str,
) -> FadeLife:
    """Cycles until a further measurement of capacity would lie at or below an end of life.

    Every law has its say by its weight, with the uncertainty of its own parameters and the
    scatter of the record, so that the interval widens beyond the data as the laws part.

    Parameters: cycle [1] and capacity [C], shape (points,); end [C], a choice; rank [1], between
    0 and 1, a number or draws (n,): draws evenly between 0 and 1 turn the answer into its
    distribution; furthest [1], the multiple of the tested range beyond which no answer is given
    unless `insist` is the words "beyond the tested range" (any other text, such as "no", does
    not insist).
    Returns: cycles [1]; `beyond` is the middle over the tested range. An end found nowhere is
    given as 100 times the tested range.
    Raises: ValueError when the middle is further out than `furthest` and nobody insists.
    Source: exact; prediction by the t distribution, mixed over laws by their weights.

    >>> n = np.arange(0.0, 1000.0, 20.0)
    >>> ripple = 1e-3 * np.where(np.arange(50) % 3, 1.0, -2.0)
    >>> life = fade_life(n, 1 - 1e-4 * n + ripple, 0.88, 0.5, 2.0, "no")
    >>> round(life.middle, -1), life.low < life.middle < life.high
    (1200.0, True)
    """
    found = fits(cycle, capacity)
    last, limit = float(np.max(cycle)), choice("end", end)
    reach = choice("furthest", furthest)
    above_zero(end=limit, furthest=reach)
    x, ended = _distribution(found, limit)
    low, middle, high = (_rank(share, x, ended) for share in (0.025, 0.5, 0.975))
    if middle > reach and insist.strip().lower() != INSISTENCE:
        said = f"about {last * middle:.3g} cycles, " if middle < HORIZON else "not in sight, "
        raise ValueError(
            f"the end of life is {said}beyond {reach:g} times the {last:g} cycles tested; test "
            f'for longer, or write insist: "{INSISTENCE}" and say why on the page'
        )
    return FadeLife(
        cycles=last * _rank(rank, x, ended),
        middle=last * float(middle),
        low=last * float(low),
        high=last * float(high),
        beyond=float(middle),
    )


def _distribution(found: tuple[Fit, ...], end: float) -> tuple[Series, Series]:
    """Places x [cycle / last cycle] and the probability [1] of having ended by each."""
    x = np.concatenate(([0.0], np.geomspace(1e-3, HORIZON, 500)))
    for _ in range(2):
        ended = _ended(found, x, end)
        # Closer where it rises: a precise record makes a steep step of it.
        first = max(int(np.searchsorted(ended, 1e-6)) - 1, 0)
        last = min(int(np.searchsorted(ended, 1 - 1e-6)), len(x) - 1)
        x = np.union1d(x, np.linspace(x[first], x[last], 500))
    return x, _ended(found, x, end)


def _ended(found: tuple[Fit, ...], x: Series, end: float) -> Series:
    """Probability [1] that capacity has come down to the end [C] by x, never falling again."""
    share = np.zeros_like(x)
    for fit, weight in zip(found, weights(found), strict=True):
        share += weight * stdtr(fit.freedom, (end - fit.capacity(x)) / fit.spread(x))
    return np.asarray(np.maximum.accumulate(share))


def _rank(rank: Number, x: Series, ended: Series) -> Number:
    if (np.asarray(rank) < 0).any() or (np.asarray(rank) > 1).any():
        raise ValueError("rank runs from 0 to 1")
    # Level stretches of the distribution belong to its upper end: take the first x of each level.
    level, first = np.unique(ended, return_index=True)
    return read_off(rank, np.append(level, 1.0 + 1e-12), np.append(x[first], HORIZON))


_POINTS = {"cycle": "series 1", "capacity": "series C"}

PROCEDURES = {
    "fade_fit": Procedure(
        fade_fit,
        _POINTS,
        {
            "linear": "1",
            "square_root": "1",
            "power": "1",
            "knee_weight": "1",
            "chosen": "1",
            "first_capacity": "C",
            "scatter": "C",
            "exponent": "1",
            "knee": "1",
            "slope_before": "C",
            "slope_after": "C",
        },
    ),
    "fade_life": Procedure(
        fade_life,
        {**_POINTS, "end": "C", "rank": "1", "furthest": "1", "insist": "text"},
        {"cycles": "1", "middle": "1", "low": "1", "high": "1", "beyond": "1"},
    ),
}
