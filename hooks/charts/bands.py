"""Bands behind a curve: what governs from where to where, each with its word on it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from calc.engine.evaluate import NotComputed, values_of
from calc.judge.shown import Bands, Sweep
from calc.notation.units import Unit
from calc.whole import Whole
from hooks.charts.data import Cell
from hooks.charts.end_labels import apart
from hooks.charts.style import INK, LINE, QUIET, SMALL, WIDTH, width_of
from hooks.charts.sweeps import Swept
from hooks.charts.words import plain_digits, tidy, with_unit

_HALVINGS = 7
"""How often the gap between two points is halved to find where one band ends."""
_SHADES = (0.06, 0.18)
_UPRIGHT, _ROOM = 13.0, 6.0

_Number = int | None
_NumberAt = Callable[[float], _Number]


@dataclass(frozen=True)
class Band:
    """A stretch of the x axis [the unit of x] and the word for what governs there."""

    low: float
    high: float
    word: str


def bands_of(given: Bands, led: Sweep, found: Swept, whole: Whole) -> tuple[Band, ...]:
    """The bands over a range, their ends found between the points that were drawn."""
    id = whole.plan.target(given.item.id)
    numbers = [_whole(number) for number in found.nominal[id]]

    def number_at(place: float) -> _Number:
        try:
            values = values_of([id], {led.node: np.float64(place)}, whole.plan, whole.book.logs)
        except NotComputed:
            return None
        return _whole(float(values[id]))

    starts = [(float(found.places[0]), numbers[0])]
    points = list(zip(map(float, found.places), numbers, strict=True))
    for before, after in pairwise(points):
        starts += _changes(number_at, before, after, _HALVINGS)
    last = float(found.places[-1])
    stretches = pairwise([*starts, (last, None)])

    def there(place: float) -> float:
        return tidy(led.unit.from_base(place))

    return tuple(
        Band(there(low), there(high), given.word(number))
        for (low, number), (high, _) in stretches
        if number is not None and high > low
    )


def _whole(number: float) -> _Number:
    return round(float(number)) if np.isfinite(number) else None


def _changes(
    number_at: _NumberAt, before: tuple[float, _Number], after: tuple[float, _Number], halvings: int
) -> Iterator[tuple[float, _Number]]:
    """Where another number begins between two points, by halving; every change that it meets."""
    if before[1] == after[1]:
        return
    middle = (before[0] + after[0]) / 2
    if not halvings:
        yield middle, after[1]
        return
    between = (middle, number_at(middle))
    yield from _changes(number_at, before, between, halvings - 1)
    yield from _changes(number_at, between, after, halvings - 1)


def strip_height(bands: Sequence[Band], plot_width: float) -> float:
    """The height [pt] of the strip above the plot that carries the words; 0 without bands."""
    if not bands:
        return 0.0
    upright = [width_of(band.word, SMALL) for band in bands if not _lies(band, bands, plot_width)]
    return max([LINE + 2, *(length + _ROOM for length in upright)])


def _lies(band: Band, bands: Sequence[Band], plot_width: float) -> bool:
    """Whether a word fits its band lying down; else it stands upright."""
    share = (band.high - band.low) / (bands[-1].high - bands[0].low)
    return width_of(band.word, SMALL) + _ROOM <= share * plot_width


def draw_bands(figure: Figure, area: Axes, bands: Sequence[Band], strip: float) -> None:
    """Shades, edges and words, from the foot of the plot to the top of the strip [pt]."""
    box, height = area.get_position(), figure.get_figheight() * 72
    top = 1 + strip / (box.height * height)
    for at, band in enumerate(bands):
        area.axvspan(band.low, band.high, ymax=top, color=QUIET, alpha=_SHADES[at % 2],
                     linewidth=0, zorder=0, clip_on=False)  # fmt: skip
        if at:
            area.plot([band.low] * 2, [0, top], transform=area.get_xaxis_transform(),
                      color=QUIET, linewidth=0.8, zorder=1, clip_on=False)  # fmt: skip
    _words(figure, area, bands, box.y1 + strip / height / 2)


def _words(figure: Figure, area: Axes, bands: Sequence[Band], level: float) -> None:
    box, (left, right) = area.get_position(), area.get_xlim()
    plot = box.width * WIDTH
    lying = [_lies(band, bands, plot) for band in bands]
    middles = [
        box.x0 * WIDTH + plot * ((band.low + band.high) / 2 - left) / (right - left)
        for band in bands
    ]
    sizes = [
        width_of(band.word, SMALL) if lies else _UPRIGHT
        for band, lies in zip(bands, lying, strict=True)
    ]
    places = apart(middles, sizes, (box.x0 * WIDTH, box.x1 * WIDTH))
    for band, lies, place in zip(bands, lying, places, strict=True):
        figure.text(place / WIDTH, level, band.word, ha="center", va="center", fontsize=SMALL,
                    color=INK, rotation=0 if lies else 90)  # fmt: skip


def told(bands: Sequence[Band], name: str, unit: Unit) -> str:
    """The bands in words, or ""."""
    if not bands:
        return ""
    each = [
        f"{band.word} from {with_unit(plain_digits(band.low, 3), unit)} to"
        f" {with_unit(plain_digits(band.high, 3), unit)}"
        for band in bands
    ]
    return f"{name.capitalize()}: {', '.join(each)}."


def column(bands: Sequence[Band], x: Sequence[float]) -> list[Cell]:
    """The word that holds at each place, None where there is none."""
    return [next((b.word for b in bands if b.low <= place <= b.high), None) for place in x]
