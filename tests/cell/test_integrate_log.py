"""Charge, energy and efficiency of logs: closed forms, draws, round trips, refusals."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from calc.cell.integrate_log import cycle_totals, log_efficiency, log_totals
from calc.cell.log_checks import log_quality, oddities
from tests.cell.half_cells import Columns
from tests.cell.trials import hits, within_binomial

TRUE = {"current_gain": 1.0, "current_offset": 0.0, "voltage_gain": 1.0, "voltage_offset": 0.0}
CHOICES: dict[str, Any] = {"largest_gap": 100, "rest_current": 0.01}
METER: dict[str, Any] = {**TRUE, **CHOICES}
"""A meter without error, and choices that leave nothing out."""


def straight(rows: int = 1001) -> Columns:
    """Two hours at a steady discharge of 5 A, whose voltage falls on a straight line."""
    return np.linspace(0, 7200, rows), np.linspace(4.2, 3.0, rows), np.full(rows, -5.0)


@pytest.mark.parametrize("rows", [81, 161, 1001])
def test_energy_of_a_straight_line_is_exact_at_any_spacing(rows: int) -> None:
    totals = log_totals(*straight(rows), "discharge", **METER)
    assert totals.charge == pytest.approx(36000, rel=1e-12)
    assert totals.energy == pytest.approx(36000 * 3.6, rel=1e-12)
    assert totals.mean_voltage == pytest.approx(3.6, rel=1e-12)


def test_power_of_two_ramps_is_exact() -> None:
    # I = 2t, V = 3 + t over 0 to 1 s: the integral of 6t + 2t² is 3 + 2/3.
    totals = log_totals(
        np.arange(2.0), np.array([3.0, 4.0]), np.array([0.0, 2.0]), "charge", **METER
    )
    assert totals.energy == pytest.approx(3 + 2 / 3, rel=1e-12)


def test_halving_the_step_of_a_curve_changes_nothing_that_is_stated() -> None:
    def energy(rows: int) -> float:
        time = np.linspace(0, 3600, rows)
        volts = 3.6 + 0.4 * np.cos(time / 900)
        found = log_totals(time, volts, np.full(rows, 2.0), "charge", **METER)
        return float(found.energy)

    exact = 2 * (3.6 * 3600 + 0.4 * 900 * np.sin(4))
    errors = [abs(energy(rows) - exact) for rows in (101, 201, 401)]
    # Second order: half the step leaves a quarter of the error.
    assert errors[0] / errors[1] == pytest.approx(4, rel=0.02)
    assert errors[1] / errors[2] == pytest.approx(4, rel=0.02)


def test_draws_of_the_calibration_give_what_each_alone_would() -> None:
    log = straight()
    random = np.random.default_rng(1)
    draws: dict[str, Any] = {
        "current_gain": random.normal(1, 0.01, 7),
        "current_offset": random.normal(0, 0.02, 7),
        "voltage_gain": random.normal(1, 0.001, 7),
        "voltage_offset": random.normal(0, 0.002, 7),
    }
    together = log_totals(*log, "discharge", **{**draws, **CHOICES})
    for place in range(7):
        one = {name: values[place] for name, values in draws.items()}
        time, volts, amps = log
        true = (
            time,
            one["voltage_gain"] * volts + one["voltage_offset"],
            one["current_gain"] * amps + one["current_offset"],
        )
        alone = log_totals(*true, "discharge", **METER)
        assert np.asarray(together.charge)[place] == pytest.approx(alone.charge, rel=1e-12)
        assert np.asarray(together.energy)[place] == pytest.approx(alone.energy, rel=1e-12)


def test_a_gap_is_left_out_and_reported() -> None:
    time, volts, amps = straight(rows=73)
    kept = np.delete(np.arange(73), slice(10, 21))
    totals = log_totals(
        time[kept], volts[kept], amps[kept], "discharge", **{**METER, "largest_gap": 150}
    )
    assert totals.gap_time == pytest.approx(1200)
    assert totals.charge_in_gaps == pytest.approx(6000)
    assert totals.charge == pytest.approx(36000 - 6000)


def test_rest_and_the_other_direction_are_left_out() -> None:
    time = np.array([0, 10, 10.001, 20, 20.001, 30])
    amps = np.array([2.0, 2.0, 0.0, 0.0, -1.0, -1.0])
    volts = np.full(6, 4.0)
    assert log_totals(time, volts, amps, "charge", **METER).time < 10.01
    assert log_totals(time, volts, amps, "discharge", **METER).charge == pytest.approx(10, rel=1e-3)


def test_efficiency_by_cycle() -> None:
    time = np.arange(0, 40.0, 0.01)
    cycle = np.where(time >= 20, 2.0, 1.0)
    charging = time % 20 < 10
    amps = np.where(charging, 1.0, np.where(cycle == 1, -0.9, -0.8))
    volts = np.where(charging, 4.0, 3.0)
    one = cycle_totals(time, volts, amps, cycle, 1, "discharge", **METER)
    two = cycle_totals(time, volts, amps, cycle, 2, "discharge", **METER)
    assert one.charge == pytest.approx(9.0, rel=2e-3)
    assert two.charge == pytest.approx(8.0, rel=2e-3)
    first = cycle == 1
    found = log_efficiency(time[first], volts[first], amps[first], **METER)
    assert found.coulombic == pytest.approx(0.9, rel=2e-3)
    assert found.energy == pytest.approx(0.9 * 3 / 4, rel=3e-3)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"time": [0, 2, 1]}, "backwards in row 3"),
        ({"voltage": [3, np.nan, 3]}, "voltage is not a finite number in row 2"),
        ({"current": [1, 1]}, "current has 2 rows and time 3"),
        ({"direction": "sideways"}, "'charge' or 'discharge'"),
        ({"direction": "discharge"}, "nothing in the log runs"),
        ({"largest_gap": np.array([1.0, 2.0])}, "is a choice"),
    ],
)
def test_what_cannot_be_integrated_is_refused_in_words(change: dict[str, Any], said: str) -> None:
    given = {"time": [0, 1, 2], "voltage": [3, 3, 3], "current": [1, 1, 1], "direction": "charge"}
    with pytest.raises(ValueError, match=said):
        log_totals(**{**given, **METER, **change})


def test_an_unknown_cycle_brings_those_there_are() -> None:
    with pytest.raises(ValueError, match="no cycle 7; it has 1 to 2"):
        cycle = np.array([1.0, 1.0, 2.0, 2.0])
        cycle_totals(np.arange(4.0), np.full(4, 3.0), np.ones(4), cycle, 7, "charge", **METER)


def test_calibration_and_noise_round_trip() -> None:
    """What was put into the log lies in the 95 % interval of the totals, 95 times in 100."""
    time, volts, amps = straight(rows=500)
    spread = {
        "current_gain": (1, 2e-3),
        "current_offset": (0, 5e-3),
        "voltage_gain": (1, 5e-4),
        "voltage_offset": (0, 1e-3),
    }
    energy = log_totals(time, volts, amps, "discharge", **METER).energy

    def trial(random: np.random.Generator) -> bool:
        meter = {name: random.normal(*of) for name, of in spread.items()}
        seen_amps = (amps - meter["current_offset"]) / meter["current_gain"]
        seen_volts = (volts - meter["voltage_offset"]) / meter["voltage_gain"]
        seen_amps = seen_amps + random.normal(0, 1e-3, len(time))
        seen_volts = seen_volts + random.normal(0, 1e-4, len(time))
        draws = {name: random.normal(*of, 2000) for name, of in spread.items()}
        found = log_totals(time, seen_volts, seen_amps, "discharge", **{**draws, **CHOICES}).energy
        low, high = np.quantile(found, [0.025, 0.975])
        return bool(low <= energy <= high)

    assert within_binomial(hits(trial))


def test_oddities_are_found_with_their_rows() -> None:
    time = np.arange(60.0)
    time[20] = time[19]
    time[30:] += 500
    time[45] = time[44] - 1
    volts = 3.7 + 1e-4 * (np.arange(60.0) % 3)
    volts[10] = 4.4
    amps = np.full(60, -2.0)
    amps[50:56] = 0.0
    found = oddities(time, volts, amps, 60.0, 0.01)
    assert [(odd.row, odd.kind) for odd in found if odd.row < 46] == [
        (11, "spike"),
        (21, "repeated"),
        (31, "gap"),
    ]
    assert (46, "backward") in [(odd.row, odd.kind) for odd in found]
    assert (51, "rest") in [(odd.row, odd.kind) for odd in found]
    counted = log_quality(time, volts, amps, 60.0, 0.01)
    assert (counted.gaps, counted.repeated, counted.backward, counted.spikes) == (1, 1, 1, 1)
    assert counted.rest_time == pytest.approx(5)


def test_a_step_of_current_is_no_spike() -> None:
    time = np.arange(100.0)
    amps = np.where(time < 50, 0.0, -10.0)
    volts = 3.7 + 0.01 * amps + 1e-4 * np.sin(time)
    assert not [odd for odd in oddities(time, volts, amps, 60.0, 0.01) if odd.kind == "spike"]
