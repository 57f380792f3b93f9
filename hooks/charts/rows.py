"""Pictures that read like a table: a label and its value on a line, and a mark below it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator

from hooks.charts.style import GRID, INK, LINE, PAPER, QUIET, SERIES, WIDTH
from hooks.charts.style import axes as axes_of
from hooks.charts.style import sheet, width_of, wrapped, write

_MARK, _GAP, _FOOT, _EDGE = 13.0, 9.0, 42.0, 5.0


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


def lay_out(rows: Sequence[Row], span: tuple[float, float], title: str, *, foot: bool = True) -> Lines:
    """A figure of rows over one common axis.

    Parameters: span, the ends of the axis; title, quantity / unit below it; without foot the axis
    is left out, where the values beside the labels say all.
    """
    broken = [_fitted(row) for row in rows]
    heights = [len(lines) * LINE + _MARK + _GAP for lines in broken]
    bottom = _FOOT if foot else 4.0
    total = sum(heights) + bottom
    figure = sheet(total)
    area = axes_of(figure, _EDGE, _EDGE, 0, bottom)
    area.set_xlim(*span)
    area.set_ylim(sum(heights), 0)
    middle, down = [], 0.0
    for row, lines, height in zip(rows, broken, heights, strict=True):
        for number, line in enumerate(lines):
            write(figure, 0, down + LINE * (number + 0.5), line, strong=row.strong)
        last = down + LINE * (len(lines) - 0.5)
        write(figure, WIDTH, last, row.value, align="right", strong=row.strong)
        middle.append(down + len(lines) * LINE + 1 + _MARK / 2)
        down += height
    _finish(area, title, foot)
    return Lines(figure, area, tuple(middle))


def _fitted(row: Row) -> list[str]:
    weight = 1.08 if row.strong else 1.0
    room = WIDTH - width_of(row.value) * weight - 10
    return wrapped(row.label, max(room, WIDTH / 3) / weight)


def _finish(area: Axes, title: str, foot: bool) -> None:
    area.spines["left"].set_visible(False)
    area.set_yticks([])
    if not foot:
        area.spines["bottom"].set_visible(False)
        area.set_xticks([])
        return
    area.xaxis.set_major_locator(MaxNLocator(5, steps=[1, 2, 2.5, 5, 10]))
    area.set_xlabel(title, labelpad=4)


def bar(lines: Lines, at: int, start: float, end: float, *, hatch: bool = False) -> None:
    """A bar from one value to another on the line of a row; hatched for what is not named."""
    lines.axes.barh(
        lines.middle[at], end - start, _MARK, left=start,
        color=PAPER if hatch else SERIES[0], edgecolor=QUIET if hatch else SERIES[0],
        linewidth=0.8, hatch="////" if hatch else None,
    )  # fmt: skip


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
