"""What the addresses of figures, claims and pictures may name, and what was computed of it."""

from __future__ import annotations

from dataclasses import dataclass

from calc.book.model import Book, Page
from calc.book.plan import Plan
from calc.book.pool import MEANS, STATISTICS
from calc.engine.results import Computation, Result, Solved
from calc.notation.dimensions import Series
from calc.problems import Wrong, nearest


@dataclass(frozen=True)
class Targets:
    """A book with its plan and what was computed, asked by addresses as pages write them."""

    book: Book
    plan: Plan
    computation: Computation

    def find(self, target: str, page: Page) -> str:
        """The id that an address names. Raises: Wrong when it names none, or several."""
        full = target if "." in target else self._local(target, page)
        return self._full(full) if "." in full else full

    def result(self, id: str) -> Result | Solved | None:
        """The result of an id, or None when it could not be computed."""
        if id in self.computation.solved:
            return self.computation.solved[id]
        if id not in self.plan.nodes:
            return None
        return self.computation.results.get(self.plan.target(id))

    def is_column(self, id: str) -> bool:
        """Whether an id names a column of a log."""
        node = self.plan.nodes.get(id)
        return node is not None and isinstance(self.plan.kinds.get(node.id), Series)

    def _full(self, target: str) -> str:
        block, _, name = target.partition(".")
        if self.plan.names_one(target) or target in self.computation.solved:
            return target
        if block in self.book.lost or self._was_meant(block, name):
            return target
        if self.plan.below(target):
            raise several(target, self.plan)
        if block in self.plan.names:
            known = [id.partition(".")[2] for id in self.plan.below(block)]
            raise Wrong("reference", f"'{block}' has no '{name}'{nearest(name, known)}")
        raise Wrong("reference", f"nothing is called '{block}'{nearest(block, self.plan.names)}")

    def _was_meant(self, block: str, name: str) -> bool:
        """Whether a block declares a name that could not be planned, which is said elsewhere."""
        calc = self.book.calcs.get(block)
        head = name.partition(".")[0]
        if head == "solve" and calc:
            return any(name == f"solve.{wish.unknown}" for wish in calc.solve)
        if block in self.book.estimates:
            members = {each.input.name for each in self.book.estimates[block].values}
            return name in (members | {*MEANS, *STATISTICS})
        if calc is None:
            return False
        method = self.book.methods.get(calc.use)
        steps = (*calc.steps, *(method.steps if method else ()))
        declared = {step.name for step in steps} | {item.name for item in calc.inputs}
        return head in (declared | {*calc.lost}) and not self.plan.has(f"{block}.{head}")

    def _local(self, target: str, page: Page) -> str:
        here = [
            f"{block}.{target}"
            for block, places in self.plan.names.items()
            if block in self.book.calcs
            and self.book.calcs[block].place.file == page.file
            and target in places
        ]
        if len(here) == 1:
            return here[0]
        if here:
            raise Wrong("reference", f"'{target}' could be {' or '.join(here)}; write one in full")
        if not target:
            raise Wrong("reference", "calc: needs the id of a result, as in calc:id.name")
        if any(not id for _, _, id in page.fences):
            return target  # perhaps of the block that could not be read
        names = [name for places in self.plan.names.values() for name in places]
        raise Wrong("reference", f"no calc of this page has '{target}'{nearest(target, names)}")


def several(id: str, plan: Plan) -> Wrong:
    """What to say of a step that has several results."""
    first = min(plan.below(id), key=lambda each: each.count("."))
    return Wrong("reference", f"'{id}' has several results; name one of them, such as {first}")
