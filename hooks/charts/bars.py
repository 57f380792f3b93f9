"""Bars: results side by side, from zero, each with its 95 % interval."""

from __future__ import annotations

from dataclasses import dataclass

from matplotlib.figure import Figure

from calc.book.model import Showing
from calc.judge.shown import alike, all_shown
from calc.whole import Whole
from hooks.charts.apart import Pairs, alike_pairs
from hooks.charts.data import Data
from hooks.charts.quantities import common_quantity
from hooks.charts.rows import Row, bar, from_zero, lay_out, whisker
from hooks.charts.values import Value, targets_of, value_of
from hooks.charts.words import labelled, listed


@dataclass(frozen=True)
class Bars:
    """Values of one kind, and what they are called together."""

    values: tuple[Value, ...]
    quantity: str
    alike: Pairs


def read(showing: Showing, whole: Whole) -> Bars:
    """The values of a block. Raises: NotShown."""
    items = alike(all_shown(showing, targets_of(whole)))
    values = tuple(value_of(item, whole) for item in items)
    given = str(showing.fields.get("x_label", ""))
    quantity = labelled(given or common_quantity(items), values[0].unit)
    return Bars(values, quantity, alike_pairs(values, whole))


def draw(bars: Bars) -> Figure:
    """The picture."""
    span = from_zero([value.low for value in bars.values], [value.high for value in bars.values])
    rows = [Row(value.label, value.full) for value in bars.values]
    lines = lay_out(rows, span, bars.quantity)
    for at, value in enumerate(bars.values):
        bar(lines, at, 0.0, value.number)
        if value.standard:
            whisker(lines, at, value.low, value.high)
    if span[0] < 0:
        lines.axes.axvline(0, color="#0a0b03", linewidth=0.8)
    return lines.figure


def describe(bars: Bars) -> str:
    """The picture in words."""
    told = listed([f"{value.label} {value.full}" for value in bars.values])
    return f"Bars of {bars.quantity}: {told}.{_alike(bars)}"


def _alike(bars: Bars) -> str:
    pairs = sorted(bars.alike)
    near = [f"{bars.values[one].label} from {bars.values[other].label}" for one, other in pairs]
    return f" Not to be told apart: {'; '.join(near)}." if near else ""


def note(bars: Bars) -> str:
    """How to read it."""
    if not any(value.standard for value in bars.values):
        return "No uncertainty was given for what goes in."
    return f"Lines on the bars: 95 % intervals.{_alike(bars)}"


def data(bars: Bars) -> Data:
    """The numbers behind it."""
    return values_data(bars.values, bars.quantity)


def values_data(values: tuple[Value, ...], quantity: str) -> Data:
    """Values with their intervals as a table."""
    heads = ("", quantity, "standard uncertainty", "95 % from", "95 % to")
    rows = [(v.label, v.number, v.standard or None, v.low, v.high) for v in values]
    return Data(heads, tuple(rows))
