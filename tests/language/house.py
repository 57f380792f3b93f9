"""How this house writes: one spelling, sentence case, plain signs."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from tests.language.passages import Passage

HABITS = (
    (r"(?<=[\w,;:]) {2,}(?=\w)", "one space between words"),
    (r"[A-Za-z)]!(?![=\w(])", "no exclamation mark"),
    (r"[‘’“”]", "straight quotation marks and apostrophes, here as everywhere"),
    (r"\d(?:[kmMGµu]?(?:Wh|Ah|W|V|A|Hz|Ω|J|Pa)|kg|mg|mm|cm|km|µm|um|°C|%)(?![\w-])",
     "a space between a number and its unit"),
    (r"(?i)\bpercent\b", "per cent"),
    (r"(?i)\baging\b", "ageing"),
    (r"(?i)\bjudgment", "judgement"),
    (r"(?i)\bdisks?\b", "disc"),
    (r"(?i)\bsulph", "sulfur, as the standard names of the elements have it"),
    (r"(?i)\b(?:kilo|mega|giga|milli)?(?:watt|ampere) hours?\b", "watt-hour, with a hyphen"),
    (r"(?i)\bhalf cells?\b", "half-cell"),
    (r"(?i)\bdatasheets?\b", "data sheet"),
    (r"\b(?:learned|burned|spoiled|leaned|dreamed)\b", "the form in -t"),
    (r"(?i)\b(?:whilst|amongst|utili[sz]e\w*|leverag\w+|in order to|prior to)\b", "a plainer word"),
    (r"(?i)\b(?:e\.g\.|i\.e\.|etc\.|cf\.|vs\.)", "the words written out"),
    (r"\b([A-Za-z]+) \1\b", "the word once"),
    (r" [,;:?](?!\w)", "no space before the mark"),
)  # fmt: skip
"""(what is not written, what is written in its place)."""

NAMES = frozenset(
    "Heron Gannet Petrel Vesper Islands Worked Cells Markdown Monte Carlo"
    " United States Birge Brier Bruggeman Faraday Gauss Arrhenius Sand Python".split()
)
"""Proper names, which keep their capital inside a heading."""

_COMPILED = tuple((re.compile(pattern), mend) for pattern, mend in HABITS)
_SAID_ALOUD = re.compile(r"\b(?:had had|that that)\b")


def against_the_house(passages: Iterable[Passage]) -> Iterator[str]:
    """`file:line: what stands there; what should` for everything written otherwise."""
    for passage in passages:
        for pattern, mend in _COMPILED:
            for found in pattern.finditer(passage.text):
                if not _SAID_ALOUD.match(found.group()):
                    yield f"{passage.place(found.start())}: '{found.group()}': {mend}"
        if passage.heading:
            yield from capitals(passage)


def capitals(heading: Passage) -> Iterator[str]:
    """Words of a heading with a capital that is neither the first nor that of a name."""
    for found in re.finditer(r"(?<=[\w,)] )(?<![:?.] )[A-Z][a-z]{2,}\b", heading.text):
        if found.group() not in NAMES:
            yield f"{heading.place()}: '{found.group()}': small letters inside a heading"
