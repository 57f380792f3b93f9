"""Which limit governs the charging current at one state of charge and temperature."""

from __future__ import annotations

from typing import NamedTuple, Unpack

import numpy as np

from calc.cell.arguments import Number
from calc.cell.charge_cell import allowed
from calc.cell.charge_parts import PARTS, Parts, cell_of, charger_of
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
    state_of_charge: Number, cell_temperature: Number, **parts: Unpack[Parts]
) -> ChargeLimits:
    """The current that each limit allows once the relaxation has settled.

    Parameters: one state_of_charge [1] and cell_temperature [K], numbers or draws (n,); the cell
    and the charger as `charge_parts.Parts` says, with the whole of the resistance [ohm],
    relaxations included.
    Returns: currents [A]; governing is 1 plating, 2 voltage, 3 temperature, 4 supply, 5 cable.
    Source: exact for a resistance behind an open-circuit curve; see `charge_cell`.

    >>> flat, whole, one = np.array([3.0, 4.2]), np.array([0.0, 1.0]), np.ones(2)
    >>> found = charge_limits(
    ...     0.5, 298.15, curve_content=whole, curve_voltage=flat, resistance=0.03,
    ...     shape_content=whole, shape_factor=one, activation=0, reference_temperature=298.15,
    ...     heat_capacity=900, cooling=1, ambient=298.15, plating_current=30,
    ...     share_content=whole, share_allowed=one, plating_activation=0, voltage_max=4.2,
    ...     temperature_max=333.15, supply_power=1e6, cable_current=25,
    ... )
    >>> round(float(found.voltage), 6), float(found.current), float(found.governing)
    (20.0, 20.0, 2.0)
    """
    cell, charger = cell_of(parts, capacity=1.0), charger_of(parts)
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


PROCEDURES = {
    "charge_limits": Procedure(
        charge_limits,
        {"state_of_charge": "1", "cell_temperature": "K", **PARTS},
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
