"""Mean voltage of a cell from the open-circuit curves of its two electrodes."""

from typing import NamedTuple

import numpy as np
import numpy.typing as npt
from scipy.interpolate import BSpline, make_interp_spline

from calc.cell.procedure import Procedure

__all__ = ["PROCEDURES", "MeanVoltage", "mean_of_curve", "mean_voltage_from_curves"]

Values = float | npt.NDArray[np.float64]
Series = npt.NDArray[np.float64]


class MeanVoltage(NamedTuple):
    """Mean open-circuit voltage of each electrode and of the cell [V]."""

    positive: Values
    negative: Values
    cell: Values


def mean_of_curve(content: Series, voltage: Series, start: Values, end: Values) -> Values:
    """Mean of a measured curve between two contents of lithium.

    Parameters: content [1] and voltage [V], series of one length; start, end [1], numbers or
    arrays within the series.
    Returns: mean voltage [V], shape of start and end.
    Raises: ValueError for series that do not match or a window outside them.
    Source: exact for straight lines between the points.

    >>> round(float(mean_of_curve(np.array([0.0, 1.0]), np.array([3.0, 4.2]), 0.25, 0.75)), 9)
    3.6
    """
    area = _area_under(content, voltage)
    low, high = np.min(content), np.max(content)
    if any(np.any((at < low) | (at > high)) for at in (np.asarray(start), np.asarray(end))):
        raise ValueError(f"the window must lie within the curve, {low:g} to {high:g}")
    width = np.asarray(end) - np.asarray(start)
    if np.any(width == 0):
        raise ValueError("the window of a mean must not be empty")
    return np.asarray((area(end) - area(start)) / width)


def _area_under(content: Series, voltage: Series) -> BSpline:
    x, y = np.asarray(content, dtype=float), np.asarray(voltage, dtype=float)
    if x.shape != y.shape or x.ndim != 1 or x.size < 2:
        raise ValueError("content and voltage must be two series of one length, two points or more")
    order = np.argsort(x)
    if np.any(np.diff(x[order]) <= 0):
        raise ValueError("a curve must have one voltage for each content")
    return make_interp_spline(x[order], y[order], k=1).antiderivative()


def mean_voltage_from_curves(
    positive_content: Series,
    positive_voltage: Series,
    negative_content: Series,
    negative_voltage: Series,
    positive_charged: Values,
    positive_discharged: Values,
    negative_charged: Values,
    negative_discharged: Values,
) -> MeanVoltage:
    """Mean open-circuit voltage of a cell from two curves and the balance between them.

    Parameters: contents [1] and voltages [V] of both electrodes, series; the content of each
    electrode in the charged and the discharged cell [1], numbers or arrays.
    Returns: MeanVoltage of positive, negative and cell [V].
    Raises: ValueError for series that do not match or a window outside them.
    Source: exact for straight lines between the points.

    >>> line, flat = np.array([0.0, 1.0]), np.array([0.1, 0.1])
    >>> mean = mean_voltage_from_curves(line, 4.2 - line, line, flat, 0.2, 0.8, 0.9, 0.1)
    >>> round(float(mean.cell), 9)
    3.6
    """
    positive = mean_of_curve(
        positive_content, positive_voltage, positive_charged, positive_discharged
    )
    negative = mean_of_curve(
        negative_content, negative_voltage, negative_charged, negative_discharged
    )
    return MeanVoltage(positive, negative, positive - negative)


PROCEDURES: dict[str, Procedure] = {
    "mean_of_curve": Procedure(
        function=mean_of_curve,
        takes={"content": "series 1", "voltage": "series V", "start": "1", "end": "1"},
        gives={"": "V"},
    ),
    "mean_voltage_from_curves": Procedure(
        function=mean_voltage_from_curves,
        takes={
            "positive_content": "series 1",
            "positive_voltage": "series V",
            "negative_content": "series 1",
            "negative_voltage": "series V",
            "positive_charged": "1",
            "positive_discharged": "1",
            "negative_charged": "1",
            "negative_discharged": "1",
        },
        gives={"positive": "V", "negative": "V", "cell": "V"},
    ),
}
