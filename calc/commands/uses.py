"""`uses`: what would move with a source or an input, and by how much."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from calc.commands.folders import add_folders, refuse, whole_of
from calc.engine.evaluate import NotComputed
from calc.problems import Wrong
from calc.tell.rests import Moved, Rests, rests_on, values_named
from calc.tell.trace import value_text
from calc.whole import Whole


def add(parser: argparse.ArgumentParser) -> None:
    """Adds the words that uses takes."""
    parser.add_argument("name", metavar="SOURCE-OR-INPUT", help="a source's id, or id.name")
    add_folders(parser)


def run(asked: argparse.Namespace) -> int:
    """Prints what rests on each value; 2 when nothing is called so."""
    whole = whole_of(asked)
    try:
        ids = values_named(asked.name, whole)
    except Wrong as error:
        return refuse(error)
    if not ids:
        print(f"no value comes from {asked.name}")
    for id in ids:
        for line in _lines(id, whole):
            print(line)
    for line in _named_by(asked.name, whole):
        print(line)
    return 0


def _lines(id: str, whole: Whole) -> Iterator[str]:
    if id not in whole.computation.results:
        yield f"{id} has no value of its own to move"
        return
    yield f"{id} = {value_text(id, whole)}; with one hundredth more:"
    try:
        found = rests_on(id, whole)
    except NotComputed as error:
        yield f"   cannot be computed: {error}"
        return
    yield from _results(found)
    yield from _figures(found, whole)
    for claim, before, after, nominal in found.claims:
        unit = claim.unit.text
        yield (
            f"   claim {claim.claim.id}: {before:.6g} → {after:.6g} {unit}".rstrip()
            + f" against '{claim.claim.says.text}' ({claim.verdict} now; by its value: {nominal})"
        )
    for showing in found.showings:
        yield f"   {showing.place.file}:{showing.place.line}: {showing.kind} {showing.id}"


def _results(found: Rests) -> Iterator[str]:
    for id, moved in found.results.items():
        if id != found.id:
            yield f"   {id}: {moved.before:.6g} → {moved.after:.6g} {moved.unit}".rstrip() + (
                f" ({_percent(moved)})"
            )


def _figures(found: Rests, whole: Whole) -> Iterator[str]:
    for figure in found.figures:
        of = whole.plan.target(figure.of)
        place = f"{figure.place.file}:{figure.place.line}"
        if of in found.results:
            yield f"   {place}: '{figure.shown}' of {figure.of} ({_percent(found.results[of])})"


def _percent(moved: Moved) -> str:
    if moved.change is None:
        return "was zero"
    return "unmoved" if abs(moved.change) < 1e-9 else f"{100 * moved.change:+.3g} %"


def _named_by(source: str, whole: Whole) -> Iterator[str]:
    """Claims and checks that name a source, though no value of theirs comes from it."""
    for claim in whole.book.claims.values():
        if claim.source == source:
            yield f"{claim.place.file}:{claim.place.line}: the claim {claim.id} is its statement"
    for method in whole.book.methods.values():
        count = sum(check.source == source for check in method.checks)
        if count:
            yield f"{method.place.file}: {count} checks of the method {method.id} come from it"
