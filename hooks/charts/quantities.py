"""What several results are called together, for an axis that carries them all."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from calc.judge.shown import Shown
from calc.notation.units import Dimension, unit

_NAMES: Mapping[Dimension, str] = {
    unit(text).dimension: name
    for text, name in (
        ("W", "power"),
        ("J", "energy"),
        ("kg", "mass"),
        ("s", "time"),
        ("m", "length"),
        ("m^2", "area"),
        ("m^3", "volume"),
        ("V", "voltage"),
        ("A", "current"),
        ("A h", "charge"),
        ("ohm", "resistance"),
        ("ohm m^2", "area-specific resistance"),
        ("K", "temperature"),
        ("Wh/kg", "specific energy"),
        ("Wh/L", "energy density"),
        ("W/kg", "specific power"),
        ("mAh/g", "specific capacity"),
        ("mAh/cm^2", "areal capacity"),
        ("A/m^2", "current density"),
        ("kg/m^3", "density"),
        ("m/s", "speed"),
        ("1/h", "rate"),
        ("J/m", "energy per distance"),
    )
}


def common_quantity(items: Sequence[Shown]) -> str:
    """The last words of all ids when they are the same, else what their unit measures.

    A result that is called like its unit, as `years`, is called what the unit measures too.
    """
    ends = {item.id.rpartition(".")[2].replace("_", " ") for item in items}
    if len(ends) == 1 and not {f"{items[0].unit.text}{tail}" for tail in ("", "s")} & ends:
        return ends.pop()
    dimension = items[0].unit.dimension
    if dimension in _NAMES:
        return _NAMES[dimension]
    if dimension.money:
        return "money"
    return "share" if items[0].unit.text == "%" else "value"
