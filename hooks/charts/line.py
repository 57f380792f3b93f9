"""Lines: results over a range of one input, with the band of their uncertainty."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator

from hooks.charts import bands
from hooks.charts.data import Cell, Data
from hooks.charts.end_labels import label_ends, room_for
from hooks.charts.line_values import Line, Lines, read
from hooks.charts.style import (
    DASHES,
    INK,
    PAPER,
    QUIET,
    SERIES,
    SMALL,
    STEPS,
    WIDTH,
    axes,
    graduate,
    sheet,
    width_of,
    write,
)
from hooks.charts.words import listed, plain_digits, tidy, with_unit
from hooks.wording import unit_text

__all__ = ["data", "describe", "draw", "note", "read"]

_HEIGHT, _HEAD, _FOOT = 268.0, 28.0, 44.0


def draw(them: Lines) -> Figure:
    """The picture."""
    labels = [line.label for line in them.lines] if len(them.lines) > 1 else []
    left, right = _left(them), room_for(labels) if labels else 10.0
    strip = bands.strip_height(them.bands, WIDTH - left - right)
    figure = sheet(_HEIGHT + strip)
    area = axes(figure, left, right, _HEAD + strip, _FOOT)
    area.set_xlim(them.x[0], them.x[-1])
    bands.draw_bands(figure, area, them.bands, strip)
    area.grid(axis="y")
    area.set_axisbelow(True)
    for at, line in enumerate(them.lines):
        _draw_line(area, them.x, line, at)
    _levels(area, them)
    if them.stated_x is not None:
        area.axvline(them.stated_x, color=QUIET, linewidth=0.9, linestyle=(0, (2, 2)), zorder=1)
        for level in (line.stated for line in them.lines if line.stated is not None):
            area.plot([them.stated_x], [level], "o", markersize=6.5, markerfacecolor=PAPER,
                      markeredgecolor=INK, markeredgewidth=1.5, zorder=6)  # fmt: skip
    if labels:
        label_ends(figure, area, labels, [_end(them.x, line) for line in them.lines])
    write(figure, 0, 9, them.y_label)
    area.set_xlabel(them.x_label, labelpad=4)
    graduate(area.xaxis)
    return figure


def _left(them: Lines) -> float:
    """Room for the numbers beside the axis [pt]."""
    low, high = _range(them)
    ticks = MaxNLocator(5, steps=STEPS).tick_values(low, high)
    return 8 + max(width_of(plain_digits(tidy(tick, 3), 6), SMALL) for tick in ticks)


def _range(them: Lines) -> tuple[float, float]:
    every = [n for line in them.lines for n in (*line.y, *line.low, *line.high) if n is not None]
    low, high = (min(every), max(every)) if every else (0.0, 1.0)
    if low == high:
        low, high = low - (abs(low) * 0.1 or 1), high + (abs(high) * 0.1 or 1)
    if 0 < low < 0.4 * high:
        return 0.0, high * 1.04
    room = 0.04 * (high - low)
    return (low if low == 0 else low - room), high + room


def _levels(area: Axes, them: Lines) -> None:
    area.set_ylim(*_range(them))
    graduate(area.yaxis)
    area.spines["left"].set_visible(False)


def _draw_line(area: Axes, x: tuple[float, ...], line: Line, at: int) -> None:
    colour = SERIES[at % len(SERIES)]
    low, high, y = (
        np.array([np.nan if n is None else n for n in part])
        for part in (line.low, line.high, line.y)
    )
    if np.any(np.isfinite(low)):
        area.fill_between(x, low, high, color=colour, alpha=0.16, linewidth=0)
    area.plot(x, y, color=colour, linestyle=DASHES[at % len(DASHES)], linewidth=2.2, zorder=4)


def _end(x: tuple[float, ...], line: Line) -> tuple[float, float]:
    """The last point that a line has."""
    return next(
        ((a, b) for a, b in zip(reversed(x), reversed(line.y), strict=True) if b is not None),
        (x[-1], 0.0),
    )


def describe(them: Lines) -> str:
    """The picture in words."""
    told = [said for line in them.lines if (said := _told(them, line))]
    told.append(bands.told(them.bands, them.bands_name, them.x_unit))
    return f"{them.y_label} over {them.x_label}. {' '.join(filter(None, told))}"


def _told(them: Lines, line: Line) -> str:
    known = [(x, y) for x, y in zip(them.x, line.y, strict=True) if y is not None]
    if not known:
        return ""
    named = f"{line.label}: " if len(them.lines) > 1 or line.label else ""
    ends = listed([_at(them, *known[0]), _at(them, *known[-1])])
    top, bottom = max(known, key=lambda p: p[1]), min(known, key=lambda p: p[1])
    inner = [
        f"{word} {_at(them, *point)}"
        for word, point in (("at most", top), ("at least", bottom))
        if point not in (known[0], known[-1]) and abs(point[1] - known[0][1]) > 0
        and abs(point[1] - known[-1][1]) > 0
    ]  # fmt: skip
    return f"{named}{ends}{', ' + ', '.join(inner) if inner else ''}."


def _at(them: Lines, x: float, y: float) -> str:
    return (
        f"{with_unit(plain_digits(y, 3), them.y_unit)} at"
        f" {with_unit(plain_digits(x, 3), them.x_unit)}"
    )


def note(them: Lines) -> str:
    """How to read it."""
    parts = []
    if any(low is not None for line in them.lines for low in line.low):
        parts.append("Shaded: 95 % of what the uncertainty of all other inputs allows.")
    if them.stated_x is not None:
        shown = with_unit(plain_digits(them.stated_x), them.x_unit)
        ring = "Rings" if len(them.lines) > 1 else "Ring"
        parts.append(f"{ring}: the stated value, at {shown}.")
    if them.bands:
        parts.append(f"Bands: {them.bands_name}, all other inputs as stated.")
    if them.outside:
        parts.append(f"Not drawn where {listed(list(them.outside))} no longer applies.")
    return " ".join(parts)


def data(them: Lines) -> Data:
    """The numbers behind it."""
    heads, columns = [them.x_label], [list[Cell](them.x)]
    unit = unit_text(them.y_unit)
    for line in them.lines:
        name = f"{line.label} / {unit}" if line.label and unit else line.label or them.y_label
        heads.append(name)
        columns.append(list(line.y))
        if any(low is not None for low in line.low):
            heads += [f"{name}, 95 % from", f"{name}, 95 % to"]
            columns += [list(line.low), list(line.high)]
    if them.bands:
        heads.append(them.bands_name)
        columns.append(bands.column(them.bands, them.x))
    return Data(tuple(heads), tuple(zip(*columns, strict=True)))
