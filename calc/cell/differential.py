"""Differential capacity and differential voltage of a log, with a smoothing that is stated.

The charge that passes while the voltage lies between two values is a density over voltage.
It is smoothed by a normal kernel whose standard deviation is the bandwidth that the analyst
states: no feature narrower than about twice that can be told, and the total charge is kept.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from scipy.ndimage import gaussian_filter1d
from scipy.signal import find_peaks

from calc.cell.arguments import Number, Series, above_zero, choice, forward, read_off, series_of
from calc.cell.integrate_log import LOG
from calc.cell.procedure import Procedure

PER_BANDWIDTH = 8
"""Cells of the grid in one bandwidth: fine enough that the kernel is a smooth curve."""

REPLICATES = 10
"""Interleaved parts of a log whose scatter tells what noise brings to a peak."""


PROMINENT = 0.05
"""A top counts as a peak when it stands this share of the highest above its valleys."""


class Density(NamedTuple):
    """Charge per voltage [C/V] on an even grid of voltage [V], shape (cells,) each."""

    voltage: Series
    density: Series


class Peak(NamedTuple):
    """A peak: position [V], height [C/V], charge between its valleys [C], each with what noise
    brings to it as a standard uncertainty, and the number of peaks in the window."""

    position: Number
    position_from_noise: Number
    height: Number
    charge: Number
    charge_from_noise: Number
    peaks: float


def charge_at_voltage(time: Series, voltage: Series, current: Series) -> tuple[Series, Series]:
    """Voltage [V] of each row, and the charge [C] that belongs to it, shape (rows,) each.

    A row's charge is its current over half the time to either neighbour, so that each sample's
    noise enters once. It counts in the direction of the log as a whole; a rest adds nothing.
    Raises: ValueError when time runs backwards or no charge passes.
    """
    time, voltage, current = series_of(time=time, voltage=voltage, current=current)
    step = np.diff(forward(time))
    charge = current * (np.append(step, 0.0) + np.append(0.0, step)) / 2
    total = charge.sum()
    if total == 0:
        raise ValueError("no charge passes in the log")
    return voltage, charge * np.sign(total)


def density_of(voltage: Series, charge: Series, bandwidth: float, span: Series) -> Density:
    """Charge per voltage, smoothed by a normal kernel of standard deviation `bandwidth` [V].

    Parameters: voltage [V] and charge [C], shape (rows,); span [V], any values whose extremes
    the grid has to cover. Returns: density on an even grid.
    Raises: ValueError when the bandwidth is too fine for the span.
    """
    above_zero(bandwidth=bandwidth)
    cell = bandwidth / PER_BANDWIDTH
    low, high = float(span.min()) - 6 * bandwidth, float(span.max()) + 6 * bandwidth
    cells = int(np.ceil((high - low) / cell))
    if cells > 200_000:
        raise ValueError(f"a bandwidth of {bandwidth:g} V is too fine for {high - low:g} V")
    place = (voltage - low) / cell
    below = place.astype(np.int64)
    # Each charge is shared by the two nodes beside it, so that its place is kept on the mean.
    held = np.bincount(below, charge * (1 - (place - below)), cells + 2)
    held += np.bincount(below + 1, charge * (place - below), cells + 2)
    smooth = gaussian_filter1d(held / cell, PER_BANDWIDTH, mode="constant", truncate=6.0)
    return Density(np.asarray(low + cell * np.arange(cells + 2)), smooth)


def differential_capacity(
    time: Series, voltage: Series, current: Series, at: Number, bandwidth: Number
) -> Number:
    """Differential capacity [C/V] of a charge or a discharge at a voltage.

    Parameters: time [s], voltage [V], current [A], shape (rows,); at [V], a number or an array;
    bandwidth [V], a choice. Raises: ValueError as `charge_at_voltage` and `density_of`.
    Source: exact; a density estimated with a normal kernel.

    >>> t = np.linspace(0, 3600, 3601)
    >>> found = differential_capacity(t, 3 + t / 3600, np.ones(3601), 3.5, 0.02)
    >>> round(found, 1)
    3600.0
    """
    volts, charge = charge_at_voltage(time, voltage, current)
    curve = density_of(volts, charge, choice("bandwidth", bandwidth), volts)
    return read_off(at, curve.voltage, curve.density)


def differential_voltage(
    time: Series, voltage: Series, current: Series, at: Number, bandwidth: Number
) -> Number:
    """Differential voltage [V/C] of a charge or a discharge, after a charge that has passed.

    Parameters: as `differential_capacity`, but at [C] and bandwidth [C], the standard deviation
    of the normal kernel over charge. Raises: ValueError, also when `at` lies nearer than two
    bandwidths to an end of the log, where the kernel would look beyond it.
    Source: exact; the slope of a curve smoothed with a normal kernel.

    >>> t = np.linspace(0, 3600, 3601)
    >>> found = differential_voltage(t, 3 + t / 3600, np.ones(3601), 1800.0, 60.0)
    >>> round(3600 * found, 6)
    1.0
    """
    time, voltage, current = series_of(time=time, voltage=voltage, current=current)
    passed = np.diff(forward(time)) * (current[:-1] + current[1:]) / 2
    charge = np.abs(np.concatenate(([0.0], np.cumsum(passed))))
    width = choice("bandwidth", bandwidth)
    above_zero(bandwidth=width)
    wanted = np.asarray(at)
    if (wanted < 2 * width).any() or (wanted > charge[-1] - 2 * width).any():
        raise ValueError("differential voltage is asked for too near an end of the log")
    cell = width / PER_BANDWIDTH
    grid = np.arange(0.0, charge[-1], cell)
    held = np.interp(grid, np.maximum.accumulate(charge), voltage)
    slope = gaussian_filter1d(held, PER_BANDWIDTH, order=1, mode="nearest", truncate=6.0) / cell
    return read_off(wanted, grid, slope)


def capacity_peak(
    time: Series,
    voltage: Series,
    current: Series,
    low: Number,
    high: Number,
    bandwidth: Number,
    current_gain: Number,
    voltage_gain: Number,
    voltage_offset: Number,
) -> Peak:
    """The highest peak of differential capacity between two voltages.

    Parameters: log as `differential_capacity`; low, high, bandwidth [V], choices; gains [1] and
    offset [V] of the meters, numbers or draws (n,).
    Returns: the peak; its charge is what passes between the valleys (or limits) beside it.
    Raises: ValueError when the window holds no peak, only a slope up to one of its ends.
    Source: exact; what noise brings is the scatter between interleaved parts of the log.

    >>> t = np.linspace(-4, 4, 4001)
    >>> v = 3.6 + 0.05 * t**3 / 16
    >>> peak = capacity_peak(t + 4, v, np.ones(4001), 3.4, 3.8, 0.01, 1, 1, 0)
    >>> round(float(peak.position), 3), peak.peaks
    (3.6, 1.0)
    """
    volts, charge = charge_at_voltage(time, voltage, current)
    window = (choice("low", low), choice("high", high))
    width = choice("bandwidth", bandwidth)
    whole = _highest(density_of(volts, charge, width, volts), *window)
    parts = []
    for part in range(REPLICATES):
        some = slice(part, None, REPLICATES)
        curve = density_of(volts[some], REPLICATES * charge[some], width, volts)
        parts.append(_highest(curve, *window)[:3])
    noise = np.std(parts, axis=0, ddof=1) / np.sqrt(REPLICATES)
    return Peak(
        position=voltage_gain * whole[0] + voltage_offset,
        position_from_noise=voltage_gain * float(noise[0]),
        height=current_gain / voltage_gain * whole[1],
        charge=current_gain * whole[2],
        charge_from_noise=current_gain * float(noise[2]),
        peaks=whole[3],
    )


def _highest(curve: Density, low: float, high: float) -> tuple[float, float, float, float]:
    """Position [V], height [C/V], charge [C] of the highest peak, and the number of peaks."""
    inside = (curve.voltage >= low) & (curve.voltage <= high)
    volts, density = curve.voltage[inside], curve.density[inside]
    tops, _ = find_peaks(density, prominence=PROMINENT * max(float(density.max(initial=0.0)), 0.0))
    if not len(tops):
        raise ValueError(f"no peak between {low:g} V and {high:g} V; widen the window")
    top = int(tops[np.argmax(density[tops])])
    left = int(np.argmin(density[: top + 1]))
    right = top + int(np.argmin(density[top:]))
    a, b, c = density[top - 1], density[top], density[top + 1]
    cell = float(volts[1] - volts[0])
    shift = 0.5 * (a - c) / (a - 2 * b + c)
    charge = float(np.trapezoid(density[left : right + 1], dx=cell))
    return float(volts[top] + shift * cell), float(b), charge, float(len(tops))


def share_below(
    time: Series,
    voltage: Series,
    current: Series,
    potential: Number,
    voltage_gain: Number,
    voltage_offset: Number,
) -> Number:
    """Share [1] of a log's charge that passes below a potential.

    Parameters: log as `differential_capacity`; potential [V], voltage_gain [1], voltage_offset
    [V], numbers or draws (n,). Nothing is smoothed.
    Source: exact.

    >>> t = np.linspace(0, 3600, 3601)
    >>> round(share_below(t, 3 + t / 3600, np.ones(3601), 3.25, 1, 0), 3)
    0.25
    """
    volts, charge = charge_at_voltage(time, voltage, current)
    order = np.argsort(volts, kind="stable")
    passed = np.cumsum(charge[order])
    # A row stands in the middle of the charge that belongs to it.
    shares = (passed - charge[order] / 2) / passed[-1]
    recorded = (np.asarray(potential) - voltage_offset) / voltage_gain
    ends = volts[order[0]], volts[order[-1]]
    return read_off(
        recorded, np.concatenate(([ends[0]], volts[order], [ends[1]])), np.r_[0.0, shares, 1.0]
    )


PROCEDURES = {
    "differential_capacity": Procedure(
        differential_capacity, {**LOG, "at": "V", "bandwidth": "V"}, {"": "C/V"}
    ),
    "differential_voltage": Procedure(
        differential_voltage, {**LOG, "at": "C", "bandwidth": "C"}, {"": "V/C"}
    ),
    "capacity_peak": Procedure(
        capacity_peak,
        {
            **LOG,
            "low": "V",
            "high": "V",
            "bandwidth": "V",
            "current_gain": "1",
            "voltage_gain": "1",
            "voltage_offset": "V",
        },
        {
            "position": "V",
            "position_from_noise": "V",
            "height": "C/V",
            "charge": "C",
            "charge_from_noise": "C",
            "peaks": "1",
        },
    ),
    "share_below": Procedure(
        share_below,
        {**LOG, "potential": "V", "voltage_gain": "1", "voltage_offset": "V"},
        {"": "1"},
    ),
}
