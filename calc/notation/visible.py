"""What of a page's text a reader sees: not code, addresses and tags, whatever dress numbers wear.

`blanked` and `without_code` keep every offset; `as_read` keeps every line.
"""

from __future__ import annotations

import re
from functools import lru_cache
from html import unescape

from calc.notation.blocks import fences, front_matter

MARK = "\ufffc"
"""Stands where something stood that is no prose, so that what is around it does not join."""

_IN_BLOCK = r"(?:(?!\n[ \t>]*(?:\n|\d+[.)][ \t]|[-+*#|])).)"  # a span ends with its paragraph
_CODE = re.compile(
    rf"(?<![\\`])(?P<ticks>`+)(?!`){_IN_BLOCK}+?(?<!`)(?P=ticks)(?!`)|<!--.*?-->", re.S
)
_DEFINED = re.compile(
    r"^ {0,3}\[(?!\^)[^\]\n]+\]:[ ]*\S+(?:\s+(?:\"[^\"\n]*\"|'[^'\n]*'|\([^)\n]*\)))?[ ]*$", re.M
)
_TAG = re.compile(r"<(?P<tag>/?[A-Za-z][\w-]*)(?P<tagged>[^>\n]*)>|\{[:#.](?P<listed>[^}\n]*)\}")
_INLINE = frozenset("a abbr b br em i mark s small span strong sub sup u".split())
_SAID_IN = re.compile(r"\b(?:alt|title)=(?:\"([^\"]*)\"|'([^']*)')")
_TITLE = r"(?:\s+(?P<quote>[\"'])(?P<title>[^\n]*?)(?P=quote))?"
_LINK = re.compile(rf"\[(?P<label>[^\[\]]*)\](?:\([ ]*<?[^\s)]*>?{_TITLE}\s*\)|\[[^\]\n]*\])")
_ADDRESS = re.compile(r"https?://[^\s)>]+")
_HEADING = re.compile(r"^#[^\n]*", re.M)
_NOTE = re.compile(r"\[\^[^\]\n]+\](?!:)")
_EMPHASIS = re.compile(r"\*+(?=\S)|(?<=\S)\*+|(?<!\w)_+(?=\w)|(?<=[^\W_])_+(?!\w)")


@lru_cache(maxsize=4)
def blanked(text: str) -> str:
    """The page's text with front matter and fenced blocks blanked out, offsets unchanged."""
    _, body = front_matter(text)
    pieces = [_blank(text[:body])]
    at = body
    for fence in fences(text):
        if fence.start >= body:
            pieces += [text[at : fence.start], _blank(text[fence.start : fence.end])]
            at = fence.end
    return "".join(pieces) + text[at:]


@lru_cache(maxsize=4)
def without_code(text: str) -> str:
    """The same, with code spans and comments blanked too, offsets unchanged."""
    return _CODE.sub(lambda found: _blank(found.group()), blanked(text))


def as_read(text: str) -> str:
    """Prose as it is read, line by line: tags, addresses and emphasis are as nothing.

    Parameters: text, without front matter and blocks, and with a MARK where a figure is bound.
    """
    bare = _CODE.sub(_marked, text) if "`" in text or "<!--" in text else text
    bare = _DEFINED.sub("", bare)
    if "<" in bare or "{" in bare:
        bare = _TAG.sub(_said_by_tag, bare)
    bare = _ADDRESS.sub(MARK, bare)
    bare = _HEADING.sub(lambda found: found.group() + MARK, bare)
    bare = _LINK.sub(lambda found: found["label"] + _apart(found["title"]), bare)
    return unescape(_EMPHASIS.sub("", _NOTE.sub("", bare)))


def _blank(text: str) -> str:
    return re.sub(r"[^\n]", " ", text)


def _marked(found: re.Match[str]) -> str:
    """A mark for code, nothing for a comment, and the lines of either."""
    return (MARK if found["ticks"] else "") + "\n" * found.group().count("\n")


def _said_by_tag(found: re.Match[str]) -> str:
    """What a tag or a list of attributes says by itself: its alt and its title."""
    name = (found["tag"] or "").lstrip("/").lower()
    said = _SAID_IN.findall(found["tagged"] or found["listed"] or "")
    words = " ".join(each or other for each, other in said)
    return _apart(words) if words or name in _INLINE or found["listed"] else MARK


def _apart(words: str | None) -> str:
    return f"{MARK}{words}{MARK}" if words else ""
