"""Differential capacity and voltage: shapes that are known beforehand."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from scipy.stats import norm

from calc.cell.differential import (
    capacity_peak,
    charge_at_voltage,
    density_of,
    differential_capacity,
    differential_voltage,
    share_below,
)
from tests.cell.half_cells import Columns
from tests.cell.trials import hits, within_binomial

TRUE: dict[str, Any] = {"current_gain": 1, "voltage_gain": 1, "voltage_offset": 0}


def two_peaks(
    rows: int = 4000, noise: float = 0.0, random: np.random.Generator | None = None
) -> Columns:
    """A charge of 10 A s whose charge lies in two normal peaks over voltage, 7 and 3 A s."""
    volts = np.linspace(3.2, 4.2, 20001)
    charge = 7 * norm.cdf(volts, 3.5, 0.03) + 3 * norm.cdf(volts, 3.9, 0.03)
    time = np.linspace(charge[0], charge[-1], rows)
    held = np.interp(time, charge, volts)
    return time, held + (random.normal(0, noise, rows) if random else 0), np.ones(rows)


def test_peaks_come_back_with_position_height_and_charge() -> None:
    log = two_peaks()
    low = capacity_peak(*log, 3.35, 3.7, 0.005, **TRUE)
    high = capacity_peak(*log, 3.7, 4.05, 0.005, **TRUE)
    broad = np.hypot(0.03, 0.005)
    assert low.position == pytest.approx(3.5, abs=1e-3)
    assert high.position == pytest.approx(3.9, abs=1e-3)
    assert low.charge == pytest.approx(7, rel=2e-3)
    assert high.charge == pytest.approx(3, rel=2e-3)
    assert low.height == pytest.approx(7 * norm.pdf(0) / broad, rel=5e-3)
    assert (low.peaks, high.peaks) == (1, 1)


def test_the_bandwidth_broadens_and_keeps_the_charge() -> None:
    volts, charge = charge_at_voltage(*two_peaks())
    for width in (0.002, 0.01, 0.05):
        curve = density_of(volts, charge, width, volts)
        whole = np.trapezoid(curve.density, curve.voltage)
        assert whole == pytest.approx(charge.sum(), rel=1e-6)
        # A normal peak smoothed by a normal kernel: variances add.
        mean = np.average(curve.voltage, weights=curve.density)
        spread = np.average((curve.voltage - mean) ** 2, weights=curve.density)
        plain = np.average((volts - np.average(volts, weights=charge)) ** 2, weights=charge)
        assert spread == pytest.approx(plain + width**2, rel=2e-3)


def test_a_discharge_gives_the_same_curve_as_the_charge() -> None:
    time, volts, amps = two_peaks()
    at = np.linspace(3.3, 4.1, 9)
    up = differential_capacity(time, volts, amps, at, 0.01)
    down = differential_capacity(time, volts[::-1], -amps, at, 0.01)
    np.testing.assert_allclose(up, down, rtol=1e-6, atol=1e-9)


def test_differential_voltage_of_a_parabola() -> None:
    time = np.linspace(0, 100, 5001)
    volts = 3 + 1e-4 * time**2
    at = np.array([20.0, 50.0, 80.0])
    # A parabola smoothed by a symmetric kernel keeps its slope.
    found = differential_voltage(time, volts, np.ones(5001), at, 2.0)
    np.testing.assert_allclose(found, 2e-4 * at, rtol=2e-3)
    with pytest.raises(ValueError, match="too near an end"):
        differential_voltage(time, volts, np.ones(5001), 1.0, 2.0)


def test_share_below_follows_the_meter() -> None:
    time, volts, amps = two_peaks()
    assert share_below(time, volts, amps, 3.7, 1, 0) == pytest.approx(0.7, abs=1e-3)
    assert share_below(time, volts, amps, 3.0, 1, 0) == 0
    assert share_below(time, volts, amps, 5.0, 1, 0) == 1
    # A meter that reads 0.2 V too low sees the first peak at 3.3 V.
    shares = share_below(time, volts - 0.2, amps, 3.7, 1, np.array([0.2, 0.0]))
    assert np.asarray(shares)[0] == pytest.approx(0.7, abs=1e-3)


def test_a_window_without_a_peak_is_said() -> None:
    with pytest.raises(ValueError, match="no peak between"):
        capacity_peak(*two_peaks(), 3.52, 3.65, 0.005, **TRUE)
    with pytest.raises(ValueError, match="too fine"):
        capacity_peak(*two_peaks(), 3.3, 3.7, 1e-6, **TRUE)


def test_peak_round_trip_under_noise() -> None:
    """Position and charge lie within their stated uncertainty (Student's 2.26, ten parts)."""
    clean = capacity_peak(*two_peaks(), 3.35, 3.7, 0.02, **TRUE)

    def position(random: np.random.Generator) -> bool:
        found = capacity_peak(*two_peaks(2000, 2e-3, random), 3.35, 3.7, 0.02, **TRUE)
        return abs(float(found.position - clean.position)) <= 2.26 * float(
            found.position_from_noise
        )

    assert within_binomial(hits(position))
