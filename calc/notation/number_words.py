"""Numbers in words, where they state a multiple or a share: `four times`, `ten per cent`.

Elsewhere a number in words is only a way of speaking, and is left alone.
"""

from __future__ import annotations

import re

_SMALL = (
    "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen"
    " sixteen seventeen eighteen nineteen"
).split()
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()
_COUNTS = {
    **{word: count for count, word in enumerate(_SMALL, start=1)},
    **{word: 10 * count for count, word in enumerate(_TENS, start=2)},
    **{
        f"{tens}-{ones}": 10 * many + one
        for many, tens in enumerate(_TENS, start=2)
        for one, ones in enumerate(_SMALL[:9], start=1)
    },
    "hundred": 100,
    "a hundred": 100,
    **{f"{word} hundred": 100 * count for count, word in enumerate(_SMALL[:9], start=1)},
}
SHARES = {"tenths": 0.1, "hundredths": 0.01}
"""Words for parts of a whole that a number may count."""
RATIO_WORDS = rf"times|fold|per ?cent|percentage[ -]points?|{'|'.join(SHARES)}"
"""What makes a multiple or a share of the number before it."""

NUMBER_WORD = (
    rf"(?:(?:(?:a|{'|'.join(_SMALL[:9])})\s)?hundred"
    rf"|(?:{'|'.join(_TENS)})(?:-(?:{'|'.join(_SMALL[:9])}))?"
    rf"|{'|'.join(reversed(_SMALL))})"
)
_STATED = re.compile(
    rf"(?<=factor of ){NUMBER_WORD}\b|\b{NUMBER_WORD}(?=[\s-]*(?:{RATIO_WORDS})\b)", re.I
)


def in_digits(text: str) -> str:
    """The text with its multiples and shares in digits.

    >>> in_digits("about three times"), in_digits("twenty-five per cent"), in_digits("four cells")
    ('about 3 times', '25 per cent', 'four cells')
    """
    return _STATED.sub(lambda found: str(_COUNTS[_one_space(found.group())]), text)


def _one_space(text: str) -> str:
    return re.sub(r"\s", " ", text.lower())
