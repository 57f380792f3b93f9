"""Fade: the right law is chosen, the end of life is covered, and the untested is refused."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from calc.cell.arguments import Series
from calc.cell.fade_fit import fade_fit, fade_life
from calc.cell.fade_models import fits, weights
from tests.cell.trials import TRIALS, enough, hits

CYCLE = np.linspace(0, 1000, 81)
NOISE = 0.002

LAWS: dict[str, Callable[[Series], Series]] = {
    "linear": lambda n: 1 - 0.12 * n / 1000,
    "square root": lambda n: 1 - 0.12 * np.sqrt(n / 1000),
    "power": lambda n: 1 - 0.12 * (n / 1000) ** 1.6,
    "knee": lambda n: 1 - 0.05 * n / 1000 - 0.25 * np.maximum(n / 1000 - 0.55, 0),
}


def record(law: str, random: np.random.Generator) -> Series:
    return LAWS[law](CYCLE) + random.normal(0, NOISE, len(CYCLE))


@pytest.mark.parametrize("law", LAWS)
def test_the_law_is_chosen_wrongly_at_most_once_in_twenty(law: str) -> None:
    def chosen(random: np.random.Generator) -> bool:
        found = fits(CYCLE, record(law, random))
        return min(found, key=lambda fit: fit.criterion).name == law

    assert TRIALS - hits(chosen) <= 0.05 * TRIALS


@pytest.mark.parametrize("law", ["linear", "square root", "power"])
def test_no_knee_is_found_where_there_is_none(law: str) -> None:
    def knee(random: np.random.Generator) -> bool:
        return fade_fit(CYCLE, record(law, random)).chosen == 4

    assert hits(knee) <= 0.05 * TRIALS


def test_the_knee_is_found_where_it_is() -> None:
    found = fade_fit(CYCLE, record("knee", np.random.default_rng(0)))
    assert found.knee == pytest.approx(550, abs=25)
    assert found.slope_before == pytest.approx(0.05 / 1000, rel=0.1)
    assert found.slope_after == pytest.approx(0.30 / 1000, rel=0.1)
    assert found.linear + found.square_root + found.power + found.knee_weight == pytest.approx(1)


@pytest.mark.parametrize(
    ("law", "life"),
    [
        ("linear", 1000 * 0.2 / 0.12),
        ("square root", 1000 * (0.2 / 0.12) ** 2),
        ("power", 1000 * (0.2 / 0.12) ** (1 / 1.6)),
        ("knee", 1000 * (0.2 + 0.25 * 0.55) / 0.30),
    ],
)
def test_the_end_of_life_lies_in_its_interval(law: str, life: float) -> None:
    def trial(random: np.random.Generator) -> bool:
        found = fade_life(CYCLE, record(law, random), 0.8, 0.5, 5.0, "no")
        return bool(found.low <= life <= found.high)

    # The interval is for a further measurement, so that it may cover more than it promises.
    assert enough(hits(trial))


def test_the_interval_widens_beyond_the_data() -> None:
    capacity = record("linear", np.random.default_rng(5))
    widths = []
    for end in (0.92, 0.85, 0.80, 0.70):
        found = fade_life(CYCLE, capacity, end, 0.5, 5.0, "no")
        widths.append(found.high - found.low)
    assert widths == sorted(widths)


def test_laws_that_part_beyond_the_data_widen_the_interval() -> None:
    # Few and noisy points leave the laws undecided, and the mixture is wider than any of them.
    cycle = np.linspace(0, 1000, 12)
    random = np.random.default_rng(2)
    capacity = 1 - 0.06 * (cycle / 1000) ** 0.8 + random.normal(0, 0.004, 12)
    assert weights(fits(cycle, capacity)).max() < 0.9
    found = fade_life(cycle, capacity, 0.8, 0.5, 10.0, "no")
    assert found.high / found.low > 2


def test_a_rank_draws_the_distribution() -> None:
    capacity = record("linear", np.random.default_rng(5))
    ranks = (np.arange(2000) + 0.5) / 2000
    found = fade_life(CYCLE, capacity, 0.8, ranks, 5.0, "no")
    low, middle, high = np.quantile(found.cycles, [0.025, 0.5, 0.975])
    assert middle == pytest.approx(found.middle, rel=1e-3)
    assert (low, high) == (
        pytest.approx(found.low, rel=5e-3),
        pytest.approx(found.high, rel=5e-3),
    )


def test_the_untested_is_refused_unless_the_writer_insists_in_words() -> None:
    capacity = record("linear", np.random.default_rng(5))
    with pytest.raises(ValueError, match=r"beyond 1.5 times the 1000 cycles tested"):
        fade_life(CYCLE, capacity, 0.8, 0.5, 1.5, "no")
    with pytest.raises(ValueError, match="beyond the tested range"):
        fade_life(CYCLE, capacity, 0.8, 0.5, 1.5, "please")
    found = fade_life(CYCLE, capacity, 0.8, 0.5, 1.5, "Beyond the tested range")
    assert found.middle == pytest.approx(1667, rel=0.05)


def test_an_end_that_is_nowhere_is_refused() -> None:
    random = np.random.default_rng(1)
    with pytest.raises(ValueError, match="not in sight"):
        fade_life(CYCLE, 1 + random.normal(0, 1e-3, 81), 0.01, 0.5, 5.0, "no")


def test_a_short_record_is_refused() -> None:
    with pytest.raises(ValueError, match="eight points"):
        fade_fit(np.array([0.0, 100.0, 200.0]), np.array([1.0, 0.99, 0.98]))


def test_a_record_without_scatter_is_fitted_all_the_same() -> None:
    found = fade_life(CYCLE, LAWS["linear"](CYCLE), 0.8, 0.5, 2.0, "no")
    assert found.middle == pytest.approx(1000 * 0.2 / 0.12, rel=1e-3)
