"""A total taken apart: each part starts where the one before it ends."""

from __future__ import annotations

from dataclasses import dataclass

from matplotlib.figure import Figure

from calc.book.model import Showing
from calc.judge.shown import alike, all_shown, shown
from calc.whole import Whole
from hooks.charts.bars import values_data
from hooks.charts.data import Cell, Data
from hooks.charts.quantities import common_quantity
from hooks.charts.rows import Row, bar, from_zero, joint, lay_out
from hooks.charts.values import Value, targets_of, value_of
from hooks.charts.words import heading, listed, plain_digits, tidy, with_unit

_WORTH_A_ROW = 0.002
"""A remainder below this share of the total is rounding."""


@dataclass(frozen=True)
class Breakdown:
    """Parts, largest first, their total, and what of it no part names."""

    parts: tuple[Value, ...]
    total: float
    total_text: str
    rest: float
    quantity: str


def read(showing: Showing, whole: Whole) -> Breakdown:
    """The parts of a block and their total. Raises: NotShown."""
    targets = targets_of(whole)
    items = all_shown(showing, targets)
    named = showing.fields.get("total")
    sum_of = (shown("Together", str(named), targets),) if named else ()
    alike_items = alike((*items, *sum_of))
    values = [value_of(item, whole) for item in alike_items]
    parts = sorted(values[: len(items)], key=lambda value: -value.number)
    added = tidy(sum(part.number for part in parts), 10)
    total = values[-1].number if named else added
    text = values[-1].full if named else with_unit(plain_digits(added), values[0].unit)
    rest = tidy(total - added, 4)
    rest = rest if rest > _WORTH_A_ROW * abs(total) else 0.0
    quantity = heading(common_quantity(sum_of or items), values[0].unit)
    return Breakdown(tuple(parts), total, text, rest, quantity)


def share(number: float, total: float) -> str:
    """A part of a total in per cent, to a tenth below ten."""
    part = 100 * number / total if total else 0.0
    return f"{part:.0f}\u00a0%" if part >= 10 else f"{part:.1f}\u00a0%"


def draw(parted: Breakdown) -> Figure:
    """The picture."""
    rows = [Row(p.label, f"{p.full}  ·  {share(p.number, parted.total)}") for p in parted.parts]
    if parted.rest:
        part = share(parted.rest, parted.total)
        rows.append(Row("Not named above", f"{_rest(parted)}  ·  {part}"))
    rows.append(Row("Together", parted.total_text, strong=True))
    lines = lay_out(rows, from_zero([0.0], [parted.total]), parted.quantity)
    start = 0.0
    ends = [part.number for part in parted.parts] + ([parted.rest] if parted.rest else [])
    for at, size in enumerate(ends):
        bar(lines, at, start, start + size, hatch=at >= len(parted.parts))
        start += size
        joint(lines, at, start)
    bar(lines, len(rows) - 1, 0.0, parted.total, dark=True)
    return lines.figure


def _rest(parted: Breakdown) -> str:
    return with_unit(plain_digits(parted.rest, 2), parted.parts[0].unit)


def describe(parted: Breakdown) -> str:
    """The picture in words."""
    told = [f"{p.label} {p.full}, {share(p.number, parted.total)}" for p in parted.parts]
    if parted.rest:
        told.append(f"not named {_rest(parted)}, {share(parted.rest, parted.total)}")
    return f"{parted.total_text} in {len(told)} parts, largest first: {'; '.join(told)}."


def note(parted: Breakdown) -> str:
    """How to read it."""
    largest = parted.parts[: 2 if len(parted.parts) > 2 else 1]
    part = share(sum(p.number for p in largest), parted.total)
    names = listed([p.label for p in largest])
    together = "together " if len(largest) > 1 else ""
    return f"Each part starts where the one above it ends. {names}: {together}{part}."


def data(parted: Breakdown) -> Data:
    """The numbers behind it."""
    base = values_data(parted.parts, parted.quantity)
    rows: list[tuple[Cell, ...]] = list(base.rows)
    if parted.rest:
        rows.append(("Not named above", parted.rest, None, None, None))
    rows.append(("Together", parted.total, None, None, None))
    numbers = [*(part.number for part in parted.parts), *filter(None, [parted.rest]), parted.total]
    shares = (100 * number / parted.total if parted.total else None for number in numbers)
    rows = [(*row, part) for row, part in zip(rows, shares, strict=True)]
    return Data((*base.headings, "share / %"), tuple(rows))
