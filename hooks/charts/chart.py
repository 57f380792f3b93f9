"""A chart block as HTML: its picture, how to read it, and the numbers behind it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from matplotlib.figure import Figure

from calc.book.model import Showing
from calc.whole import Whole
from hooks.blocks import block_head
from hooks.charts import bars, breakdown, contributions, distribution, estimates, line, log
from hooks.charts.data import Data, details_html
from hooks.charts.readings import Readings
from hooks.charts.svg import inline_svg
from hooks.markup import tag, text


@dataclass(frozen=True)
class Kind:
    """One kind of chart: read a block once, then draw, tell, explain and list what was read."""

    read: Callable[[Showing, Whole], Any]
    draw: Callable[[Any], Figure]
    describe: Callable[[Any], str]
    note: Callable[[Any], str]
    data: Callable[[Any], Data]


KINDS: Mapping[str, Kind] = {
    name: Kind(module.read, module.draw, module.describe, module.note, module.data)
    for name, module in (
        ("line", line),
        ("bars", bars),
        ("breakdown", breakdown),
        ("estimates", estimates),
        ("contributions", contributions),
        ("distribution", distribution),
        ("log", log),
    )
}


def chart_html(showing: Showing, readings: Readings) -> str:
    """A chart block, or in its place a line that says it has to wait."""
    head = block_head("Chart", showing.id, showing.title)
    kind = KINDS.get(showing.kind)
    found = readings.of(showing, kind.read) if kind else None
    if kind is None or found is None:
        inner = head + tag("p", "Not drawn: something it rests on could not be computed.")
        return tag("figure", inner, class_="wc-block chart", id=showing.id)
    alt = str(showing.fields.get("alt") or kind.describe(found))
    picture = inline_svg(
        f"{showing.id}-svg", showing.title, alt, repr(found), lambda: kind.draw(found)
    )
    notes = " ".join(filter(None, (str(showing.fields.get("note", "")), kind.note(found))))
    return "\n".join(
        (
            f'<figure class="wc-block chart chart--{showing.kind}" id="{text(showing.id)}">',
            f"<figcaption>{head}</figcaption>",
            picture,
            tag("p", text(notes), class_="chart__note"),
            details_html(kind.data(found), showing.title, csv_address(showing, readings.whole)),
            "</figure>",
        )
    )


def csv_address(showing: Showing, whole: Whole) -> str:
    """Where the numbers of a block lie, relative to the page that it stands on."""
    path = next((p.path for p in whole.book.pages if p.file == showing.place.file), "index.md")
    folders = path.removesuffix(".md").split("/")
    depth = len(folders) - (folders[-1] in ("index", "README"))
    return "../" * depth + f"data/{csv_path(showing)}"


def csv_path(showing: Showing) -> str:
    """The path of a block's numbers below the site's data."""
    return f"{'tables' if showing.kind == 'table' else 'charts'}/{showing.id}.csv"
