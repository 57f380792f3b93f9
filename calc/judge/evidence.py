"""Evidence: which sources a value rests on, and which of them is the weakest link."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from calc.book.model import Book, Input
from calc.book.plan import Plan, Root
from calc.book.sources import KINDS
from calc.problems import Problem, nearest

STRENGTH = {kind: rank for rank, kind in enumerate(KINDS)}
"""Rank of each kind of evidence; the strongest has rank 0."""


@dataclass(frozen=True)
class Link:
    """One input that a value rests on: its id, its source, and how strong that is."""

    root: str
    source: str
    kind: str


def evidence(id: str, book: Book, plan: Plan) -> tuple[Link, ...]:
    """Every input that a value rests on, weakest first, then by id.

    Estimates that were combined count with all the inputs below them.
    """
    links = {link.root: link for link in _links(id, book, plan)}
    return tuple(
        sorted(links.values(), key=lambda link: (-STRENGTH.get(link.kind, 0), link.root))
    )


def weakest(id: str, book: Book, plan: Plan) -> Link | None:
    """The weakest link of a value, or None when it rests on no input at all."""
    links = evidence(id, book, plan)
    return links[0] if links else None


def _links(id: str, book: Book, plan: Plan) -> Iterator[Link]:
    if id not in plan.nodes:
        return
    for root in plan.roots[plan.target(id)]:
        node = plan.nodes[root]
        if not isinstance(node, Root):
            continue
        if node.input:
            yield Link(root, node.input.source, kind_of(node.input, book))
        elif node.block in book.estimates:  # a mean or a statistic of all of them
            for member in book.estimates[node.block].values:
                yield from _links(f"{node.block}.{member.input.name}", book, plan)


def kind_of(item: Input, book: Book) -> str:
    """The kind of evidence of one input; what is only recalled counts as memory."""
    source = book.sources.get(item.source)
    kind = source.kind if source else ""
    recalled = (item.mark or (source.mark if source else "")) == "memory"
    weaker = STRENGTH.get(kind, 0) > STRENGTH["memory"]
    return "memory" if recalled and not weaker else kind


def inputs_of(book: Book) -> Iterator[Input]:
    """Every input of the book that has a source."""
    for sheet in book.sheets.values():
        yield from sheet.inputs
    for calc in book.calcs.values():
        yield from calc.inputs
    for estimates in book.estimates.values():
        yield from (member.input for member in estimates.values)


def source_problems(book: Book) -> Iterator[Problem]:
    """Sources that are named and nowhere described."""
    named = [(item.source, item.place) for item in inputs_of(book) if item.source]
    named += [(claim.source, claim.place) for claim in book.claims.values() if claim.source]
    named += [
        (check.source, check.place) for method in book.methods.values() for check in method.checks
    ]
    for source, place in named:
        if source not in book.sources:
            hint = nearest(source, book.sources) or "; add it to sources.yml with its kind"
            message = f"no source is called '{source}'{hint}"
            yield Problem(place.file, place.line, "source", message)
