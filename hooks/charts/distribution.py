"""A distribution as a heap of equally likely values, and on which side of a statement they fall."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from matplotlib.figure import Figure

from calc.book.model import Claim, Showing
from calc.engine.results import Result
from calc.judge.compared import ITSELF, compared_by
from calc.judge.shown import all_shown, claim_at
from calc.notation.units import Unit
from calc.whole import Whole
from hooks.charts.data import Data
from hooks.charts.style import INK, PAPER, SERIES, WIDTH, axes, graduate, sheet, width_of, write
from hooks.charts.values import Value, converted, result_of, targets_of
from hooks.charts.words import heading, plain_digits, tidy
from hooks.wording import grouped, typed

DOTS = 50
"""Each dot is one chance in fifty."""
_EDGE, _FOOT, _HEAD, _HEAP, _MOST = 8.0, 42.0, 30.0, 150.0, 13.0
_LEVELS = (0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 0.975, 0.99)


@dataclass(frozen=True)
class Stated:
    """A statement about the value: its words, where it is true, and how probable that is."""

    text: str
    low: float
    high: float
    probability: float

    def holds(self, number: float) -> bool:
        """Whether the statement is true of a value."""
        return self.low <= number <= self.high


@dataclass(frozen=True)
class Heap:
    """A value with equally likely values of it, and a statement about it or none."""

    value: Value
    quantity: str
    dots: tuple[float, ...]
    quantiles: tuple[tuple[float, float], ...]
    stated: Stated | None


def read(showing: Showing, whole: Whole) -> Heap:
    """The distribution of a result. Raises: NotShown."""
    item = all_shown(showing, targets_of(whole))[0]
    found = result_of(item.id, whole)
    name = item.id.rpartition(".")[2].replace("_", " ")
    levels = (np.arange(DOTS) + 0.5) / DOTS
    dots = [_there(found, float(found.quantile(level)), item.unit) for level in levels]
    quantiles = [(p, _there(found, found.quantile(p), item.unit)) for p in _LEVELS]
    claim = claim_at(showing, targets_of(whole))
    stated = _stated(claim, found, item.unit, whole) if claim else None
    value = converted(item.label, found, item.unit)
    return Heap(value, heading(name, item.unit), tuple(dots), tuple(quantiles), stated)


def _there(found: Result, number: float, scale: Unit) -> float:
    return tidy(scale.from_base(found.unit.to_base(number)))


def _stated(claim: Claim, found: Result, scale: Unit, whole: Whole) -> Stated | None:
    """The statement in the unit of the axis; None where it is about something else."""
    compared = compared_by(claim, targets_of(whole))
    if compared is None or compared.way != ITSELF:
        return None
    ends = (compared.unit.to_base(end) for end in (compared.region.low, compared.region.high))
    low, high = (scale.from_base(end) for end in ends)
    own = (found.unit.from_base(scale.to_base(end)) for end in (low, high))
    sure = tidy(found.probability_within(*own), 4)
    return Stated(grouped(typed(claim.says.text)), tidy(low, 10), tidy(high, 10), sure)


def draw(heap: Heap) -> Figure:
    """The picture."""
    marks = _limits(heap)
    ends = [*heap.dots, heap.value.low, heap.value.high, *marks]
    low, high = min(ends), max(ends)
    room = 0.05 * (high - low) or abs(high) * 0.01 or 1.0
    figure = sheet(_HEAD + _HEAP + _FOOT)
    area = axes(figure, _EDGE, _EDGE, _HEAD, _FOOT)
    area.set_xlim(low - room, high + room)
    area.set_ylim(0, _HEAP)
    area.spines["left"].set_visible(False)
    area.set_yticks([])
    graduate(area.xaxis)
    area.set_xlabel(heap.quantity, labelpad=4)
    scale = (WIDTH - 2 * _EDGE) / (high - low + 2 * room)
    size = _size(np.array(heap.dots) * scale)
    for x, level, number in _stacked(np.array(heap.dots), scale, size):
        inside = heap.stated is None or heap.stated.holds(number)
        area.plot([x], [13 + (level + 0.5) * size], "o", markersize=size * 0.8,
                  markerfacecolor=SERIES[0] if inside else PAPER, markeredgecolor=SERIES[0],
                  markeredgewidth=min(1.2, size / 7))  # fmt: skip
    y = 6.0
    area.plot([heap.value.low, heap.value.high], [y, y], color=INK, linewidth=4.0,
              solid_capstyle="butt")  # fmt: skip
    for limit in marks:
        area.axvline(limit, color=SERIES[1], linewidth=1.6, linestyle=(0, (5, 2)))
    if heap.stated:
        _say(figure, heap.stated, [_EDGE + (limit - low + room) * scale for limit in marks])
    return figure


def _limits(heap: Heap) -> list[float]:
    ends = (heap.stated.low, heap.stated.high) if heap.stated else ()
    return [end for end in ends if abs(end) != np.inf]


def _size(places: np.ndarray[tuple[int], np.dtype[np.float64]]) -> float:
    """The largest dots whose heap stays below the top."""
    for size in np.arange(_MOST, 1.0, -0.25):
        if np.unique(np.round(places / size), return_counts=True)[1].max() * size <= _HEAP - 14:
            return float(size)
    return 1.0


def _stacked(
    dots: np.ndarray[tuple[int], np.dtype[np.float64]], scale: float, size: float
) -> list[tuple[float, int, float]]:
    """Where each dot stands: its column, its level in it, and the value that it stands for."""
    heights: dict[int, int] = {}
    placed = []
    for number in dots:
        column = round(float(number) * scale / size)
        level = heights.get(column, 0)
        heights[column] = level + 1
        placed.append((column * size / scale, level, float(number)))
    return placed


def _say(figure: Figure, stated: Stated, places: list[float]) -> None:
    """The statement above its limit, kept inside the picture."""
    half = width_of(stated.text) / 2 + 2
    x = min(max(sum(places) / len(places), half), WIDTH - half) if places else WIDTH / 2
    write(figure, x, 10, stated.text, align="center")


def describe(heap: Heap) -> str:
    """The picture in words."""
    inside = sum(heap.stated.holds(dot) for dot in heap.dots) if heap.stated else 0
    about = (
        f" Of {DOTS} equally likely values {inside or 'none'} would make '{heap.stated.text}' true."
        if heap.stated
        else ""
    )
    low, high = plain_digits(heap.value.low), plain_digits(heap.value.high)
    return f"{heap.quantity}: {heap.value.full}; 95 % of it lies between {low} and {high}.{about}"


def note(heap: Heap) -> str:
    """How to read it."""
    side = ""
    if heap.stated:
        side = (
            f" Filled dots make '{heap.stated.text}' true, hollow ones do not: probability"
            f" {chance(heap.stated.probability)}."
        )
    return f"{DOTS} dots, each as likely as any other. Bar below: the 95 % interval.{side}"


def chance(probability: float) -> str:
    """A probability in per cent, honest at its ends."""
    if probability < 0.001:
        return "below 0.1\u00a0%"
    if probability > 0.999:
        return "above 99.9\u00a0%"
    places = 0 if 0.1 < probability < 0.9 else 1
    return f"{100 * probability:.{places}f}\u00a0%"


def data(heap: Heap) -> Data:
    """The numbers behind it."""
    rows = tuple((tidy(100 * level), number) for level, number in heap.quantiles)
    return Data(("probability of less / %", heap.quantity), rows)
