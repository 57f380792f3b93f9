"""Drift is noticed: every stated number of the site moved, and every input behind it.

No mutant may survive, and the site as it stands is clean. The tests grow with the site.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

import pytest

from calc.book.evidence import AGREEMENTS, VERDICTS
from calc.book.model import Check, Method
from calc.book.plan import Root
from calc.judge.agree import in_unit
from calc.judge.checks import judge_checks
from calc.judge.claims import judge_claims
from calc.judge.estimates import judge_estimates
from calc.judge.figures import judge_figures
from calc.judge.targets import Targets
from calc.notation.statement import AT_LEAST, AT_MOST, parse_statement
from calc.whole import work_through
from tests.cut_down import Mutant
from tests.helpers import ROOT
from tests.mutants import MOVES, NOMINAL, Site, Stated, with_texts
from tests.text_mutants import limit_mutant, text_mutants

Tally = Callable[[str], None]
pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def site() -> Site:
    """The site as it stands, worked through once."""
    return Site(work_through(ROOT / "content", ROOT / "site_data"))


def test_the_site_as_it_stands_is_clean(site: Site) -> None:
    assert not [str(each) for each in site.whole.problems if each.severity == "error"]
    assert len(site.stated) > 100


def test_every_stated_digit_moved_is_noticed(site: Site, tally: Tally) -> None:
    mutants = {each: _texts(site, each) for each in site.stated}
    survivors: list[str] = []
    for number in range(max(map(len, mutants.values()))):
        texts = {each.key: own[number] for each, own in mutants.items() if number < len(own)}
        agreeing = _agreeing(site, texts)
        survivors += [f"{key[0]}: '{texts[key]}'" for key in texts if key in agreeing]
    count = sum(map(len, mutants.values()))
    tally(f"digits: {count} mutants of {len(mutants)} figures, {len(survivors)} survive")
    assert not survivors


def _texts(site: Site, stated: Stated) -> list[str]:
    value = in_unit(site.result(stated), site.result(stated).value, site.scale(stated))
    if stated.said.form in (AT_LEAST, AT_MOST):
        return [limit_mutant(stated.said, value)]
    return list(text_mutants(stated.said, site.half(stated), value))


def _agreeing(site: Site, texts: Mapping[tuple[str, int], str]) -> set[tuple[str, int]]:
    book = with_texts(site.whole.book, texts)
    found = site.whole.computation
    judged = list(judge_figures(Targets(book, found.plan, found)))
    assert len(judged) == len(texts)
    return {(one.page, one.figure.start) for one, problem in judged if problem is None}


def test_every_input_moved_is_noticed_in_exactly_the_figures_that_rest_on_it(
    site: Site, tally: Tally
) -> None:
    survivors: list[str] = []
    idle: list[str] = []
    pairs = runs = untouched = 0
    for root, resting in site.roots.items():
        places, must = site.moves(root, resting)
        for exact in (True, False):
            waiting = {e for e in resting if must[e].any() and (e.said.form in NOMINAL) == exact}
            pairs += len(waiting)
            while waiting:
                at = max(range(len(MOVES)), key=lambda k: sum(must[each][k] for each in waiting))
                asked = {each for each in waiting if must[each][at]}
                mutant = Mutant(site, resting, root, float(places[at]), exact)
                found = mutant.reported(site.nominal_figures if exact else asked)
                survivors += [f"{root}: {each.name} is not reported" for each in asked - found]
                astray = found - set(resting)
                survivors += [f"{root}: {each.name} does not rest on it" for each in astray]
                waiting -= asked
                runs += 1
        still = [each for each in resting if not must[each].any()]
        moved = {each for each in still if site.weighed(each) and _reweighed(site, root, each)}
        pairs += len(moved)
        left = [each for each in still if each not in moved]
        apart = {each for each in left if site.untouched(root, places, each)}
        untouched += len(apart)
        idle += [f"{root}: {each.name}" for each in left if each not in apart]
    tally(
        f"inputs: {pairs} mutants ({len(site.roots)} inputs behind figures, {runs} runs),"
        f" {len(survivors)} survive; {untouched} pairs in which a procedure does not use the input"
        f" for the figure, {len(idle)} that no move brings to matter"
    )
    assert not survivors
    assert len(idle) <= pairs / 20, idle


def _reweighed(site: Site, root: str, stated: Stated) -> bool:
    """Whether some move of an input is noticed in a figure on how estimates weigh."""
    node = site.whole.computation.plan.nodes[root]
    assert isinstance(node, Root)
    own = node.quantity.base - node.unit.offset
    moves = (Mutant(site, (stated,), root, node.quantity.base + own * by) for by in (0.1, -0.1))
    return any(stated in mutant.reported([stated]) for mutant in moves)


def test_every_verdict_flipped_is_noticed(site: Site, tally: Tally) -> None:
    book, found = site.whole.book, site.whole.computation
    survivors: list[str] = []
    count = 0
    for turn in (1, 2):
        flipped = {
            id: replace(claim, verdict=VERDICTS[(VERDICTS.index(claim.verdict) + turn) % 3])
            for id, claim in book.claims.items()
        }
        judged = judge_claims(Targets(replace(book, claims=flipped), found.plan, found))
        survivors += [one.claim.id for one, problem in judged if problem is None]
        count += len(flipped)
    for each in book.estimates.values():
        if each.verdict:
            other = AGREEMENTS[1 - AGREEMENTS.index(each.verdict)]
            _, problems = judge_estimates(replace(each, verdict=other), found.plan, found)
            survivors += [each.id] * (not problems)
            count += 1
    tally(f"verdicts: {count} mutants, {len(survivors)} survive")
    assert count and not survivors


def test_every_digit_of_a_check_moved_is_noticed(site: Site, tally: Tally) -> None:
    """Checks that allow more than their last digit are left as they are."""
    found = site.whole.computation
    survivors: list[str] = []
    count = 0
    for number in (0, 1):
        methods = {
            id: _with_wrong_checks(each, number) for id, each in site.whole.book.methods.items()
        }
        moved = replace(site.whole.book, methods=methods)
        for judged, problem in judge_checks(moved, found.plan, found):
            if judged is not None and _binds(judged.check):
                count += 1
                survivors += [f"{judged.method}: {judged.expected}"] * (problem is None)
    tally(f"checks of methods: {count} mutants, {len(survivors)} survive")
    assert count and not survivors


def _with_wrong_checks(method: Method, number: int) -> Method:
    return replace(method, checks=tuple(_wrong(each, number) for each in method.checks))


def _wrong(check: Check, number: int) -> Check:
    if not _binds(check):
        return check
    moved = {
        name: list(text_mutants(parse_statement(text), 0))[number]
        for name, text in check.gives.items()
    }
    return replace(check, gives=moved)


def _binds(check: Check) -> bool:
    return not check.rounded and not check.within
