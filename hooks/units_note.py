"""The units of a page, spelled out for those who do not read them, and for the search."""

from __future__ import annotations

from collections.abc import Iterable

from calc.engine.results import Result
from hooks.markup import tag, text
from hooks.wording import unit_text

SPELLED = {
    "Wh/kg": "watt-hours per kilogram",
    "Wh/L": "watt-hours per litre",
    "Wh": "watt-hours",
    "kWh": "kilowatt-hours",
    "MWh": "megawatt-hours",
    "Ah": "ampere-hours",
    "mAh": "milliampere-hours",
    "mAh/g": "milliampere-hours per gram",
    "mAh/cm²": "milliampere-hours per square centimetre",
    "mA/cm²": "milliamperes per square centimetre",
    "mg/cm²": "milligrams per square centimetre",
    "g/cm³": "grams per cubic centimetre",
    "g/mol": "grams per mole",
    "V": "volts",
    "mV": "millivolts",
    "A": "amperes",
    "W": "watts",
    "kW": "kilowatts",
    "mΩ": "milliohms",
    "Ω·cm²": "ohm square centimetres",
    "µm": "micrometres",
    "mm": "millimetres",
    "1/h": "per hour, as charge rates are",
    "kJ/mol": "kilojoules per mole",
    "USD/kWh": "United States dollars per kilowatt-hour",
    "t": "tonnes, a thousand kilograms each",
    "K": "kelvin, as wide as a degree Celsius",
}
"""Units as printed, in words."""


def units_html(results: Iterable[Result]) -> str:
    """The units of some results in words, or "" when none needs it."""
    shown = {unit_text(each.unit).split(" (")[0] for each in results}
    listed = [(unit, said) for unit, said in SPELLED.items() if unit in shown]
    if not listed:
        return ""
    said = "; ".join(f"{text(unit)}, {text(words)}" for unit, words in listed)
    return tag("p", f"Units on this page: {said}.")
