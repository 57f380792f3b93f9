"""Evidence: which sources a value rests on, and which of them is the weakest link."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from calc.book.model import Book, Input, Place
from calc.book.plan import Plan, Root
from calc.book.sources import KINDS

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
    return tuple(sorted(links.values(), key=lambda link: (-STRENGTH.get(link.kind, 0), link.root)))


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


def named_sources(book: Book) -> Iterator[tuple[str, Place]]:
    """Every source that is named, with the place that names it.

    A check may also cite its source in full, in words; that names nothing.
    """
    yield from ((item.source, item.place) for item in inputs_of(book) if item.source)
    for shelf in (book.claims, book.forecasts, book.corrections):
        yield from ((each.source, each.place) for each in shelf.values() if each.source)
    for method in book.methods.values():
        yield from ((each.source, each.place) for each in method.checks if " " not in each.source)
