"""The site for machines: linked data in its pages, citations, the feed, and what CSV files hold."""

from __future__ import annotations

import csv
import json
from collections.abc import Mapping
from io import StringIO
from typing import Any

from calc.book.model import Page
from calc.tell.citations import as_bibtex, as_csl
from calc.tell.csvw import csvw
from calc.tell.feed import feed
from calc.tell.linked import dataset, page_data
from calc.whole import Whole
from hooks.leaves import page, raw
from hooks.markup import anchored, tag, text

NAME = "Worked Cells"
FEED = "corrections.xml"
UNSET = "https://worked-cells.example/"
"""Stands for the site's address where none is set; a feed cannot do without one."""

FILES = {
    "data/results.json": ("application/json", "Every result, figure, check, claim and estimate"),
    "data/sources.json": ("application/vnd.citationstyles.csl+json", "All sources, as CSL-JSON"),
    "data/sources.bib": ("application/x-bibtex", "All sources, as BibTeX"),
    f"data/{FEED}": ("application/atom+xml", "Corrections, as an Atom feed"),
}
"""What can be downloaded, with its media type and what it is."""


def linked_html(written: Page, whole: Whole, address: str) -> str:
    """What a page states, as linked data within the page; `address` is the page's own or ""."""
    return _script(page_data(written, whole, address))


def _script(data: Mapping[str, Any]) -> str:
    body = json.dumps(data, ensure_ascii=False, separators=(",", ":"), sort_keys=True)
    closed = body.replace("<", "\\u003c")  # or it could end the script, wherever it stands
    return f'<script type="application/ld+json">{closed}</script>'


def data_page(whole: Whole) -> str:
    """The page that lists what can be downloaded, with all results as one dataset."""
    about = "Everything that the site computes and cites, in open formats, for programs to read."
    lines = "".join(
        tag("li", f'<a href="{anchored(path)}" download>{text(said)}</a> '
                  f"<small>{text(path.rpartition('/')[2])}</small>")
        for path, (_, said) in FILES.items()
    )  # fmt: skip
    kinds = {path: kind for path, (kind, _) in FILES.items()}
    linked = _script(dataset(whole, NAME, about, "../../", kinds))
    said = (
        "Below each chart and table of the site its numbers can be downloaded as CSV; a file "
        "beside it says what its columns hold, in the terms of CSV on the Web."
    )
    return page("Data", about, raw(tag("ul", lines, class_="wc-list") + linked), said)


def files(whole: Whole, tables: Mapping[str, str], site: str) -> dict[str, str]:
    """Files below data/: citations, the feed, and what each of some CSV files holds."""
    sources = whole.book.sources.values()
    site = site or UNSET
    pages = {each.file: each.path for each in whole.book.pages}

    def address(file: str) -> str:
        return site + pages.get(file, "").removesuffix(".md").removesuffix("index") + "/"

    corrections = whole.book.corrections.values()
    found = {
        "sources.json": as_csl(sources),
        "sources.bib": as_bibtex(sources),
        FEED: feed(corrections, NAME, f"{site}data/{FEED}", address),
    }
    titles = {each.id: each.title for each in whole.book.showings.values()}
    for path, body in tables.items():
        if path.endswith(".csv"):
            found[f"{path}-metadata.json"] = _metadata(path, body, titles)
    return found


def _metadata(path: str, body: str, titles: Mapping[str, str]) -> str:
    head, *lines = csv.reader(StringIO(body))
    texts = {at for at in range(len(head)) if not all(_is_number(line[at]) for line in lines)}
    name = path.rpartition("/")[2]
    told = csvw(name, titles.get(name.removesuffix(".csv"), name), head, texts)
    return json.dumps(told, ensure_ascii=False, indent=1, sort_keys=True) + "\n"


def _is_number(written: str) -> bool:
    try:
        float(written or "0")
    except ValueError:
        return False
    return True
