"""The register of sources, and a page for each: what it is and what was taken from it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping

from calc.book.model import Input, Source
from calc.book.sources import KINDS
from hooks.atlas import SOURCES, Atlas
from hooks.claims import claim_link, pairs_html, verdict_html, verdict_of
from hooks.leaves import page, raw
from hooks.markup import link, table, tag, text
from hooks.sources import MARKS, NAMES, badge, citation, mark_text, short
from hooks.values import input_value
from hooks.wording import NO_BREAK, prose, sentence

_SELF_EVIDENT = ("invented", "assumption", "practice", "memory", "exact")
"""Kinds that say by themselves how well a source is known."""


def source_pages(atlas: Atlas) -> Mapping[str, str]:
    """A page a source, and the register of them."""
    taken = _taken(atlas)
    made = {
        f"{SOURCES}/{source.id}.md": _source(source, taken[source.id], atlas)
        for source in atlas.whole.book.sources.values()
    }
    return made | {f"{SOURCES}/index.md": _register(taken, atlas)}


def _taken(atlas: Atlas) -> Mapping[str, list[str]]:
    """The ids of the inputs that name each source."""
    found: dict[str, list[str]] = defaultdict(list)
    for id, item in atlas.declared.items():
        if isinstance(item, Input) and item.source:
            found[item.source].append(id)
    return found


def _source(source: Source, taken: list[str], atlas: Atlas) -> str:
    lines = [
        ("Citation", citation(source)),
        ("Kind", f"{badge(source.kind)} {text(KINDS.get(source.kind, ''))}"),
    ]
    if source.kind not in _SELF_EVIDENT:
        known = MARKS.get(source.mark) or "read for this site"
        lines.append(("How well it is known", text(known)))
    if source.note:
        lines.append(("Note", text(prose(source.note))))
    claims = _claims(source.id, atlas)
    checks = _checks(source.id, atlas)
    parts = [raw(pairs_html(lines))]
    if taken:
        parts.append("## Values taken from it\n\n" + raw(_values(taken, atlas)))
    if claims:
        parts.append("## What it claims\n\n" + raw(claims))
    if checks:
        parts.append("## Methods checked against it\n\n" + raw(checks))
    title = _plain(short(source)) if source.place.file else sentence(NAMES[source.kind])
    return page(title, _plain(source.title), *parts)


def _plain(title: str) -> str:
    """A title that Markdown leaves alone."""
    return title.replace('"', "'").replace("<", "‹").replace("*", "×").replace("_", " ")


def _values(taken: list[str], atlas: Atlas) -> str:
    lines = (
        (
            atlas.link_to(id, text(sentence(atlas.about(id)))),
            input_value(id, atlas),
            text(atlas.block_title(atlas.block(id))),
        )
        for id in taken
    )
    return table(("What", "Value", "Of"), lines, "Values taken from this source", "wc-register")


def _claims(id: str, atlas: Atlas) -> str:
    lines = "".join(
        tag(
            "li",
            claim_link(claim, atlas) + f" {verdict_html(verdict_of(claim, atlas))}",
        )
        for claim in atlas.whole.book.claims.values()
        if claim.source == id
    )
    return tag("ul", lines, class_="wc-list") if lines else ""


def _checks(id: str, atlas: Atlas) -> str:
    lines = []
    for method, rows in atlas.checks.items():
        mine = [row for row in rows if row.source == id]
        if mine and method in atlas.homes:
            agreeing = sum(row.agrees for row in mine)
            home = link(text(atlas.block_title(method)), atlas.homes[method], "checks")
            lines.append(tag("li", f"{home} <small>{agreeing} of {len(mine)} agree</small>"))
    return tag("ul", "".join(lines), class_="wc-list") if lines else ""


def _register(taken: Mapping[str, list[str]], atlas: Atlas) -> str:
    parts = []
    sources = atlas.whole.book.sources.values()
    for kind, about in KINDS.items():
        mine = sorted((each for each in sources if each.kind == kind), key=lambda each: short(each))
        if mine:
            lines = "".join(tag("li", line) for line in _lines(mine, taken, atlas))
            head = f"## {sentence(NAMES[kind])}\n\n{sentence(about)}.\n\n"
            parts.append(head + raw(tag("ul", lines, class_="wc-list")))
    said = "Where every value of the site comes from, the strongest kinds of evidence first."
    return page("Sources", said, *parts)


def _lines(sources: list[Source], taken: Mapping[str, list[str]], atlas: Atlas) -> Iterator[str]:
    for source in sources:
        count = len(taken.get(source.id, ()))
        used = f"{count}{NO_BREAK}value{'' if count == 1 else 's'}" if count else ""
        name = link(text(short(source)), atlas.homes[source.id])
        cited = "" if short(source) == source.title else f"<br><small>{citation(source)}</small>"
        mark = mark_text(source.mark) if source.mark != source.kind else ""
        yield f"{name} {mark} <small>{used}</small>{cited}"
