"""Works written as BibTeX."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from calc.book.bibtex_terms import FIELDS, KINDS
from calc.book.csl import Work
from calc.notation.bibtex import Entry, write_bibtex
from calc.notation.latex_letters import to_latex


def bibtex(works: Iterable[Work]) -> str:
    """The works as BibTeX, in the order given; the site's kind and mark are fields of their own.

    >>> print(bibtex([{"id": "a", "type": "book", "title": "Å", "custom": {"kind": "maker"}}]))
    @book{a,
      title = {{Å}},
      kind = {maker},
    }
    """
    return write_bibtex(_entry(work) for work in works)


def _entry(work: Work) -> Entry:
    kind = KINDS.get(work["type"], "misc")
    fields: dict[str, str] = {}
    for name in ("author", "editor"):
        if work.get(name):
            fields[name] = " and ".join(_name_text(each) for each in work[name])
    for name, (first, *_) in FIELDS.items():
        if work.get(name):
            fields[_named(first, kind)] = _field_text(name, str(work[name]))
    fields |= _date_fields(work)
    fields |= {name: to_latex(str(text)) for name, text in work.get("custom", {}).items() if text}
    return Entry(kind, work["id"], fields)


def _named(field: str, kind: str) -> str:
    inside = field == "journal" and kind in ("incollection", "inproceedings")
    return "booktitle" if inside else field


def _field_text(name: str, text: str) -> str:
    if name in ("DOI", "URL"):
        return text
    # a second pair of braces keeps a style from changing capitals
    return f"{{{to_latex(text)}}}" if name == "title" else to_latex(text)


def _date_fields(work: Work) -> dict[str, str]:
    fields = {}
    issued, accessed = _iso(work.get("issued")), _iso(work.get("accessed"))
    if issued:
        fields["date" if len(issued) > 4 else "year"] = issued
    if accessed:
        fields["urldate"] = accessed
    return fields


def _iso(date: Any) -> str:
    if not isinstance(date, Mapping):
        return ""
    parts = date.get("date-parts")
    if not parts:
        return str(date.get("literal") or date.get("raw") or "")
    year, *rest = (int(part) for part in parts[0])
    return "-".join([f"{year:04d}", *(f"{part:02d}" for part in rest)])


def _name_text(name: Mapping[str, str]) -> str:
    if "literal" in name:
        return f"{{{to_latex(name['literal'])}}}"
    particle = name.get("non-dropping-particle") or name.get("dropping-particle") or ""
    family = to_latex(f"{particle} {name['family']}".strip())
    parts = [family, name.get("suffix", ""), name.get("given", "")]
    return ", ".join(to_latex(part) if at else part for at, part in enumerate(parts) if part)
