"""Logs for the checks of method pages: tiny ones with known results, and a published cell's."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import numpy as np
from log_files import write
from published_functions import published_negative, published_positive


def checks(folder: Path) -> None:
    """Tiny logs whose results are known beforehand, for the checks of method pages."""

    def exact(name: str, about: str, columns: Mapping[str, tuple[list[float], int]]) -> None:
        listed = {heading: (np.array(values), n) for heading, (values, n) in columns.items()}
        write(
            folder, f"check-{name}.csv", f"made up so that its results are known; {about}", listed
        )

    exact(
        "straight-line",
        "two hours at 5 A, 4.2 V to 3.0 V",
        {
            "time / s": ([0, 3600, 7200], 0),
            "voltage / V": ([4.2, 3.6, 3.0], 1),
            "current / A": ([-5, -5, -5], 0),
        },
    )
    exact(
        "slow-rate",
        "ten hours at 1 A, 4.28 V to 3.08 V",
        {
            "time / s": ([0, 18000, 36000], 0),
            "voltage / V": ([4.28, 3.68, 3.08], 2),
            "current / A": ([-1, -1, -1], 0),
        },
    )
    exact(
        "up",
        "two hours in at 5 A, 3.04 V to 4.24 V",
        {
            "time / s": ([0, 3600, 7200], 0),
            "voltage / V": ([3.04, 3.64, 4.24], 2),
            "current / A": ([5, 5, 5], 0),
        },
    )
    exact(
        "there-and-back",
        "an hour in at 2 A and 4 V, an hour less a hundredth out at 2 A and 3 V",
        {
            "time / s": ([0, 3600, 3600, 7164], 0),
            "voltage / V": ([4, 4, 3, 3], 0),
            "current / A": ([2, 2, -2, -2], 0),
            "cycle / 1": ([1, 1, 1, 1], 0),
        },
    )
    time = np.arange(0, 61, 1.0)
    amps = np.where(time >= 30, -15.0, 0.0)
    exact(
        "step",
        "a step of 15 A through 25 mohm",
        {
            "time / s": (list(time), 0),
            "voltage / V": (list(3.7 + 0.025 * amps), 3),
            "current / A": (list(amps), 0),
            "temperature / degC": ([25.0] * 61, 0),
        },
    )
    exact(
        "one-c",
        "an hour at 5 A and 4 V",
        {
            "time / s": (list(np.arange(0, 3601, 600.0)), 0),
            "voltage / V": ([4.0] * 7, 1),
            "current / A": ([5.0] * 7, 0),
        },
    )
    exact(
        "linear-curve",
        "an open-circuit curve from 3.0 V to 4.2 V, and the whole of a guideline",
        {
            "state of charge / 1": ([0, 1], 0),
            "voltage / V": ([3.0, 4.2], 1),
            "share / 1": ([1, 1], 0),
        },
    )
    volts = np.linspace(3.0, 4.0, 401)
    charge = 3600 * (volts - 3.0) + 1800 * np.tanh((volts - 3.5) / 0.05)
    exact(
        "one-peak",
        "a steady current through one peak of differential capacity at 3.5 V",
        {
            "time / s": (list(charge - charge[0]), 3),
            "voltage / V": (list(volts), 4),
            "current / A": ([1.0] * 401, 0),
        },
    )
    exact(
        "standard-duty",
        "the turning points of the standard's example, moved into 0 to 1",
        {"state of charge / 1": ([0.3, 0.6, 0.2, 1.0, 0.4, 0.8, 0.1, 0.9, 0.3], 1)},
    )
    exact(
        "steady-warm",
        "a day at 45 degC, half charged",
        {
            "time / h": ([0, 24], 0),
            "temperature / degC": ([45, 45], 0),
            "state of charge / %": ([50, 50], 0),
        },
    )
    cycle = np.arange(0, 1001, 50.0)
    ripple = 0.001 * np.where(np.arange(len(cycle)) % 3, 1.0, -2.0)
    exact(
        "linear-fade",
        "a hundredth lost every hundred cycles, with a ripple",
        {"cycle / 1": (list(cycle), 0), "capacity / A h": (list(1 - 1e-4 * cycle + ripple), 4)},
    )


def published_curves(folder: Path) -> None:
    """Half-cell functions of a published cell, and the slow discharge that follows from them."""
    kind = "Computed from functions of Chen et al., J. Electrochem. Soc. 167 (2020) 080534"
    content = np.linspace(0.005, 0.995, 199)
    columns = {
        "content / 1": (content, 3),
        "negative / V": (published_negative(content), 5),
        "positive / V": (published_positive(content), 5),
    }
    write(folder, "check-half-cells.csv", "as recalled, to be confirmed", columns, kind)
    time = np.linspace(0, 72000, 481)
    done = time / time[-1]
    lower = published_negative(0.9013974 + (0.0279 - 0.9013974) * done)
    upper = published_positive(0.2699987 + (0.9084 - 0.2699987) * done)
    columns = {
        "time / s": (time, 0),
        "voltage / V": (upper - lower, 5),
        "current / A": (np.full(481, -0.25), 2),
    }
    write(folder, "check-balance.csv", "5 A h in twenty hours, in equilibrium", columns, kind)
