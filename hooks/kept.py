"""Punctuation that stays with the button beside it.

A browser may break a line on either side of a button, as it may around a picture, so that a comma
after a figure would begin the next line.
"""

from __future__ import annotations

import re

_BUTTON = r'<button [^>]*class="wc-(?:figure|term)[^>]*>[^<]*</button>'
_BESIDE = re.compile(
    r"(?P<before>[(\[“‘]*)"
    rf"(?P<button>(?:<(?P<loud>strong|em)>)?{_BUTTON}(?:</(?P=loud)>)?)"
    r"(?P<after>(?:['’]s)?[.,;:!?)\]”’…]*)"
)


def kept(html: str) -> str:
    """HTML in which each button of the prose holds on to the punctuation around it.

    >>> kept('(<button class="wc-term">cell</button>), then')
    '<span class="wc-keep">(<button class="wc-term">cell</button>),</span> then'
    """
    return _BESIDE.sub(_held, html)


def _held(found: re.Match[str]) -> str:
    if not found["before"] and not found["after"]:
        return found[0]
    return f'<span class="wc-keep">{found[0]}</span>'
