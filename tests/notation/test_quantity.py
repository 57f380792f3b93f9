"""Quantities: every row of the notation's table, its typographic forms, and what is refused."""

from __future__ import annotations

import pytest

from calc.notation.quantity import (
    Exact,
    Normal,
    Rectangular,
    Spread,
    Triangular,
    last_place,
    number,
    parse_quantity,
)
from calc.notation.units import unit
from calc.problems import Wrong

ANY = Rectangular(50, 58)
LIKELY = Triangular(50, 55, 58)
HUNDREDTH = Normal(0.01)

# text; value and spread in the unit that follows
READ: list[tuple[str, float, Spread, str]] = [
    # exact as given
    ("3.66 V", 3.66, Exact(), "V"),
    ("3.66V", 3.66, Exact(), "V"),
    ("+3.66 V", 3.66, Exact(), "V"),
    (".5 V", 0.5, Exact(), "V"),
    ("1.2e-3 m", 0.0012, Exact(), "m"),
    ("3.2 × 10⁵ m", 3.2e5, Exact(), "m"),
    ("3.2·10⁻¹⁴ m²/s", 3.2e-14, Exact(), "m^2/s"),
    ("3.2 × 10^5 m", 3.2e5, Exact(), "m"),
    # expanded uncertainty, k = 2
    ("3.66 ± 0.02 V", 3.66, HUNDREDTH, "V"),
    ("3.66±0.02V", 3.66, HUNDREDTH, "V"),
    ("3.66 +/- 0.02 V", 3.66, HUNDREDTH, "V"),
    ("(3.66 ± 0.02) V", 3.66, HUNDREDTH, "V"),
    ("3.66 V ± 0.02 V", 3.66, HUNDREDTH, "V"),
    ("3.66 V ± 20 mV", 3.66, HUNDREDTH, "V"),
    ("(2.0 ± 0.2) × 10⁻³ m", 0.002, Normal(0.0001), "m"),
    ("2.0 ± 0.2 × 10⁻³ m", 0.002, Normal(0.0001), "m"),
    ("1.8 ± 0.2 million t", 1.8e6, Normal(1e5), "t"),
    ("1 000 ± 50 km", 1000, Normal(25), "km"),
    ("3 ± 0 V", 3, Normal(0), "V"),
    # another coverage factor, wherever it stands
    ("3.66 ± 0.01 V (k=1)", 3.66, HUNDREDTH, "V"),
    ("3.66 ± 0.01 V (k = 1)", 3.66, HUNDREDTH, "V"),
    ("3.66 ± 0.01 (k=1) V", 3.66, HUNDREDTH, "V"),
    ("3.66 ± 0.03 V (k=3)", 3.66, HUNDREDTH, "V"),
    ("12 ± 1 (k=1)", 12, Normal(1), ""),
    # standard uncertainty in the last digits
    ("3.660(12) V", 3.66, Normal(0.012), "V"),
    ("3.660 (12) V", 3.66, Normal(0.012), "V"),
    ("100.02147(35) g", 100.02147, Normal(0.00035), "g"),
    ("137.4(6) A h", 137.4, Normal(0.6), "A h"),
    ("1.8(2) million t", 1.8e6, Normal(2e5), "t"),
    ("6.674 30(15) × 10⁻¹¹ m^3/(kg s^2)", 6.6743e-11, Normal(1.5e-15), "m^3/(kg s^2)"),
    # relative expanded uncertainty
    ("3.66 V ± 0.5 %", 3.66, Normal(3.66 * 0.0025), "V"),
    ("3.66 V ± 0.5%", 3.66, Normal(3.66 * 0.0025), "V"),
    ("3.66 V +/- 0.5 per cent", 3.66, Normal(3.66 * 0.0025), "V"),
    ("-3.66 V ± 0.5 % (k=1)", -3.66, Normal(3.66 * 0.005), "V"),
    # anything between the two, equally likely
    ("50 to 58 um", 54, ANY, "um"),
    ("50–58 µm", 54, ANY, "um"),
    ("50 – 58 μm", 54, ANY, "um"),
    ("50-58 um", 54, ANY, "um"),
    ("50 um to 58 um", 54, ANY, "um"),
    ("0.05 mm to 58 um", 54, ANY, "um"),
    ("between 50 and 58 um", 54, ANY, "um"),
    ("from 50 to 58 um", 54, ANY, "um"),
    ("(50 to 58) um", 54, ANY, "um"),
    ("-5 to 5 mV", 0, Rectangular(-5, 5), "mV"),
    ("−5–−2 mV", -3.5, Rectangular(-5, -2), "mV"),
    ("1.7 to 1.9 million t", 1.8e6, Rectangular(1.7e6, 1.9e6), "t"),
    ("10–20 %", 15, Rectangular(10, 20), "%"),
    ("10% to 20%", 15, Rectangular(10, 20), "%"),
    ("1.5 to 2.5", 2, Rectangular(1.5, 2.5), ""),
    ("0.5 to 2 1/h", 1.25, Rectangular(0.5, 2), "1/h"),
    # triangular
    ("50 to 58 um, likely 55 um", 55, LIKELY, "um"),
    ("50–58 µm, likely 55 µm", 55, LIKELY, "um"),
    ("50 to 58 um, likely 55", 55, LIKELY, "um"),
    ("50 to 58 um likely 55 um", 55, LIKELY, "um"),
    # half a unit in the last place
    ("3.66 V to the last digit", 3.66, Rectangular(3.655, 3.665), "V"),
    ("270 Wh/kg to the last digit", 270, Rectangular(269.5, 270.5), "Wh/kg"),
    ("3.70 V to the last digit", 3.7, Rectangular(3.695, 3.705), "V"),
    ("1.8 million t to the last digit", 1.8e6, Rectangular(1.75e6, 1.85e6), "t"),
    # temperatures and their differences
    ("-20 degC", -20, Exact(), "degC"),
    ("−20 °C", -20, Exact(), "degC"),
    ("20 ± 2 °C", 20, Normal(1), "degC"),
    ("20 °C ± 1 K", 20, Normal(0.5), "degC"),
    ("-20–-10 degC", -15, Rectangular(-20, -10), "degC"),
    ("1.5 delta_degC", 1.5, Exact(), "delta_degC"),
    # dimensionless
    ("25 %", 25, Exact(), "%"),
    ("25%", 25, Exact(), "%"),
    ("380 ppm", 380, Exact(), "ppm"),
    ("12", 12, Exact(), ""),
    ("25 ± 2 %", 25, Normal(1), "%"),
    # multipliers and thousands
    ("1.8 million t", 1.8e6, Exact(), "t"),
    ("250 000 km", 250000, Exact(), "km"),
    ("250\u2009000 km", 250000, Exact(), "km"),
    ("250\u202f000 km", 250000, Exact(), "km"),
    ("250\u00a0000 km", 250000, Exact(), "km"),
    ("12 345.678 9 V", 12345.6789, Exact(), "V"),
    # money
    ("112 USD/kWh (2024 prices)", 112, Exact(), "USD_2024/kWh"),
    ("112 ± 4 USD/kWh (2024 prices)", 112, Normal(2), "USD_2024/kWh"),
    ("112 ± 4 USD/kWh (2024 prices) (k=1)", 112, Normal(4), "USD_2024/kWh"),
    ("100 to 120 USD/kWh (2024 prices)", 110, Rectangular(100, 120), "USD_2024/kWh"),
    ("1.2 billion EUR (2023 prices)", 1.2e9, Exact(), "EUR_2023"),
]

# text; a key phrase of what is wrong, or of its mend
REFUSED = [
    ("", "is not a quantity"),
    ("V", "write it like '3.66 ± 0.02 V'"),
    ("about 5 V", "is not a quantity"),
    ("nan V", "is not a quantity"),
    ("1,5 V", "write a point for decimals"),
    ("250,000 km", "spaces between thousands"),
    ("5 Vv", "no unit is called 'Vv'; did you mean V?"),
    ("5 kWh/kg/", "no unit is called 'kWh/kg/'"),
    ("4.9 mAh/cm2", "did you mean mAh/cm^2"),
    ("2 × 3 V", "no unit is called"),
    ("5 to 3 V", "does not rise"),
    ("5 V to 3 A", "'V' and 'A' are not of one kind"),
    ("50 to 58 um, likely 60 um", "lies outside its range"),
    ("50 to 58 um, likely 55 kg", "are not of one kind"),
    ("3.66 V ± 2 kg", "are not of one kind"),
    ("3 ± -1 V", "is negative"),
    ("3.66 ± 0.01 V (k=0)", "a coverage factor is above zero"),
    ("3.66 V (k=1)", "belongs after an uncertainty"),
    ("3.66 ± 0.5 % V", "is written '3.66 V ± 0.5 %'"),
    ("25 % ± 2 %", "write '25 ± 2 %'"),
    ("20 °C ± 2 %", "takes a share of a temperature"),
    ("-300 degC", "below absolute zero"),
]


@pytest.mark.parametrize(("text", "value", "spread", "scale"), READ)
def test_a_quantity_is_read(text: str, value: float, spread: Spread, scale: str) -> None:
    found = parse_quantity(text)
    assert found.value == pytest.approx(value, rel=1e-12)
    assert type(found.spread) is type(spread)
    assert vars(found.spread) == pytest.approx(vars(spread), rel=1e-12)
    assert (found.unit.factor, found.unit.offset) == (unit(scale).factor, unit(scale).offset)
    assert found.unit.dimension == unit(scale).dimension


@pytest.mark.parametrize(("text", "phrase"), REFUSED)
def test_what_can_be_misread_is_refused_with_its_mend(text: str, phrase: str) -> None:
    with pytest.raises(Wrong) as refused:
        parse_quantity(text)
    assert phrase in refused.value.message


@pytest.mark.parametrize(
    ("text", "value", "place"),
    [
        ("3.70", 3.7, "0.01"),
        ("270", 270, "1"),
        ("250 000", 250000, "1"),
        ("1.8 million", 1.8e6, "1E+5"),
        ("2.5e3", 2500, "1E+2"),
    ],
)
def test_a_number_keeps_its_digits(text: str, value: float, place: str) -> None:
    assert number(text) == value
    assert str(last_place(text)) == place


def test_base_units_carry_value_and_spread() -> None:
    found = parse_quantity("20 ± 2 degC")
    assert (found.base, found.base_spread) == (293.15, Normal(1.0))
    span = parse_quantity("50 to 58 um, likely 55 um").base_spread
    assert isinstance(span, Triangular)
    assert (span.low, span.mode, span.high) == pytest.approx((50e-6, 55e-6, 58e-6))
