"""A source in print: its citation, its kind and how well it is known."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from calc.book.model import Input, Source
from calc.book.sources import KINDS
from hooks.atlas import Atlas
from hooks.markup import link, tag, text
from hooks.wording import sentence

MARKS = {
    "copy": "seen in a copy only",
    "memory": "from memory, to be confirmed",
    "practice": "common practice, no source",
    "exact": "exact",
    "seen": "",
}
"""How well a source is known, as a reader sees it."""

NAMES = {
    "exact": "exact",
    "standard": "standard",
    "measured": "measured",
    "published": "published",
    "estimate": "estimate",
    "maker": "maker's word",
    "practice": "common practice",
    "memory": "from memory",
    "invented": "invented",
    "assumption": "assumption",
}
"""Short names of kinds of evidence."""


_LONG = 36
"""Characters of a title that is shown whole in a table."""


def badge(kind: str) -> str:
    """A kind of evidence as a small label, told by word and by shape."""
    about = KINDS.get(kind, "")
    return tag("span", text(NAMES.get(kind, kind)), class_=f"wc-kind wc-kind--{kind}", title=about)


def citation(source: Source) -> str:
    """A source as one line of HTML: authors, title, where, when."""
    csl = source.csl
    pieces = [_names(csl.get("author")), f"<cite>{text(source.title)}</cite>"]
    held = str(csl.get("container-title") or csl.get("publisher") or "")
    if held and held not in source.title:
        pieces.append(text(" ".join(filter(None, (held, _volume(csl))))))
    if year := _year(csl.get("issued")):
        pieces.append(text(year))
    pieces += [f"{text(name)} {text(csl[name])}" for name in ("DOI", "ISBN") if csl.get(name)]
    return ", ".join(piece for piece in pieces if piece)


def _volume(csl: Mapping[str, object]) -> str:
    volume, page = str(csl.get("volume") or ""), str(csl.get("page") or "")
    if volume and csl.get("issue"):
        volume += f"({csl['issue']})"
    return ", ".join(filter(None, (volume, page)))


def _names(people: object) -> str:
    if not isinstance(people, Sequence) or isinstance(people, str):
        return text(people or "")
    names = [_name(person) for person in people if isinstance(person, Mapping)]
    return text(f"{names[0]} and others" if len(names) > 4 else ", ".join(names))


def _name(person: Mapping[str, Any]) -> str:
    if "literal" in person:
        return str(person["literal"])
    return " ".join(str(person[part]) for part in ("given", "family") if person.get(part))


def _year(issued: object) -> str:
    if isinstance(issued, Mapping):
        parts = issued.get("date-parts")
        if isinstance(parts, Sequence) and parts:
            return str(parts[0][0] if isinstance(parts[0], Sequence) else parts[0])
        return str(issued.get("literal") or "")
    return str(issued or "")


def short(source: Source) -> str:
    """A source in a few words: family names and year where there are both, else its title."""
    names = _families(source.csl.get("author"))
    year = _year(source.csl.get("issued"))
    if not names or not year:
        return _first_words(source.title)
    if len(names) > 2:
        return f"{names[0]} and others {year}"
    return f"{' and '.join(names)} {year}"


def _first_words(title: str) -> str:
    """A long title up to its first colon, semicolon or comma."""
    if len(title) <= _LONG:
        return title
    start = re.split(r"[:;,] ", title, maxsplit=1)[0]
    return start if len(start) >= _LONG // 3 else title


def _families(people: object) -> list[str]:
    if not isinstance(people, Sequence) or isinstance(people, str):
        return []
    return [
        str(each["family"]) for each in people if isinstance(each, Mapping) and "family" in each
    ]


def source_link(id: str, atlas: Atlas) -> str:
    """A link to the page of a source, in a few words; its bare id where it is not known."""
    source = atlas.whole.book.sources.get(id)
    if source is None:
        return text(id)
    if not source.place.file:  # built in, without an entry of its own
        return text(sentence(NAMES.get(source.kind, source.title)))
    return link(text(short(source)), atlas.homes[id])


def mark_text(mark: str) -> str:
    """A mark as a small remark, or nothing when the source was read."""
    said = MARKS.get(mark, mark)
    return tag("span", text(said), class_="wc-mark") if said else ""


def origin(item: Input, atlas: Atlas) -> str:
    """Where an input's value comes from, beside the label of its kind: source, reason, mark."""
    source = atlas.whole.book.sources.get(item.source)
    mark = item.mark or (source.mark if source else "")
    own = source is None or bool(source.place.file)  # else the label of the kind says it all
    pieces = [source_link(item.source, atlas)] if own else []
    if item.because:
        pieces.append(text(item.because))
    said = mark_text(mark) if own and mark != item.source else ""
    return ": ".join(pieces) + (f" {said}" if said else "")
