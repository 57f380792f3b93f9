"""Mean voltage from two sampled curves, against closed forms and SciPy's quadrature."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from calc.cell.arguments import Number, Series
from calc.cell.curves import mean_of_curve, mean_voltage_from_curves
from tests.cell.half_cells import NEGATIVE, POSITIVE, negative, positive
from tests.helpers import run_method

CONTENT = np.linspace(0.0, 1.0, 20_001)


def test_sampled_curves_reach_the_closed_form_of_the_method_page() -> None:
    """Straight lines between points cost parts in a million at this spacing."""
    sampled = mean_voltage_from_curves(
        CONTENT, positive(CONTENT), CONTENT, negative(CONTENT), *POSITIVE[::-1], *NEGATIVE[::-1]
    )
    window = {
        "cathode_charged": str(POSITIVE[1]),
        "cathode_discharged": str(POSITIVE[0]),
        "anode_charged": str(NEGATIVE[1]),
        "anode_discharged": str(NEGATIVE[0]),
    }
    closed = run_method("mean-voltage-of-two-curves", window)
    assert sampled.positive == pytest.approx(closed["cathode"][0], rel=1e-6)
    assert sampled.negative == pytest.approx(closed["anode"][0], rel=1e-5)
    assert sampled.cell == pytest.approx(closed["mean_voltage"][0], rel=1e-6)


@pytest.mark.parametrize(("curve", "ends"), [(positive, POSITIVE), (negative, NEGATIVE)])
def test_means_against_quadrature(
    curve: Callable[[Number], Series], ends: tuple[float, float]
) -> None:
    area, _ = quad(curve, *ends, limit=200, epsabs=1e-12)
    assert mean_of_curve(CONTENT, curve(CONTENT), *ends) == pytest.approx(
        area / (ends[1] - ends[0]), rel=1e-5
    )


@given(st.floats(0.0, 0.49), st.floats(0.5, 1.0), st.floats(-2, 2), st.floats(0, 4))
def test_a_straight_line_has_the_mean_of_its_ends(
    start: float, end: float, slope: float, height: float
) -> None:
    line = height + slope * CONTENT[::1000]
    found = mean_of_curve(CONTENT[::1000], line, start, end)
    assert found == pytest.approx(height + slope * (start + end) / 2, abs=1e-9)


def test_direction_and_order_change_nothing() -> None:
    forward = mean_of_curve(CONTENT, positive(CONTENT), 0.3, 0.9)
    assert mean_of_curve(CONTENT, positive(CONTENT), 0.9, 0.3) == pytest.approx(forward)
    assert mean_of_curve(CONTENT[::-1], positive(CONTENT)[::-1], 0.3, 0.9) == pytest.approx(forward)


def test_draws_of_a_window_broadcast() -> None:
    ends = np.array([0.8, 0.85, 0.9])
    found = mean_of_curve(CONTENT, positive(CONTENT), 0.3, ends)
    alone = [float(mean_of_curve(CONTENT, positive(CONTENT), 0.3, end)) for end in ends]
    assert np.allclose(found, alone, rtol=1e-14)


@pytest.mark.parametrize(
    ("content", "window", "phrase"),
    [
        ([0.0, 0.5, 1.0], (0.2, 1.2), "within the curve"),
        ([0.0, 0.5, 1.0], (0.4, 0.4), "empty"),
        ([0.0, 0.5], (0.1, 0.2), "one length"),
        ([0.0, 0.5, 0.5], (0.1, 0.2), "one voltage"),
    ],
)
def test_a_bad_window_or_curve_is_refused(
    content: list[float], window: tuple[float, float], phrase: str
) -> None:
    with pytest.raises(ValueError, match=phrase):
        mean_of_curve(np.array(content), np.array([4.2, 3.9, 3.6]), *window)
