"""Draws at hand while something still needs them, so that a large book fits into memory."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from typing import Any

from calc.book.plan import Guard, Plan, Root
from calc.engine.streams import Streams


def _named_by(guards: Iterable[Guard]) -> Iterator[str]:
    return (id for guard in guards for id in guard.names.values())


class Keeper:
    """Draws at hand: kept while a later node or the summary of their block needs them."""

    def __init__(self, wanted: Iterable[str], plan: Plan) -> None:
        self.plan = plan
        self.values: dict[str, Any] = {}
        ids = set(wanted)
        self.guards: dict[str, list[Guard]] = defaultdict(list)
        for guard in plan.guards:
            if "#" not in guard.block:
                self.guards[guard.block].append(guard)
        self._uses = Counter(need for id in ids for need in plan.needs[id])
        self._uses.update(id for guards in self.guards.values() for id in _named_by(guards))
        self._left = {
            block: {id for id in results if id in ids} for block, results in plan.results.items()
        }
        self._held = {id for results in self._left.values() for id in results}

    def value(self, id: str, streams: Streams) -> Any:
        """What a node needs: kept draws, or those of a root."""
        if isinstance(self.plan.nodes[id], Root):
            return streams.of(id)
        return self.values[id]

    def keep(self, id: str, value: Any) -> None:
        """Takes the draws of a node, and lets go of what only it needed."""
        self.values[id] = value
        for need in self.plan.needs[id]:
            self._uses[need] -= 1
            self._let_go(need)
        self._let_go(id)

    def drop(self, id: str) -> None:
        """A node that failed."""
        for need in self.plan.needs[id]:
            self._uses[need] -= 1
            self._let_go(need)

    def finished(self, id: str) -> Iterable[str]:
        """The block that a node was the last result of, if it was."""
        block = self.plan.nodes[id].block
        left = self._left.get(block, set())
        if id in left:
            left.discard(id)
            if not left:
                yield block

    def release(self, block: str) -> None:
        """Lets go of what only a block's results and guards needed."""
        for id in _named_by(self.guards[block]):
            self._uses[id] -= 1
            self._let_go(id)
        for id in self.plan.results[block]:
            self._held.discard(id)
            self._let_go(id)

    def _let_go(self, id: str) -> None:
        if not self._uses[id] and id not in self._held:
            self.values.pop(id, None)
