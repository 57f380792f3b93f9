"""Words of the trade explained in place, at their first use on a page.

The glossary is a page of definition lists; a term in the prose of another page becomes a button
that opens its definition, which needs no script.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from calc.book.model import Page
from hooks.markup import anchored, tag, text

PAGE = "glossary.md"
"""The page that holds the glossary."""

_ENTRY = re.compile(r"^(?P<term>[^\n:#`>-][^\n]*)\n:[ \t]+(?P<about>[^\n]+)", re.M)
_TAG = re.compile(r"(<[^>]+>)")
_NAME = re.compile(r"</?([a-z][a-z0-9]*)", re.I)
_CLOSED = frozenset("a button h1 h2 h3 h4 h5 h6 code pre abbr script style math svg th dt".split())
"""Elements in which no term is marked."""

_MOST = 12
"""Terms explained on one page; more would be noise."""


@dataclass(frozen=True)
class Glossary:
    """Terms in lower case with what they mean."""

    terms: Mapping[str, str]

    @classmethod
    def of(cls, page: Page | None) -> Glossary:
        """The glossary that a page holds; one without terms when there is no page."""
        found = _ENTRY.finditer(page.text, page.body) if page else ()
        return cls({each["term"].strip().lower(): _plain(each["about"]) for each in found})

    @cached_property
    def pattern(self) -> re.Pattern[str] | None:
        """Any term as a word of its own, the longest first, with an s if need be."""
        if not self.terms:
            return None
        listed = "|".join(map(re.escape, sorted(self.terms, key=lambda term: (-len(term), term))))
        return re.compile(rf"(?<![\w-])(?P<term>{listed})s?(?![\w-])", re.I)


def _plain(about: str) -> str:
    """A definition without its links and emphasis."""
    unlinked = re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\1", about)
    return re.sub(r"[*`]", "", unlinked).strip()


@dataclass
class Marker:
    """Marks first uses on one page."""

    glossary: Glossary
    met: dict[str, int] = field(default_factory=dict)

    def marked(self, html: str) -> str:
        """The page's HTML with a button at each first use."""
        if self.glossary.pattern is None:
            return html
        return "".join(self._pieces(html))

    def _pieces(self, html: str) -> Iterator[str]:
        closed = 0
        for piece in _TAG.split(html):
            if not piece.startswith("<"):
                yield piece if closed else self._with_buttons(piece)
                continue
            name = _NAME.match(piece)
            if name and name[1].lower() in _CLOSED:
                closed += -1 if piece.startswith("</") else 1
            yield piece

    def _with_buttons(self, piece: str) -> str:
        pattern = self.glossary.pattern
        assert pattern is not None
        return pattern.sub(self._button, piece)

    def _button(self, found: re.Match[str]) -> str:
        term = found["term"].lower()
        if term in self.met or len(self.met) >= _MOST or not self.glossary.terms[term]:
            return found[0]
        self.met[term] = len(self.met) + 1
        return tag("button", found[0], type="button", class_="wc-term",
                   popovertarget=f"term-{self.met[term]}")  # fmt: skip

    def cards(self) -> str:
        """The definitions that the page's buttons open."""
        shown = "".join(self._card(term, number) for term, number in self.met.items())
        return tag("section", shown, class_="wc-terms", data_search_exclude=True) if shown else ""

    def _card(self, term: str, number: int) -> str:
        about = self.glossary.terms[term]
        close = tag("button", "Close", type="button", popovertarget=f"term-{number}",
                    popovertargetaction="hide", class_="wc-close")  # fmt: skip
        title = tag("span", text(term[:1].upper() + term[1:]), class_="wc-card-title")
        head = tag("div", title + close, class_="wc-card-head")
        more = f'<a href="{anchored(PAGE)}">Glossary</a>'
        return tag(
            "div", f"{head}<p>{text(about)}</p><p>{more}</p>", popover="auto",
            id=f"term-{number}", class_="wc-card", role="dialog", aria_label=f"Meaning of {term}",
        )  # fmt: skip
