"""The same value in other units that a reader may think in; what is stated does not change."""

from __future__ import annotations

from calc.engine.results import Result
from calc.notation.rounding import digit_place, rounded, significant_place
from calc.notation.units import Unit, unit
from hooks.markup import tag, text
from hooks.wording import with_unit

OTHERS = {
    "Wh/kg": ("MJ/kg",),
    "Wh/L": ("MJ/L",),
    "Wh": ("kJ",),
    "kWh": ("MJ",),
    "km": ("mile", "nautical_mile"),
    "km/h": ("knot",),
    "degC": ("K", "degF"),
    "kg": ("lb",),
    "t": ("kg",),
    "um": ("mm",),
    "mAh/g": ("C/g",),
    "mAh/cm^2": ("Ah/m^2",),
    "mA/cm^2": ("A/m^2",),
    "min": ("s", "h"),
    "h": ("min",),
    "kWh/km": ("kWh/mile",),
    "A h": ("C",),
    "Ah": ("C",),
    "A/m^2": ("mA/cm^2",),
}
_NAMES = {"mile": "miles", "nautical_mile": "nautical miles", "knot": "knots", "degF": "°F"}


def other_units(result: Result) -> str:
    """A line with the same value in other units, or nothing."""
    shown = [_converted(result, unit(name)) for name in OTHERS.get(result.unit.text, ())]
    if not shown:
        return ""
    said = "; ".join(each for each in shown if each)
    return tag("p", tag("small", f"In other units: {text(said)}"), class_="wc-others")


def _converted(result: Result, other: Unit) -> str:
    value = other.from_base(result.unit.to_base(result.value))
    spread = 2 * result.standard_uncertainty * result.unit.factor / other.factor
    place = significant_place(spread) if spread else digit_place(value, 4)
    return with_unit(rounded(value, place, grouped=True), _NAMES.get(other.text, other))
