"""Estimates side by side: each as it stands, what they say together, and whether they can."""

from __future__ import annotations

from collections.abc import Iterable

from calc.book.evidence import AGREEMENTS
from calc.book.model import Estimate, Estimates
from calc.book.plan import Plan, Root
from calc.book.pool import COMBINED
from calc.engine.agreement import can_they_all_be_right
from calc.engine.conformity import Region
from calc.engine.results import Computation
from calc.judge.compared import region_of
from calc.judge.verdicts import JudgedEstimates, Member
from calc.notation.units import Unit, shown_as, unit
from calc.problems import Problem, Wrong

CONSISTENT, INCONSISTENT = AGREEMENTS


def judge_estimates(
    estimates: Estimates, plan: Plan, computation: Computation
) -> tuple[JudgedEstimates, list[Problem]]:
    """One block of estimates, with what is wrong: a bound that does not fit, a stated verdict
    that is not the recomputed one."""
    node = plan.nodes.get(f"{estimates.id}.{COMBINED}")
    found = computation.reconciliations.get(estimates.id)
    scale = node.unit if node else unit("1")
    members: list[Member] = []
    problems: list[Problem] = []
    for each in estimates.values if node else ():
        try:
            members.append(_member(each, estimates.id, scale, plan, computation))
        except Wrong as error:
            problems.append(error.at(each.input.place.file, each.input.place.line))
    sentence, agrees = "", None
    if found:
        titles = {each.name: each.label for each in members}
        sentence = can_they_all_be_right(found, titles)
        answer = CONSISTENT if found.consistent else INCONSISTENT
        agrees = answer == estimates.verdict if estimates.verdict else None
        if agrees is False:
            problems.append(_drift(estimates, answer, sentence))
    return JudgedEstimates(estimates, scale, tuple(members), found, sentence, agrees), problems


def all_estimates(
    estimates: Iterable[Estimates], plan: Plan, computation: Computation
) -> tuple[tuple[JudgedEstimates, ...], list[Problem]]:
    """Every block of a book, and all that is wrong with them."""
    judged = [judge_estimates(each, plan, computation) for each in estimates]
    return tuple(each for each, _ in judged), [one for _, found in judged for one in found]


def _member(
    each: Estimate, block: str, scale: Unit, plan: Plan, computation: Computation
) -> Member:
    name = each.input.name
    label = name.replace("_", " ")
    if each.bound is not None:
        shown = shown_as(scale.dimension, each.bound.unit)
        if shown is None:
            message = f"'{each.bound.text}' is not of the kind of the others, which are in"
            raise Wrong("dimension", f"{message} '{scale.text}'")
        region = _in(region_of(each.bound, shown), shown, scale)
        return Member(name, label, each.input.source, bound=each.bound.text, region=region)
    id = plan.target(f"{block}.{name}") if f"{block}.{name}" in plan.nodes else ""
    result = computation.results.get(id)
    node = plan.nodes.get(id)
    source = node.input.source if isinstance(node, Root) and node.input else ""
    if result is None:
        return Member(name, label, source)
    low, high = (scale.from_base(result.unit.to_base(end)) for end in result.interval)
    return Member(
        name,
        label,
        source,
        scale.from_base(result.unit.to_base(result.value)),
        result.standard_uncertainty * result.unit.factor / scale.factor,
        (low, high),
    )


def _in(region: Region, own: Unit, scale: Unit) -> Region:
    return Region(*(scale.from_base(own.to_base(end)) for end in (region.low, region.high)))


def _drift(estimates: Estimates, answer: str, sentence: str) -> Problem:
    return Problem(
        estimates.place.file,
        estimates.place.line,
        "drift",
        f"'{estimates.verdict}' is stated of {estimates.id}, but they are {answer}: {sentence}"
        f" 'verdict: {answer}' would agree, and the prose that relies on it may need mending",
    )
