"""A cell on charge as a small circuit with heat, and the limits that its charger has to keep."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from calc.cell.arguments import Number, Series, above_zero, rising, series_of

GAS_CONSTANT = 8.314462618
"""J/(mol K), exact since 2019 (CODATA)."""

FINE = 4096
"""Parts of state of charge into which a curve is laid out, so that looking it up is quick."""

RESPONSE = 60.0
"""Seconds in which a charger lets a cell close in on its highest temperature, never passing it."""

LIMITS = ("plating", "voltage", "temperature", "supply", "cable")
"""The limits in the order of their numbers, from 1."""


@dataclass(frozen=True)
class Curve:
    """A quantity [any unit] against state of charge [1], laid out evenly; shape (FINE + 1,)."""

    values: Series

    @classmethod
    def of(cls, name: str, content: Series, values: Series) -> Curve:
        """From a column of state of charge [1], rising, and a column of values.

        Raises: ValueError when the content does not rise from row to row.
        """
        content, values = series_of(content=content, values=values)
        rising(f"the state of charge of the {name} curve", content)
        return cls(np.interp(np.linspace(0.0, 1.0, FINE + 1), content, values))

    def at(self, content: Series) -> Series:
        """The curve at a state of charge [1], shape (n,); its end values beyond 0 and 1.

        Where the state of charge is no number, neither is the value.
        """
        # The plain minimum and maximum: at so many calls np.clip would take twice as long.
        place = np.minimum(np.maximum(content, 0.0), 1.0) * FINE
        below = np.fmin(place, FINE - 1).astype(np.int64)  # no number falls in the last part
        low = self.values[below]
        return np.asarray(low + (self.values[below + 1] - low) * (place - below))


@dataclass(frozen=True)
class Relaxation:
    """A resistance [ohm] whose voltage settles with a time [s]; numbers or shape (n,)."""

    resistance: Number
    time: Number

    def __post_init__(self) -> None:
        above_zero(relaxation_time=self.time)
        if (np.asarray(self.resistance) < 0).any():
            raise ValueError("the resistance of a relaxation must not be below zero")

    @property
    def at_work(self) -> bool:
        """Whether it has any resistance; without, it is left out."""
        return bool((np.asarray(self.resistance) > 0).any())


@dataclass(frozen=True)
class Cell:
    """Open-circuit curve, resistance with its relaxations, and heat; numbers or shape (n,).

    capacity [C]; resistance [ohm], that answers at once; relaxations, each with its own;
    resistance_shape, how many times [1] all of them are what is stated, by state of charge;
    activation [J/mol] of all resistances about reference_temperature [K]; heat_capacity [J/K];
    cooling [W/K] to the ambient [K].
    """

    open_circuit: Curve
    capacity: Number
    resistance: Number
    relaxations: tuple[Relaxation, ...]
    resistance_shape: Curve
    activation: Number
    reference_temperature: Number
    heat_capacity: Number
    cooling: Number
    ambient: Number

    def __post_init__(self) -> None:
        above_zero(
            capacity=self.capacity,
            resistance=self.resistance,
            resistance_shape=self.resistance_shape.values,
            reference_temperature=self.reference_temperature,
            heat_capacity=self.heat_capacity,
        )

    def at(self, content: Series, relaxed: Series, temperature: Series) -> Moment:
        """The circuit at a state of charge [1], with the voltage [V] across all relaxations and
        at a temperature [K]; shape (n,) each."""
        cold = _arrhenius(self.activation, temperature, self.reference_temperature)
        hinders = np.asarray(cold * self.resistance_shape.at(content))
        inner = self.open_circuit.at(content) + relaxed
        return Moment(content, relaxed, temperature, hinders, self.resistance * hinders, inner)


class Moment(NamedTuple):
    """Where a cell stands, and its circuit there; shape (n,) each.

    content [1]; relaxed [V], across all relaxations; temperature [K]; hinders, how many times [1]
    the resistances are what is stated, in the cold and when nearly empty or full; resistance
    [ohm], that answers at once; inner [V], the voltage at no current.
    """

    content: Series
    relaxed: Series
    temperature: Series
    hinders: Series
    resistance: Series
    inner: Series


@dataclass(frozen=True)
class Charger:
    """What may not be passed; numbers or shape (n,).

    plating_current [A] at the cell's reference temperature and at the share [1] of it that
    `plating_share` allows by state of charge, falling in the cold by plating_activation [J/mol];
    voltage_max [V]; temperature_max [K]; supply_power [W] for one cell; cable_current [A] for
    one cell.
    """

    plating_current: Number
    plating_share: Curve
    plating_activation: Number
    voltage_max: Number
    temperature_max: Number
    supply_power: Number
    cable_current: Number

    def __post_init__(self) -> None:
        above_zero(
            plating_current=self.plating_current,
            supply_power=self.supply_power,
            cable_current=self.cable_current,
        )


def allowed(cell: Cell, charger: Charger, now: Moment) -> NDArray[np.float64]:
    """The current [A] that each limit allows, shape (5, n), in the order of LIMITS.

    Source: exact for the circuit; plating by Arrhenius' law about its reference.
    """
    shed = cell.cooling * (now.temperature - cell.ambient)
    shed = shed + cell.heat_capacity * (charger.temperature_max - now.temperature) / RESPONSE
    plating = charger.plating_current * charger.plating_share.at(now.content)
    # Plating sets in sooner in the cold by the inverse of the factor by which resistance grows.
    plating = plating / _arrhenius(
        charger.plating_activation, now.temperature, cell.reference_temperature
    )
    currents = np.stack(
        np.broadcast_arrays(
            plating,
            (charger.voltage_max - now.inner) / now.resistance,
            _current_of(np.maximum(shed, 0.0), now.relaxed, now.resistance),
            _current_of(charger.supply_power, now.inner, now.resistance),
            np.asarray(charger.cable_current, dtype=np.float64),
        )
    )
    return np.asarray(np.maximum(currents, 0.0))


def _current_of(power: Number, voltage: Series, resistance: Series) -> Series:
    """The current [A] whose power, I (I R + U), is the one [W] given."""
    root = np.sqrt(voltage**2 + 4 * resistance * power)
    return np.asarray((root - voltage) / (2 * resistance))


def _arrhenius(activation: Number, temperature: Series, reference: Number) -> Series:
    return np.asarray(np.exp(activation / GAS_CONSTANT * (1 / temperature - 1 / reference)))
