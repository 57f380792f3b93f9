"""Duties, profiles and lives: the standard's example, Arrhenius, published laws, closed forms."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from numpy.typing import ArrayLike

from calc.cell.decimate import decimate
from calc.cell.life import YEAR, duty_life, profile_severity
from calc.cell.rainflow import duty_cycles, rainflow, turning_points
from tests.printed import agrees

# ASTM E1049, section 5.4.4 and its figure 6: range and cycle counts; from memory, to be confirmed.
STANDARD = [-2, 1, -3, 5, -1, 3, -4, 4, -2]
COUNTS = {3: 0.5, 4: 1.5, 6: 0.5, 8: 1.0, 9: 0.5}


def counts(values: ArrayLike) -> dict[float, float]:
    found: dict[float, float] = {}
    cycles = rainflow(np.asarray(values))
    for size, count in zip(cycles.ranges.tolist(), cycles.counts.tolist(), strict=True):
        found[size] = found.get(size, 0) + count
    return found


def test_the_standards_own_example() -> None:
    assert counts(STANDARD) == COUNTS


def test_points_on_the_way_change_nothing() -> None:
    finer = np.interp(np.linspace(0, 8, 801), np.arange(9), STANDARD)
    assert counts(finer) == COUNTS
    assert turning_points(finer).tolist() == STANDARD


def test_ranges_hold_all_movement() -> None:
    """Every counted range is passed up and down: twice for a cycle, once for a half."""
    random = np.random.default_rng(6).normal(0, 1, 5000)
    cycles = rainflow(random)
    moved = np.abs(np.diff(random)).sum()
    assert 2 * cycles.ranges @ cycles.counts == pytest.approx(moved, rel=1e-12)


def test_a_days_duty() -> None:
    # Sixteen trips of a tenth, each half won back, and a night that fills up again.
    day = [0.9]
    for _ in range(16):
        day += [day[-1] - 0.06, day[-1] - 0.03]
    day.append(0.9)
    found = duty_cycles(np.array(day), 0.1, 1)
    moved = np.abs(np.diff(day)).sum() / 2
    assert found.full_cycles == pytest.approx(moved)
    assert found.largest_depth == pytest.approx(max(day) - min(day))
    assert found.deeper == 1
    draws = duty_cycles(np.array(day), 0.1, np.array([1.0, 1.02]))
    assert draws.full_cycles == pytest.approx([moved, 1.02 * moved])


@pytest.mark.parametrize(
    ("values", "said"), [([0.5, 1.2], "runs from 0 to 1"), ([0.5, 0.5], "never moves")]
)
def test_a_duty_that_is_none_is_said(values: list[float], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        duty_cycles(np.array(values), 0.1, 1)


REFERENCE: dict[str, Any] = {
    "content_slope": 0.0,
    "reference_temperature": 298.15,
    "reference_content": 0.5,
    "exponent": 0.5,
}


# Arrhenius from 25 to 45 °C; exact.
@pytest.mark.parametrize(
    ("activation", "printed"), [(31.5e3, "2.2229"), (50e3, "3.5535"), (58e3, "4.3528")]
)
def test_arrhenius(activation: float, printed: str) -> None:
    time = np.array([0.0, 1.0])
    at = profile_severity(
        time, np.full(2, 318.15), np.full(2, 0.5), activation=activation, **REFERENCE
    )
    assert agrees(printed, float(at))


def test_a_profile_counts_time_at_a_high_rate_by_its_power() -> None:
    # Half the time at each of two rates, loss k t^z: (mean of k^(1/z))^z, exact.
    time = np.linspace(0, 1000, 2001)
    warm = np.where(time < 500, 298.15, 318.15)
    content = np.full(2001, 0.5)
    for z in (0.5, 0.75, 1.0):
        given = {**REFERENCE, "exponent": z}
        found = profile_severity(time, warm, content, 50e3, **given)
        rate = np.exp(50e3 / 8.314462618 * (1 / 298.15 - 1 / 318.15))
        assert float(found) == pytest.approx((0.5 + 0.5 * rate ** (1 / z)) ** z, rel=2e-3)


def test_classes_stand_for_a_wide_profile() -> None:
    # A day's swing summed in classes against the same swing row by row.
    time = np.linspace(0, 86400, 5001)
    warm = 298.15 + 12 * np.sin(2 * np.pi * time / 86400)
    content = 0.6 + 0.3 * np.cos(2 * np.pi * time / 86400)
    given = {**REFERENCE, "content_slope": 0.8}
    found = profile_severity(time, warm, content, np.array([50e3, 58e3]), **given)
    for place, activation in enumerate((50e3, 58e3)):
        rate = np.exp(activation / 8.314462618 * (1 / 298.15 - 1 / warm))
        rate = rate * (1 + 0.8 * (content - 0.5))
        whole = (np.trapezoid(rate**2, time) / 86400) ** 0.5
        assert np.asarray(found)[place] == pytest.approx(whole, rel=1e-3)


# Schmalstieg et al., J. Power Sources 257 (2014) 325 (from memory, to be confirmed): capacity
# left after 365 days, from the law's rate at the stated voltage and temperature.
SCHMALSTIEG = [(3.9, 308.15, "0.930269"), (4.162, 323.15, "0.731028")]


@pytest.mark.parametrize(("voltage", "kelvin", "printed"), SCHMALSTIEG)
def test_a_published_calendar_law_by_its_severity(
    voltage: float, kelvin: float, printed: str
) -> None:
    reference = 298.15
    prefactor = (7.543 * voltage - 23.75) * 1e6 * np.exp(-6976 / reference)
    time = np.array([0.0, 365 * 86400.0])
    given = {**REFERENCE, "exponent": 0.75}
    severity = profile_severity(
        time, np.full(2, kelvin), np.full(2, 0.5), activation=6976 * 8.314462618, **given
    )
    assert agrees(printed, float(1 - prefactor * severity * 365**0.75))


def test_life_in_closed_form() -> None:
    # Calendar alone: t = (loss / k)^(1/z). Cycles alone: likewise in thousands of cycles.
    calendar = duty_life(0.028, 0.5, 2.0, 0.0, 1.0, 500.0, 0.2, 100 * YEAR)
    assert float(calendar.time) / YEAR == pytest.approx((0.2 / 0.056) ** 2, rel=1e-9)
    assert float(calendar.calendar_share) == pytest.approx(1)
    cycles = duty_life(0.0, 0.5, 1.0, 0.09, 0.8, 500.0, 0.2, 100 * YEAR)
    assert float(cycles.full_cycles) == pytest.approx(1000 * (0.2 / 0.09) ** 1.25, rel=1e-9)
    assert float(cycles.calendar_share) == 0


def test_a_life_beyond_the_longest_is_given_as_it() -> None:
    found = duty_life(1e-6, 1, 1, 0.0, 1, 0.0, 0.2, 30 * YEAR)
    assert float(found.time) == pytest.approx(30 * YEAR)


def test_draws_of_a_life_are_what_each_alone_would_be() -> None:
    random = np.random.default_rng(9)
    draws = (random.normal(0.028, 0.003, 50), 0.5, 1.2, random.normal(0.09, 0.01, 50))
    together = duty_life(*draws, 1.0, 400.0, 0.2, 60 * YEAR)
    for place in (0, 17, 49):
        alone = duty_life(draws[0][place], 0.5, 1.2, draws[3][place], 1.0, 400.0, 0.2, 60 * YEAR)
        assert np.asarray(together.time)[place] == pytest.approx(float(alone.time), rel=1e-9)


def test_losses_below_zero_are_refused() -> None:
    with pytest.raises(ValueError, match="cycle_loss must not be below zero"):
        duty_life(0.02, 1, 1, -0.1, 1, 100, 0.2, YEAR)
    with pytest.raises(ValueError, match="fall below zero"):
        profile_severity(
            np.arange(2.0),
            np.full(2, 298.15),
            np.zeros(2),
            5e4,
            **{**REFERENCE, "content_slope": 3.0},
        )


def test_decimation_loses_no_extreme() -> None:
    random = np.random.default_rng(7)
    values = random.normal(0, 1, 123_457)
    values[60_000], values[60_001] = 50.0, -50.0
    kept = decimate(values, 2000)
    assert len(kept) <= 2000
    assert {0, 60_000, 60_001, len(values) - 1} <= set(kept.tolist())
    # Each part keeps its own extremes, so that the band drawn is the band measured.
    edges = np.linspace(0, len(values), 999 + 1).astype(int)
    drawn = values[kept]
    for part in (3, 500, 998):
        inside = (kept >= edges[part]) & (kept < edges[part + 1])
        whole = values[edges[part] : edges[part + 1]]
        assert drawn[inside].max() == whole.max()
        assert drawn[inside].min() == whole.min()
    assert decimate(values[:10], 50).tolist() == list(range(10))
    with pytest.raises(ValueError, match="four points"):
        decimate(values, 3)
