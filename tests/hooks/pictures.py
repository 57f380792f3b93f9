"""Pictures taken out of a page."""

from __future__ import annotations

import re
from xml.etree import ElementTree

SVG = "{http://www.w3.org/2000/svg}"


def picture(html: str) -> ElementTree.Element:
    """The SVG of a chart, parsed."""
    found = re.search(r"<svg.*?</svg>", html, re.S)
    assert found, html
    body = found[0].replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ')
    return ElementTree.fromstring(body.replace(" data-search-exclude", ""))
