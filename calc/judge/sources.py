"""Sources as a whole: named and not described, described and not named, not to be found."""

from __future__ import annotations

from collections.abc import Iterator

from calc.book.model import Book, Source
from calc.judge.evidence import named_sources
from calc.problems import Problem, nearest

_WAYS = "author DOI URL ISBN ISSN container-title collection-title publisher number".split()
_PUBLIC = ("standard", "published", "estimate")
"""Kinds of works that a reader may want to find; what is measured or made up here is no work."""


def source_problems(book: Book) -> Iterator[Problem]:
    """What is wrong with sources; only a name that stands for nothing is an error."""
    named = list(named_sources(book))
    for source, place in named:
        if source not in book.sources and source not in book.lost:
            hint = nearest(source, book.sources) or "; add it to sources.yml with its kind"
            message = f"no source is called '{source}'{hint}"
            yield Problem(place.file, place.line, "source", message)
    used = {source for source, _ in named}
    for each in book.sources.values():
        if not each.place.file:  # built in
            continue
        if each.id not in used:
            yield _warning(each, "nothing comes from it; use it, or take it out")
        recalled = each.mark == "memory"
        if each.kind in _PUBLIC and not recalled and not any(map(each.csl.get, _WAYS)):
            yield _warning(each, "a reader cannot find it; add its DOI, URL or where it appeared")


def _warning(source: Source, sentence: str) -> Problem:
    place = source.place
    message = f"the source {source.id}: {sentence}"
    return Problem(place.file, place.line, "source", message, "warning")
