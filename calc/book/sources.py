"""Sources: `sources.yml`, in the names of CSL-JSON, with the kind and mark of each."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from calc.book.csl import CARRIED
from calc.book.fields import Fields, Findings
from calc.book.files import read_data
from calc.book.inputs import MARKS
from calc.book.model import Place, Source

KINDS = {
    "exact": "follows from mathematics or from defined constants alone",
    "standard": "a standard or an evaluated reference value",
    "measured": "a measurement",
    "published": "a published work",
    "estimate": "somebody's estimate",
    "maker": "a maker's statement",
    "practice": "common practice, no source",
    "memory": "from memory, to be confirmed",
    "invented": "invented for the demonstration",
    "assumption": "an assumption, with its reason",
}
"""Kinds of evidence in plain words, strongest first."""

BUILT_IN = ("assumption", "practice", "memory", "invented", "exact")
"""Sources that need no entry."""


def built_in() -> dict[str, Source]:
    """The sources that need no entry: what is assumed, common, recalled, invented or exact."""
    return {
        kind: Source(kind, kind, kind, KINDS[kind].capitalize(), Place("", 0)) for kind in BUILT_IN
    }


def read_sources(path: Path, label: str, findings: Findings) -> dict[str, Source]:
    """Every source of the file, by id, with the built-in ones.

    A missing file is no problem by itself: whatever needs a source will say so.
    """
    found = built_in()
    data = read_data(path, findings) if path.exists() else None
    if data is None or data.tree is None:
        return found
    if not isinstance(data.tree, list):
        findings.say(1, "yaml", f"{label} must be a list of entries, each '- id: …'")
        return found
    for at in range(len(data.tree)):
        fields = Fields(data, (at,), findings, "a source")
        if not fields.tree:
            fields.say("source", "a source is a mapping with id, kind and title, as '- id: …'")
            continue
        source = _read_source(fields)
        if source.id in found and source.id not in BUILT_IN:
            findings.say(source.place.line, "double-id", f"source '{source.id}' stands twice")
        elif source.id:
            found[source.id] = source
    return found


def _read_source(fields: Fields) -> Source:
    fields.only([*CARRIED, "kind", "mark", "seen"])
    kind = fields.needed("kind", f"kind: one of {', '.join(KINDS)}")
    if kind and kind not in KINDS:
        fields.say("source", f"'{kind}' is no kind of source; known are {', '.join(KINDS)}", "kind")
    given = fields.text("mark")
    mark = given or _mark_of(kind)
    if given and given not in MARKS:
        fields.say("source", f"'{mark}' is no mark; known are {', '.join(MARKS)}", "mark")
    place = Place(fields.findings.file, fields.line())
    csl: Mapping[str, object] = {key: fields.tree[key] for key in CARRIED if key in fields.tree}
    id = fields.identifier()
    return Source(id, kind, mark, fields.text("title") or id, place, csl, fields.text("note"))


def _mark_of(kind: str) -> str:
    """How well a source is known that does not say so: works of others count as recalled."""
    if kind in ("published", "standard", "estimate"):
        return "memory"
    return kind if kind in ("memory", "practice", "exact") else "seen"
