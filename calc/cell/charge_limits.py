"""Which limit governs the charging current at one state of charge and temperature."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from calc.cell.arguments import Number, Series
from calc.cell.charge_cell import Cell, Charger, Curve, allowed
from calc.cell.procedure import Procedure


class ChargeLimits(NamedTuple):
    """The current [A] that each limit allows, the least of them, and the number of that limit."""

    plating: Number
    voltage: Number
    temperature: Number
    supply: Number
    cable: Number
    current: Number
    governing: Number


def charge_limits(
    state_of_charge: Number,
    cell_temperature: Number,
    curve_content: Series,
    curve_voltage: Series,
    resistance: Number,
    shape_content: Series,
    shape_factor: Series,
    activation: Number,
    reference_temperature: Number,
    heat_capacity: Number,
    cooling: Number,
    ambient: Number,
    plating_current: Number,
    share_content: Series,
    share_allowed: Series,
    plating_activation: Number,
    voltage_max: Number,
    temperature_max: Number,
    supply_power: Number,
    cable_current: Number,
) -> ChargeLimits:
    """The current that each limit allows once the relaxation has settled.

    Parameters: as `charge_simulation`, at one state_of_charge [1] and cell_temperature [K];
    resistance [ohm] is the whole of it, relaxations included.
    Returns: currents [A]; governing is 1 plating, 2 voltage, 3 temperature, 4 supply, 5 cable.
    Source: exact for a resistance behind an open-circuit curve; see `charge_cell`.

    >>> flat, whole = np.array([3.0, 4.2]), np.array([0.0, 1.0])
    >>> found = charge_limits(
    ...     0.5, 298.15, whole, flat, 0.03, whole, np.ones(2), 0, 298.15, 900, 1, 298.15,
    ...     30, whole, np.ones(2), 0, 4.2, 333.15, 1e6, 25,
    ... )
    >>> round(float(found.voltage), 6), float(found.current), float(found.governing)
    (20.0, 20.0, 2.0)
    """
    cell = Cell(
        open_circuit=Curve.of("open-circuit", curve_content, curve_voltage),
        capacity=1.0,
        resistance=resistance,
        relaxations=(),
        resistance_shape=Curve.of("resistance", shape_content, shape_factor),
        activation=activation,
        reference_temperature=reference_temperature,
        heat_capacity=heat_capacity,
        cooling=cooling,
        ambient=ambient,
    )
    charger = Charger(
        plating_current=plating_current,
        plating_share=Curve.of("plating", share_content, share_allowed),
        plating_activation=plating_activation,
        voltage_max=voltage_max,
        temperature_max=temperature_max,
        supply_power=supply_power,
        cable_current=cable_current,
    )
    content, temperature = np.broadcast_arrays(
        np.asarray(state_of_charge, dtype=np.float64),
        np.asarray(cell_temperature, dtype=np.float64),
    )
    if (content < 0).any() or (content > 1).any():
        raise ValueError("state of charge runs from 0 to 1")
    each = allowed(cell, charger, cell.at(content, np.zeros_like(content), temperature))
    least = np.argmin(each, axis=0)
    plating, voltage, heat, supply, cable = each
    governing = np.asarray(least, dtype=np.float64) + 1
    return ChargeLimits(plating, voltage, heat, supply, cable, each.min(axis=0), governing)


CELL = {
    "curve_content": "series 1",
    "curve_voltage": "series V",
    "resistance": "ohm",
    "shape_content": "series 1",
    "shape_factor": "series 1",
    "activation": "J/mol",
    "reference_temperature": "K",
    "heat_capacity": "J/K",
    "cooling": "W/K",
    "ambient": "K",
}
CHARGER = {
    "plating_current": "A",
    "share_content": "series 1",
    "share_allowed": "series 1",
    "plating_activation": "J/mol",
    "voltage_max": "V",
    "temperature_max": "K",
    "supply_power": "W",
    "cable_current": "A",
}

PROCEDURES = {
    "charge_limits": Procedure(
        charge_limits,
        {"state_of_charge": "1", "cell_temperature": "K", **CELL, **CHARGER},
        {
            "plating": "A",
            "voltage": "A",
            "temperature": "A",
            "supply": "A",
            "cable": "A",
            "current": "A",
            "governing": "1",
        },
    )
}
