"""Charts, tables and explore panels: their fields, checked for form only."""

from __future__ import annotations

from calc.book.fields import Fields
from calc.book.model import Place, Showing

CHART_KINDS = ("line", "bars", "breakdown", "estimates", "contributions", "distribution", "log")
_KEYS = {
    "chart": (
        "id",
        "kind",
        "title",
        "alt",
        "of",
        "over",
        "x_label",
        "y_label",
        "total",
        "at",
        "log",
        "x",
        "y",
        "note",
        "bands",
    ),
    "table": ("id", "title", "rows", "columns", "note", "sort"),
    "explore": ("id", "title", "calc", "sliders", "show", "claims", "note", "chart"),
}


def read_showing(kind: str, fields: Fields) -> Showing:
    """A chart, table or explore block."""
    fields.only(_KEYS[kind])
    name = kind
    if kind == "chart":
        name = fields.needed("kind", f"kind: one of {', '.join(CHART_KINDS)}")
        if name and name not in CHART_KINDS:
            fields.say(
                "block", f"'{name}' is no kind of chart; known are {', '.join(CHART_KINDS)}", "kind"
            )
    place = Place(fields.findings.file, fields.line())
    title = fields.needed("title", "title: a plain line above it")
    return Showing(fields.identifier(), name, title, place, dict(fields.tree))
