"""Length, turns and radius of a wound roll."""

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from calc.cell.procedure import Procedure

__all__ = ["PROCEDURES", "Roll", "roll_outer_radius", "wound_roll"]

Values = float | npt.NDArray[np.float64]


class Roll(NamedTuple):
    """A strip wound round a core: length by spiral and by area [m], turns [1]."""

    length: Values
    length_by_area: Values
    turns: Values


def wound_roll(thickness: Values, inner_radius: Values, outer_radius: Values) -> Roll:
    """Length and turns of a strip wound as an Archimedean spiral.

    Parameters: thickness, inner and outer radius [m], each a number or an array.
    Returns: Roll of lengths [m] and turns [1], same shape.
    Raises: ValueError when outer < inner, inner < 0 or thickness <= 0.
    Source: exact; the arc length of r = a θ with a = thickness / 2π, and the area of the ring.

    >>> roll = wound_roll(0.1e-3, 1e-3, 25e-3)
    >>> print(f"{roll.length:.7f} {roll.length_by_area:.7f} {roll.turns:.1f}")
    19.6035638 19.6035382 240.0
    """
    t, inner = _strip(thickness, inner_radius)
    outer = np.asarray(outer_radius, dtype=float)
    if np.any(outer < inner):
        raise ValueError("the outer radius of a roll must not be below its inner radius")
    growth = t / (2 * np.pi)
    length = growth * (_arc(outer / growth) - _arc(inner / growth))
    by_area = np.pi * (outer**2 - inner**2) / t
    return Roll(_plain(length), _plain(by_area), _plain((outer - inner) / t))


def roll_outer_radius(thickness: Values, inner_radius: Values, length: Values) -> Values:
    """Outer radius that a strip of a given length reaches, wound as a spiral.

    Parameters: thickness, inner radius, length [m], each a number or an array.
    Returns: outer radius [m], same shape.
    Raises: ValueError when length < 0, inner < 0 or thickness <= 0.
    Source: exact; the spiral length inverted by Newton's rule from the area formula.

    >>> round(roll_outer_radius(373.6e-6, 1.5e-3, 0.79), 6)
    0.009808
    """
    t, inner = _strip(thickness, inner_radius)
    wanted = np.asarray(length, dtype=float)
    if np.any(wanted < 0):
        raise ValueError("the length of a strip must not be negative")
    growth = t / (2 * np.pi)
    target = wanted / growth + _arc(inner / growth)
    angle = np.sqrt(inner**2 + wanted * t / np.pi) / growth
    for _ in range(_NEWTON_STEPS):
        angle = np.maximum(angle - (_arc(angle) - target) / np.sqrt(1 + angle**2), 0.0)
    return _plain(growth * angle)


# The area formula starts within a thousandth of a turn, so a handful of steps reaches
# the last bit; the slope of the arc is never below one.
_NEWTON_STEPS = 8


def _arc(angle: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """Arc length of r = θ from the origin to an angle [rad]."""
    return np.asarray((angle * np.sqrt(1 + angle**2) + np.arcsinh(angle)) / 2)


def _strip(
    thickness: Values, inner_radius: Values
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]:
    t = np.asarray(thickness, dtype=float)
    inner = np.asarray(inner_radius, dtype=float)
    if np.any(t <= 0):
        raise ValueError("the thickness of a strip must be above zero")
    if np.any(inner < 0):
        raise ValueError("the inner radius of a roll must not be negative")
    return t, inner


def _plain(values: npt.NDArray[np.float64]) -> Values:
    return float(values) if np.ndim(values) == 0 else values


PROCEDURES: dict[str, Procedure] = {
    "wound_roll": Procedure(
        function=wound_roll,
        takes={"thickness": "m", "inner_radius": "m", "outer_radius": "m"},
        gives={"length": "m", "length_by_area": "m", "turns": "1"},
    ),
    "roll_outer_radius": Procedure(
        function=roll_outer_radius,
        takes={"thickness": "m", "inner_radius": "m", "length": "m"},
        gives={"": "m"},
    ),
}
