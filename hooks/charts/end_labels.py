"""Names at the ends of lines, moved apart where lines end close together."""

from __future__ import annotations

from collections.abc import Sequence

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from hooks.charts.style import QUIET, SMALL, WIDTH, width_of, wrapped, write

_GAP, _LINE, _WIDEST = 13.0, 12.5, 88.0


def room_for(labels: Sequence[str]) -> float:
    """The margin that the names need on the right [pt]."""
    return _GAP + max(width_of(line, SMALL) for label in labels for line in _broken(label))


def _broken(label: str) -> list[str]:
    return wrapped(label, _WIDEST, SMALL)


def label_ends(
    figure: Figure, area: Axes, labels: Sequence[str], ends: Sequence[tuple[float, float]]
) -> None:
    """Each name beside the end of its line, joined to it where it had to move."""
    height = figure.get_figheight() * 72
    box = area.get_position()
    (left, right), (bottom, top) = area.get_xlim(), area.get_ylim()
    x = [(box.x0 + box.width * (end - left) / (right - left)) * WIDTH for end, _ in ends]
    down = [
        (1 - box.y0 - box.height * (level - bottom) / (top - bottom)) * height for _, level in ends
    ]
    sizes = [len(_broken(label)) * _LINE for label in labels]
    limits = ((1 - box.y1) * height - 4, (1 - box.y0) * height + 4)
    middles = apart(down, sizes, limits)
    edge = box.x1 * WIDTH
    for label, start, level, middle in zip(labels, x, down, middles, strict=True):
        _join(figure, (start, level), (edge + _GAP - 3, middle))
        lines = _broken(label)
        for at, line in enumerate(lines):
            shift = (at - (len(lines) - 1) / 2) * _LINE
            write(figure, edge + _GAP, middle + shift, line, size=SMALL)


def _join(figure: Figure, start: tuple[float, float], end: tuple[float, float]) -> None:
    height = figure.get_figheight() * 72
    xs, downs = zip((start[0] + 2, start[1]), end, strict=True)
    line = Line2D([x / WIDTH for x in xs], [1 - down / height for down in downs])
    line.set(color=QUIET, linewidth=0.7)
    figure.add_artist(line)


def apart(
    wanted: Sequence[float], sizes: Sequence[float], limits: tuple[float, float]
) -> list[float]:
    """Middles as close to the wanted ones as can be without touching, within limits.

    >>> apart([10.0, 11.0], [10.0, 10.0], (0.0, 100.0))
    [5.5, 15.5]
    """
    order = sorted(range(len(wanted)), key=lambda at: (wanted[at], at))
    groups: list[tuple[list[int], float]] = []
    for at in order:
        members, middle = [at], wanted[at]
        while groups and _touch(groups[-1], (members, middle), sizes):
            others, _ = groups.pop()
            members = [*others, *members]
            middle = sum(wanted[one] for one in members) / len(members)
        groups.append((members, _within(middle, members, sizes, limits)))
    found = [0.0] * len(wanted)
    for members, middle in groups:
        edge = middle - sum(sizes[at] for at in members) / 2
        for at in members:
            found[at] = edge + sizes[at] / 2
            edge += sizes[at]
    return found


def _touch(
    above: tuple[list[int], float], below: tuple[list[int], float], sizes: Sequence[float]
) -> bool:
    half = sum(sizes[at] for at in (*above[0], *below[0])) / 2
    return below[1] - above[1] < half


def _within(
    middle: float, members: list[int], sizes: Sequence[float], limits: tuple[float, float]
) -> float:
    half = sum(sizes[at] for at in members) / 2
    return min(max(middle, limits[0] + half), limits[1] - half)
