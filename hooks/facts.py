"""Pages made of sheets: what is recorded of a cell, a material, a set of constants."""

from __future__ import annotations

from collections.abc import Mapping

from calc.book.model import Input, Sheet
from hooks.atlas import FACTS, Atlas
from hooks.leaves import page, raw
from hooks.markup import link, table, tag, text
from hooks.values import input_origin, input_value, named
from hooks.wording import sentence

KINDS = {
    "cell": "Cells",
    "material": "Materials",
    "craft": "Craft",
    "prices": "Prices",
    "constants": "Constants",
}
"""Kinds of sheets, in the order in which they are listed."""


def fact_pages(atlas: Atlas) -> Mapping[str, str]:
    """A page a sheet, and the list of them."""
    sheets = atlas.whole.book.sheets
    made = {f"{FACTS}/{id}.md": _sheet(sheet, atlas) for id, sheet in sheets.items()}
    return made | {f"{FACTS}/index.md": _list(atlas)}


def _sheet(sheet: Sheet, atlas: Atlas) -> str:
    lines = (_row(sheet, item, atlas) for item in sheet.inputs)
    head = ("What", "Value", "Where it comes from", "Used in")
    shown = table(head, lines, f"Facts: {sheet.title}", "wc-inputs wc-facts")
    about, heading = sentence(sheet.about or sheet.title), f"{sheet.title}: recorded facts"
    return page(sheet.title, about, raw(shown), heading=heading)


def _row(sheet: Sheet, item: Input, atlas: Atlas) -> tuple[str, str, str, str]:
    id = f"{sheet.id}.{item.name}"
    name = tag("span", named(id, atlas), id=id)
    return name, input_value(id, atlas), input_origin(id, atlas), _used(id, atlas)


def _used(id: str, atlas: Atlas) -> str:
    blocks = atlas.resting.get(id, ())
    pages = {atlas.paths.get(judged.place.file, "") for judged in atlas.stated.get(id, ())}
    pages |= {atlas.homes.get(block, "") for block in blocks}
    links = [atlas.page_link(path) for path in sorted(pages - {""}) if path in atlas.pages]
    if len(links) > 3:
        return "; ".join(links[:3]) + f" and {len(links) - 3} more"
    return "; ".join(links) or "–"


def _list(atlas: Atlas) -> str:
    groups: dict[str, list[Sheet]] = {}
    for sheet in atlas.whole.book.sheets.values():
        groups.setdefault(sheet.kind, []).append(sheet)
    kinds = [*(kind for kind in KINDS if kind in groups), *sorted(groups.keys() - KINDS.keys())]
    parts = []
    for kind in kinds:
        named_sheets = sorted(groups[kind], key=lambda sheet: sheet.title)
        lines = "".join(
            tag("li", f"{link(text(sheet.title), f'{FACTS}/{sheet.id}.md')} "
                      f"<small>{text(sheet.about)}</small>")
            for sheet in named_sheets
        )  # fmt: skip
        parts.append(
            f"## {KINDS.get(kind, sentence(kind))}\n\n" + raw(tag("ul", lines, class_="wc-list"))
        )
    said = "Values that workings take up, sheet by sheet, each with its uncertainty and its source."
    return page("Facts", said, *parts)
