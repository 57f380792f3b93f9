"""One build: pages rendered from a whole, generated pages, and the data beside them."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any

from calc.book.model import Page
from calc.problems import Problem
from calc.report import results_text
from calc.whole import Whole, work_through
from hooks import glossary, machine_readable
from hooks.atlas import Atlas
from hooks.cards import Cards
from hooks.cautions import cautions_html, limits_html
from hooks.charts import Readings, data_files
from hooks.claims import (
    claim_html,
    correction_html,
    forecast_html,
    question_html,
)
from hooks.estimates import estimates_html
from hooks.glossary import Glossary, Marker
from hooks.kept import kept
from hooks.markup import held, resolved, spaced, tag
from hooks.methods import checks_html, method_html, uses_html
from hooks.navigation import navigation
from hooks.problems_panel import panel_html
from hooks.registers import generated_pages
from hooks.showings import showing_html
from hooks.units_note import units_html
from hooks.working import working_html

DATA_PAGE = "evidence/data.md"

_HOLE = re.compile(r'<div id="wc-hole-(\d+)"></div>')


_HEADING = re.compile(r'<h[1-6] id="([^"]+)"')


def _without_twin(block: str, headings: set[str]) -> str:
    """A block's HTML without its id where a heading of the page has the same one."""
    found = re.match(r'<\w+[^>]*? id="([^"]+)"', block)
    if found is None or found[1] not in headings:
        return block
    return block.replace(f' id="{found[1]}"', "", 1)


@dataclass
class Press:
    """Everything drawn from one whole; `live` says that a writer is looking on."""

    whole: Whole
    live: bool = False
    site_url: str = ""
    holes: dict[str, list[str]] = field(default_factory=dict)
    cards: dict[str, Cards] = field(default_factory=dict)
    faults: list[Problem] = field(default_factory=list)

    @classmethod
    def of(cls, content: Path, data: Path, live: bool = False, site_url: str = "") -> Press:
        """The press of two folders; `site_url` is where the site will stand, or ""."""
        return cls(work_through(content, data), live, site_url)

    @cached_property
    def atlas(self) -> Atlas:
        """Where everything is."""
        return Atlas(self.whole)

    @cached_property
    def readings(self) -> Readings:
        """What the charts and tables show."""
        return Readings(self.whole)

    @cached_property
    def generated(self) -> Mapping[str, str]:
        """Pages that nobody wrote: their Markdown by their path."""
        made = {DATA_PAGE: machine_readable.data_page(self.whole), **generated_pages(self.atlas)}
        return {path: text for path, text in made.items() if path not in self.atlas.pages}

    def navigation(self, paths: Iterable[str]) -> list[Any]:
        """The site's navigation over the paths of all pages."""
        return navigation(self.atlas, paths)

    def problems(self, path: str) -> list[Problem]:
        """What is wrong with one page; on the front page, what is wrong anywhere."""
        if path == "index.md":
            return list(self.whole.problems)
        return [each for each in self.whole.problems if f"/{each.file}".endswith(f"/{path}")]

    def unreadable(self, path: str) -> str:
        """What stands in place of a page that is no readable text."""
        return panel_html(self.problems(path)) or "This page cannot be read."

    def markdown(self, path: str) -> str | None:
        """A written page's Markdown with figures as buttons and holes where blocks stood."""
        page = self.atlas.pages.get(path)
        if page is None:
            return None
        self.cards[path], self.holes[path] = Cards(self.atlas, path), []
        body = "".join(self._pieces(page))
        if self.live:
            body = self._hole(path, panel_html(self.problems(path))) + body
        return body + "".join(self._appendix(page))

    def _pieces(self, page: Page) -> Iterator[str]:
        """The text from the front matter on, cut at its figures and blocks."""
        cuts = [(start, end, self._block(page, id)) for start, end, id in page.fences]
        cuts += [
            (figure.start, figure.end, self._figure(page, figure.start)) for figure in page.figures
        ]
        at = page.body
        for start, end, shown in sorted(cuts):
            if start >= at:
                yield page.text[at:start] + shown
                at = end
        yield page.text[at:]

    def _figure(self, page: Page, start: int) -> str:
        judged = self.atlas.figures.get((page.file, start))
        return self.cards[page.path].button(judged) if judged else ""

    def _block(self, page: Page, id: str) -> str:
        shown = self._drawn(page, id) if id else self._unread()
        return self._hole(page.path, shown)

    def _drawn(self, page: Page, id: str) -> str:
        """A block as HTML; what cannot be drawn is a problem at its line, and no more."""
        try:
            return self.block_html(id)
        except Exception as error:
            start = next(start for start, _, each in page.fences if each == id)
            line = page.text.count("\n", 0, start) + 1
            said = f"'{id}' cannot be shown: {str(error) or type(error).__name__}"
            self.faults.append(Problem(page.file, line, "showing", said))
            return self._unread()

    def _unread(self) -> str:
        said = "A block that stands here could not be read or shown."
        return tag("p", said, class_="wc-lost")

    def _hole(self, path: str, html: str) -> str:
        """A place to be filled once Markdown has done its work, and what fills it."""
        self.holes[path].append(html)
        return f'\n\n<div id="wc-hole-{len(self.holes[path]) - 1}"></div>\n\n'

    def _appendix(self, page: Page) -> Iterator[str]:
        ids = {id for _, _, id in page.fences}
        for id in (id for id in self.whole.book.methods if id in ids):
            method = self.whole.book.methods[id]
            yield "\n\n## Checks" + self._hole(page.path, checks_html(method, self.atlas))
            yield "\n\n## Where it is used" + self._hole(page.path, uses_html(method, self.atlas))
        if cautions := cautions_html(page.meta.get("cautions")):
            yield self._hole(page.path, cautions)
        if foot := self._foot(page):
            yield self._hole(page.path, foot)

    def _foot(self, page: Page) -> str:
        """What the page's estimates are not, and its units in words."""
        stated = (self.atlas.result(id) for id in self.cards[page.path].numbers)
        units = units_html(result for result in stated if result)
        return limits_html(units, self.atlas) if page.figures or page.fences else ""

    def block_html(self, id: str) -> str:
        """What is shown in place of a block."""
        book = self.whole.book
        makers: tuple[tuple[Mapping[str, Any], Callable[[Any, Atlas], str]], ...] = (
            (book.calcs, working_html),
            (book.methods, method_html),
            (book.claims, claim_html),
            (book.estimates, estimates_html),
            (book.forecasts, forecast_html),
            (book.questions, question_html),
            (book.corrections, correction_html),
        )
        for shelf, make in makers:
            if id in shelf:
                return make(shelf[id], self.atlas)
        showing = book.showings.get(id)
        return showing_html(showing, self.readings) if showing else self._unread()

    @cached_property
    def glossary(self) -> Glossary:
        """The words that are explained in place."""
        return Glossary.of(self.atlas.pages.get(glossary.PAGE))

    def content(self, path: str, html: str, address: Callable[[str], str]) -> str:
        """A page's finished HTML: holes filled, cards at its end, addresses put in."""
        written = path in self.cards and path != glossary.PAGE
        marker = Marker(self.glossary if written else Glossary({}))
        marked = kept(marker.marked(html))
        headings = set(_HEADING.findall(marked))
        holes = [_without_twin(hole, headings) for hole in self.holes.get(path, [])]
        filled = _HOLE.sub(lambda found: holes[int(found[1])], marked) if holes else marked
        cards = self.cards[path].html() if path in self.cards else ""
        return resolved(spaced(held(filled)) + cards + marker.cards(), address)

    def linked(self, path: str, address: str) -> str:
        """A written page as linked data."""
        page = self.atlas.pages.get(path)
        return machine_readable.linked_html(page, self.whole, address) if page else ""

    def generated_markdown(self, path: str) -> str:
        """A generated page's Markdown, its HTML kept away from Markdown."""
        self.holes[path] = []
        return re.sub(
            r"^<<<\n(.*?)\n>>>$",
            lambda found: self._hole(path, found[1]),
            self.generated[path],
            flags=re.S | re.M,
        )

    def data(self) -> dict[str, str]:
        """Files below data/, by their path, as texts."""
        published = {"results.json": results_text(self.whole)}
        try:
            tables = data_files(self.readings)
            told = machine_readable.files(self.whole, tables, self.site_url)
            return {**published, **tables, **told}
        except Exception as error:  # a fault of our own: said in one line, as where a block stands
            said = f"no data beside charts: {str(error) or type(error).__name__}"
            self.faults.append(Problem("data", 0, "showing", said))
            return published

    def new_faults(self) -> list[Problem]:
        """What could not be shown since this was last asked."""
        found, self.faults = self.faults, []
        return found
