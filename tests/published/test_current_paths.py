"""Current paths: printed values, and a foil cut into many small resistors as another route."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pytest

from tests.helpers import run_method
from tests.published.printed_row import Row

FOIL = {"resistivity": "1.68e-8 ohm m", "length": "0.79 m", "width": "65 mm", "thickness": "12 um"}
RESISTANCE = {"foil_resistance": "17.01538462 mohm", "current": "1 A"}
EXACT = "follows from Ohm's law"
PRINTED = [
    Row("foil-resistance", FOIL, "resistance", "17.0154 mohm", EXACT, "exact"),
    Row("tab-at-one-end", RESISTANCE, "effective", "5.6718 mohm", EXACT, "exact"),
    Row(
        "tabs-in-the-middle-or-at-both-ends", RESISTANCE, "effective", "1.4179 mohm", EXACT, "exact"
    ),
    Row("whole-edge-collection", FOIL, "effective", "38.397 uohm", EXACT, "exact"),
    Row("whole-edge-collection", FOIL, "gain", "147.716", EXACT, "exact"),
    Row(
        "heat-and-voltage-drop",
        {"current": "15 A", "resistance": "25 mohm"},
        "heat",
        "5.625 W",
        EXACT,
        "exact",
    ),
]


@pytest.mark.parametrize("row", PRINTED, ids=str)
def test_printed_value(row: Row) -> None:
    row.check()


def ladder_heat(cells: int, tabs: tuple[float, ...]) -> float:
    """Heat of a foil of 1 ohm that gathers 1 A evenly and gives it up at tabs held at one voltage.

    The foil is a chain of `cells` equal resistors with a share of the current fed into each node;
    `tabs` are places along the foil from 0 to 1.
    """
    nodes = cells + 1
    conductance = float(cells)
    laplace = np.zeros((nodes, nodes))
    for left in range(cells):
        laplace[left : left + 2, left : left + 2] += conductance * np.array([[1, -1], [-1, 1]])
    fed = np.full(nodes, 1 / cells)
    fed[[0, -1]] /= 2
    held = sorted({round(place * cells) for place in tabs})
    free = [node for node in range(nodes) if node not in held]
    voltage = np.zeros(nodes)
    voltage[free] = np.linalg.solve(laplace[np.ix_(free, free)], fed[free])
    return float(np.sum(np.diff(voltage) ** 2) * conductance)


ONE_OHM = {"foil_resistance": "1 ohm", "current": "1 A"}
LADDERS = [
    # method, further given, places of the tabs
    ("tab-at-one-end", {}, (0.0,)),
    ("tabs-in-the-middle-or-at-both-ends", {}, (0.5,)),
    ("tabs-in-the-middle-or-at-both-ends", {}, (0.0, 1.0)),
    ("many-tabs", {"tabs": "1"}, (0.5,)),
    ("many-tabs", {"tabs": "3"}, (1 / 6, 3 / 6, 5 / 6)),
    ("many-tabs", {"tabs": "5"}, (0.1, 0.3, 0.5, 0.7, 0.9)),
]


@pytest.mark.parametrize(("method", "further", "tabs"), LADDERS)
def test_heat_of_a_chain_of_resistors(
    method: str, further: Mapping[str, str], tabs: tuple[float, ...]
) -> None:
    """The error of the chain falls with the square of its cells; Richardson takes it out."""
    coarse, fine = ladder_heat(300, tabs), ladder_heat(600, tabs)
    watts, unit = run_method(method, {**ONE_OHM, **further})["heat"]
    assert unit == "W"
    assert watts == pytest.approx((4 * fine - coarse) / 3, rel=1e-6)


def test_a_step_of_current_gives_back_the_resistance() -> None:
    """The inverse undoes its forward."""
    drop, _ = run_method("heat-and-voltage-drop", {"current": "15 A", "resistance": "25 mohm"})[
        "drop"
    ]
    given = {
        "voltage_before": "3.675 V",
        "voltage_after": f"{3.675 - drop / 1000!r} V",
        "current_before": "0 A",
        "current_after": "15 A",
    }
    resistance, _ = run_method("resistance-from-a-current-step", given)["resistance"]
    assert resistance == pytest.approx(25.0)


@pytest.mark.parametrize("lowest", ["2.1 V", "2.5 V", "3.0 V", "3.5 V"])
def test_power_at_a_limit_never_exceeds_the_greatest(lowest: str) -> None:
    given = {"open_circuit_voltage": "3.7 V", "resistance": "20 mohm", "lowest_voltage": lowest}
    found = run_method("power-at-a-voltage-limit", given)
    assert found["power"][0] <= found["greatest"][0]
