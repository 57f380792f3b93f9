"""Wound rolls: the spiral against its integral, its area formula and its inverse."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from calc.cell.winding import roll_outer_radius, wound_roll

thicknesses = st.floats(50e-6, 600e-6)
cores = st.floats(0.0, 5e-3)
walls = st.floats(0.1e-3, 40e-3)


@pytest.mark.parametrize(
    ("thickness", "inner", "outer"), [(373.6e-6, 1.5e-3, 10.25e-3), (0.1e-3, 0.0, 2e-3)]
)
def test_length_is_the_integral_along_the_spiral(
    thickness: float, inner: float, outer: float
) -> None:
    growth = thickness / (2 * np.pi)
    along, _ = quad(
        lambda angle: growth * np.hypot(1.0, angle), inner / growth, outer / growth, limit=500
    )
    assert wound_roll(thickness, inner, outer).length == pytest.approx(along, rel=1e-9)


@given(thicknesses, cores, walls)
def test_spiral_and_area_differ_by_less_than_a_thickness_of_strip(
    thickness: float, inner: float, wall: float
) -> None:
    """The difference is t/4π (1 + ln of twice the last angle) for a full disc, less with a core."""
    roll = wound_roll(thickness, inner, inner + wall)
    last = 2 * np.pi * (inner + wall) / thickness
    most = thickness / (4 * np.pi) * (1 + np.log(2 * last)) * 1.001
    assert -1e-12 <= roll.length - roll.length_by_area <= most


@given(thicknesses, cores, walls)
def test_radius_undoes_length(thickness: float, inner: float, wall: float) -> None:
    roll = wound_roll(thickness, inner, inner + wall)
    radius = roll_outer_radius(thickness, inner, roll.length)
    assert radius == pytest.approx(inner + wall, rel=1e-12)


@given(thicknesses, cores, walls, walls)
def test_a_roll_is_the_sum_of_an_inner_and_an_outer_one(
    thickness: float, inner: float, first: float, second: float
) -> None:
    middle, outer = inner + first, inner + first + second
    parts = [wound_roll(thickness, inner, middle), wound_roll(thickness, middle, outer)]
    whole = wound_roll(thickness, inner, outer)
    assert sum(part.length for part in parts) == pytest.approx(whole.length, rel=1e-9)
    assert sum(part.turns for part in parts) == pytest.approx(whole.turns, rel=1e-9)


def test_draws_broadcast() -> None:
    thickness = np.array([300e-6, 350e-6, 400e-6])
    roll = wound_roll(thickness, 1.5e-3, 10e-3)
    alone = [float(wound_roll(t, 1.5e-3, 10e-3).length) for t in thickness]
    assert np.shape(roll.turns) == (3,)
    assert np.allclose(roll.length, alone, rtol=1e-15)
    assert np.allclose(roll_outer_radius(thickness, 1.5e-3, roll.length), 10e-3, rtol=1e-12)


def test_no_strip_is_no_roll() -> None:
    assert roll_outer_radius(300e-6, 2e-3, 0.0) == pytest.approx(2e-3, rel=1e-12)
    assert wound_roll(300e-6, 2e-3, 2e-3) == (0.0, 0.0, 0.0)


@pytest.mark.parametrize(
    ("arguments", "phrase"),
    [
        ((0.0, 1e-3, 2e-3), "thickness"),
        ((1e-4, 3e-3, 2e-3), "outer"),
        ((1e-4, -1e-3, 2e-3), "inner"),
    ],
)
def test_what_cannot_be_wound_is_refused(arguments: tuple[float, ...], phrase: str) -> None:
    with pytest.raises(ValueError, match=phrase):
        wound_roll(*arguments)


def test_a_negative_length_is_refused() -> None:
    with pytest.raises(ValueError, match="length"):
        roll_outer_radius(1e-4, 1e-3, -1.0)
