"""Units: the trade's own beside pint's, each against what it is defined to be."""

from __future__ import annotations

import pytest

from calc.notation.units import (
    PLAIN,
    base_unit,
    price_year_shown,
    shown_as,
    unit,
)
from calc.problems import Wrong

# unit; SI base units; factor, exact by definition of the units in it
DEFINED = [
    ("mAh/g", "A*s/kg", 3600),
    ("mAh/cm^2", "A*s/m^2", 36000),
    ("Wh/kg", "m^2/s^2", 3600),
    ("Wh/L", "kg/(m*s^2)", 3.6e6),
    ("ohm cm^2", "ohm m^2", 1e-4),
    ("Ω·cm²", "ohm m^2", 1e-4),
    ("mΩ", "ohm", 1e-3),
    ("kWh", "J", 3.6e6),
    ("A h", "C", 3600),
    ("Ah", "C", 3600),
    ("cycle", "1", 1),
    ("%", "1", 0.01),
    ("per cent", "1", 0.01),
    ("‰", "1", 0.001),
    ("ppm", "1", 1e-6),
    ("1/h", "1/s", 1 / 3600),
    ("/h", "1/s", 1 / 3600),
    ("h⁻¹", "1/s", 1 / 3600),
    ("µm", "m", 1e-6),
    ("μm", "m", 1e-6),
    ("g/cm³", "kg/m^3", 1000),
    ("J/(mol K)", "kg*m^2/(s^2*mol*K)", 1),
    ("t", "kg", 1000),
    ("kt", "kg", 1e6),
    ("Mt", "kg", 1e9),
    ("nmi", "m", 1852),
    ("kn", "m/s", 1852 / 3600),
    ("L", "m^3", 1e-3),
    ("delta_degC", "K", 1),
    ("°", "rad", 0.017453292519943295),
]
UNKNOWN = ["Wh/kgg", "Vv", "mAh/cm2", "kg-1", "V/", "3 V", "__class__", "(", "%%/", "kWh/100 km"]


@pytest.mark.parametrize(("text", "base", "factor"), DEFINED)
def test_a_unit_is_what_it_is_defined_to_be(text: str, base: str, factor: float) -> None:
    found = unit(text)
    assert found.dimension == unit(base).dimension
    assert found.factor / unit(base).factor == pytest.approx(factor, rel=1e-12)
    assert found.offset == 0


@pytest.mark.parametrize("text", UNKNOWN)
def test_what_is_no_unit_is_refused(text: str) -> None:
    with pytest.raises(Wrong, match="no unit is called") as refused:
        unit(text)
    assert refused.value.kind == "unit"


def test_celsius_is_an_offset_unit() -> None:
    assert unit("degC").to_base(-273.15) == pytest.approx(0, abs=1e-12)
    assert unit("°C").from_base(300) == pytest.approx(26.85)
    assert unit("degC").width_to_base(2) == 2


def test_money_of_another_year_is_of_another_kind() -> None:
    assert unit("USD/kWh (2024 prices)").dimension == unit("USD_2024/kWh").dimension
    kinds = {unit(text).dimension for text in ("USD_2024", "USD_2020", "USD", "EUR_2024")}
    assert len(kinds) == 4
    assert unit("USD_2024/USD_2020").dimension != PLAIN


@pytest.mark.parametrize(
    ("found", "wanted", "shown"),
    [
        ("Wh/kg", "kJ/g", "kJ/g"),
        ("Wh/kg", "Wh/L", None),
        ("USD_2024/kWh", "USD/kWh", "USD_2024/kWh"),
        ("USD_2024/kWh", "EUR/kWh", None),
        ("USD_2024/kWh", "USD_2020/kWh", None),
        ("USD_2024", "USD (2024 prices)", "USD (2024 prices)"),
        ("%", "1", "1"),
    ],
)
def test_a_result_is_shown_in_a_unit_of_its_kind(
    found: str, wanted: str, shown: str | None
) -> None:
    scale = shown_as(unit(found).dimension, unit(wanted))
    assert (scale.text if scale else None) == shown


def test_a_price_year_is_shown_in_words() -> None:
    assert price_year_shown("USD_2024/kWh") == "USD/kWh (2024 prices)"
    assert price_year_shown("Wh/kg") == "Wh/kg"


@pytest.mark.parametrize("text", ["Wh/kg", "ohm cm^2", "mol/m^3", "USD_2024/kWh", "1", "m^0.5"])
def test_base_units_have_the_dimension_that_they_stand_for(text: str) -> None:
    found = base_unit(unit(text).dimension)
    assert (found.factor, found.offset) == (1, 0)
    assert found.dimension == unit(text).dimension


def test_one_spelling_of_a_power_is_published() -> None:
    assert {unit(text).text for text in ("mAh/cm²", "mAh/cm^2", "mAh/cm**2")} == {"mAh/cm^2"}
