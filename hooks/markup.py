"""HTML written safely: texts are escaped once, here; addresses of pages are filled in last.

A link to another page is written `page:PATH.md#anchor`, whatever page it stands on; `resolved`
turns all of them into relative addresses once the page's own address is known.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from html import escape as _escape
from itertools import count

_PLAIN_TABLE = re.compile(r"<table>(.*?)</table>", re.S)
_CELL_END = re.compile(r"(</(?:td|th|dt|dd|li|p|div|summary|figcaption)>)(?=[^\s])")
_PAGE_LINK = re.compile(r'(href|src)="page:([^"#]*)(#[^"]*)?"')


def text(value: object) -> str:
    """A text as it may stand between tags or in an attribute."""
    return _escape(str(value), quote=True)


def tag(name: str, content: str = "", /, **attributes: str | bool) -> str:
    """An element around content that is HTML already.

    Attribute names lose a trailing underscore and write the others as hyphens; True stands for
    an attribute without a value, False and "" leave it out.

    >>> tag("a", "more", href="x.html", class_="link", hidden=True)
    '<a href="x.html" class="link" hidden>more</a>'
    """
    return f"<{name}{_attributes(attributes)}>{content}</{name}>"


def _attributes(attributes: dict[str, str | bool]) -> str:
    pieces = []
    for name, value in attributes.items():
        name = name.rstrip("_").replace("_", "-")
        if value is True:
            pieces.append(f" {name}")
        elif value:
            pieces.append(f' {name}="{text(value)}"')
    return "".join(pieces)


def rows(lines: Iterable[Iterable[str]], cell: str = "td", first: str = "") -> str:
    """Table rows from cells of HTML; `first` is the element of each row's first cell."""
    return "".join(
        "<tr>"
        + "".join(_cell(at, content, cell, first) for at, content in enumerate(line))
        + "</tr>"
        for line in lines
    )


def _cell(at: int, content: str, cell: str, first: str) -> str:
    name = first if first and at == 0 else cell
    scope = ""
    if name == "th":
        scope = ' scope="row"' if first and at == 0 else ' scope="col"'
    return f"<{name}{scope}>{content}</{name}>"


def table(head: Iterable[str], lines: Iterable[Iterable[str]], name: str, kind: str = "") -> str:
    """A table; `name` says what it holds.

    A table of a `kind` is laid out as a list on a narrow screen; any other scrolls by itself.
    """
    body = f"<thead>{rows([head], 'th')}</thead><tbody>{rows(lines, 'td', 'th')}</tbody>"
    inner = f'<table class="wc-table">{body}</table>'
    if kind:
        return tag("div", inner, class_=f"wc-stack {kind}")
    return _scrolling(inner, name)


def _scrolling(inner: str, name: str) -> str:
    return tag("div", inner, class_="wc-scroll", role="region", tabindex="0", aria_label=name)


def held(html: str) -> str:
    """Tables that a writer typed, each in a region that scrolls by itself and takes the keyboard.

    The theme would do so with a script, and without the keyboard.
    """
    counted = count(1)
    return _PLAIN_TABLE.sub(
        lambda found: _scrolling(
            f'<table class="wc-table">{found[1]}</table>', f"Table {next(counted)}"
        ),
        html,
    )


def anchored(path: str, anchor: str = "") -> str:
    """The address of a place on a page, to be filled in by `resolved`."""
    return f"page:{path}#{anchor}" if anchor else f"page:{path}"


def link(content: str, path: str, anchor: str = "", **attributes: str | bool) -> str:
    """A link to a page of the site, around HTML."""
    return tag("a", content, href=anchored(path, anchor), **attributes)


def spaced(html: str) -> str:
    """The same with a line break after each cell and item: the search index takes texts as they
    follow one another, and would join the last word of one to the first of the next."""
    return _CELL_END.sub(r"\1\n", html)


def resolved(html: str, address: Callable[[str], str]) -> str:
    """The HTML with every `page:` address filled in by a function from a page's path."""

    def fill(found: re.Match[str]) -> str:
        where = address(found[2])
        anchor = found[3] or ""
        return f'{found[1]}="{"" if where == "./" and anchor else where}{anchor}"'

    return _PAGE_LINK.sub(fill, html)
