"""The order of evaluation, and the dimension of every node, found in that order."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from calc.book.guards import guards
from calc.book.model import Book
from calc.book.plan import Plan, roots_of
from calc.book.typed import Typing
from calc.book.unfold import unfold
from calc.book.unfolded import Unfolded, edges
from calc.notation.dimensions import Signature
from calc.problems import Problem


def plan(book: Book, procedures: Mapping[str, Signature]) -> Plan:
    """The book as one graph in order of evaluation, with all that is wrong in it."""
    raw = unfold(book, procedures)
    order = _Order(raw)
    for id in raw.nodes:
        order.visit(id)
    typed = Typing(raw, book, procedures)
    for id in order.done:
        typed.check(id)
    typed.check_bound()
    needs = {id: tuple(dict.fromkeys(edges(node))) for id, node in typed.nodes.items()}
    return Plan(
        nodes=typed.nodes,
        needs=needs,
        roots=roots_of(typed.nodes, needs),
        results={
            block: tuple(id for id in ids if id in typed.nodes)
            for block, ids in raw.results.items()
        },
        names=raw.names,
        kinds=typed.kinds,
        guards=tuple(guards(raw, typed.scope)),
        applied=tuple(raw.applied),
        procedures=procedures,
        problems=tuple(raw.problems),
    )


@dataclass
class _Order:
    """Depth first, iteratively, since chains across pages may be long."""

    raw: Unfolded

    def __post_init__(self) -> None:
        self.done: dict[str, None] = {}
        self.open: dict[str, None] = {}

    def visit(self, start: str) -> None:
        stack: list[tuple[str, Iterable[str]]] = []
        self._enter(start, stack)
        while stack:
            id, waiting = stack[-1]
            following = next(iter(waiting), None)
            if following is None:
                stack.pop()
                del self.open[id]
                self.done[id] = None
            elif following in self.open:
                self._cycle(following)
            else:
                self._enter(following, stack)

    def _enter(self, id: str, stack: list[tuple[str, Iterable[str]]]) -> None:
        if id in self.raw.nodes and id not in self.done:
            self.open[id] = None
            stack.append((id, iter(tuple(edges(self.raw.nodes[id])))))

    def _cycle(self, id: str) -> None:
        path = list(self.open)
        path = path[path.index(id) :]
        if self.raw.failed.issuperset(path):
            return
        self.raw.failed.update(path)
        first = min(path, key=lambda item: self._place(item))
        path = path[path.index(first) :] + path[: path.index(first)]
        self.raw.say(
            self.raw.nodes[first].place,
            "cycle",
            f"this needs itself: {' → '.join((*path, first))}; give one of them a value",
        )

    def _place(self, id: str) -> tuple[str, int]:
        place = self.raw.nodes[id].place
        return (place.file, place.line)


def without_twins(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Problems in order of place, each said once."""
    return tuple(sorted(set(problems)))
