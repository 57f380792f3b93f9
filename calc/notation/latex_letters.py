"""Letters as LaTeX spells them, to and fro: only what names and titles of works need."""

from __future__ import annotations

import re
import unicodedata

from calc.problems import Wrong

_ACCENTS = {
    "`": "\u0300",
    "'": "\u0301",
    "^": "\u0302",
    "~": "\u0303",
    "=": "\u0304",
    "u": "\u0306",
    ".": "\u0307",
    '"': "\u0308",
    "r": "\u030a",
    "H": "\u030b",
    "v": "\u030c",
    "c": "\u0327",
    "k": "\u0328",
}
_LETTERS = {
    "aa": "å", "AA": "Å", "ae": "æ", "AE": "Æ", "i": "i", "j": "j", "l": "ł", "L": "Ł",
    "o": "ø", "O": "Ø", "oe": "œ", "OE": "Œ", "ss": "ß",
    "textendash": "–", "textemdash": "—", "textdegree": "°", "textmu": "µ",
    "textbraceleft": "{", "textbraceright": "}",
    "textbackslash": "\\", "textasciitilde": "~", "textasciicircum": "^",
}  # fmt: skip
_ACCENTED = re.compile(
    r"\\(?:([`'^~=.\"])|([urHvck])(?=[\s{\\]))\s*\{?\s*(\\[ij](?![A-Za-z])|\w)\s*\}?"
)
_COMMAND = re.compile(r"\\([A-Za-z]+)(?:\{\}|\s+|(?![A-Za-z]))")
_SIGN = re.compile(r"\\([&%$#_{} -])")
_ESCAPED = {
    "\\": r"\textbackslash{}",
    "~": r"\textasciitilde{}",
    "^": r"\textasciicircum{}",
    "{": r"\textbraceleft{}",  # escaped braces would still count for BibTeX
    "}": r"\textbraceright{}",
    **{sign: f"\\{sign}" for sign in "&%$#_"},
}
_HELD = {sign: chr(0xE000 + at) for at, sign in enumerate("&%$#_{} -\\~^")}  # private code points


def from_latex(text: str) -> str:
    """Plain text of a LaTeX field: accents composed, escapes and braces resolved.

    Raises: Wrong (kind "source") for a command that is no letter.

    >>> from_latex(r'{G}{\\"o}del \\& {\\O}rsted, 10--12')
    'Gödel & Ørsted, 10–12'
    """
    held = _SIGN.sub(lambda found: _HELD[found[1]], text)
    composed = _COMMAND.sub(_letter, _ACCENTED.sub(_composed, held))
    bare = re.sub(r"[{}]", "", composed).replace("~", " ")
    dashed = bare.replace("---", "—").replace("--", "–")
    for sign, stand_in in _HELD.items():
        dashed = dashed.replace(stand_in, sign)
    return " ".join(dashed.split())


def to_latex(text: str) -> str:
    """A field that LaTeX sets as the text; letters stay as they are, in UTF-8.

    >>> to_latex("50 % of Å & B")
    '50 \\\\% of Å \\\\& B'
    """
    return "".join(_ESCAPED.get(letter, letter) for letter in text).replace("–", "--")


def _composed(found: re.Match[str]) -> str:
    accent = _ACCENTS[found[1] or found[2]]
    return unicodedata.normalize("NFC", found[3].lstrip("\\") + accent)


def _letter(found: re.Match[str]) -> str:
    letter = _LETTERS.get(found[1])
    if letter is None:
        raise Wrong(
            "source", f"'\\{found[1]}' is no letter known here; write the sign itself instead"
        )
    return _HELD.get(letter, letter)
