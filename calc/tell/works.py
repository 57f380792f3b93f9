"""Sources as works, in the terms of schema.org."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from calc.book.model import Source
from calc.judge.evidence import evidence
from calc.whole import Whole

Data = dict[str, Any]
"""A node of linked data."""


def work(source: Source) -> Data:
    """A source as a CreativeWork."""
    csl = source.csl
    data: Data = {"@type": "CreativeWork", "name": source.title}
    if people := csl.get("author"):
        data["author"] = [_author(person) for person in people] if isinstance(people, list) else []
    if day := _issued(csl.get("issued")):
        data["datePublished"] = day
    if csl.get("DOI"):
        data["identifier"] = f"https://doi.org/{csl['DOI']}"
    if csl.get("URL"):
        data["url"] = str(csl["URL"])
    return data


def works_behind(ids: Iterable[str], whole: Whole) -> Iterator[Data]:
    """The described sources that some results rest on, each once, in order of id."""
    named = {link.source for id in ids for link in evidence(id, whole.book, whole.plan)}
    for id in sorted(named):
        source = whole.book.sources.get(id)
        if source and source.place.file:
            yield work(source)


def _author(person: Any) -> Data:
    if isinstance(person, Mapping) and person.get("family"):
        parts = {"familyName": person["family"], "givenName": person.get("given", "")}
        return {"@type": "Person", **{name: str(part) for name, part in parts.items() if part}}
    name = person.get("literal", "") if isinstance(person, Mapping) else person
    return {"@type": "Organization", "name": str(name)}


def _issued(date: Any) -> str:
    """A CSL date as an ISO one, as exactly as it is known."""
    if isinstance(date, Mapping) and date.get("date-parts"):
        year, *rest = (int(part) for part in date["date-parts"][0])
        return "-".join([f"{year:04d}", *(f"{part:02d}" for part in rest)])
    return date if isinstance(date, str) else ""
