"""Pack and craft: inverses, parts that sum, and other routes to the same number.

No published values were at hand for these methods; each page says so.
"""

from __future__ import annotations

import pytest

from tests.helpers import run_method

BETTER = {"old_specific_energy": "210 Wh/kg", "new_specific_energy": "260 Wh/kg"}


@pytest.mark.parametrize("share", [0.5, 0.7, 0.85])
def test_share_of_cells_undoes_the_specific_energy(share: float) -> None:
    pack, unit = run_method(
        "pack-specific-energy", {"cell_specific_energy": "270 Wh/kg", "cell_share": repr(share)}
    )["specific_energy"]
    assert unit == "Wh/kg"
    given = {"pack_specific_energy": f"{pack!r} Wh/kg", "cell_specific_energy": "270 Wh/kg"}
    assert run_method("cell-share-of-a-pack", given)["cell_share"][0] == pytest.approx(100 * share)


def test_cells_and_the_rest_make_up_the_pack() -> None:
    """Mass of cells and of all else, for each unit of energy, sum to the pack's."""
    found = run_method(
        "pack-specific-energy", {"cell_specific_energy": "270 Wh/kg", "cell_share": "64 %"}
    )
    cells = 1000 / 270
    assert cells + found["other_mass"][0] == pytest.approx(1000 / found["specific_energy"][0])


def test_a_trip_adds_up_minute_by_minute() -> None:
    """Another route: the power from the pack summed over each minute."""
    given = {
        "shaft_power": "340 kW",
        "drive_efficiency": "90 %",
        "time_under_way": "31 min",
        "service_power": "30 kW",
        "time": "40 min",
    }
    summed = sum((340 / 0.9 if minute < 31 else 0) + 30 for minute in range(40)) / 60
    energy, unit = run_method("trip-energy", given)["energy"]
    assert unit == "kWh"
    assert energy == pytest.approx(summed)


def test_what_is_used_and_what_is_left_make_up_the_pack() -> None:
    given = {"usable_energy": "910 kWh", "reserve": "200 kWh", "trip_energy": "230 kWh"}
    found = run_method("trips-from-a-pack", given)
    assert found["whole_trips"][0] == 3
    assert found["whole_trips"][0] * 230 + found["left"][0] == pytest.approx(910)
    assert found["left"][0] >= 200


def test_the_quay_puts_back_what_the_trip_took() -> None:
    given = {
        "trip_energy": "230 kWh",
        "charge_efficiency": "95 %",
        "time_alongside": "9 min",
        "coupling_time": "1 min",
        "pack_energy": "1400 kWh",
    }
    found = run_method("quay-power", given)
    assert found["power"][0] * 0.95 * 8 / 60 == pytest.approx(230)
    assert found["rate"][0] * 8 / 60 * 100 == pytest.approx(found["depth"][0])


def test_a_better_cell_gains_most_when_the_mass_stays() -> None:
    """At fixed energy the gain is smaller, and it vanishes when consumption ignores mass."""
    fixed_mass, _ = run_method("range-gain-at-fixed-mass", BETTER)["gain"]
    craft = {"energy": "1400 kWh", "craft_mass": "90 t"}
    gains = [
        run_method("range-gain-at-fixed-energy", {**BETTER, **craft, "mass_exponent": exponent})[
            "gain"
        ][0]
        for exponent in ("0", "0.667", "1")
    ]
    assert gains[0] == pytest.approx(0)
    assert gains == sorted(gains)
    assert gains[-1] < fixed_mass


def test_power_of_a_hull_is_a_cube_in_speed() -> None:
    """Two small changes in a row are one larger change."""
    hull = {"known_displacement": "80 t", "displacement": "80 t"}
    once, _ = run_method(
        "power-by-displacement-and-speed",
        {**hull, "known_power": "300 kW", "known_speed": "10 knot", "speed": "11 knot"},
    )["power"]
    twice, _ = run_method(
        "power-by-displacement-and-speed",
        {**hull, "known_power": f"{once!r} kW", "known_speed": "11 knot", "speed": "12 knot"},
    )["power"]
    assert twice == pytest.approx(300 * 1.2**3)
