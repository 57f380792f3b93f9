"""How hard a text is to read: the Flesch–Kincaid grade, in years of school.

Source: J. P. Kincaid, R. P. Fishburne, R. L. Rogers and B. S. Chissom, "Derivation of new
readability formulas for Navy enlisted personnel", Research Branch Report 8-75, 1975: the formula
and its three constants. Mark: from memory, to be confirmed.
"""

from __future__ import annotations

import re

from calc.notation.visible import blanked
from tests.language.passages import plain

NUMBER = "number"
"""Stands for a figure: what a number says is not a matter of long words."""

_WORD = re.compile(r"[^\W\d_]+(?:['’-][^\W\d_]+)*")
_FIGURE = re.compile(r"\[[^\]\[]*\]\((?:calc|quote|given):[^)]*\)")
_SENTENCE_END = re.compile(r"[.?!](?=\s|$)")
_VOWELS = re.compile(r"[aeiouy]+")
_APART = re.compile(r"(?<![ct])ia|io(?!n|us)|iu|(?<!g)eo(?!u)|ue(?=l\b)|ying|uous|ual|(?<=ar)ea")
"""Two vowels side by side that are heard as two."""
_SILENT = re.compile(r"(?:[^laeiouyscgzxh]es|[^td]ed|[^l]e|[aeiouy]le)$")
_SILENT_INSIDE = re.compile(r"(?<=[aeiouy][a-z])e(?=(?:ment|ly|ful|thing|where|fore|line|time)s?$)")


def grade(text: str) -> float:
    """Flesch–Kincaid grade of a text of at least one sentence and one word.

    >>> round(grade("The cat sat on the mat."), 2)
    -1.45
    """
    words = _WORD.findall(text)
    sentences = len(_SENTENCE_END.findall(text)) or 1
    heard = sum(map(syllables, words))
    return 0.39 * len(words) / sentences + 11.8 * heard / len(words) - 15.59


def syllables(word: str) -> int:
    """Syllables of an English word, by its groups of vowels; each part of a compound by itself.

    >>> [syllables(word) for word in ("charge", "battery", "taken", "kilogram", "watt-hour")]
    [1, 3, 2, 3, 2]
    """
    return sum(_syllables(part) for part in re.split(r"['’-]", word.lower()) if len(part) > 1) or 1


def _syllables(part: str) -> int:
    heard = len(_VOWELS.findall(part)) + len(_APART.findall(part))
    silent = bool(_SILENT.search(part)) + len(_SILENT_INSIDE.findall(part))
    return max(1, heard - silent)


def opening(page: str) -> str:
    """The first paragraph below a page's title, which is its answer, with figures as a word."""
    told = blanked(page)
    start = re.search(r"^# [^\n]*\n", told, re.M)
    after = page[start.end() :] if start else page
    first = after.strip().partition("\n\n")[0]
    return plain(_FIGURE.sub(NUMBER, first))
