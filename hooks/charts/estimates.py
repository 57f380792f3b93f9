"""Estimates of one quantity: intervals, bounds as arrows, and what they say together."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from matplotlib.figure import Figure

from calc.book.model import Estimate, Estimates, Showing
from calc.engine.agreement import can_they_all_be_right
from calc.engine.results import Result
from calc.judge.evidence import kind_of
from calc.judge.shown import one
from calc.notation.statement import AT_LEAST
from calc.notation.units import Unit
from calc.whole import Whole
from hooks.charts.bars import values_data
from hooks.charts.data import Data
from hooks.charts.rows import Lines, Row, around, lay_out, track, whisker
from hooks.charts.style import INK, PAPER, QUIET, SERIES
from hooks.charts.values import NotShown, Value, converted, result_of, targets_of
from hooks.charts.words import heading, tidy
from hooks.wording import typed

_SHAPES: Mapping[str, str] = {
    "measured": "o", "maker": "D", "estimate": "^", "computed": "s", "published": "p",
    "invented": "o",
}  # fmt: skip
_ARROW = 0.12
"""How long the arrow of a bound is, as a share of all that is shown."""

_WORDS: Mapping[str, str] = {"maker": "its maker", "memory": "from memory", "practice": "practice"}


@dataclass(frozen=True)
class Standing:
    """One estimate in its row: what it is called, its kind of evidence, and its value."""

    label: str
    kind: str
    value: Value


@dataclass(frozen=True)
class Bound:
    """A one-sided statement: from its limit, which way it points, and its words."""

    label: str
    limit: float
    rising: bool
    text: str


@dataclass(frozen=True)
class Together:
    """Estimates side by side, with their combined value and the answer in words."""

    quantity: str
    standing: tuple[Standing, ...]
    bounds: tuple[Bound, ...]
    combined: Value | None
    answer: str


def read(showing: Showing, whole: Whole) -> Together:
    """The estimates of a block. Raises: NotShown."""
    block = whole.book.estimates[one(showing, "of")]
    pooled = targets_of(whole).result(f"{block.id}.combined")
    combined = converted("Combined", pooled, pooled.unit) if isinstance(pooled, Result) else None
    standing = [_standing(each, block, whole, combined) for each in block.values if not each.bound]
    if not standing:
        raise NotShown(block.id)
    scale = standing[0].value.unit
    bounds = [_bound(each, scale) for each in block.values if each.bound]
    found = whole.computation.reconciliations.get(block.id)
    titles = {each.input.name: _label(each) for each in block.values}
    answer = can_they_all_be_right(found, titles) if found else ""
    quantity = heading(_quantity(block), scale)
    return Together(quantity, tuple(standing), tuple(bounds), combined, answer)


def _quantity(block: Estimates) -> str:
    names = [each.input.reference.rpartition(".")[2] for each in block.values]
    shared = {name for name in names if name}
    return shared.pop().replace("_", " ") if len(shared) == 1 else block.title


def _label(each: Estimate) -> str:
    return each.input.name.replace("_", " ")


def _standing(each: Estimate, block: Estimates, whole: Whole, combined: Value | None) -> Standing:
    found = result_of(f"{block.id}.{each.input.name}", whole)
    scale = combined.unit if combined else found.unit
    kind = "computed" if each.input.reference else kind_of(each.input, whole.book)
    return Standing(_label(each), kind, converted(_label(each), found, scale))


def _bound(each: Estimate, scale: Unit) -> Bound:
    assert each.bound is not None
    said = each.bound
    limit = tidy(scale.from_base(said.unit.to_base(said.numbers[0])), 10)
    return Bound(_label(each), limit, said.form == AT_LEAST, typed(said.text))


def draw(them: Together) -> Figure:
    """The picture."""
    values = [each.value for each in them.standing] + ([them.combined] if them.combined else [])
    lows, highs = [value.low for value in values], [value.high for value in values]
    limits = [bound.limit for bound in them.bounds]
    length = _ARROW * (max(*highs, *limits) - min(*lows, *limits)) if limits else 0.0
    tips = [each.limit + (length if each.rising else -length) for each in them.bounds]
    span = around(lows + limits + tips, highs + limits + tips)
    rows = [Row(_titled(each), each.value.full) for each in them.standing]
    rows += [Row(bound.label, bound.text) for bound in them.bounds]
    if them.combined:
        rows.append(Row("Combined", them.combined.full, strong=True))
    lines = lay_out(rows, span, them.quantity)
    if them.combined:
        _band(lines, them.combined)
    for at, each in enumerate(them.standing):
        _mark(lines, at, each.value, _SHAPES.get(each.kind, "v"), SERIES[0])
    for at, bound in enumerate(them.bounds, start=len(them.standing)):
        _arrow(lines, at, bound, length)
    if them.combined:
        _mark(lines, len(rows) - 1, them.combined, "D", SERIES[1])
    return lines.figure


def _titled(each: Standing) -> str:
    if each.kind in ("", "invented"):
        return each.label
    return f"{each.label} ({_WORDS.get(each.kind, each.kind)})"


def _band(lines: Lines, combined: Value) -> None:
    """The combined interval behind all rows, so that each can be held against it."""
    lines.axes.axvspan(combined.low, combined.high, color=SERIES[1], alpha=0.14, linewidth=0)
    lines.axes.axvline(combined.number, color=SERIES[1], linewidth=1.0, linestyle=(0, (4, 3)))


def _mark(lines: Lines, at: int, value: Value, shape: str, colour: str) -> None:
    track(lines, at)
    whisker(lines, at, value.low, value.high)
    lines.axes.plot([value.number], [lines.middle[at]], shape, color=colour, markersize=9,
                    markeredgecolor=PAPER, markeredgewidth=1.2, zorder=5)  # fmt: skip


def _arrow(lines: Lines, at: int, bound: Bound, length: float) -> None:
    y, tip = lines.middle[at], bound.limit + (length if bound.rising else -length)
    track(lines, at)
    lines.axes.annotate(
        "", xy=(tip, y), xytext=(bound.limit, y), annotation_clip=False,
        arrowprops=dict(arrowstyle="-|>", color=INK, linewidth=1.6, shrinkA=0, shrinkB=0),
    )  # fmt: skip
    lines.axes.plot([bound.limit] * 2, [y - 6, y + 6], color=INK, linewidth=2.0)
    lines.axes.plot([bound.limit] * 2, [0, y], color=QUIET, linewidth=0.8, linestyle=(0, (2, 3)))


def describe(them: Together) -> str:
    """The picture in words."""
    told = [f"{each.label} {each.value.full}" for each in them.standing]
    told += [f"{bound.label} {bound.text}" for bound in them.bounds]
    end = f" Combined: {them.combined.full}." if them.combined else ""
    return f"Estimates with their 95 % intervals: {'; '.join(told)}.{end} {them.answer}".strip()


def note(them: Together) -> str:
    """How to read it."""
    band = " Shaded: the combined value, not part of any estimate." if them.combined else ""
    arrow = " An arrow is a bound, and takes no part in it." if them.bounds else ""
    return f"Lines: 95 % intervals.{band}{arrow}"


def data(them: Together) -> Data:
    """The numbers behind it."""
    values = [each.value for each in them.standing] + ([them.combined] if them.combined else [])
    base = values_data(tuple(values), them.quantity)
    bounds = ((f"{b.label} ({b.text})", b.limit, None, None, None) for b in them.bounds)
    return Data(base.headings, (*base.rows, *bounds))
