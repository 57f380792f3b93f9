"""Every verdict of the site's own pages: recomputed, and a flipped one never passes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

from calc.book.evidence import AGREEMENTS, VERDICTS
from calc.judge.claims import judge_claims
from calc.judge.estimates import judge_estimates
from calc.judge.targets import Targets
from calc.whole import Whole, work_through
from tests.helpers import ROOT


@cache
def site() -> Whole:
    return work_through(ROOT / "content", ROOT / "site_data")


def others(stated: str, known: tuple[str, ...]) -> Iterator[str]:
    return (each for each in known if each != stated)


def test_no_claim_passes_with_another_verdict() -> None:
    whole = site()
    claims = whole.book.claims
    assert len(claims) > 20
    for turn in range(len(VERDICTS) - 1):
        flipped = {
            id: replace(claim, verdict=list(others(claim.verdict, VERDICTS))[turn])
            for id, claim in claims.items()
        }
        book = replace(whole.book, claims=flipped)
        found = list(judge_claims(Targets(book, whole.plan, whole.computation)))
        passed = [each.claim.id for each, problem in found if not problem]
        assert not passed
        assert {problem.kind for _, problem in found if problem} == {"drift"}


def test_no_estimates_pass_with_another_verdict() -> None:
    whole = site()
    for each in whole.judgement.estimates.values():
        assert each.found is not None
        answer = AGREEMENTS[0] if each.found.consistent else AGREEMENTS[1]
        for verdict in AGREEMENTS:
            stated = replace(each.estimates, verdict=verdict)
            judged, problems = judge_estimates(stated, whole.plan, whole.computation)
            assert judged.agrees is (verdict == answer)
            assert bool(problems) is (verdict != answer)
