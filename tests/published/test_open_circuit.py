"""Open-circuit functions of a published cell, integrated by the procedures for logs."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from calc.cell.arguments import Number, Series
from calc.cell.integrate_log import log_totals
from tests.cell.half_cells import discharge, negative, positive
from tests.printed import agrees, half_last_digit

Curve = Callable[[Number], Series]

SOURCE = "Chen et al., J. Electrochem. Soc. 167 (2020) 080534"
MARK = "from memory, to be confirmed"
METER: dict[str, Any] = {
    "current_gain": 1,
    "current_offset": 0,
    "voltage_gain": 1,
    "voltage_offset": 0,
    "largest_gap": 1e6,
    "rest_current": 0.0,
}


def mean(curve: Curve, ends: tuple[float, float]) -> float:
    """Mean of a curve between two contents, as the mean voltage of a log that runs over them."""
    rows = 200_001
    time = np.linspace(0, 1, rows)
    content = np.linspace(min(ends), max(ends), rows)
    log = (time, curve(content), np.ones(rows))
    return float(log_totals(*log, "charge", **METER).mean_voltage)


# What, curve, the window's ends as printed, the mean as printed.
MEANS = [
    ("positive", positive, ("0.9084", "0.2699987"), "3.8755367"),
    ("negative", negative, ("0.0279", "0.9013974"), "0.1839723"),
]
POINTS = [(positive, "0.5", "3.971959"), (negative, "0.5", "0.133086")]


@pytest.mark.parametrize(("curve", "content", "printed"), POINTS)
def test_open_circuit_functions_at_a_point(curve: Curve, content: str, printed: str) -> None:
    assert agrees(printed, float(curve(float(content)))), f"{SOURCE} ({MARK})"


@pytest.mark.parametrize(("what", "curve", "ends", "printed"), MEANS)
def test_open_circuit_functions_in_the_mean(
    what: str, curve: Curve, ends: tuple[str, str], printed: str
) -> None:
    """Within half a unit of the last digit, plus what half a unit of the window's ends brings."""
    # The paper's own ends, 0.9084 and 0.0279, are exact choices; the other ends are rounded.
    chosen, rounded = (float(end) for end in ends)
    reach = float(half_last_digit(ends[1]))
    means = [mean(curve, (chosen, rounded + way * reach)) for way in (-1, 1)]
    half = float(half_last_digit(printed))
    assert min(means) - half <= float(printed) <= max(means) + half, f"{what}: {SOURCE} ({MARK})"


def test_mean_voltage_and_energy_of_the_cell() -> None:
    totals = log_totals(*discharge(200_001), "discharge", **METER)
    assert agrees("3.6915644", float(totals.mean_voltage))
    assert agrees("18.4578", float(totals.energy) / 3600)
