"""Open-circuit functions of a published 21700 cell, for the checks of method pages.

Source: Chen et al., J. Electrochem. Soc. 167 (2020) 080534; from memory, to be confirmed.
"""

from __future__ import annotations

import numpy as np


def published_positive(y: np.ndarray) -> np.ndarray:
    """Voltage [V] of the positive electrode against lithium."""
    return (
        -0.8090 * y
        + 4.4875
        - 0.0428 * np.tanh(18.5138 * (y - 0.5542))
        - 17.7326 * np.tanh(15.7890 * (y - 0.3117))
        + 17.5842 * np.tanh(15.9308 * (y - 0.3120))
    )


def published_negative(x: np.ndarray) -> np.ndarray:
    """Voltage [V] of the negative electrode against lithium."""
    return (
        1.9793 * np.exp(-39.3631 * x)
        + 0.2482
        - 0.0909 * np.tanh(29.8538 * (x - 0.1234))
        - 0.04478 * np.tanh(14.9159 * (x - 0.2769))
        - 0.0205 * np.tanh(30.4444 * (x - 0.6103))
    )
