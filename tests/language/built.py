"""Built pages as a reader's browser meets them: their links, anchors, pictures and words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

LEADING = {"a": "href", "link": "href", "img": "src", "script": "src", "source": "src",
           "iframe": "src", "object": "data", "use": "href"}  # fmt: skip
UNREAD = frozenset({"script", "style", "code", "pre", "math", "template"})
"""Elements whose text is not prose."""
VOID = frozenset(
    "area base br col embed hr img input link meta source track wbr path rect circle use".split()
)


@dataclass(frozen=True)
class Link:
    """Where an element leads, and the line it stands in."""

    line: int
    tag: str
    address: str


@dataclass
class BuiltPage(HTMLParser):
    """A page's links, ids, pictures without a text, and words with their lines."""

    path: Path
    links: list[Link] = field(default_factory=list)
    ids: set[str] = field(default_factory=set)
    nameless: list[str] = field(default_factory=list)
    words: list[tuple[int, str]] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__()
        self._open: list[str] = []
        self.feed(self.path.read_text("utf-8"))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep what the element says of itself."""
        given = {name: value or "" for name, value in attrs}
        line = self.getpos()[0]
        self.ids.update(filter(None, (given.get("id"), given.get("name") if tag == "a" else None)))
        if address := given.get(LEADING.get(tag, ""), ""):
            self.links.append(Link(line, tag, address))
        if picture_without_text(tag, given):
            self.nameless.append(f"line {line}: {self.get_starttag_text()}")
        if tag not in VOID:
            self._open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """As a start, without anything inside."""
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self._open.pop()

    def handle_endtag(self, tag: str) -> None:
        """Close the element and all that was left open inside it."""
        if tag in self._open:
            while self._open.pop() != tag:
                pass

    def handle_data(self, data: str) -> None:
        """Keep words that are prose."""
        if data.strip() and not UNREAD & set(self._open):
            self.words.append((self.getpos()[0], data))


def picture_without_text(tag: str, given: dict[str, str]) -> bool:
    """Whether somebody who cannot see the picture is told nothing.

    A picture is an img, or an element with the role; one hidden from everybody's ears is none.
    """
    if given.get("aria-hidden") == "true":
        return False
    if tag == "img":
        return "alt" not in given or not (given["alt"].strip() or given.get("role") == "none")
    named = ("aria-label", "aria-labelledby")
    return given.get("role") == "img" and not any(given.get(name, "").strip() for name in named)


def read_site(site: Path) -> dict[Path, BuiltPage]:
    """Every page of a built site by its file."""
    return {path: BuiltPage(path) for path in sorted(site.resolve().rglob("*.html"))}


def dead_links(site: Path, pages: dict[Path, BuiltPage]) -> Iterator[str]:
    """`page:line: address: why` for every link inside the site that leads nowhere."""
    for path, page in pages.items():
        for link in page.links:
            if why := trouble(site.resolve(), pages, path, link.address):
                yield f"{path.relative_to(site.resolve())}:{link.line}: {link.address}: {why}"


def trouble(site: Path, pages: dict[Path, BuiltPage], page: Path, address: str) -> str:
    """Why a link inside the site leads nowhere; empty when it leads somewhere or leaves."""
    parts = urlsplit(address)
    if parts.scheme or parts.netloc:
        return ""
    place = unquote(parts.path)
    target = page if not place else (site / place[1:] if place[0] == "/" else page.parent / place)
    target = target.resolve()
    target = target / "index.html" if target.is_dir() else target
    if not target.is_relative_to(site) or not target.is_file():
        return "no such page"
    anchor = unquote(parts.fragment)
    known = pages[target].ids if target in pages else {anchor}
    return "" if not anchor or anchor in known else "no such anchor"


def leaving(pages: dict[Path, BuiltPage]) -> Iterator[tuple[str, Link]]:
    """(page, link) of everything that leads out of the site."""
    for path, page in pages.items():
        for link in page.links:
            parts = urlsplit(link.address)
            if parts.scheme not in ("", "data", "blob") or parts.netloc:
                yield path.name, link
