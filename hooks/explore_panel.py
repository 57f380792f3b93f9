"""What an explore panel holds, read from its block: sliders, results, claims and the program."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import product

import numpy as np

from calc.book.model import Claim, Showing
from calc.judge.compared import Compared, compared_by
from calc.judge.shown import Sweep, claim, named, one, shown, sweep
from calc.notation.rounding import digit_place, significant_place
from calc.notation.units import Unit
from calc.whole import Whole
from hooks.atlas import Atlas
from hooks.charts.values import NotShown, Value, converted, result_of, targets_of, value_of
from hooks.charts.words import tidy
from hooks.explore_grids import Grid, based, errors, grids, interpolated, settled
from hooks.explore_program import Program, program
from hooks.wording import grouped, prose, sentence, spoken, typed

_LIKELY = 512
"""Settings at random, beside all corners, that the reach of a result is taken from."""


@dataclass(frozen=True)
class Slider:
    """An input to move: its ends and its stated value in `unit`."""

    name: str
    node: str
    label: str
    about: str
    unit: Unit
    low: float
    high: float
    step: float
    stated: float
    stated_text: str


@dataclass(frozen=True)
class Shown:
    """A result that follows: `span` is what the sliders can make of it, `error` a grid's."""

    id: str
    node: str
    about: str
    value: Value
    place: int
    span: tuple[float, float]
    error: float


@dataclass(frozen=True)
class ClaimShown:
    """A claim that follows: its words, the verdict as stated, and what it compares."""

    id: str
    title: str
    says: str
    verdict: str
    nodes: tuple[str, ...]
    compared: Compared


@dataclass(frozen=True)
class Panel:
    """All of it; `over` is the slider that the curve is drawn over at first."""

    sliders: tuple[Slider, ...]
    shown: tuple[Shown, ...]
    claims: tuple[ClaimShown, ...]
    program: Program
    grids: tuple[Grid, ...]
    over: int


def read_panel(showing: Showing, whole: Whole) -> Panel:
    """The panel of a block. Raises: NotShown, or Wrong when the block was found wrong."""
    targets, calc, atlas = targets_of(whole), one(showing, "calc"), Atlas(whole)
    leads = [
        sweep(f"{calc}.{name}", text, targets) for name, text in named(showing, "sliders").items()
    ]
    if any(not led.node for led in leads):
        raise NotShown(showing.id)
    ids = [f"{calc}.{text}" for text in named(showing, "show").values()]
    items = [shown(spoken(id.partition(".")[2]), id, targets) for id in ids]
    values = [value_of(item, whole) for item in items]
    claims = [claim(id, targets) for id in _claims(showing)]
    nodes = [whole.plan.target(item.id) for item in items]
    tested = [_tested(each, whole) for each in claims]
    wanted = [*nodes, *(node for each in tested for node in each.nodes)]
    moved = [led.node for led in leads]
    made = program(list(dict.fromkeys(wanted)), moved, whole)
    held = grids(made.looked_up, leads, whole)
    off = errors(nodes, held, leads, whole)
    reach = _reach(nodes, leads, held, whole)
    return Panel(
        tuple(_slider(led, atlas) for led in leads),
        tuple(
            _shown(item.id, node, _about(item.id, atlas), value, reach[node], off[node])
            for item, node, value in zip(items, nodes, values, strict=True)
        ),
        tuple(tested),
        made,
        held,
        _over(showing),
    )


def _shown(
    id: str, node: str, about: str, value: Value, reach: tuple[float, float], off: float
) -> Shown:
    span, error = _span(value, reach), tidy(off / value.unit.factor, 2)
    return Shown(id, node, about, value, _place(value), span, error)


def _over(showing: Showing) -> int:
    names = list(named(showing, "sliders"))
    return names.index(str(showing.fields.get("chart") or names[0]))


def _claims(showing: Showing) -> Sequence[str]:
    return list(named(showing, "claims").values()) if showing.fields.get("claims") else []


def _slider(led: Sweep, atlas: Atlas) -> Slider:
    name = led.id.partition(".")[2]
    value = converted(spoken(name), result_of(led.node, atlas.whole), led.unit)
    step = nice_step(led.low, led.high)
    return Slider(name, led.node, spoken(name), _about(led.id, atlas), led.unit, led.low, led.high,
                  step, value.number, value.full)  # fmt: skip


def _about(id: str, atlas: Atlas) -> str:
    """What a value is, where its name does not say it."""
    about = atlas.about(id)
    return "" if about.lower() == atlas.name(id).lower() else prose(about)


def nice_step(low: float, high: float) -> float:
    """A step of 1, 2 or 5 times a power of ten that divides a range into 100 to 250 parts.

    >>> nice_step(175, 210), nice_step(0, 0.3)
    (0.2, 0.002)
    """
    span = Decimal(repr(high)) - Decimal(repr(low))
    power = Decimal(1).scaleb((span / 250).adjusted())
    steps = [power * times for times in (1, 2, 5, 10, 20)]
    fitting = [step for step in steps if 100 <= span / step <= 250]
    exact = [step for step in fitting if span % step == 0]
    return float((exact or fitting or steps)[0])


def _place(value: Value) -> int:
    """The power of ten of the last digit shown of a moved value."""
    place = significant_place(value.standard) if value.standard else digit_place(value.number, 4)
    return int(place.adjusted())


def _tested(stated: Claim, whole: Whole) -> ClaimShown:
    compared = compared_by(stated, targets_of(whole))
    if compared is None:
        raise NotShown(stated.id)
    title = sentence(stated.title or spoken(stated.of.partition(".")[2]))
    nodes = tuple(whole.plan.target(id) for id in compared.targets)
    says = grouped(typed(stated.says.text))
    return ClaimShown(stated.id, title, says, stated.verdict, nodes, compared)


def _reach(
    nodes: Sequence[str], leads: Sequence[Sweep], held: Sequence[Grid], whole: Whole
) -> Mapping[str, tuple[float, float]]:
    """What the sliders can make of each node, in SI base units: corners and settings between."""
    corners = np.array(list(product((0.0, 1.0), repeat=len(leads))))
    between = np.random.default_rng(1).random((_LIKELY, len(leads)))
    shares = np.concatenate([corners, between]).T
    moved = based(leads, list(shares))
    taken = {each.id: interpolated(each, moved) for each in held}
    found = settled(nodes, {**moved, **taken}, whole)
    reach = {}
    for node in nodes:
        values = found[node][np.isfinite(found[node])]
        reach[node] = (float(values.min()), float(values.max())) if len(values) else (0.0, 0.0)
    return reach


def _span(value: Value, reach: tuple[float, float]) -> tuple[float, float]:
    """The ends of a result's strip in its unit, the stated interval inside."""
    ends = [value.unit.from_base(end) for end in reach]
    low, high = min(*ends, value.low), max(*ends, value.high)
    room = 0.02 * (high - low) or abs(high) * 0.05 or 1.0
    return tidy(low - room), tidy(high + room)
