"""What a line chart shows: results over a range of one input, read from its block."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from calc.book.model import Showing
from calc.judge.shown import Bands, Shown, alike, all_shown, bands, over
from calc.notation.units import Unit
from calc.whole import Whole
from hooks.charts.bands import Band, bands_of
from hooks.charts.quantities import common_quantity
from hooks.charts.sweeps import Array, Swept, swept
from hooks.charts.values import NotShown, targets_of
from hooks.charts.words import labelled, tidy


@dataclass(frozen=True)
class Line:
    """One result over the range: None where there is none."""

    label: str
    y: tuple[float | None, ...]
    low: tuple[float | None, ...]
    high: tuple[float | None, ...]
    stated: float | None


@dataclass(frozen=True)
class Lines:
    """Lines over a common x; `stated_x` is where the input stands on the site, if in range.

    `bands` say what governs from where to where, under the name of the result that says it.
    """

    x: tuple[float, ...]
    lines: tuple[Line, ...]
    x_label: str
    y_label: str
    x_unit: Unit
    y_unit: Unit
    stated_x: float | None
    outside: tuple[str, ...]
    bands_name: str = ""
    bands: tuple[Band, ...] = ()


def read(showing: Showing, whole: Whole) -> Lines:
    """The lines of a block. Raises: NotShown."""
    targets = targets_of(whole)
    items, led = alike(all_shown(showing, targets)), over(showing, targets)
    plan, results = whole.plan, whole.computation.results
    if not led.node or any(item.id not in plan.nodes for item in items):
        raise NotShown(showing.id)
    ids = {item.id: plan.target(item.id) for item in items}
    if any(id not in results for id in (*ids.values(), led.node)):
        raise NotShown(showing.id)
    given = _bands(showing, whole)
    behind = [plan.target(given.item.id)] if given else []
    found = swept(list(dict.fromkeys([*ids.values(), *behind])), led, whole)
    here = led.unit.from_base(results[led.node].unit.to_base(results[led.node].value))
    stated_x = tidy(here) if led.low <= here <= led.high else None
    lines = [_line(item, ids[item.id], found, whole, stated_x) for item in items]
    return Lines(
        _numbers(found.places, led.unit),
        tuple(lines),
        labelled(str(showing.fields.get("x_label") or _name(led.id)), led.unit),
        labelled(str(showing.fields.get("y_label") or common_quantity(items)), items[0].unit),
        led.unit,
        items[0].unit,
        stated_x,
        found.outside,
        given.item.label if given else "",
        bands_of(given, led, found, whole) if given else (),
    )


def _bands(showing: Showing, whole: Whole) -> Bands | None:
    given = bands(showing, targets_of(whole))
    if given and given.item.id not in whole.plan.nodes:
        raise NotShown(showing.id)
    return given


def _name(id: str) -> str:
    return id.rpartition(".")[2].replace("_", " ")


def _numbers(base: Array, scale: Unit) -> tuple[float, ...]:
    return tuple(tidy(scale.from_base(float(number))) for number in base)


def _line(item: Shown, id: str, found: Swept, whole: Whole, stated_x: float | None) -> Line:
    def there(base: Array) -> tuple[float | None, ...]:
        return tuple(
            tidy(item.unit.from_base(float(number))) if np.isfinite(number) else None
            for number in base
        )

    result = whole.computation.results[id]
    stated = tidy(item.unit.from_base(result.unit.to_base(result.value)))
    y, low, high = there(found.nominal[id]), there(found.low[id]), there(found.high[id])
    return Line(item.label, y, low, high, stated if stated_x is not None else None)
