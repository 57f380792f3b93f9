"""Words of a block, or of the front matter, that a reader takes for statements.

They can bind nothing, so they state no number in digits. A number that is a condition of an input
or the wording of a claim stands in its `about`, `because`, `says` or `settles`.
"""

from __future__ import annotations

from collections.abc import Iterator

from calc.book.fields import Fields
from calc.notation.numbered import numbers_in_digits

_STATED = ("title", "description", "alt", "note", "x_label", "y_label")
_LABELLED = ("of", "rows", "columns")


def note_loose(fields: Fields) -> None:
    """Notes every number with a unit in a title, a note, a label or their like."""
    for key, words in _words(fields):
        for start, end in numbers_in_digits(words):
            fields.say(
                "loose",
                f"'{words[start:end]}' in {key} is a loose figure; leave the number out there, and"
                " state it in the prose, as in [270 Wh/kg](calc:id.name)",
                key,
            )


def _words(fields: Fields) -> Iterator[tuple[str, str]]:
    for key in _STATED:
        if isinstance(words := fields.tree.get(key), str):
            yield key, words
    for key in _LABELLED:
        if isinstance(labelled := fields.tree.get(key), dict):
            yield from ((key, label) for label in labelled)
