"""Open-circuit functions of a published 21700 cell, and a discharge made from them.

Source: Chen et al., J. Electrochem. Soc. 167 (2020) 080534; from memory, to be confirmed.
"""

from __future__ import annotations

import numpy as np

from calc.cell.arguments import Number, Series

Columns = tuple[Series, Series, Series]
"""Time [s], voltage [V] and current [A] of a log, shape (rows,) each."""

NEGATIVE = (0.0279, 0.9013974)
"""Lithium content of the negative electrode when the cell is empty, and when it is full."""

POSITIVE = (0.9084, 0.2699987)
"""Lithium content of the positive electrode when the cell is empty, and when it is full."""

CAPACITY = 5.0 * 3600
"""Charge [C] between the two."""


def positive(y: Number) -> Series:
    """Voltage [V] of the positive electrode against lithium."""
    return np.asarray(
        -0.8090 * y
        + 4.4875
        - 0.0428 * np.tanh(18.5138 * (y - 0.5542))
        - 17.7326 * np.tanh(15.7890 * (y - 0.3117))
        + 17.5842 * np.tanh(15.9308 * (y - 0.3120))
    )


def negative(x: Number) -> Series:
    """Voltage [V] of the negative electrode against lithium."""
    return np.asarray(
        1.9793 * np.exp(-39.3631 * x)
        + 0.2482
        - 0.0909 * np.tanh(29.8538 * (x - 0.1234))
        - 0.04478 * np.tanh(14.9159 * (x - 0.2769))
        - 0.0205 * np.tanh(30.4444 * (x - 0.6103))
    )


def discharge(rows: int = 2001, hours: float = 20.0) -> Columns:
    """Time [s], voltage [V] and current [A] of a discharge so slow that it is in equilibrium."""
    time = np.linspace(0, 3600 * hours, rows)
    done = time / time[-1]
    x = NEGATIVE[1] + (NEGATIVE[0] - NEGATIVE[1]) * done
    y = POSITIVE[1] + (POSITIVE[0] - POSITIVE[1]) * done
    return time, positive(y) - negative(x), np.full(rows, -CAPACITY / time[-1])
