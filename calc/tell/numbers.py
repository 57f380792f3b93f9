"""How numbers and units are published: the same bytes for the same inputs."""

from __future__ import annotations

from calc.notation.units import Unit

DIGITS = 12
"""Significant digits of published numbers: more than any input carries, fewer than machines
differ in."""


def number(value: float) -> float:
    """A number as it is published: twelve significant digits."""
    return float(f"{value:.{DIGITS - 1}e}")


def maybe(value: float | None) -> float | None:
    """The same of a number that may be missing."""
    return None if value is None else number(value)


def unit_text(unit: Unit) -> str:
    """A unit as it is published; a plain number has "1"."""
    return unit.text or "1"
