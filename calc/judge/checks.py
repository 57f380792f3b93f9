"""Checks of methods: the expected value as printed, against the method's own formula."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from calc.book.model import Book, Check, Method
from calc.book.plan import Plan, Root
from calc.engine.evaluate import NotComputed, values_of
from calc.engine.results import Computation, Result
from calc.judge.agree import agreement
from calc.judge.verdicts import JudgedCheck
from calc.notation.quantity import last_place
from calc.notation.statement import parse_statement
from calc.problems import Problem, Wrong, nearest


def judge_checks(
    book: Book, plan: Plan, computation: Computation
) -> Iterator[tuple[JudgedCheck | None, Problem | None]]:
    """Every expected value of every check, with the problem it makes, if any."""
    for method in book.methods.values():
        for number, check in enumerate(method.checks, start=1):
            for name, expected in check.gives.items():
                id = f"{method.id}#{number}.{name}"
                try:
                    yield _judge(book, plan, computation, method, check, name, expected, id)
                except (Wrong, NotComputed) as error:
                    kind = error.kind if isinstance(error, Wrong) else "numeric"
                    place = check.place
                    yield None, Problem(place.file, place.line, kind, str(error))


def _judge(
    book: Book,
    plan: Plan,
    computation: Computation,
    method: Method,
    check: Check,
    name: str,
    expected: str,
    id: str,
) -> tuple[JudgedCheck | None, Problem | None]:
    if id not in plan.nodes:
        known = [step.name for step in method.steps]
        if name.partition(".")[0] in known:
            return None, None
        raise Wrong("reference", f"{method.id} has no step '{name}'{nearest(name, known)}")
    result = computation.results.get(id)
    if result is None:
        return None, None
    said = parse_statement(expected)
    outcome = agreement(said, result, f"within {check.within}" if check.within else "")
    agrees = outcome.agrees
    if not agrees and check.rounded:
        agrees = _agrees_as_rounded(result, expected, plan, book, check)
    source = book.sources.get(check.source)
    judged = JudgedCheck(
        method.id,
        check,
        name,
        {key: quantity.text for key, quantity in check.given.items()}
        | {key: f"{column} in {log}" for key, (log, column) in check.columns.items()},
        expected,
        outcome.recomputed,
        agrees,
        check.source,
        check.mark or (source.mark if source else ""),
    )
    if agrees:
        return judged, None
    message = (
        f"the check of {method.id} expects {name} = {expected}, {outcome.recomputed} is computed"
        f" (source: {check.source}); mend the formula, or the check if it was copied wrongly"
    )
    return judged, Problem(check.place.file, check.place.line, "check", message)


def _agrees_as_rounded(result: Result, expected: str, plan: Plan, book: Book, check: Check) -> bool:
    """Whether the rounding of the given values explains the difference.

    Each given value may lie half a unit of its last digit to either side.
    """
    said = parse_statement(expected)
    reach = 0.0
    for root in plan.roots[result.id]:
        node = plan.nodes[root]
        if isinstance(node, Root) and "#" in node.block and node.quantity.digits:
            half = float(last_place(node.quantity.digits)) / 2 * node.unit.factor
            ends = values_of(
                [result.id],
                {root: node.quantity.base + np.array([-half, 0.0, half])},
                plan,
                book.logs,
            )[result.id]
            ends = np.broadcast_to(np.asarray(ends), (3,))
            reach += float(np.abs(ends - ends[1]).max())
    half = reach / said.unit.factor + float(said.place()) / 2
    stated = said.numbers[0]
    value = said.unit.from_base(result.unit.to_base(result.value))
    return bool(abs(stated - value) <= half)
