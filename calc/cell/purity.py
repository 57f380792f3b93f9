"""Purity in nines, read digit by digit."""

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from calc.cell.procedure import Procedure

__all__ = ["PROCEDURES", "Nines", "nines_by_digits"]

Values = float | npt.NDArray[np.float64]

# A purity is never stated to more digits than these; rounding here undoes what binary
# fractions do to 0.999, whose logarithm falls just short of three.
_DIGITS = 12


class Nines(NamedTuple):
    """How many nines a purity opens with, and the digit after them, both [1]."""

    nines: Values
    next_digit: Values


def nines_by_digits(purity: Values) -> Nines:
    """Count the nines that a purity opens with and read the digit after them.

    Parameters: purity [1], at least 0 and below 1, a number or an array.
    Returns: Nines of counts and digits [1], same shape; 4N5 is 4 and 5.
    Raises: ValueError outside that range.
    Source: common practice; 5N means five nines.

    >>> nines_by_digits(0.99995)
    Nines(nines=4.0, next_digit=5.0)
    """
    values = np.asarray(purity, dtype=float)
    if np.any((values < 0) | (values >= 1)):
        raise ValueError("a purity in nines must be at least 0 and below 1")
    impurity = np.maximum(np.round(1 - values, _DIGITS), 10.0**-_DIGITS)
    nines = np.floor(np.round(-np.log10(impurity), _DIGITS - 3)) + 0.0  # no minus zero
    remainder = np.round(10 * (1 - impurity * 10**nines), _DIGITS - 9)
    return Nines(*(_plain(found) for found in (nines, np.floor(remainder))))


def _plain(values: npt.NDArray[np.float64]) -> Values:
    return float(values) if np.ndim(values) == 0 else values


PROCEDURES: dict[str, Procedure] = {
    "nines_by_digits": Procedure(
        function=nines_by_digits,
        takes={"purity": "1"},
        gives={"nines": "1", "next_digit": "1"},
    ),
}
