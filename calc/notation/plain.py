"""Typographic and plain spellings of the same signs are one."""

from __future__ import annotations

import re

_SAME = str.maketrans(
    {
        "\u00b5": "u",  # micro sign
        "\u03bc": "u",  # Greek mu
        "\u2212": "-",  # minus
        "\u2013": "-",  # en dash
        "\u00d7": "*",
        "\u00b7": "*",
        "\u22c5": "*",
        "\u00a0": " ",
        "\u2009": " ",
        "\u202f": " ",
        "\u2126": "ohm",
        "\u03a9": "ohm",
        "\u2103": "degC",
    }
)
_SUPERSCRIPTS = str.maketrans(
    "\u2070\u00b9\u00b2\u00b3\u2074\u2075\u2076\u2077\u2078\u2079\u207b", "0123456789-"
)
_RAISED = re.compile("[\u2070\u00b9\u00b2\u00b3\u2074-\u2079\u207b]+")


def plain(text: str) -> str:
    """The same text in ASCII signs, so that every later reader sees one spelling.

    >>> plain("3 \\u00d7 cm\\u00b2")
    '3 * cm**2'
    """
    raised = _RAISED.sub(lambda found: "**" + found.group().translate(_SUPERSCRIPTS), text)
    degrees = raised.replace("\u00b0C", "degC").replace("\u00b0", "deg")
    return degrees.translate(_SAME)
