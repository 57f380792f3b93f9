"""Corrections as an Atom feed (RFC 4287), newest first; its dates are theirs, not a clock's."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from xml.etree import ElementTree

from calc.book.model import Correction
from calc.judge.corrections import newest_first

NAMESPACE = "http://www.w3.org/2005/Atom"
NEVER = "1970-01-01"
"""When a feed without entries was last updated; the standard wants a moment."""


def feed(
    corrections: Iterable[Correction], title: str, address: str, page: Callable[[str], str]
) -> str:
    """The feed's text.

    Parameters: title of the site; address, where the feed will stand; page, the address of a page
    from its file.
    """
    entries = newest_first(corrections)
    ElementTree.register_namespace("", NAMESPACE)
    root = _element(None, "feed")
    _element(root, "title", f"Corrections: {title}")
    _element(root, "id", address)
    _element(root, "link", rel="self", href=address)
    _element(root, "updated", _moment(entries[0].date if entries else NEVER))
    _element(_element(root, "author"), "name", title)
    for each in entries:
        _entry(root, each, address, page(each.place.file))
    ElementTree.indent(root)
    body = ElementTree.tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="utf-8"?>\n{body}\n'


def _entry(root: ElementTree.Element, each: Correction, address: str, page: str) -> None:
    entry = _element(root, "entry")
    _element(entry, "title", f"{each.figure}: {each.was} → {each.now}")
    _element(entry, "id", f"{address}#{each.id}")
    _element(entry, "link", href=page)
    _element(entry, "updated", _moment(each.date))
    _element(entry, "summary", each.reason)


def _element(
    parent: ElementTree.Element | None, name: str, text: str = "", **attributes: str
) -> ElementTree.Element:
    tag = f"{{{NAMESPACE}}}{name}"
    made = (
        ElementTree.Element(tag, attributes)
        if parent is None
        else ElementTree.SubElement(parent, tag, attributes)
    )
    made.text = text or None
    return made


def _moment(day: str) -> str:
    return f"{day}T00:00:00Z"
