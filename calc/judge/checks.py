"""Checks of methods: the expected value as printed, against the method's own formula."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from calc.book.model import Book, Check, Method
from calc.book.plan import Plan, Root
from calc.engine.evaluate import NotComputed, values_of
from calc.engine.results import Computation, Result
from calc.judge.agree import agreement
from calc.judge.targets import Targets, several
from calc.judge.verdicts import JudgedCheck
from calc.notation.quantity import last_place
from calc.notation.statement import parse_statement
from calc.problems import Problem, Wrong, nearest


@dataclass(frozen=True)
class _Expected:
    """One value that one check of a method expects."""

    method: Method
    check: Check
    block: str
    name: str
    text: str

    @property
    def id(self) -> str:
        return f"{self.block}.{self.name}"


def judge_checks(
    book: Book, plan: Plan, computation: Computation
) -> Iterator[tuple[JudgedCheck | None, Problem | None]]:
    """Every expected value of every check, with the problem it makes, if any."""
    targets = Targets(book, plan, computation)
    for expected in _all_expected(book):
        try:
            yield _judge(expected, targets)
        except (Wrong, NotComputed) as error:
            kind = error.kind if isinstance(error, Wrong) else "numeric"
            place = expected.check.place
            yield None, Problem(place.file, place.line, kind, str(error))


def _all_expected(book: Book) -> Iterator[_Expected]:
    for method in book.methods.values():
        for number, check in enumerate(method.checks, start=1):
            for name, text in check.gives.items():
                yield _Expected(method, check, f"{method.id}#{number}", name, text)


def _judge(expected: _Expected, targets: Targets) -> tuple[JudgedCheck | None, Problem | None]:
    result = _result(expected, targets)
    if result is None:
        return None, None
    check = expected.check
    within = f"within {check.within}" if check.within else ""
    outcome = agreement(parse_statement(expected.text), result, within)
    agrees = outcome.agrees or (check.rounded and _agrees_as_rounded(result, expected, targets))
    source = targets.book.sources.get(check.source)
    judged = JudgedCheck(
        expected.method.id,
        check,
        expected.name,
        {key: quantity.text for key, quantity in check.given.items()}
        | {key: f"{column} in {log}" for key, (log, column) in check.columns.items()},
        expected.text,
        outcome.recomputed,
        agrees,
        check.source,
        check.mark or (source.mark if source else ""),
    )
    return judged, None if agrees else _failed(judged)


def _result(expected: _Expected, targets: Targets) -> Result | None:
    """What the method gives there, or None when it could not, which is said where it stands.

    Raises: Wrong when the method has no such step, or the step has several results.
    """
    plan, head = targets.plan, expected.name.partition(".")[0]
    known = [step.name for step in expected.method.steps]
    if plan.names_one(expected.id):
        return targets.computation.results.get(expected.id)
    if plan.below(expected.id):
        raise several(expected.id, plan)
    if head in known and not plan.has(f"{expected.block}.{head}"):
        return None
    hint = nearest(expected.name, known)
    raise Wrong("reference", f"{expected.method.id} has no step '{expected.name}'{hint}")


def _failed(judged: JudgedCheck) -> Problem:
    check = judged.check
    message = (
        f"the check of {judged.method} expects {judged.name} = {judged.expected},"
        f" {judged.computed} is computed (source: {check.source}); mend the formula, or the check"
        " if it was copied wrongly"
    )
    return Problem(check.place.file, check.place.line, "check", message)


def _agrees_as_rounded(result: Result, expected: _Expected, targets: Targets) -> bool:
    """Whether the rounding of the given values explains the difference.

    Each given value may lie half a unit of its last digit to either side.
    """
    plan, said = targets.plan, parse_statement(expected.text)
    reach = 0.0
    for root in plan.roots[result.id]:
        node = plan.nodes[root]
        if isinstance(node, Root) and "#" in node.block and node.quantity.digits:
            half = float(last_place(node.quantity.digits)) / 2 * node.unit.factor
            ends = values_of(
                [result.id],
                {root: node.quantity.base + np.array([-half, 0.0, half])},
                plan,
                targets.book.logs,
            )[result.id]
            ends = np.broadcast_to(np.asarray(ends), (3,))
            reach += float(np.abs(ends - ends[1]).max())
    half = reach / said.unit.factor + float(said.place()) / 2
    stated = said.numbers[0]
    value = said.unit.from_base(result.unit.to_base(result.value))
    return bool(abs(stated - value) <= half)
