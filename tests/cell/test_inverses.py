"""Methods that undo each other, limits that must be met, and the monotone where physics says so."""

from __future__ import annotations

import numpy as np
import pytest

from tests.cell.scattered import scattered

COATING = {
    "thickness": "75 um",
    "porosity": "30 %",
    "solid_density": "4.5 g/cm^3",
    "area": "1 cm^2",
}
BLEND = {"share": "8 %", "graphite_capacity": "350 mAh/g", "silicon_capacity": "1500 mAh/g"}
EFFICIENCIES = {"graphite_efficiency": "83 %", "silicon_efficiency": "66 %"}
DENSITIES = {"graphite_density": "2.26 g/cm^3", "silicon_density": "2.2 g/cm^3"}


def test_thickness_porosity_and_loading_are_each_found_from_the_others() -> None:
    given, found = scattered("coating-loading", COATING)
    loading = found["loading"]
    solid = loading / given["solid_density"]
    assert np.allclose(solid / (1 - given["porosity"]), given["thickness"], rtol=1e-12)
    same = {name: given[name] for name in ("thickness", "solid_density")}
    assert np.allclose(
        1 - loading / same["thickness"] / same["solid_density"], given["porosity"], rtol=1e-9
    )


def test_a_share_by_mass_comes_back_from_its_share_by_volume() -> None:
    given, found = scattered("blend-volume-share", {"share": "10 %", **DENSITIES})
    v, g, s = found["volume_share"], given["graphite_density"], given["silicon_density"]
    assert np.allclose(v * s / (v * s + (1 - v) * g), given["share"], rtol=1e-12)


def test_a_capacity_gives_back_its_share() -> None:
    given, found = scattered("blend-capacity", BLEND)
    host, addition = given["graphite_capacity"], given["silicon_capacity"]
    assert np.allclose((found["capacity"] - host) / (addition - host), given["share"], rtol=1e-9)


def test_a_blend_lies_between_its_hosts() -> None:
    given, found = scattered("blend-first-cycle-efficiency", {**BLEND, **EFFICIENCIES})
    low = np.minimum(given["graphite_efficiency"], given["silicon_efficiency"])
    high = np.maximum(given["graphite_efficiency"], given["silicon_efficiency"])
    assert ((low <= found["efficiency"]) & (found["efficiency"] <= high)).all()
    # The host that takes more charge has the worse efficiency: then the mean by mass flatters.
    worse = given["silicon_efficiency"] < given["graphite_efficiency"]
    assert (found["difference"][worse] > 0).all()


def test_the_short_cut_to_a_density_is_never_too_low() -> None:
    _, found = scattered("blend-density", {"share": "30 %", **DENSITIES})
    assert (found["difference"] >= 0).all()


def test_volume_shares_of_a_coating_sum_to_one() -> None:
    coating = {
        "active_share": "75 %",
        "binder_share": "4 %",
        "active_density": "4.7 g/cm^3",
        "binder_density": "1.8 g/cm^3",
        "additive_density": "1.9 g/cm^3",
        "porosity": "30 %",
    }
    _, found = scattered("solids-of-a-coating", coating)
    assert np.allclose(found["everything"], 1, rtol=1e-12)


def test_no_better_anode_gains_more_than_the_largest_gain() -> None:
    capacities = {
        "cathode_capacity": "180 mAh/g",
        "anode_capacity": "1500 mAh/g",
        "inactive_capacity": "150 mAh/g",
        "reference_capacity": "350 mAh/g",
    }
    _, found = scattered("total-capacity-with-inactive", capacities)
    assert (found["gain"] < found["largest_gain"]).all()
    assert (found["gain"] < found["active_gain"]).all()


def test_added_lithium_never_brings_more_than_the_cathode_can_take_back() -> None:
    cell = {
        "cathode_first_charge": "5 mAh/cm^2",
        "cathode_efficiency": "80 %",
        "anode_loss": "1 mAh/cm^2",
        "added": "0.4 mAh/cm^2",
    }
    given, found = scattered("prelithiation", cell)
    assert (found["with_added"] <= found["reversible"] * (1 + 1e-12)).all()
    assert (found["gain"] >= 0).all()
    enough = given["added"] >= found["needed"]
    assert np.allclose(found["with_added"][enough], found["reversible"][enough], rtol=1e-12)


def test_thicker_coatings_approach_the_limit_from_below() -> None:
    stack = {
        "cathode_thickness": "65 um",
        "coating_density": "3 g/cm^3",
        "coating_capacity": "180 mAh/g",
        "mean_voltage": "3.6 V",
        "mass_ratio": "0.9",
        "inactive_mass": "9 mg/cm^2",
        "inactive_target": "15 %",
    }
    given, found = scattered("energy-against-coating-thickness", stack)
    thicker = {**stack, "cathode_thickness": "75 um"}
    _, after = scattered("energy-against-coating-thickness", thicker)
    assert (found["specific_energy"] < after["specific_energy"]).all()
    assert (after["specific_energy"] < after["limit"]).all()
    ratio = given["cathode_thickness"] / found["half_thickness"]
    assert np.allclose(found["specific_energy"] / found["limit"], ratio / (1 + ratio), rtol=1e-12)


def test_two_routes_to_the_length_of_a_flat_roll_agree() -> None:
    roll = {"thickness": "300 um", "roll_thickness": "20 mm", "roll_width": "120 mm"}
    _, found = scattered("flat-roll", roll)
    assert np.allclose(found["length"], found["by_turns"], rtol=1e-12)


def test_reciprocal_capacities_differ_by_that_of_lithium_metal() -> None:
    _, found = scattered("capacity-by-lithiated-mass", {"electrons": "2", "molar_mass": "90 g/mol"})
    step = 1 / found["by_lithiated"] - 1 / found["by_host"]
    assert np.allclose(step, 6.94e-3 / 96485.33212, rtol=1e-9)


@pytest.mark.parametrize("oxygen", ["0.5", "1", "1.5"])
def test_an_oxide_of_silicon_balances_its_atoms(oxygen: str) -> None:
    """Lithium by counting: bound with the oxygen, and fifteen to four with the silicon left."""
    given, found = scattered("silicon-oxide-first-cycle", {"oxygen": oxygen})
    x, mole = given["oxygen"], found["molar_mass"] / 96485.33212
    assert np.allclose(found["silicate_first"] * mole, x + 15 / 4 * (1 - x / 4), rtol=1e-9)
    assert np.allclose(found["oxide_first"] * mole, 2 * x + 15 / 4, rtol=1e-9)
