"""What to measure next: which single input, known how much better, would decide a claim.

Nothing is read off shares alone: every answer comes from recomputing with the input's deviations
from its nominal value made smaller.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from itertools import islice
from typing import Any

import numpy as np

from calc.book.evidence import UNDECIDED
from calc.book.model import Question
from calc.engine.conformity import probability, verdict
from calc.engine.evaluate import NotComputed
from calc.judge.claims import labels_of
from calc.judge.compared import Compared, compared_by
from calc.judge.sampler import Sampler
from calc.judge.targets import Targets
from calc.judge.verdicts import Improvement, JudgedClaim, JudgedQuestion, Undecided

FACTORS = (0.5, 0.25, 0.125, 0.0625)
"""How much smaller an uncertainty is tried, in this order, before a perfect measurement."""

_MATTERS = 0.01
"""Inputs that bring less of the variance than this are not worth measuring better."""


def undecided(
    claims: Iterable[JudgedClaim], questions: Mapping[str, Question], targets: Targets
) -> tuple[Undecided, ...]:
    """Every undecided claim with what would decide it; the easiest to decide first."""
    sampler = Sampler(targets)
    found = [
        _undecided(claim, questions, targets, sampler)
        for claim in claims
        if claim.verdict == UNDECIDED
    ]
    return tuple(sorted(found, key=_ease))


def judge_questions(
    questions: Iterable[Question], open_claims: Sequence[Undecided], targets: Targets
) -> tuple[JudgedQuestion, ...]:
    """Every question with its undecided claims, and what halving one uncertainty would bring."""
    sampler = Sampler(targets)
    by_id = {each.claim.claim.id: each for each in open_claims}
    return tuple(
        JudgedQuestion(
            question,
            tuple(by_id[id] for id in question.of if id in by_id),
            {id: gains(id, targets, sampler) for id in question.of if id in targets.plan.nodes},
        )
        for question in questions
    )


def gains(id: str, targets: Targets, sampler: Sampler) -> tuple[Improvement, ...]:
    """What halving the uncertainty of one input at a time would leave of a result's own."""
    result = targets.computation.results.get(targets.plan.target(id))
    if result is None or not result.uncertain:
        return ()
    names = {root: name for name, root in result.inputs.items()}
    try:
        shares = _shares([id], lambda better: sampler.values([id], better)[id], sampler)
        return tuple(
            Improvement(
                names.get(root, root),
                root,
                0.5,
                share,
                standard_uncertainty=float(np.std(sampler.values([id], {root: 0.5})[id]))
                / result.unit.factor,
            )
            for root, share in shares.items()
        )
    except NotComputed:
        return ()


def _undecided(
    judged: JudgedClaim, questions: Mapping[str, Question], targets: Targets, sampler: Sampler
) -> Undecided:
    compared = compared_by(judged.claim, targets)
    assert compared is not None  # an undecided claim was computed
    asked = tuple(
        question.id
        for question in questions.values()
        if {judged.claim.id, judged.claim.of, judged.of} & set(question.of)
    )
    names = {root: name for name, root in labels_of(compared, targets).items()}
    ids = compared.targets
    shares = _shares(ids, lambda known: compared.value(sampler.values(ids, known)), sampler)
    improvements = [
        better
        for root, share in shares.items()
        if (better := _enough(compared, root, names.get(root, root), share, targets, sampler))
    ]
    improvements.sort(key=lambda each: (-each.factor, -each.share, each.root))
    first = next(iter(shares), None)
    largest = first and Improvement(names.get(first, first), first, 1.0, shares[first])
    return Undecided(judged, asked, tuple(improvements), largest or None)


def _enough(
    compared: Compared, root: str, name: str, share: float, targets: Targets, sampler: Sampler
) -> Improvement | None:
    """The least improvement of one input that decides; None when even a perfect one does not."""
    perfect = _with(compared, root, name, share, 0.0, targets, sampler)
    if perfect is None:
        return None
    tried = (_with(compared, root, name, share, part, targets, sampler) for part in FACTORS)
    return next((better for better in tried if better is not None), perfect)


def _with(
    compared: Compared,
    root: str,
    name: str,
    share: float,
    factor: float,
    targets: Targets,
    sampler: Sampler,
) -> Improvement | None:
    """What one improvement decides, or None when it decides nothing."""
    try:
        found = compared.value(sampler.values(compared.targets, {root: factor}))
    except NotComputed:
        return None
    sure = probability(sampler.row(found), compared.region)
    limits = targets.book.settings
    decided = verdict(sure, limits.holds_from, limits.fails_up_to)
    if decided == UNDECIDED:
        return None
    return Improvement(name, root, factor, share, sure, decided)


def _shares(
    ids: Sequence[str], reckon: Callable[[Mapping[str, float]], Any], sampler: Sampler
) -> dict[str, float]:
    """The part of a variance that goes when one input is known perfectly, largest first.

    Parameters: reckon, the draws when some inputs are known better.
    """
    whole = float(np.var(reckon({})))
    if not whole:
        return {}
    found = {root: 1 - float(np.var(reckon({root: 0.0}))) / whole for root in sampler.varied(ids)}
    ranked = sorted(found, key=lambda root: (-found[root], root))
    return {root: found[root] for root in ranked if found[root] >= _MATTERS}


def _ease(each: Undecided) -> tuple[float, str]:
    best = next(islice(each.improvements, 1), None)
    return (-best.factor if best else 1.0), each.claim.claim.id
