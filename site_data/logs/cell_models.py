"""What is true of the demonstration's three cells, so that their logs agree with their sheets.

All of it is invented. Charges and voltages are those of the sheets in `site_data/cells`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

Curve = Callable[[np.ndarray], np.ndarray]

# Share of the electrode's lithium, potential in V, and width in V of each step of a half-cell.
GRAPHITE = (
    (0.500, 0.088, 0.006),
    (0.270, 0.128, 0.007),
    (0.170, 0.205, 0.010),
    (0.047, 0.225, 0.010),
    (0.013, 0.420, 0.060),
)
OXIDE = ((0.30, 0.290, 0.025), (0.45, 0.440, 0.040), (0.25, 0.600, 0.100))
POSITIVE = (
    (0.050, 3.642, 0.025),
    (0.425, 3.800, 0.030),
    (0.306, 3.963, 0.040),
    (0.184, 4.222, 0.030),
    (0.030, 3.400, 0.060),
)
OXIDE_CHARGE = 0.2253
"""Share of the negative electrode's charge that its silicon oxide holds (6.5 % by mass)."""

NEGATIVE_WINDOW = (0.023, 0.900)
"""Lithium content of Heron's negative electrode, empty and full."""

POSITIVE_WINDOW = (0.985, 0.020)
"""Lithium content of Heron's positive electrode, empty and full."""


def _given_up(steps: tuple[tuple[float, float, float], ...], volts: np.ndarray) -> np.ndarray:
    """Share of the lithium that has left by a potential, from 0 to 1 over the potentials."""
    raw = sum(share / (1 + np.exp(-(volts - at) / width)) for share, at, width in steps)
    whole: np.ndarray = (raw - raw[0]) / (raw[-1] - raw[0])
    return whole


def removed(mixed: float) -> Curve:
    """Potential of the negative electrode against the share given up; 0 graphite, 1 the mixture."""
    volts = np.linspace(0.004, 1.5, 6001)
    oxide = OXIDE_CHARGE * mixed
    gone = (1 - oxide) * _given_up(GRAPHITE, volts) + oxide * _given_up(OXIDE, volts)
    return lambda share: np.interp(share, gone, volts)


def negative_curve(content: np.ndarray) -> np.ndarray:
    """Potential [V] of Heron's negative electrode against its lithium content."""
    return removed(1.0)(1 - np.asarray(content))


def positive_curve(content: np.ndarray) -> np.ndarray:
    """Potential [V] of Heron's positive electrode against its lithium content, 3.0 to 4.3 V."""
    volts = np.linspace(3.0, 4.3, 6001)
    return np.interp(1 - np.asarray(content), _given_up(POSITIVE, volts), volts)


def _heron(content: np.ndarray) -> np.ndarray:
    empty_n, full_n = NEGATIVE_WINDOW
    empty_p, full_p = POSITIVE_WINDOW
    upper = positive_curve(empty_p + (full_p - empty_p) * content)
    return upper - negative_curve(empty_n + (full_n - empty_n) * content)


def _gannet(content: np.ndarray) -> np.ndarray:
    plateau = 3.236 + 0.102 * content + 0.007 * np.tanh((content - 0.62) / 0.03)
    return plateau - 0.75 * np.exp(-content / 0.012) + 0.30 * np.exp((content - 1) / 0.008)


def _petrel(content: np.ndarray) -> np.ndarray:
    slope = 2.487 + 1.295 * content + 0.008 * np.tanh((content - 0.45) / 0.05)
    return slope - 0.70 * np.exp(-content / 0.012) + 0.15 * np.exp((content - 1) / 0.02)


@dataclass(frozen=True)
class Model:
    """A cell: curve, charge [C], limits [V], resistances [ohm], times [s], hysteresis [V], heat."""

    name: str
    open_circuit: Curve
    capacity: float
    low: float
    high: float
    resistance: float
    quick: float
    slow: float
    hysteresis: float
    coulombic: float
    heat_capacity: float
    cooling: float

    def content_at_rest(self, voltage: float) -> float:
        """The state of charge whose open-circuit voltage this is."""
        content = np.linspace(0, 1, 20001)
        return float(np.interp(voltage, self.open_circuit(content), content))


QUICK, SLOW = 15.0, 400.0
"""Seconds in which the two relaxations settle."""

LAG = 0.01
"""Share of the capacity after which hysteresis is there."""

HERON = Model(
    "Heron", _heron, 75.75 * 3600, 2.80, 4.20,
    0.59e-3, 0.47e-3, 0.53e-3, 0.0128, 0.9973, 1042.0, 2.0,
)  # fmt: skip
GANNET = Model(
    "Gannet", _gannet, 220.8 * 3600, 2.50, 3.65,
    0.25e-3, 0.205e-3, 0.25e-3, 0.025, 0.9977, 4325.0, 3.2,
)  # fmt: skip
PETREL = Model(
    "Petrel", _petrel, 16.58 * 3600, 1.80, 3.95,
    3.3e-3, 2.47e-3, 5.0e-3, 0.030, 0.9952, 394.0, 0.45,
)  # fmt: skip
CELLS = (HERON, GANNET, PETREL)


@dataclass
class Bench:
    """A cell on the bench: what is done to it is written down, second by second."""

    model: Model
    content: float
    temperature: float = 25.0
    plate: float = 25.0
    step: float = 1.0
    time: float = 0.0
    quick: float = 0.0
    slow: float = 0.0
    lag: float = 0.0
    rows: list[tuple[float, float, float, float]] = field(default_factory=list)

    def __post_init__(self) -> None:
        grid = np.linspace(0, 1, 8001)
        self.grid, self.volts = grid, self.model.open_circuit(grid)

    def _behind(self) -> float:
        """The voltage [V] before resistance."""
        open_circuit = float(np.interp(self.content, self.grid, self.volts))
        return open_circuit + self.quick + self.slow + self.lag

    def _voltage(self, current: float) -> float:
        return self._behind() + self.model.resistance * current

    def _move(self, current: float) -> None:
        model, step = self.model, self.step
        self.rows.append((self.time, self._voltage(current), current, self.temperature))
        stored = model.coulombic if current > 0 else 1.0
        heat = current**2 * model.resistance + current * (self.quick + self.slow + self.lag)
        self.content += stored * current * step / model.capacity
        self.quick += (current * model.quick - self.quick) * (1 - np.exp(-step / QUICK))
        self.slow += (current * model.slow - self.slow) * (1 - np.exp(-step / SLOW))
        # Hysteresis follows charge, not time: it is there after a hundredth of the capacity.
        share = 1 - np.exp(-abs(current) * step / (LAG * model.capacity))
        self.lag += (float(np.sign(current)) * model.hysteresis - self.lag) * share
        loss = model.cooling * (self.temperature - self.plate)
        self.temperature += (heat - loss) * step / model.heat_capacity
        self.time += step
        if not -0.001 <= self.content <= 1.001:
            raise ValueError(f"{model.name} leaves its curve at {self.time:g} s; mend the model")

    def hold(self, current: float, seconds: float) -> None:
        """A steady current for a time."""
        for _ in range(round(seconds / self.step)):
            self._move(current)

    def rest(self, seconds: float) -> None:
        """No current for a time."""
        self.hold(0.0, seconds)

    def discharge(self, current: float, low: float) -> None:
        """A steady current out until a voltage is reached."""
        while self._voltage(-current) > low:
            self._move(-current)

    def charge(self, current: float, high: float, taper: float | None = None) -> None:
        """A steady current in until a voltage is reached, then that voltage until it tapers."""
        while self._voltage(current) < high:
            self._move(current)
        if taper is None:
            return
        while True:
            held = high - self._behind()
            now = min(held / self.model.resistance, current)
            if now <= taper:
                return
            self._move(now)

    def sampled(self, every: float) -> dict[str, np.ndarray]:
        """Columns time, voltage, current, temperature: every so many seconds, and each change."""
        table = np.array(self.rows)
        stride = max(round(every / self.step), 1)
        kept = np.zeros(len(table), dtype=bool)
        kept[::stride] = kept[-1] = True
        jumps = np.flatnonzero(np.abs(np.diff(table[:, 2])) > 1e-3 * np.abs(table[:, 2]).max())
        kept[jumps], kept[jumps + 1] = True, True
        names = ("time", "voltage", "current", "temperature")
        return {name: table[kept, place] for place, name in enumerate(names)}
