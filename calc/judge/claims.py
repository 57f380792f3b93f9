"""Claims: how probable it is that a statement is true, what that decides, what it turns on."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from calc.book.model import Claim
from calc.engine.conformity import Region, probability, verdict
from calc.engine.evaluate import NotComputed, values_of
from calc.judge.compared import ITSELF, Compared, compared_by
from calc.judge.flips import flips
from calc.judge.sampler import Sampler
from calc.judge.targets import Targets
from calc.judge.verdicts import JudgedClaim
from calc.notation.units import unit
from calc.problems import Problem, Wrong


def judge_claims(targets: Targets) -> Iterator[tuple[JudgedClaim, Problem | None]]:
    """Every claim of a book against what was computed, with the problem it makes, if any."""
    sampler = Sampler(targets)
    for claim in targets.book.claims.values():
        try:
            compared = compared_by(claim, targets)
            if compared is not None:
                yield _judge(claim, compared, targets, sampler)
                continue
            problem = None
        except (Wrong, NotComputed) as error:
            kind = error.kind if isinstance(error, Wrong) else "numeric"
            problem = Problem(claim.place.file, claim.place.line, kind, str(error))
        yield _silent(claim), problem


def _silent(claim: Claim) -> JudgedClaim:
    """A claim of something that could not be computed, which is said elsewhere."""
    return JudgedClaim(
        claim, claim.of, claim.than, unit("1"), Region(), None, None, None, None, None
    )


def _judge(
    claim: Claim, compared: Compared, targets: Targets, sampler: Sampler
) -> tuple[JudgedClaim, Problem | None]:
    value, interval, sure, uncertain = (
        _of_result(compared, targets)
        if compared.way == ITSELF
        else _of_draws(compared, targets, sampler)
    )
    limits = targets.book.settings
    found = verdict(sure, limits.holds_from, limits.fails_up_to)
    judged = JudgedClaim(
        claim,
        compared.targets[0],
        compared.targets[1] if len(compared.targets) > 1 else "",
        compared.unit,
        compared.region,
        value,
        interval,
        sure,
        found,
        found == claim.verdict,
        uncertain,
        flips(compared, targets, labels_of(compared, targets)),
    )
    return judged, None if judged.agrees else _drift(judged)


def labels_of(compared: Compared, targets: Targets) -> dict[str, str]:
    """Root by name: as the first result has them, then those that only the second has."""
    labels: dict[str, str] = {}
    for id in compared.targets:
        inputs = targets.computation.results[targets.plan.target(id)].inputs
        for name, root in inputs.items():
            if root not in labels.values():
                labels[root if name in labels else name] = root
    return labels


Found = tuple[float, tuple[float, float], float, bool]
"""A value, its 95 % interval, the probability that the statement is true, whether uncertain."""


def _of_result(compared: Compared, targets: Targets) -> Found:
    result = targets.computation.results[targets.plan.target(compared.targets[0])]
    value, *ends = (
        compared.unit.from_base(result.unit.to_base(number))
        for number in (result.value, *result.interval)
    )
    low, high = (
        result.unit.from_base(compared.unit.to_base(limit))
        for limit in (compared.region.low, compared.region.high)
    )
    sure = result.probability_within(low, high)
    return value, (ends[0], ends[1]), sure, result.uncertain


def _of_draws(compared: Compared, targets: Targets, sampler: Sampler) -> Found:
    """Two results drawn together, so that what they share does not count twice."""
    plan, logs = targets.plan, targets.book.logs
    nominal = float(compared.value(values_of(compared.targets, {}, plan, logs)))
    draws = sampler.row(compared.value(sampler.values(compared.targets)))
    if not np.isfinite(nominal) or not np.all(np.isfinite(draws)):
        raise NotComputed(f"{' over '.join(compared.targets)} has no value; is the second zero?")
    low, high = np.quantile(draws, [0.025, 0.975])
    sure = probability(draws, compared.region)
    return nominal, (float(low), float(high)), sure, bool(np.ptp(draws) > 0)


def _drift(judged: JudgedClaim) -> Problem:
    claim = judged.claim
    assert judged.probability is not None
    return Problem(
        claim.place.file,
        claim.place.line,
        "drift",
        f"'{claim.verdict}' is stated of {claim.id}, but '{claim.says.text}' is true with a"
        f" probability of {100 * judged.probability:.1f} %; 'verdict: {judged.verdict}' would"
        " agree, and the prose that relies on it may need mending",
    )
