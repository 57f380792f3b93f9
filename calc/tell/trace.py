"""A result traced down to its sources: a tree of lines, each with value, formula and source."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from calc.book.plan import Alias, Column, Computed, PlanNode, Root, Run
from calc.book.sources import KINDS
from calc.judge.agree import filled
from calc.judge.evidence import kind_of
from calc.judge.targets import Targets
from calc.notation.formula import spelled
from calc.problems import Wrong
from calc.whole import Whole

_OWN_BLOCK = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*\.(?=[a-z])")


@dataclass(frozen=True)
class Line:
    """One node of the tree: how deep it lies, what it is called, its value and where that is from.

    `above` says that its own parts were shown higher up already.
    """

    depth: int
    id: str
    value: str
    how: str
    above: bool = False

    def __str__(self) -> str:
        value = f" = {self.value}" if self.value else ""
        again = " (taken apart above)" if self.above else ""
        return f"{'   ' * self.depth}{self.id}{value}   {self.how}{again}".rstrip()


def trace(id: str, whole: Whole) -> Iterator[Line]:
    """A result, input or claim, and all it rests on, each once; deepest first met, in order.

    Raises: Wrong when nothing is called so.
    """
    if id in whole.book.claims:
        claim = whole.judgement.claims[id]
        verdict = claim.verdict or "not computed"
        yield Line(0, id, verdict, f"'{claim.claim.says.text}', said by {claim.claim.source}")
        seen: set[str] = set()
        for of in filter(None, (claim.of, claim.than)):
            yield from _below(of, whole, 1, seen)
        return
    if "." not in id:
        raise Wrong("reference", f"'{id}' names no value; write it in full, as in id.name")
    found = Targets(whole.book, whole.plan, whole.computation).find(id, whole.book.pages[0])
    if solved := whole.computation.solved.get(found):
        values = " or ".join(f"{value:.6g} {solved.unit.text}".rstrip() for value in solved.values)
        yield Line(0, id, values, "[solved for, all else as stated]")
        wish = next(each for each in whole.book.calcs[found.partition(".")[0]].solve
                    if each.unknown == solved.name)  # fmt: skip
        yield from _below(f"{found.partition('.')[0]}.{wish.result}", whole, 1, set())
        return
    if found not in whole.plan.nodes:
        raise Wrong("numeric", f"'{id}' could not be computed; mend what check reports first")
    yield from _below(found, whole, 0, set())


def _below(id: str, whole: Whole, depth: int, seen: set[str]) -> Iterator[Line]:
    node = whole.plan.nodes[id]
    while isinstance(node, Alias):
        node = whole.plan.nodes[node.of]
    needs = whole.plan.needs[node.id]
    again = bool(needs) and node.id in seen
    yield Line(depth, node.id, value_text(node.id, whole), how(node, whole), again)
    if again:
        return
    seen.add(node.id)
    for need in needs:
        yield from _below(need, whole, depth + 1, seen)


def value_text(id: str, whole: Whole) -> str:
    """A value as it would be filled in on a page, or nothing where there is none."""
    node = whole.plan.nodes[id]
    if isinstance(node, Root) and node.input:
        return node.quantity.text
    result = whole.computation.results.get(id)
    return filled(result).replace("\u202f", " ") if result else ""


def how(node: PlanNode, whole: Whole) -> str:
    """Where a node's value comes from: its formula, procedure, log or source."""
    if isinstance(node, Computed) and node.block in whole.computation.reconciliations:
        return f"[{_weights(node.block, whole)}]"
    if isinstance(node, Computed):
        return f"[{_OWN_BLOCK.sub('', spelled(node.tree))}]"
    if isinstance(node, Run):
        return f"[procedure {node.procedure}]"
    if isinstance(node, Column):
        return f"[column {node.column} of {node.log}]"
    if isinstance(node, Root):
        return _source_text(node, whole)
    return ""


def _weights(block: str, whole: Whole) -> str:
    found = whole.computation.reconciliations[block]
    parts = zip(found.names, found.combined.weights, strict=True)
    return "weighted: " + ", ".join(f"{name} {100 * weight:.3g} %" for name, weight in parts)


def _source_text(root: Root, whole: Whole) -> str:
    item = root.input
    if item is None:
        return "what the estimates' disagreement adds" if root.block in whole.book.estimates else ""
    kind = kind_of(item, whole.book)
    reason = f": {item.because}" if item.because else ""
    named = item.source if item.source == kind else f"{item.source} ({kind})"
    source = whole.book.sources.get(item.source)
    title = f", {source.title}" if source and source.place.file else ""
    return f"{named or KINDS.get(kind, kind)}{title}{reason}"
