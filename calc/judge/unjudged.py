"""The last net: what is stated is judged, or something says why it could not be."""

from __future__ import annotations

from collections.abc import Iterator

from calc.book.model import Book, Place
from calc.judge.judge import Judgement
from calc.notation.prose import GIVEN
from calc.problems import Problem


def unjudged(book: Book, judgement: Judgement) -> Iterator[Problem]:
    """A problem for each figure, claim and expected value that was compared with nothing.

    Only a book without another problem is asked: elsewhere such silence follows from what is said
    already.
    """
    for figure in judgement.figures:
        if figure.agrees is None and figure.figure.scheme != GIVEN:
            yield _said(f"'{figure.figure.text}'", figure.place)
    for claim in judgement.claims.values():
        if claim.agrees is None:
            yield _said(f"the verdict of {claim.claim.id}", claim.claim.place)
    known = {(judged.check.place, judged.name) for judged in judgement.checks}
    for method in book.methods.values():
        for check in method.checks:
            for name in check.gives:
                if (check.place, name) not in known:
                    yield _said(f"what a check of {method.id} expects of {name}", check.place)


def _said(what: str, place: Place) -> Problem:
    message = f"{what} was compared with nothing; name a result that the page computes"
    return Problem(place.file, place.line, "reference", message)
