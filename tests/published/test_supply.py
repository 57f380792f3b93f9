"""Supply: published tables, with molar masses from an independent library."""

from __future__ import annotations

import periodictable
import pytest

from tests.helpers import run_method, site_book
from tests.printed import agrees, half_last_digit
from tests.published.printed_row import Row

AGENCY = "international agency's report on critical minerals, 2021"
USGS = "U.S. Geological Survey, Mineral Commodity Summaries 2020"
TRADE = "factor of the trade, as published"
EXACT = "follows from the atomic weights and the Faraday constant"


def pack(mass: str) -> dict[str, str]:
    return {"mass": f"{mass} kg", "energy": "75 kWh"}


def trade(imports: str, exports: str) -> dict[str, str]:
    return {
        "production": "0 t",
        "imports": f"{imports} t",
        "exports": f"{exports} t",
        "stock_rise": "0 t",
    }


PRINTED = [
    Row(
        "mass-per-energy-of-a-pack", pack("66.3"), "mass_per_energy", "0.884 kg/kWh", AGENCY, "seen"
    ),
    Row(
        "mass-per-energy-of-a-pack", pack("39.9"), "mass_per_energy", "0.532 kg/kWh", AGENCY, "seen"
    ),
    Row(
        "mass-per-energy-of-a-pack",
        pack("13.3"),
        "mass_per_energy",
        "0.1773 kg/kWh",
        AGENCY,
        "seen",
    ),
    Row(
        "mass-per-energy-of-a-pack", pack("8.9"), "mass_per_energy", "0.1187 kg/kWh", AGENCY, "seen"
    ),
    Row("apparent-consumption", trade("46700", "11600"), "consumption", "35100 t", USGS, "seen"),
    Row("apparent-consumption", trade("51900", "13900"), "consumption", "38000 t", USGS, "seen"),
    Row("apparent-consumption", trade("70700", "10400"), "consumption", "60300 t", USGS, "seen"),
    Row("lithium-carbonate-equivalent", {"lithium": "1 t"}, "factor", "5.32334", EXACT, "exact"),
    Row("lithium-carbonate-equivalent", {"lithium": "1 t"}, "factor", "5.323", TRADE, "seen"),
    Row(
        "lithium-hydroxide-as-carbonate", {"hydroxide": "1 t"}, "factor", "0.88042", EXACT, "exact"
    ),
    Row(
        "active-material-per-energy",
        {"specific_capacity": "155 mAh/g", "mean_voltage": "3.2 V"},
        "mass",
        "2.0161 kg/kWh",
        EXACT,
        "exact",
    ),
    Row(
        "element-share-of-a-compound",
        {"atoms": "1", "atomic_weight": "30.973761998 g/mol", "molar_mass": "157.7548 g/mol"},
        "share",
        "19.634 %",
        EXACT,
        "exact",
    ),
]


@pytest.mark.parametrize("row", PRINTED, ids=str)
def test_printed_value(row: Row) -> None:
    row.check()


# host, atoms of nickel, cobalt and manganese for each lithium
HOSTS = [
    ("nmc_811", {"nickel": 0.8, "cobalt": 0.1, "manganese": 0.1}),
    ("nmc_622", {"nickel": 0.6, "cobalt": 0.2, "manganese": 0.2}),
    ("nmc_111", {"nickel": 1 / 3, "cobalt": 1 / 3, "manganese": 1 / 3}),
    ("lco", {"cobalt": 1.0}),
]
METALS = [(host, metal, atoms) for host, row in HOSTS for metal, atoms in row.items()]


@pytest.mark.parametrize(("host", "metal", "atoms"), METALS)
def test_published_metals_follow_from_the_lithium(host: str, metal: str, atoms: float) -> None:
    """Olivetti et al., Joule 1 (2017) 229, from memory, to be confirmed.

    The page's formula with molar masses of the independent library `periodictable`; both columns
    are printed to three decimals, and the tolerance is what that rounding brings.
    """
    table = {entry.name: entry.quantity for entry in site_book().sheets["metals-per-kwh"].inputs}
    lithium, printed = table[f"lithium_{host}"], table[f"{metal}_{host}"]
    assert lithium is not None and printed is not None
    given = {
        "lithium": f"{lithium.digits} kg/kWh",
        "atoms": repr(atoms),
        "atomic_weight": f"{getattr(periodictable, metal).mass!r} g/mol",
    }
    found, unit = run_method("metal-from-lithium", given)["metal"]
    assert unit == "kg/kWh"
    half = float(half_last_digit(printed.digits))
    reach = half * (1 + found / float(lithium.digits))
    assert abs(found - float(printed.digits)) <= reach


def test_carbonate_and_hydroxide_by_an_independent_library() -> None:
    """Editions differ in lithium, 6.94 or 6.941 g/mol: 1.4 in ten thousand."""
    carbonate, hydroxide = periodictable.formula("Li2CO3"), periodictable.formula("LiOH(H2O)")
    lithium = periodictable.lithium.mass
    by_library = carbonate.mass / (2 * lithium)
    found, _ = run_method("lithium-carbonate-equivalent", {"lithium": "1 t"})["factor"]
    assert found == pytest.approx(by_library, rel=2e-4)
    found, _ = run_method("lithium-hydroxide-as-carbonate", {"hydroxide": "1 t"})["factor"]
    assert found == pytest.approx(carbonate.mass / (2 * hydroxide.mass), rel=2e-4)


def test_nickel_to_cobalt_of_the_published_pack() -> None:
    """39.9 kg of nickel to 13.3 kg of cobalt; molar masses of the independent library."""
    given = {
        "first_mass": "39.9 kg",
        "first_weight": f"{periodictable.nickel.mass!r} g/mol",
        "second_mass": "13.3 kg",
        "second_weight": f"{periodictable.cobalt.mass!r} g/mol",
    }
    assert agrees("3.012", run_method("mole-ratio", given)["ratio"][0]), AGENCY


def test_moving_lithium_is_one_over_the_capacity_of_the_metal() -> None:
    """Lithium metal stores 3861.885 mAh/g (exact): another route to the floor."""
    given = {"mean_voltage": "3.7 V", "used_share": "100 %"}
    found, unit = run_method("moving-lithium-per-energy", given)["moving"]
    assert unit == "kg/kWh"
    assert found == pytest.approx(1000 / (3861.885 * 3.7), rel=1e-6)


def test_growth_and_years_undo_each_other() -> None:
    years, unit = run_method(
        "years-to-scale", {"output": "184680 t", "target": "900000 t", "growth": "17 %"}
    )["time"]
    assert unit == "year"
    given = {"first": "184680 t", "last": "900000 t", "time": f"{years!r} year"}
    assert run_method("yearly-growth", given)["growth"][0] == pytest.approx(17.0)


@pytest.mark.parametrize("share", ["0 %", "5 %", "20 %", "100 %"])
def test_graphite_and_silicon_make_up_the_anode(share: str) -> None:
    """Parts sum to the whole, and the blend stores exactly the charge that was asked for."""
    given = {
        "mean_voltage": "3.6 V",
        "surplus": "1.1",
        "silicon_share": share,
        "graphite_capacity": "350 mAh/g",
        "silicon_capacity": "1700 mAh/g",
    }
    found = run_method("graphite-and-silicon-per-energy", given)
    graphite, silicon = found["graphite"][0], found["silicon"][0]
    assert graphite + silicon == pytest.approx(found["anode"][0])
    assert graphite * 350 + silicon * 1700 == pytest.approx(1.1 * 1000 / 3.6)


def test_spent_cells_bring_back_less_the_faster_the_market_grows() -> None:
    shares = [
        run_method(
            "secondary-supply",
            {
                "growth": growth,
                "life": "12 year",
                "collected": "90 %",
                "recovered": "95 %",
                "intensity_ratio": "1.2",
            },
        )["share"][0]
        for growth in ("0 %", "10 %", "20 %", "40 %")
    ]
    assert shares == sorted(shares, reverse=True)
