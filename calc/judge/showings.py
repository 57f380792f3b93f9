"""Charts, tables and explore panels against the book: what they name must exist and fit."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from calc.book.model import Book, Showing
from calc.book.plan import Plan
from calc.engine.evaluate import below
from calc.engine.results import Computation, Result
from calc.judge.shown import (
    UNKNOWN,
    Sweep,
    alike,
    all_shown,
    bands,
    claim,
    claim_at,
    named,
    one,
    over,
    shown,
    sweep,
)
from calc.judge.targets import Targets
from calc.notation.units import Unit, shown_as, unit
from calc.problems import Problem, Wrong, nearest

_MOST_LINES = 5
_MOST_SLIDERS = 6


def check_showings(book: Book, plan: Plan, computation: Computation) -> list[Problem]:
    """Everything that charts, tables and panels name wrongly, all at once."""
    targets = Targets(book, plan, computation)
    return [
        wrong.at(showing.place.file, showing.place.line)
        for showing in book.showings.values()
        for wrong in _wrongs(showing, targets)
        if not any(f"'{id}'" in wrong.message for id in book.lost)  # said where it stands
    ]


def _wrongs(showing: Showing, targets: Targets) -> Iterator[Wrong]:
    for check in _CHECKS.get(showing.kind, ()):
        try:
            yield from check(showing, targets)
        except Wrong as wrong:
            yield wrong


def _results(showing: Showing, targets: Targets) -> Iterator[Wrong]:
    items = []
    for label, text in named(showing, "of").items():
        try:
            items.append(shown(label, text, targets))
        except Wrong as wrong:
            yield wrong
    alike(tuple(items))


def _few(showing: Showing, targets: Targets) -> Iterator[Wrong]:
    if len(named(showing, "of")) > _MOST_LINES:
        yield Wrong("block", f"{_MOST_LINES} lines at most can be told apart; make two charts")


def _single(showing: Showing, targets: Targets) -> Iterator[Wrong]:
    if len(named(showing, "of")) != 1:
        yield Wrong("block", f"a chart of kind {showing.kind} shows one result; make one for each")


def _swept(showing: Showing, targets: Targets) -> Iterator[Wrong]:
    led, items = over(showing, targets), all_shown(showing, targets)
    if not led.node or any(item.id not in targets.plan.nodes for item in items):
        return
    if not any(led.node in below([item.id], targets.plan) for item in items):
        yield Wrong("reference", f"nothing here rests on {led.id}; all lines would be flat")


def _bands(showing: Showing, targets: Targets) -> Iterator[Wrong]:
    given = bands(showing, targets)
    found = targets.result(given.item.id) if given else None
    if given and isinstance(found, Result) and round(found.value) not in given.words:
        yield Wrong("block", f"{given.item.id} is {found.value:g}, and 'bands' has no word for it;"
                    f" add {found.value:g}: and its word")  # fmt: skip


def _total(showing: Showing, targets: Targets) -> Iterator[Wrong]:
    if total := showing.fields.get("total"):
        items = all_shown(showing, targets)
        whole = shown("total", str(total), targets)
        alike((*items, whole))
        found = [targets.result(item.id) for item in (*items, whole)]
        values = [item.unit.to_base(item.value) for item in found if isinstance(item, Result)]
        if len(values) == len(found) and sum(values[:-1]) > values[-1] * (1 + 1e-6):
            times = sum(values[:-1]) / values[-1]
            yield Wrong("block", f"the parts add up to {times:.4g} times {whole.id};"
                        " name parts that do not overlap")  # fmt: skip


def _axes(showing: Showing, targets: Targets) -> Iterator[Wrong]:
    """A label of the writer's may name the unit of its axis, and no other."""
    if not any(" / " in str(showing.fields.get(key) or "") for key in ("x_label", "y_label")):
        return
    try:
        values = alike(all_shown(showing, targets))[0].unit
        along = over(showing, targets).unit if showing.fields.get("over") else values
    except Wrong:
        return  # told already, of what the chart shows
    yield from _label("x_label", along, showing)
    yield from _label("y_label", values, showing)


def _label(key: str, scale: Unit, showing: Showing) -> Iterator[Wrong]:
    label = str(showing.fields.get(key) or "")
    if " / " not in label or scale is UNKNOWN:
        return
    named = label.rpartition(" / ")[2].partition(",")[0].strip("() ")
    try:
        same = shown_as(scale.dimension, own := unit(named)) and own.factor == scale.factor
    except Wrong:
        same = False
    if not same:
        yield Wrong("unit", f"{key} says '/ {named}', and the axis is in '{scale.text or 1}';"
                    " leave the unit out, it is added")  # fmt: skip


def _estimates(showing: Showing, targets: Targets) -> Iterator[Wrong]:
    id = one(showing, "of")
    if id not in targets.book.estimates:
        hint = nearest(id, targets.book.estimates)
        yield Wrong("reference", f"no estimates are called '{id}'{hint}")


def _at(showing: Showing, targets: Targets) -> Iterator[Wrong]:
    stated = claim_at(showing, targets)
    if stated is None:
        return
    item, plan = all_shown(showing, targets)[0], targets.plan
    known = item.id in plan.nodes and stated.of in plan.nodes
    if stated.than:
        yield Wrong("reference", f"the claim {stated.id} compares two results; name one of one")
    elif known and plan.target(item.id) != plan.target(stated.of):
        yield Wrong("reference", f"the claim {stated.id} is of {stated.of}, not of {item.id}")


def _log(showing: Showing, targets: Targets) -> Iterator[Wrong]:
    log = targets.book.logs.get(one(showing, "log"))
    if log is None or log.problems:
        return  # said where the log is read
    for name in (one(showing, "x"), *named(showing, "y").values()):
        try:
            log.column(name)
        except ValueError as error:
            yield Wrong("log", str(error))


def _table(showing: Showing, targets: Targets) -> Iterator[Wrong]:
    rows, columns = named(showing, "rows"), named(showing, "columns")
    for text in columns.values():
        if "{row}" not in text and len(rows) > 1:
            yield Wrong("block", f"'{text}' is the same in every row; name each with {{row}}, as in"
                        " '{row}.mass'")  # fmt: skip
        items = []
        for row in rows.values():
            try:
                items.append(shown("", text.replace("{row}", row), targets))
            except Wrong as wrong:
                yield wrong
        try:
            alike(tuple(items))
        except Wrong as wrong:
            yield wrong
    if (sort := str(showing.fields.get("sort", ""))) and sort.partition(",")[0] not in columns:
        hint = nearest(sort.partition(",")[0], columns)
        yield Wrong("reference", f"no column is called '{sort}'{hint}")


def _explore(showing: Showing, targets: Targets) -> Iterator[Wrong]:
    calc = one(showing, "calc")
    if calc not in targets.book.calcs:
        raise Wrong("reference", f"no calc is called '{calc}'{nearest(calc, targets.book.calcs)}")
    sliders = named(showing, "sliders")
    if len(sliders) > _MOST_SLIDERS:
        yield Wrong("block", f"{_MOST_SLIDERS} sliders at most fit a phone; leave some out")
    for name, text in sliders.items():
        try:
            yield from _inside(sweep(f"{calc}.{name}", text, targets), targets)
        except Wrong as wrong:
            yield wrong
    if (over := showing.fields.get("chart")) and over not in sliders:
        yield Wrong("reference", f"no slider is called '{over}'{nearest(str(over), sliders)}")
    for text in named(showing, "show").values():
        try:
            shown("", f"{calc}.{text}", targets)
        except Wrong as wrong:
            yield wrong


def _inside(led: Sweep, targets: Targets) -> Iterator[Wrong]:
    found = targets.result(led.node) if led.node else None
    if not isinstance(found, Result):
        return
    value = led.unit.from_base(found.unit.to_base(found.value))
    slack = 1e-9 * (led.high - led.low)
    if not led.low - slack <= value <= led.high + slack:
        yield Wrong("block", f"the stated value of {led.id}, {value:.6g} {led.unit.text}, lies"
                    " outside its slider's range; widen the range")  # fmt: skip


def _claims(showing: Showing, targets: Targets) -> Iterator[Wrong]:
    if showing.fields.get("claims"):
        for id in named(showing, "claims").values():
            try:
                claim(id, targets)
            except Wrong as wrong:
                yield wrong


_Check = Callable[[Showing, Targets], Iterator[Wrong]]
_CHECKS: Mapping[str, tuple[_Check, ...]] = {
    "line": (_results, _few, _swept, _bands, _axes),
    "bars": (_results, _axes),
    "breakdown": (_results, _total),
    "estimates": (_estimates,),
    "contributions": (_results, _single),
    "distribution": (_results, _single, _at),
    "log": (_log,),
    "table": (_table,),
    "explore": (_explore, _claims),
}
