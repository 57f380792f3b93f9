"""Inputs of a calc, a sheet or an estimate: each a value with its source, or a reference."""

from __future__ import annotations

from dataclasses import replace

from calc.book.fields import Fields
from calc.book.model import ASSUMPTION, Correlation, Input, Parameter, Place
from calc.notation.quantity import Quantity, parse_quantity
from calc.notation.units import unit
from calc.problems import Wrong

INPUT_KEYS = (
    "value",
    "from",
    "log",
    "column",
    "source",
    "mark",
    "because",
    "about",
    "symbol",
    "review_by",
)
MARKS = ("seen", "copy", "memory", "exact", "practice")
"""Whether the text of a source was at hand: read, read in a copy, recalled; or none is needed."""


def read_inputs(fields: Fields, key: str = "inputs") -> tuple[Input, ...]:
    """Every input of a mapping; what cannot be read is noted and left out."""
    found = (read_input(fields, key, name) for name in fields.names(key))
    return tuple(item for item in found if item is not None)


def read_input(fields: Fields, key: str, name: str) -> Input | None:
    """One input, or None when it cannot be read."""
    here = fields.sub(key, name, what=f"input '{name}'")
    written = fields.tree[key][name]
    if not isinstance(written, dict):
        value = written if isinstance(written, str) and written else "…"
        message = f"input '{name}' needs a source; write {name}: {{value: {value}, source: …}}"
        fields.say("source", message, key, name)
        return None
    here.only(INPUT_KEYS)
    given = [word for word in ("value", "from", "log") if str(here.tree.get(word) or "").strip()]
    if len(given) != 1:
        if not any(map(here.misspelt, ("value", "from", "log"))):
            found = " and ".join(given) or "none of them"
            here.say("block", f"input '{name}' needs one of value, from or log; it has {found}")
        return None
    return _read(here, name, given[0])


def _read(here: Fields, name: str, way: str) -> Input | None:
    place = Place(here.findings.file, here.line())
    bare = Input(
        name,
        place,
        mark=here.text("mark"),
        because=here.text("because"),
        about=here.text("about"),
        symbol=here.text("symbol"),
        review_by=here.date("review_by", needed=False),
    )
    _check_mark(here)
    if way == "from":
        return replace(bare, reference=here.text("from"))
    if not _has_source(here, name):
        return None
    source = here.text("source")
    if way == "log":
        log, column = here.text("log"), here.needed("column", "column: voltage")
        return replace(bare, log=log, column=column, source=source)
    if not (value := here.text("value")):
        return None
    try:
        quantity = parse_quantity(value)
        _check_money(quantity)
    except Wrong as error:
        here.findings.wrong(error, here.line("value"))
        return None
    return replace(bare, quantity=quantity, source=source)


def _has_source(here: Fields, name: str) -> bool:
    source = here.text("source")
    if not source and isinstance(here.tree.get("source", ""), str) and not here.misspelt("source"):
        here.say("source", f"input '{name}' has no source; add source: with an id of sources.yml")
    if source == ASSUMPTION and not here.text("because") and not here.misspelt("because"):
        here.say("source", f"input '{name}' is an assumption; add because: with the reason")
    return bool(source)


def _check_mark(here: Fields) -> None:
    mark = here.text("mark")
    if mark and mark not in MARKS:
        here.say("block", f"'{mark}' is no mark; known are {', '.join(MARKS)}", "mark")


def _check_money(quantity: Quantity) -> None:
    if any(len(name) == 3 for name in quantity.unit.dimension.money):
        raise Wrong("unit", f"money carries its price year; write '{quantity.text} (2024 prices)'")


def read_parameters(fields: Fields) -> tuple[Parameter, ...]:
    """The inputs of a method: names with units."""
    found: list[Parameter] = []
    for name in fields.names("inputs"):
        here = fields.sub("inputs", name, what=f"input '{name}'")
        here.only(("unit", "about", "symbol", "typical"))
        written = here.needed("unit", 'unit: kg, or unit: "1" for a plain number')
        try:
            scale = unit(written.removeprefix("series "))
        except Wrong as error:
            here.findings.wrong(error, here.line("unit"))
            continue
        place = Place(here.findings.file, here.line())
        notes = {word: here.text(word) for word in ("about", "symbol", "typical")}
        found.append(Parameter(name, scale, place, **notes, series=written.startswith("series ")))
    return tuple(found)


def read_correlations(fields: Fields) -> tuple[Correlation, ...]:
    """The pairs of inputs that share an error."""
    found: list[Correlation] = []
    for at in fields.items("correlated"):
        here = fields.sub("correlated", at, what="a correlation")
        here.only(("between", "r"))
        pair = here.texts("between")
        try:
            r = float(here.text("r"))
        except ValueError:
            r = 2.0
        if len(pair) != 2 or not -1 <= r <= 1:
            here.say(
                "correlation", "a correlation is written {between: [a, b], r: 0.9}, r from -1 to 1"
            )
            continue
        found.append(Correlation(pair[0], pair[1], r, Place(here.findings.file, here.line())))
    return tuple(found)
