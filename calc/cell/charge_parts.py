"""The cell and the charger of a charge, as a formula hands them over."""

from __future__ import annotations

from typing import Annotated, TypedDict, get_type_hints

from calc.cell.arguments import Number, Series
from calc.cell.charge_cell import Cell, Charger, Curve, Relaxation


class Parts(TypedDict):
    """A cell and its charger, each part with its unit; numbers or draws (n,), columns of curves.

    The open-circuit curve; the resistance, and how many times [1] it is what is stated, by state
    of charge; the rest as `charge_cell.Cell` and `charge_cell.Charger` say.
    """

    curve_content: Annotated[Series, "series 1"]
    curve_voltage: Annotated[Series, "series V"]
    resistance: Annotated[Number, "ohm"]
    shape_content: Annotated[Series, "series 1"]
    shape_factor: Annotated[Series, "series 1"]
    activation: Annotated[Number, "J/mol"]
    reference_temperature: Annotated[Number, "K"]
    heat_capacity: Annotated[Number, "J/K"]
    cooling: Annotated[Number, "W/K"]
    ambient: Annotated[Number, "K"]
    plating_current: Annotated[Number, "A"]
    share_content: Annotated[Series, "series 1"]
    share_allowed: Annotated[Series, "series 1"]
    plating_activation: Annotated[Number, "J/mol"]
    voltage_max: Annotated[Number, "V"]
    temperature_max: Annotated[Number, "K"]
    supply_power: Annotated[Number, "W"]
    cable_current: Annotated[Number, "A"]


PARTS: dict[str, str] = {
    name: kind.__metadata__[0] for name, kind in get_type_hints(Parts, include_extras=True).items()
}
"""The unit of each part."""


def cell_of(parts: Parts, capacity: Number, relaxations: tuple[Relaxation, ...] = ()) -> Cell:
    """The cell, with its capacity [C] and those of its relaxations that are at work.

    Raises: TypeError when a part is missing or unknown; ValueError as `Curve.of` and `Cell`.
    """
    if odd := parts.keys() ^ Parts.__required_keys__:
        raise TypeError(f"missing or unknown: {', '.join(sorted(odd))}")
    return Cell(
        open_circuit=Curve.of("open-circuit", parts["curve_content"], parts["curve_voltage"]),
        capacity=capacity,
        resistance=parts["resistance"],
        relaxations=tuple(part for part in relaxations if part.at_work),
        resistance_shape=Curve.of("resistance", parts["shape_content"], parts["shape_factor"]),
        activation=parts["activation"],
        reference_temperature=parts["reference_temperature"],
        heat_capacity=parts["heat_capacity"],
        cooling=parts["cooling"],
        ambient=parts["ambient"],
    )


def charger_of(parts: Parts) -> Charger:
    """The charger. Raises: ValueError as `Curve.of` and `Charger`."""
    return Charger(
        plating_current=parts["plating_current"],
        plating_share=Curve.of("plating", parts["share_content"], parts["share_allowed"]),
        plating_activation=parts["plating_activation"],
        voltage_max=parts["voltage_max"],
        temperature_max=parts["temperature_max"],
        supply_power=parts["supply_power"],
        cable_current=parts["cable_current"],
    )
