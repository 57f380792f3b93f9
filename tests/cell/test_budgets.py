"""Budgets of cells at a thousand places each: parts sum to the cell, shares to the whole."""

from __future__ import annotations

import numpy as np
import pytest

from tests.cell.scattered import Values, scattered

COATINGS = {
    "cathode_thickness": "75 um",
    "cathode_loading": "15 mg/cm^2",
    "cathode_solid_density": "4.5 g/cm^3",
    "cathode_foil": "14 um",
    "anode_thickness": "85 um",
    "anode_loading": "8 mg/cm^2",
    "anode_solid_density": "2.2 g/cm^3",
    "anode_foil": "8 um",
    "anode_foil_density": "8.96 g/cm^3",
    "separator_area": "1 m^2",
    "separator_thickness": "14 um",
    "separator_porosity": "42 %",
    "separator_density": "1.2 g/cm^3",
    "electrolyte_excess": "10 %",
    "electrolyte_density": "1.2 g/cm^3",
    "charge": "40 Ah",
    "mean_voltage": "3.6 V",
    "tab_mass": "10 g",
    "other_mass": "2 g",
}
STRIPS = {
    "cathode_length": "5 m",
    "cathode_width": "90 mm",
    "cathode_bare": "4 mm",
    "anode_length": "5 m",
    "anode_width": "93 mm",
    "anode_bare": "3 mm",
}
BUDGETS = {
    "pouch-budget": {
        **COATINGS,
        "cathode_sheets": "20",
        "cathode_length": "200 mm",
        "cathode_width": "90 mm",
        "anode_sheets": "21",
        "anode_length": "203 mm",
        "anode_width": "93 mm",
        "housing_mass": "15 g",
        "length": "220 mm",
        "width": "100 mm",
        "thickness": "9 mm",
    },
    "prismatic-budget": {
        **COATINGS,
        **STRIPS,
        "wall": "0.8 mm",
        "can_density": "2.7 g/cm^3",
        "length": "150 mm",
        "width": "30 mm",
        "height": "110 mm",
    },
    "cylinder-budget": {
        **COATINGS,
        **STRIPS,
        "core_radius": "2 mm",
        "diameter": "60 mm",
        "height": "120 mm",
        "wall": "0.5 mm",
        "can_density": "7.85 g/cm^3",
    },
}
PARTS = [
    "cathode_coating",
    "anode_coating",
    "cathode_metal",
    "anode_metal",
    "separator",
    "electrolyte",
]
SHARES = ["cathode_coating", "anode_coating", "foil", "separator", "electrolyte", "case"]


@pytest.fixture(scope="module", params=sorted(BUDGETS))
def budget(request: pytest.FixtureRequest) -> tuple[Values, Values]:
    """Inputs and steps of one kind of cell, scattered, in SI base units."""
    return scattered(request.param, BUDGETS[request.param])


def test_parts_sum_to_the_cell(budget: tuple[Values, Values]) -> None:
    given, found = budget
    case = found["can"] if "can" in found else given["housing_mass"]
    parts = [found[name] for name in PARTS]
    whole = np.sum([*parts, case, given["tab_mass"], given["other_mass"]], axis=0)
    assert np.allclose(whole, found["mass"], rtol=1e-12)
    assert all((part > 0).all() for part in parts)


def test_shares_sum_to_one(budget: tuple[Values, Values]) -> None:
    _, found = budget
    assert np.allclose(np.sum([found[f"{name}_share"] for name in SHARES], axis=0), 1, rtol=1e-12)


def test_energy_by_mass_and_by_volume_share_one_energy(budget: tuple[Values, Values]) -> None:
    given, found = budget
    energy = given["charge"] * given["mean_voltage"]
    assert np.allclose(found["specific_energy"] * found["mass"], energy, rtol=1e-12)
    assert np.allclose(found["energy_density"] * found["volume"], energy, rtol=1e-12)


def test_solids_and_pores_fill_the_stack(budget: tuple[Values, Values]) -> None:
    """The other route to the pores: the volume of everything less that of what is solid."""
    given, found = budget
    outer = (
        found["cathode_area"] * given["cathode_thickness"]
        + found["anode_area"] * given["anode_thickness"]
        + given["separator_area"] * given["separator_thickness"]
    )
    solid = (
        found["cathode_coating"] / given["cathode_solid_density"]
        + found["anode_coating"] / given["anode_solid_density"]
        + found["separator"] / given["separator_density"]
    )
    assert np.allclose(outer - solid, found["pore_volume"], rtol=1e-9)


@pytest.mark.parametrize(
    "part", ["tab_mass", "cathode_foil", "electrolyte_excess", "anode_loading"]
)
@pytest.mark.parametrize("kind", sorted(BUDGETS))
def test_a_heavier_part_lowers_the_specific_energy(kind: str, part: str) -> None:
    before = dict(BUDGETS[kind])
    number, _, unit = before[part].partition(" ")
    after = {**before, part: f"{float(number) * 1.05} {unit}"}
    _, light = scattered(kind, before)
    _, heavy = scattered(kind, after)
    assert (heavy["specific_energy"] < light["specific_energy"]).all()
