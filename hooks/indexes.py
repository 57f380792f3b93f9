"""Lists of pages: the front page by question, and the front of each folder."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import PurePosixPath

from calc.book.model import Page
from hooks.atlas import Atlas
from hooks.leaves import page, raw
from hooks.markup import link, tag, text
from hooks.navigation import TITLES, in_order
from hooks.wording import sentence

_ABOUT = {
    "questions": "Questions about cells, each answered with figures that open their own working.",
    "cells": "The cells that the site is about, one page each.",
    "methods": "Relations that the workings use, each with its range and its checks.",
    "guide": "How to read the site, and how to write for it.",
    "evidence": "What figures rest on: sources, claims, open questions, forecasts, corrections.",
}


def index_pages(atlas: Atlas, made: Mapping[str, str]) -> Mapping[str, str]:
    """A front page for each folder that has none, and for the site."""
    folders = sorted({parent for path in (*atlas.pages, *made) for parent in _parents(path)})
    found = {
        f"{folder}/index.md": _folder(folder, atlas, made)
        for folder in folders
        if f"{folder}/index.md" not in atlas.pages and f"{folder}/index.md" not in made
    }
    return found | {"index.md": _front(atlas)}


def _parents(path: str) -> Iterable[str]:
    for parent in PurePosixPath(path).parents:
        if str(parent) != ".":
            yield str(parent)


def _folder(folder: str, atlas: Atlas, made: Mapping[str, str]) -> str:
    name = PurePosixPath(folder).name
    title = TITLES.get(name, sentence(name.replace("-", " ")))
    if folder == "methods":
        return page(title, _ABOUT["methods"], *_topics(atlas))
    if folder == "evidence":
        return page(title, _ABOUT["evidence"], raw(_evidence(atlas)))
    pages = in_order(each for each in atlas.pages.values() if _folder_of(each) == folder)
    return page(
        title, _ABOUT.get(folder, f"Methods about {name.replace('-', ' ')}."), raw(cards(pages))
    )


def _folder_of(each: Page) -> str:
    return str(PurePosixPath(each.path).parent)


def _topics(atlas: Atlas) -> list[str]:
    """Methods by topic, each with the question that it answers."""
    book, parts = atlas.whole.book, []
    homes: dict[str, list[str]] = {}
    for method in book.methods.values():
        homes.setdefault(str(PurePosixPath(atlas.homes[method.id]).parent), []).append(method.id)
    for folder in sorted(homes):
        lines = "".join(
            tag("li", f"{link(text(book.methods[id].title), atlas.homes[id])} "
                      f"<small>{text(book.methods[id].answers)}</small>")
            for id in sorted(homes[folder], key=lambda id: book.methods[id].title)
        )  # fmt: skip
        topic = sentence(PurePosixPath(folder).name.replace("-", " "))
        parts.append(f"## {topic}\n\n{raw(tag('ul', lines, class_='wc-list'))}")
    return parts


def _evidence(atlas: Atlas) -> str:
    book = atlas.whole.book
    counted = (
        ("evidence/sources/index.md", "Sources", len(book.sources)),
        ("evidence/claims.md", "Claims", len(book.claims)),
        ("evidence/open-questions.md", "Open questions", len(book.questions)),
        ("evidence/forecasts.md", "Forecasts", len(book.forecasts)),
        ("evidence/corrections.md", "Corrections", len(book.corrections)),
    )
    lines = "".join(
        tag("li", f"{link(name, path)} <small>{count}</small>") for path, name, count in counted
    )
    lines += tag("li", link("Data for programs", "evidence/data.md"))
    written = in_order(each for each in atlas.pages.values() if _folder_of(each) == "evidence")
    return tag("ul", lines, class_="wc-list") + cards(written)


def cards(pages: Iterable[Page]) -> str:
    """Pages as a list of titles, each with its one line."""
    lines = "".join(
        tag(
            "li",
            link(text(each.title), each.path) + tag("p", text(each.meta.get("description") or "")),
        )
        for each in pages
    )
    return tag("ul", lines, class_="wc-cards") if lines else ""


def questions_html(atlas: Atlas) -> str:
    """The questions of the site, for its front page."""
    return cards(in_order(each for each in atlas.pages.values() if _folder_of(each) == "questions"
                          and not each.path.endswith("index.md")))  # fmt: skip


def _front(atlas: Atlas) -> str:
    said = (
        "Questions about battery cells, answered with numbers. Every number on these pages is "
        "recomputed from its sources when the site is built; press one to see its working."
    )
    return page("Worked Cells", said, "## Questions", raw(questions_html(atlas)))
