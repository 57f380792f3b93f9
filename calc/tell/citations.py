"""All described sources of the site, given out as CSL-JSON and as BibTeX."""

from __future__ import annotations

from collections.abc import Iterable

from calc.book.csl import Work, csl_json, work_of
from calc.book.model import Source
from calc.book.to_bibtex import bibtex


def described(sources: Iterable[Source]) -> list[Work]:
    """The works of sources that have an entry, in their order; the built-in ones are no works."""
    return [work_of(source) for source in sources if source.place.file]


def as_csl(sources: Iterable[Source]) -> str:
    """The text of a CSL-JSON file."""
    return csl_json(described(sources))


def as_bibtex(sources: Iterable[Source]) -> str:
    """The text of a BibTeX file."""
    return bibtex(described(sources))
