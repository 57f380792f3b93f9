"""Molar masses: an independent table of the elements against ours, and how a formula is read."""

from __future__ import annotations

import periodictable
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.cell.formula_mass import ELEMENTS, atoms, molar_mass
from tests.helpers import site_book

HOSTS = {
    "graphite": "C6",
    "silicon": "Si",
    "silicon-monoxide": "SiO",
    "lithium-titanate": "Li4Ti5O12",
    "sulfur": "S",
    "lithium-metal": "Li",
    "sodium-metal": "Na",
    "lithium-iron-phosphate": "LiFePO4",
    "lmfp": "LiMn0.6Fe0.4PO4",
    "lithium-cobalt-oxide": "LiCoO2",
    "lithium-nickel-oxide": "LiNiO2",
    "nmc-811": "LiNi0.8Mn0.1Co0.1O2",
    "nmc-622": "LiNi0.6Mn0.2Co0.2O2",
    "nmc-532": "LiNi0.5Mn0.3Co0.2O2",
    "nmc-111": "LiNi1/3Mn1/3Co1/3O2",
    "nca": "LiNi0.80Co0.15Al0.05O2",
    "lithium-manganese-oxide": "LiMn2O4",
    "sodium-layered-oxide": "NaNi1/3Fe1/3Mn1/3O2",
}


def on_sheet(sheet: str, name: str) -> float:
    """A value of a sheet in its base unit, kg/mol for a molar mass."""
    return next(
        item.quantity.base
        for item in site_book().sheets[sheet].inputs
        if item.name == name and item.quantity
    )


def weights() -> dict[str, float]:
    return {element: on_sheet("atomic-weights", element) for element in ELEMENTS.values()}


@pytest.mark.parametrize(("symbol", "element"), ELEMENTS.items())
def test_atomic_weights_are_those_of_an_independent_table(symbol: str, element: str) -> None:
    mass = getattr(periodictable, symbol).mass
    assert on_sheet("atomic-weights", element) * 1e3 == pytest.approx(mass, rel=1e-9)


@pytest.mark.parametrize(("sheet", "formula"), HOSTS.items())
def test_molar_masses_of_the_sheets_against_an_independent_library(
    sheet: str, formula: str
) -> None:
    """Seven digits stand on the sheets."""
    there = sum(count * getattr(periodictable, at).mass for at, count in atoms(formula).items())
    assert molar_mass(formula, **weights()) * 1e3 == pytest.approx(there, rel=1e-12)
    assert on_sheet(sheet, "molar_mass") * 1e3 == pytest.approx(there, rel=1e-6)


@pytest.mark.parametrize("formula", ["LiFePO4", "Li4Ti5O12", "Al2(SO4)3", "Na3V2(PO4)2F3"])
def test_whole_formulas_are_read_as_the_independent_library_reads_them(formula: str) -> None:
    read = {str(element): n for element, n in periodictable.formula(formula).atoms.items()}
    assert atoms(formula) == read


@given(
    st.dictionaries(st.sampled_from(sorted(ELEMENTS)), st.integers(1, 40), min_size=1, max_size=6),
    st.integers(1, 9),
)
def test_a_bracket_multiplies_what_it_holds(counts: dict[str, int], times: int) -> None:
    inside = "".join(f"{symbol}{count}" for symbol, count in counts.items())
    whole = "".join(f"{symbol}{count * times}" for symbol, count in counts.items())
    assert atoms(f"({inside}){times}") == atoms(whole)
    assert molar_mass(f"({inside}){times}", **weights()) == pytest.approx(
        times * molar_mass(inside, **weights()), rel=1e-12
    )


def test_thirds_stay_whole() -> None:
    assert sum(atoms("Ni1/3Mn1/3Co1/3").values()) == 1.0


@pytest.mark.parametrize(
    ("formula", "phrase"),
    [
        ("", "no chemical formula"),
        ("lifepo4", "no chemical formula"),
        ("Li-Fe", "no chemical formula"),
        ("Li(PO4", "does not close"),
        ("LiPO4)3", "did not open"),
        ("LaNi5", "no atomic weight is given for La"),
    ],
)
def test_what_is_no_formula_is_refused_in_words(formula: str, phrase: str) -> None:
    with pytest.raises(ValueError, match=phrase):
        molar_mass(formula, **weights())
