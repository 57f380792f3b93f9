"""Loss of capacity under a profile, and the life of a pack in a duty.

Calendar loss grows with a power of time, at a rate that temperature and state of charge set;
cycling loss grows with a power of the equivalent full cycles. Both are added: a common
simplification, kinder than a cell in which one hastens the other.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from calc.cell.arguments import Number, Series, above_zero, choice, forward, series_of
from calc.cell.charge_cell import GAS_CONSTANT
from calc.cell.procedure import Procedure

CLASSES = 24
"""Classes of temperature and of state of charge in which a profile is summed up."""

YEAR = 365.25 * 86400.0
"""Seconds in a year of 365.25 days."""


class Life(NamedTuple):
    """Time to the end of life [s], equivalent full cycles [1], and the calendar's share [1]."""

    time: Number
    full_cycles: Number
    calendar_share: Number


def profile_severity(
    time: Series,
    temperature: Series,
    state_of_charge: Series,
    activation: Number,
    content_slope: Number,
    reference_temperature: Number,
    reference_content: Number,
    exponent: Number,
) -> Number:
    """How much faster [1] calendar loss runs under a profile than at the reference.

    Parameters: time [s], temperature [K], state_of_charge [1], shape (rows,); activation [J/mol];
    content_slope [1], the relative change of the rate for a whole state of charge;
    reference_temperature [K]; reference_content [1]; exponent [1] of time: numbers or draws (n,).
    Returns: the steady severity that brings the same loss after the same time. Rates do not
    simply average unless the exponent is 1: time served at a high rate counts by its power
    1/exponent.
    Raises: ValueError when time runs backwards, or a rate would be below zero.
    Source: Arrhenius' law; loss k t^z with a rate that varies, exact.

    >>> t = np.linspace(0, 10, 11)
    >>> warm = profile_severity(t, np.full(11, 318.15), np.full(11, 0.5), 50e3, 0, 298.15, 0.5, 0.5)
    >>> round(float(warm), 4)
    3.5535
    """
    time, temperature, content = series_of(
        time=time, temperature=temperature, state_of_charge=state_of_charge
    )
    above_zero(exponent=exponent, reference_temperature=reference_temperature)
    weight, kelvin, charge = _classes(np.diff(forward(time)), temperature, content)
    at = (*np.broadcast(activation, content_slope, reference_temperature).shape, 1)
    energy, slope = (np.asarray(part, dtype=np.float64) for part in (activation, content_slope))
    base = np.asarray(reference_temperature, dtype=np.float64)
    power = np.asarray(exponent, dtype=np.float64)[..., None]
    rate = np.exp(
        np.broadcast_to(energy[..., None], at) / GAS_CONSTANT * (1 / base[..., None] - 1 / kelvin)
    )
    rate = rate * (1 + slope[..., None] * (charge - np.asarray(reference_content)[..., None]))
    if (rate < 0).any():
        raise ValueError("the slope with state of charge makes a rate fall below zero")
    severity: Number = np.sum(weight * rate ** (1 / power), axis=-1) ** power[..., 0]
    return severity


def _classes(step: Series, temperature: Series, content: Series) -> tuple[Series, Series, Series]:
    """Share of the time [1], temperature [K] and content [1] of each class that occurs."""
    if step.sum() <= 0:
        raise ValueError("the profile takes no time")
    middle = [(values[:-1] + values[1:]) / 2 for values in (temperature, content)]
    places = [_places(values) for values in middle]
    joint = places[0] * CLASSES + places[1]
    weight = np.bincount(joint, step)
    some = weight > 0
    # The mean of each class stands for it, so that a steady profile is exact.
    means = [np.bincount(joint, step * values)[some] / weight[some] for values in middle]
    return weight[some] / step.sum(), means[0], means[1]


def _places(values: Series) -> np.ndarray[tuple[int, ...], np.dtype[np.int64]]:
    low, high = float(values.min()), float(values.max())
    if high == low:
        return np.zeros(len(values), dtype=np.int64)
    places = ((values - low) / (high - low) * CLASSES).astype(np.int64)
    return np.asarray(np.minimum(places, CLASSES - 1))


def duty_life(
    calendar_loss: Number,
    calendar_exponent: Number,
    severity: Number,
    cycle_loss: Number,
    cycle_exponent: Number,
    full_cycles_per_year: Number,
    allowed_loss: Number,
    longest: Number,
) -> Life:
    """Time until calendar and cycling loss together reach what is allowed.

    Parameters: calendar_loss [1] in the first year at the reference; calendar_exponent [1];
    severity [1] of the profile; cycle_loss [1] in the first thousand equivalent full cycles;
    cycle_exponent [1]; full_cycles_per_year [1]; allowed_loss [1]: numbers or draws (n,);
    longest [s], a choice: a life beyond it is given as it.
    Returns: life; calendar_share is the part of the allowed loss that time alone brought.
    Raises: ValueError for a loss or exponent that is not above zero.
    Source: exact for the sum of two power laws, solved by bisection.

    >>> year = 365.25 * 86400
    >>> life = duty_life(0.02, 1, 1, 0.03, 1, 1000, 0.2, 50 * year)
    >>> round(float(life.time) / year, 6), round(float(life.calendar_share), 6)
    (4.0, 0.4)
    """
    above_zero(
        calendar_exponent=calendar_exponent,
        cycle_exponent=cycle_exponent,
        allowed_loss=allowed_loss,
    )
    for name, part in (("calendar_loss", calendar_loss), ("cycle_loss", cycle_loss)):
        if (np.asarray(part) < 0).any():
            raise ValueError(f"{name} must not be below zero")

    def standing(years: Number) -> Number:
        return calendar_loss * severity * years**calendar_exponent

    def cycling(years: Number) -> Number:
        thousands: Number = full_cycles_per_year * years / 1000
        return cycle_loss * thousands**cycle_exponent

    low: Number = 0.0 * np.asarray(standing(1.0) + cycling(1.0) + allowed_loss)
    high = low + choice("longest", longest) / YEAR
    for _ in range(60):
        middle = (low + high) / 2
        spent = standing(middle) + cycling(middle) >= allowed_loss
        low, high = np.where(spent, low, middle), np.where(spent, middle, high)
    years: Number = np.asarray(high)
    return Life(
        time=years * YEAR,
        full_cycles=full_cycles_per_year * years,
        calendar_share=np.minimum(standing(years) / allowed_loss, 1.0),
    )


PROCEDURES = {
    "profile_severity": Procedure(
        profile_severity,
        {
            "time": "series s",
            "temperature": "series K",
            "state_of_charge": "series 1",
            "activation": "J/mol",
            "content_slope": "1",
            "reference_temperature": "K",
            "reference_content": "1",
            "exponent": "1",
        },
        {"": "1"},
    ),
    "duty_life": Procedure(
        duty_life,
        {
            "calendar_loss": "1",
            "calendar_exponent": "1",
            "severity": "1",
            "cycle_loss": "1",
            "cycle_exponent": "1",
            "full_cycles_per_year": "1",
            "allowed_loss": "1",
            "longest": "s",
        },
        {"time": "s", "full_cycles": "1", "calendar_share": "1"},
    ),
}
