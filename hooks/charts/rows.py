"""Pictures that read like a table: a label and its value on a line, and a mark below it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from hooks.charts.style import (
    GRID,
    INK,
    LINE,
    PAPER,
    QUIET,
    SERIES,
    WIDTH,
    graduate,
    sheet,
    width_of,
    wrapped,
    write,
)
from hooks.charts.style import axes as axes_of

_MARK, _LEAD, _GAP, _FOOT = 11.0, 3.0, 9.0, 42.0
_START, _END = 1.0, 5.0
_OVERHANG = 6.0
"""How far a number at an end of the axis may stand beside the picture [pt]."""


@dataclass(frozen=True)
class Row:
    """A label and the text of its value."""

    label: str
    value: str
    strong: bool = False


@dataclass(frozen=True)
class Lines:
    """A figure with a line of text above each mark; `middle` is where each mark stands."""

    figure: Figure
    axes: Axes
    middle: tuple[float, ...]


def lay_out(rows: Sequence[Row], span: tuple[float, float], title: str) -> Lines:
    """A figure of rows over one common axis.

    Parameters: span, the ends of the axis; title, quantity / unit below it.
    """
    broken = [_fitted(row) for row in rows]
    heights = [len(lines) * LINE + _LEAD + _MARK + _GAP for lines in broken]
    figure = sheet(sum(heights) + _FOOT)
    area = axes_of(figure, _START, _END, 0, _FOOT)
    area.set_xlim(*span)
    area.set_ylim(sum(heights), 0)
    middle, down = [], 0.0
    for row, lines, height in zip(rows, broken, heights, strict=True):
        for number, line in enumerate(lines):
            write(figure, 0, down + LINE * (number + 0.5), line, strong=row.strong)
        last = down + LINE * (len(lines) - 0.5)
        write(figure, WIDTH, last, row.value, align="right", strong=row.strong)
        middle.append(down + len(lines) * LINE + _LEAD + _MARK / 2)
        down += height
    area.spines["left"].set_visible(False)
    area.set_yticks([])
    graduate(area.xaxis)
    area.set_xticks([at for at in area.get_xticks() if _fits(area, float(at), span)])
    area.set_xlabel(title, labelpad=4)
    return Lines(figure, area, tuple(middle))


def _fits(area: Axes, at: float, span: tuple[float, float]) -> bool:
    """Whether the number at a place of the axis stays within the picture."""
    low, high = span
    if not low <= at <= high:
        return False
    half = width_of(area.xaxis.get_major_formatter()(at)) / 2
    middle = _START + (at - low) / (high - low) * (WIDTH - _START - _END)
    return middle - half >= -_OVERHANG and middle + half <= WIDTH + _OVERHANG


def _fitted(row: Row) -> list[str]:
    weight = 1.08 if row.strong else 1.0
    room = WIDTH - width_of(row.value) * weight - 10
    return wrapped(row.label, max(room, WIDTH / 3) / weight)


def bar(
    lines: Lines, at: int, start: float, end: float, *, hatch: bool = False, dark: bool = False
) -> None:
    """A bar from one value to another on the line of a row.

    Hatched for what is not named, dark for what is no part but the whole.
    """
    colour = INK if dark else SERIES[0]
    lines.axes.barh(
        lines.middle[at], end - start, _MARK, left=start,
        color=PAPER if hatch else colour, edgecolor=QUIET if hatch else colour,
        linewidth=0.8, hatch="////" if hatch else None,
    )  # fmt: skip


def joint(lines: Lines, at: int, value: float) -> None:
    """Where a bar ends and the one below begins: a tick at each, clear of the text between."""
    for middle, sign in ((lines.middle[at], 1), (lines.middle[at + 1], -1)):
        ends = [middle, middle + sign * (_MARK / 2 + _LEAD)]
        lines.axes.plot([value, value], ends, color=QUIET, linewidth=0.8, zorder=0)


def whisker(lines: Lines, at: int, low: float, high: float) -> None:
    """An interval on the line of a row, with caps, legible on a bar and beside it."""
    y = lines.middle[at]
    for colour, width in ((PAPER, 4.4), (INK, 1.5)):
        lines.axes.plot([low, high], [y, y], color=colour, linewidth=width, solid_capstyle="butt")
        for end in (low, high):
            lines.axes.plot([end, end], [y - 4, y + 4], color=colour, linewidth=width,
                            solid_capstyle="butt")  # fmt: skip


def track(lines: Lines, at: int) -> None:
    """A faint line across, on which a mark stands."""
    lines.axes.axhline(lines.middle[at], color=GRID, linewidth=0.8, zorder=0)


def from_zero(lows: Sequence[float], highs: Sequence[float]) -> tuple[float, float]:
    """Ends of an axis for bars, which always start at zero."""
    low, high = min(0.0, *lows), max(0.0, *highs)
    room = 0.02 * (high - low) or 1.0
    return (low - room if low < 0 else 0.0, high + room if high > 0 else 0.0)


def around(lows: Sequence[float], highs: Sequence[float]) -> tuple[float, float]:
    """Ends of an axis for marks, with a little room on either side."""
    low, high = min(lows), max(highs)
    room = 0.06 * (high - low) or abs(high) * 0.05 or 1.0
    return (low - room, high + room)
