"""Hosts and blends: printed capacities, densities and gains against the pages' own formulas."""

from __future__ import annotations

import periodictable
import pytest

from calc.cell.formula_mass import atoms
from tests.helpers import run_method
from tests.printed import agrees
from tests.published.printed_row import MEMORY, Row

ROUND = "round value as commonly published"
OBROVAC = "Obrovac and Chevrier, Chem. Rev. 114 (2014) 11444"
RSC = "RSC Advances 8 (2018), c8ra04804e, which says about"
SCIENTIFIC_REPORTS = "Scientific Reports 8 (2018), s41598-018-33405-y"
STURM = "Sturm et al., J. Power Sources 412 (2019) 204"
YOSHIO = "Yoshio et al., J. Power Sources 146 (2005) 10"
KASAVAJJULA = "Kasavajjula et al., J. Power Sources 163 (2007) 1003; inactive term to be verified"
EXACT = "follows from the atomic weights and the Faraday constant"
LATTICE = "lattice constants as commonly tabulated"
SEEN, COPY, EXACTLY, PRACTICE = "seen", "seen in a copy", "exact", "common practice, no source"

CAPACITIES = [
    # formula, electrons, published mAh/g, the same with all digits, source, mark
    ("C6", 1, "372", "371.902", ROUND, SEEN),
    ("Si", 15 / 4, "3579", "3578.620", OBROVAC, COPY),
    ("Si", 22 / 5, "4.2e3", "4198.915", RSC, SEEN),
    ("LiCoO2", 1, "274", "273.844", ROUND, SEEN),
    ("LiNiO2", 1, "275", "274.517", ROUND, SEEN),
    ("LiFePO4", 1, "170", "169.893", ROUND, MEMORY),
    ("LiNi0.8Mn0.1Co0.1O2", 1, "276", "275.509", ROUND, MEMORY),
    ("LiNi0.6Mn0.2Co0.2O2", 1, "277", "276.508", ROUND, MEMORY),
    ("LiNi0.5Mn0.3Co0.2O2", 1, "278", "277.584", ROUND, MEMORY),
    ("LiNi1/3Mn1/3Co1/3O2", 1, "278", "277.852", ROUND, MEMORY),
    ("LiNi0.80Co0.15Al0.05O2", 1, "279", "278.944", ROUND, MEMORY),
    ("LiMn2O4", 1, "148", "148.228", ROUND, MEMORY),
    ("Li4Ti5O12", 3, "175", "175.141", ROUND, MEMORY),
    ("LiMn0.6Fe0.4PO4", 1, "170", "170.481", ROUND, MEMORY),
    ("Li", 1, "3.86e3", "3861.885", ROUND, MEMORY),
    ("Na", 1, "1166", "1165.800", ROUND, MEMORY),
]


@pytest.mark.parametrize(
    ("formula", "electrons", "published", "computed", "source", "mark"), CAPACITIES
)
def test_theoretical_capacity(
    formula: str, electrons: float, published: str, computed: str, source: str, mark: str
) -> None:
    """With molar masses from an independent library; the digits of the table are exact."""
    mass = sum(count * getattr(periodictable, at).mass for at, count in atoms(formula).items())
    given = {"electrons": repr(electrons), "molar_mass": f"{mass!r} g/mol"}
    Row("theoretical-capacity", given, "capacity", f"{computed} mAh/g", EXACT, EXACTLY).check()
    assert agrees(published, float(computed)), f"{source}; {mark}"


@pytest.mark.parametrize(("weight", "printed"), [("6.997", "3830"), ("6.938", "3863")])
def test_natural_lithium_moves_the_capacity_of_the_metal(weight: str, printed: str) -> None:
    """The ends of the natural interval; from memory, to be confirmed."""
    given = {"electrons": "1", "molar_mass": f"{weight} g/mol"}
    Row("theoretical-capacity", given, "capacity", f"{printed} mAh/g", ROUND, MEMORY).check()


def cell(a: str, b: str, c: str, angle: str, units: str, mass: str) -> dict[str, str]:
    edges = {name: f"{edge} angstrom" for name, edge in (("a", a), ("b", b), ("c", c))}
    return {
        **edges,
        "angle": f"{angle} deg",
        "formula_units": units,
        "molar_mass": f"{mass} g/mol",
    }


def pair(cathode: str, anode: str, **more: str) -> dict[str, str]:
    named = {"cathode": cathode, "anode": anode, "reference": "372", **more}
    return {f"{name}_capacity": f"{number} mAh/g" for name, number in named.items()}


def blend(share: str) -> dict[str, str]:
    return {
        "share": share,
        "graphite_density": "2.267 g/cm^3",
        "silicon_density": "2.329 g/cm^3",
        "graphite_expansion": "10 %",
        "silicon_expansion": "280 %",
    }


def host(capacity: str, density: str) -> dict[str, str]:
    return {
        "capacity": f"{capacity} mAh/g",
        "density": f"{density} g/cm^3",
        "electrons": "1",
        "molar_mass": "72.066 g/mol",
    }


PURE = {"purity": "99.995 %"}
OXIDE = {"oxygen": "1"}
TOTAL, INACTIVE = "total-capacity", "total-capacity-with-inactive"
FIRST, DENSITY = "silicon-oxide-first-cycle", "density-from-unit-cell"
NINES, HIGHEST = "purity-in-nines", "maximum-lithium-concentration"
IRON = cell("10.332", "6.010", "4.692", "90", "4", "157.7548")
PRINTED = [
    Row(FIRST, OXIDE, "silicate_first", "2317.862 mAh/g", EXACT, EXACTLY),
    Row(FIRST, OXIDE, "silicate_reversible", "1709.899 mAh/g", EXACT, EXACTLY),
    Row(FIRST, OXIDE, "silicate_reversible", "1710 mAh/g", ROUND, MEMORY),
    Row(FIRST, OXIDE, "silicate_efficiency", "74 %", ROUND, MEMORY),
    Row(FIRST, OXIDE, "silicate_efficiency", "73.7704918 %", "45/61, atoms counted", EXACTLY),
    Row(FIRST, {"oxygen": "0"}, "silicate_reversible", "3579 mAh/g", OBROVAC, COPY),
    Row(
        DENSITY,
        cell("2.461", "2.461", "6.708", "120", "4", "12.011"),
        "density",
        "2.267 g/cm^3",
        LATTICE,
        MEMORY,
    ),
    Row(
        DENSITY,
        cell("5.431", "5.431", "5.431", "90", "8", "28.085"),
        "density",
        "2.329 g/cm^3",
        LATTICE,
        MEMORY,
    ),
    Row(DENSITY, IRON, "density", "3.596 g/cm^3", LATTICE, MEMORY),
    Row(
        DENSITY,
        cell("2.816", "2.816", "14.05", "120", "3", "97.8712"),
        "density",
        "5.053 g/cm^3",
        LATTICE,
        MEMORY,
    ),
    Row(TOTAL, pair("140", "372"), "total", "101.71875 mAh/g", YOSHIO, MEMORY),
    Row(TOTAL, pair("140", "1000"), "total", "122.807 mAh/g", YOSHIO, MEMORY),
    Row(TOTAL, pair("140", "1200"), "total", "125.373 mAh/g", YOSHIO, MEMORY),
    Row(TOTAL, pair("140", "2000"), "total", "130.841 mAh/g", YOSHIO, MEMORY),
    Row(TOTAL, pair("140", "372"), "largest_gain", "37.634 %", "140/372", EXACTLY),
    Row(
        INACTIVE, pair("140", "372", inactive="130.4"), "total", "57.144 mAh/g", KASAVAJJULA, MEMORY
    ),
    Row(
        INACTIVE,
        pair("140", "1200", inactive="130.4"),
        "total",
        "63.919 mAh/g",
        KASAVAJJULA,
        MEMORY,
    ),
    Row(
        INACTIVE,
        pair("140", "4200", inactive="130.4"),
        "total",
        "66.447 mAh/g",
        KASAVAJJULA,
        MEMORY,
    ),
    Row("blend-expansion", blend("0 %"), "expansion", "10 %", SCIENTIFIC_REPORTS, SEEN),
    Row("blend-expansion", blend("100 %"), "expansion", "280 %", SCIENTIFIC_REPORTS, SEEN),
    Row(HIGHEST, host("415", "2.24"), "by_capacity", "34684.7 mol/m^3", STURM, MEMORY),
    Row(HIGHEST, host("275.5", "4.87"), "by_capacity", "50060.1 mol/m^3", STURM, MEMORY),
    Row(NINES, {"purity": "99 %"}, "by_logarithm", "2", "nines of purity", PRACTICE),
    Row(NINES, {"purity": "99.999 %"}, "digits.nines", "5", "nines of purity", PRACTICE),
    Row(NINES, PURE, "by_logarithm", "4.30103", "nines of purity", SEEN),
    Row(NINES, PURE, "digits.nines", "4", "nines of purity", SEEN),
    Row(NINES, PURE, "digits.next_digit", "5", "nines of purity", SEEN),
]


@pytest.mark.parametrize("row", PRINTED, ids=str)
def test_printed_value(row: Row) -> None:
    row.check()


def test_a_better_anode_stops_helping() -> None:
    """Ten times the capacity brings less than the largest gain of 140 over 372."""
    gains = [
        run_method(TOTAL, pair("140", anode))["gain"][0] for anode in ("372", "1000", "3720", "1e9")
    ]
    assert gains == sorted(gains)
    assert gains[2] < 140 / 372 * 100
    assert gains[3] == pytest.approx(140 / 372 * 100, rel=1e-6)
