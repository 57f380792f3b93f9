"""One house style: sizes, strokes, and colours that stand for variables of the page.

Colours are drawn as sentinels and replaced by CSS variables in the finished SVG, so that a chart
follows light, dark and print. What the variables are is said in content/assets/charts.css alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from matplotlib.axes import Axes
from matplotlib.axis import Axis
from matplotlib.figure import Figure
from matplotlib.ticker import FuncFormatter, MaxNLocator

from hooks.charts.words import plain_digits, tidy

WIDTH = 344.0
"""Width of every chart [pt]: on a phone of 360 px a point of type is about a pixel."""

TEXT, SMALL = 12.0, 11.0
LINE = 15.0
"""Height of a line of text [pt]."""

STEPS = (1, 2, 2.5, 5, 10)
"""Numbers along an axis go up by one of these times a power of ten."""

PAPER, INK, QUIET, GRID = "#0a0b01", "#0a0b02", "#0a0b03", "#0a0b04"
SERIES = ("#0a0b11", "#0a0b12", "#0a0b13", "#0a0b14", "#0a0b15")
DASHES = ("solid", (0, (5, 2)), (0, (1.2, 1.6)), (0, (8, 2, 1.5, 2)), (0, (3, 1.5)))
"""A line is told by its dashes as well as by its colour."""

VARIABLES: Mapping[str, str] = {
    PAPER: "--chart-paper",
    INK: "--chart-ink",
    QUIET: "--chart-quiet",
    GRID: "--chart-grid",
    **{colour: f"--chart-{number}" for number, colour in enumerate(SERIES, start=1)},
}

SETTINGS: dict[Any, Any] = {
    "svg.fonttype": "none",
    "svg.hashsalt": "worked-cells",
    "font.family": "DejaVu Sans",
    "font.size": TEXT,
    "text.color": INK,
    "axes.edgecolor": QUIET,
    "axes.labelcolor": INK,
    "axes.linewidth": 0.8,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "grid.color": GRID,
    "grid.linewidth": 0.8,
    "xtick.color": QUIET,
    "ytick.color": QUIET,
    "xtick.labelcolor": INK,
    "ytick.labelcolor": INK,
    "xtick.labelsize": SMALL,
    "ytick.labelsize": SMALL,
    "xtick.major.size": 3.0,
    "ytick.major.size": 0.0,
    "hatch.linewidth": 0.9,
    "hatch.color": QUIET,
    "lines.linewidth": 2.0,
    "lines.solid_capstyle": "round",
    "figure.facecolor": "none",
    "axes.facecolor": "none",
}


def sheet(height: float) -> Figure:
    """An empty picture of the house's width; height [pt]."""
    return Figure(figsize=(WIDTH / 72, height / 72), dpi=72)


def axes(figure: Figure, left: float, right: float, top: float, bottom: float) -> Axes:
    """Axes inside the given margins [pt]."""
    height = figure.get_figheight() * 72
    box = (left / WIDTH, bottom / height, (WIDTH - left - right) / WIDTH,
           (height - top - bottom) / height)  # fmt: skip
    return figure.add_axes(box)


def graduate(axis: Axis, most: int = 5) -> None:
    """Round numbers along an axis, with thin spaces between thousands."""
    axis.set_major_locator(MaxNLocator(most, steps=STEPS))
    axis.set_major_formatter(FuncFormatter(lambda number, _: plain_digits(tidy(number, 6), 6)))


def write(
    figure: Figure, x: float, down: float, text: str, *, align: str = "left", size: float = TEXT,
    quiet: bool = False, strong: bool = False,
) -> None:  # fmt: skip
    """Text at a place measured from the top left corner [pt], on its middle line."""
    height = figure.get_figheight() * 72
    figure.text(
        x / WIDTH, 1 - down / height, text, ha=align, va="center_baseline", fontsize=size,
        color=QUIET if quiet else INK, fontweight="bold" if strong else "normal",
    )  # fmt: skip


def width_of(text: str, size: float = TEXT) -> float:
    """About how wide a text is [pt]; a little too wide rather than too narrow."""
    narrow = sum(character in "iljtfr.,:;|!'()[]1 /" for character in text)
    return size * (0.62 * (len(text) - narrow) + 0.38 * narrow)


def wrapped(text: str, width: float, size: float = TEXT) -> list[str]:
    """A text broken into lines that fit a width [pt]."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(longer, size) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines or [""]
