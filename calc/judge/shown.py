"""What a chart, table or panel shows: its fields as ids, units and ranges that are known to fit.

Checking and drawing read the fields through the same functions, so what passes can be drawn.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from calc.book.model import Claim, Showing
from calc.judge.targets import Targets
from calc.notation.dimensions import Series
from calc.notation.quantity import parse_quantity
from calc.notation.units import Unit, shown_as, unit
from calc.problems import Wrong, nearest

UNKNOWN = Unit("", 1.0, 0.0, unit("1").dimension)
"""The unit of a result that could not be planned, which is said where it is declared."""


@dataclass(frozen=True)
class Shown:
    """One result to show: what it is called, its id, and the unit it is shown in."""

    label: str
    id: str
    unit: Unit


@dataclass(frozen=True)
class Sweep:
    """An input led over a range: its id as written, the node behind it, and ends in `unit`.

    The node is "" when it could not be planned, which is said where it is declared.
    """

    id: str
    node: str
    low: float
    high: float
    unit: Unit


@dataclass(frozen=True)
class Bands:
    """A result whose number says what governs, and the word for each number."""

    item: Shown
    words: Mapping[int, str]

    def word(self, number: int) -> str:
        """The word for a number; the number itself where the block gives none."""
        return self.words.get(number, str(number))


def shown(label: str, text: str, targets: Targets) -> Shown:
    """One result from `id.name` or `id.name in UNIT`.

    Raises: Wrong when nothing is called so, or the unit is of another kind.
    """
    id, _, wanted = (part.strip() for part in text.partition(" in "))
    if "." not in id:
        raise Wrong("reference", f"'{id}' is not a result; write it in full, as in id.name")
    found = targets.find(id, targets.book.pages[0])
    node = targets.plan.nodes.get(found)
    if node is None:
        return Shown(label or _plain(id), id, UNKNOWN)
    if targets.is_column(found):
        raise Wrong("log", f"'{id}' is a column of a log; show it in a chart of kind log")
    scale = shown_as(node.unit.dimension, unit(wanted)) if wanted else node.unit
    if scale is None:
        raise Wrong("dimension", f"'{id}' is in '{node.unit.text}', not '{wanted}'")
    return Shown(label or _plain(id), id, scale)


def _plain(id: str) -> str:
    return id.rpartition(".")[2].replace("_", " ")


def all_shown(showing: Showing, targets: Targets) -> tuple[Shown, ...]:
    """What `of:` names: a text, a list of texts, or labels with their texts."""
    return tuple(shown(label, text, targets) for label, text in named(showing, "of").items())


def alike(items: tuple[Shown, ...]) -> tuple[Shown, ...]:
    """The same results, all in the unit of the first. Raises: Wrong when one is of another kind."""
    known = [item for item in items if item.unit is not UNKNOWN]
    for item in known[1:]:
        if item.unit.dimension != known[0].unit.dimension:
            raise Wrong(
                "dimension",
                f"'{item.id}' is in '{item.unit.text}' and '{known[0].id}' in"
                f" '{known[0].unit.text}'; one axis cannot carry both",
            )
    return tuple(Shown(item.label, item.id, known[0].unit if known else UNKNOWN) for item in items)


def named(showing: Showing, key: str) -> Mapping[str, str]:
    """A field as labels with their texts; a text or a list of texts has "" or itself as labels.

    Raises: Wrong when the field is missing or of another form.
    """
    value = showing.fields.get(key)
    if isinstance(value, str) and value:
        return {"": value}
    if isinstance(value, list) and value and all(isinstance(item, str) for item in value):
        return {_plain(str(item).partition(" in ")[0]): str(item) for item in value}
    if isinstance(value, dict) and value and all(isinstance(v, str) for v in value.values()):
        return {str(label): str(text) for label, text in value.items()}
    raise Wrong("block", f"'{key}' of {showing.id} is missing or no list of texts; write {key}: …")


def one(showing: Showing, key: str) -> str:
    """A field that is one text. Raises: Wrong when it is missing or something else."""
    value = showing.fields.get(key)
    if isinstance(value, str) and value:
        return value
    raise Wrong("block", f"'{key}' of {showing.id} is missing; write one text after {key}:")


def sweep(id: str, text: str, targets: Targets) -> Sweep:
    """An input with the range that it is led over.

    Raises: Wrong when nothing is called so, or the range does not fit it.
    """
    low, high, own = _span(id, text)
    named = targets.find(id, targets.book.pages[0])
    if named not in targets.plan.nodes:
        return Sweep(id, "", low, high, own)
    node = targets.plan.nodes[targets.plan.target(named)]
    if isinstance(targets.plan.kinds.get(node.id), Series):
        raise Wrong("log", f"'{id}' is a column of a log; move a number instead")
    scale = shown_as(node.unit.dimension, own)
    if scale is None:
        raise Wrong("dimension", f"'{id}' is in '{node.unit.text}', not '{own.text}'")
    return Sweep(id, node.id, low, high, scale)


def _span(id: str, text: str) -> tuple[float, float, Unit]:
    """The two ends of a range and their unit; both may carry one, such as 1/h."""
    first, found, last = text.replace("\u2013", " to ").partition(" to ")
    if not found:
        raise Wrong("quantity", f"'{text}' is no range for {id}; write it like '20 um to 120 um'")
    high = parse_quantity(last)
    low = parse_quantity(first)
    scale = low.unit if low.unit.text else high.unit
    if scale.dimension != high.unit.dimension:
        raise Wrong("quantity", f"the two ends of '{text}' are not of one kind")
    end = scale.from_base(high.unit.to_base(high.value))
    if low.value >= end:
        raise Wrong("quantity", f"the range '{text}' does not rise; write the smaller end first")
    return low.value, end, scale


def over(showing: Showing, targets: Targets) -> Sweep:
    """The one input that a line chart is drawn over. Raises: Wrong."""
    entries = named(showing, "over")
    if len(entries) != 1 or "" in entries:
        raise Wrong("block", "'over' names one input with its range: over: {id.input: 1 to 2 mm}")
    return sweep(*next(iter(entries.items())), targets)


def bands(showing: Showing, targets: Targets) -> Bands | None:
    """The result that `bands:` names, with its words, or None when the block has none.

    Raises: Wrong when it is no plain number, or its words have another form.
    """
    given = showing.fields.get("bands")
    if given is None:
        return None
    entries = list(given.items()) if isinstance(given, dict) else []
    if len(entries) != 1 or not isinstance(entries[0][1], dict) or not entries[0][1]:
        raise Wrong("block", "'bands' names one result and a word for each of its numbers:"
                    " bands: {id.name: {1: plating, 2: voltage}}")  # fmt: skip
    id, words = entries[0]
    item = shown("", str(id), targets)
    if item.unit.dimension != UNKNOWN.dimension:
        raise Wrong("dimension", f"'{id}' is in '{item.unit.text}'; bands need a plain number")
    return Bands(item, {_whole(number, str(id)): str(word) for number, word in words.items()})


def _whole(number: object, id: str) -> int:
    try:
        return int(str(number))
    except ValueError:
        raise Wrong("block", f"'{number}' is no whole number; write a number of {id}"
                    " and its word, as in 1: plating") from None  # fmt: skip


def claim_at(showing: Showing, targets: Targets) -> Claim | None:
    """The claim that `at:` names. Raises: Wrong when there is none of that id."""
    id = showing.fields.get("at")
    return claim(str(id), targets) if id else None


def claim(id: str, targets: Targets) -> Claim:
    """A claim by its id. Raises: Wrong when there is none."""
    found = targets.book.claims.get(id)
    if found is None:
        hint = nearest(id, targets.book.claims)
        raise Wrong("reference", f"no claim is called '{id}'{hint}")
    return found
