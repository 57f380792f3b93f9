"""Claims: verdicts of known probability, what they turn on, and what would decide them."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from scipy.stats import norm, triang, uniform

from calc.judge.verdicts import JudgedClaim
from calc.whole import Whole
from tests.helpers import calc_page, work

SETTINGS = "holds_from: 60 %\nfails_up_to: 40 %\n"


def block(says: str, verdict: str = "holds", of: str = "trial.result", than: str = "") -> str:
    lines = ["```yaml claim", "id: said", "source: bench", f'says: "{says}"', f"of: {of}"]
    lines += [f"than: {than}"] if than else []
    return "\n".join(["", *lines, f"verdict: {verdict}", "```", ""])


def claimed(
    folder: Path, inputs: dict[str, str], formula: str, claim: str, settings: str = ""
) -> Whole:
    page = calc_page(inputs, {"result": formula}) + claim
    return work(folder, {"trial.md": page}, {"settings.yml": settings} if settings else None)


def judged(whole: Whole) -> JudgedClaim:
    return whole.judgement.claims["said"]


# JCGM 106's conformance probability, Φ((y − T)/u) and its like, worked out with SciPy's
# distributions; the input is the quantity itself, so its draws are the distribution's strata.
NORMAL = norm(507, 8)
KNOWN = [
    ("507 ± 16 V", "at least 490 V", NORMAL.sf(490)),
    ("507 ± 16 V", "at most 0.49 kV", NORMAL.cdf(490)),
    ("507 ± 16 V", "500 to 515 V", NORMAL.cdf(515) - NORMAL.cdf(500)),
    ("507 ± 16 V", "510 ± 5 V", NORMAL.cdf(515) - NORMAL.cdf(505)),
    ("507 ± 16 V", "about 500 V within 2 %", NORMAL.cdf(510) - NORMAL.cdf(490)),
    ("507 ± 16 V", "about 500 V within 10 V", NORMAL.cdf(510) - NORMAL.cdf(490)),
    ("507 ± 16 V", "over 520 V", NORMAL.sf(520)),
    ("400 to 500 V", "up to 480 V", uniform(400, 100).cdf(480)),
    ("400 to 500 V, likely 480 V", "at least 460 V", triang(0.8, 400, 100).sf(460)),
]


@pytest.mark.parametrize(("value", "says", "expected"), KNOWN)
def test_a_known_probability_is_found(
    tmp_path: Path, value: str, says: str, expected: float
) -> None:
    found = judged(claimed(tmp_path, {"x": value}, "x * 1 in V", block(says)))
    assert found.probability == pytest.approx(expected, abs=0.001)  # kept as 1001 quantiles
    wanted = "holds" if expected >= 0.95 else "does not hold" if expected <= 0.05 else "undecided"
    assert found.verdict == wanted


@pytest.mark.parametrize(
    ("says", "wanted"),
    [("at least 74 V", "holds"), ("at most 74 V", "holds"), ("at least 74.01 V", "does not hold"),
     ("74 V", "holds"), ("73.4 V", "does not hold")],
)  # fmt: skip
def test_a_value_without_uncertainty_is_sure(tmp_path: Path, says: str, wanted: str) -> None:
    found = judged(claimed(tmp_path, {"x": "74 V"}, "x * 1 in V", block(says)))
    assert found.verdict == wanted
    assert not found.uncertain


def test_a_result_heaped_on_its_limit_meets_it(tmp_path: Path) -> None:
    """Half of the draws of min(x, 100) are 100 itself."""
    inputs = {"x": "100 ± 2 V", "most": "100 V"}
    found = judged(claimed(tmp_path, inputs, "min(x, most) in V", block("at least 100 V")))
    assert found.probability == pytest.approx(0.5, abs=0.001)


TWO = {"x": "80 ± 8 V", "y": "100 ± 8 V"}


@pytest.mark.parametrize(
    ("says", "of", "than", "value"),
    [
        ("at least 1.2 times", "trial.y", "trial.result", 1.25),
        ("at least 20 % more", "trial.y", "trial.result", 25.0),
        ("at least 15 % less", "trial.result", "trial.y", -20.0),
        ("at least 10 V less than the other", "trial.result", "trial.y", -20.0),
        ("at most 90 %", "trial.result", "trial.y", 80.0),
        ("about 20 % less within 10 %", "trial.result", "trial.y", -20.0),
    ],
)
def test_one_result_against_another(
    tmp_path: Path, says: str, of: str, than: str, value: float
) -> None:
    claim = block(says, of=of, than=than)
    found = judged(claimed(tmp_path, TWO, "x * 1 in V", claim))
    assert found.value == pytest.approx(value)
    assert found.region.low <= value <= found.region.high


def test_what_two_results_share_does_not_count_twice(tmp_path: Path) -> None:
    """x and 1.3 x differ by 30 % whatever x is."""
    claim = block("at least 29 % more", of="trial.result", than="trial.x")
    found = judged(claimed(tmp_path, {"x": "80 ± 60 V"}, "x * 1.3 in V", claim))
    assert found.probability == 1
    assert found.interval == pytest.approx((30.0, 30.0))


def test_a_verdict_that_is_not_the_recomputed_one_is_drift(tmp_path: Path) -> None:
    claim = block("at least 490 V", "undecided")
    whole = claimed(tmp_path, {"x": "507 ± 16 V"}, "x * 1 in V", claim)
    assert [problem.kind for problem in whole.problems] == ["drift"]
    assert "'verdict: holds' would agree" in whole.problems[0].message
    assert whole.problems[0].line == whole.book.claims["said"].place.line


def test_the_limits_are_a_setting(tmp_path: Path) -> None:
    claim = block("at least 504 V")
    page = {"x": "507 ± 16 V"}
    assert judged(claimed(tmp_path / "a", page, "x * 1 in V", claim)).verdict == "undecided"
    found = claimed(tmp_path / "b", page, "x * 1 in V", claim, SETTINGS)
    assert judged(found).verdict == "holds"
    assert not found.problems


@pytest.mark.parametrize(
    ("settings", "words"),
    [
        ("holds_form: 95 %\n", "did you mean holds_from"),
        ("holds_from: 95 V\n", "is a share such as 95 %"),
        ("holds_from: 3 %\n", "fails_up_to must lie below holds_from"),
    ],
)
def test_settings_are_read_strictly(tmp_path: Path, settings: str, words: str) -> None:
    whole = claimed(tmp_path, {"x": "1 V"}, "x * 1 in V", "", settings)
    assert [words in problem.message for problem in whole.problems] == [True]
    assert whole.problems[0].file == "site_data/settings.yml"


# (formula, input, statement, where the nominal value of the result meets its limit), exact
FLIPS = [
    ("x * y in V^2", "x", "at least 8800 V^2", 88.0),
    ("x ** 2 / y in V", "x", "at most 70 V", 7000**0.5),
    ("y * exp(-(x / y)) in V", "x", "at least 40 V", -100 * np.log(0.4)),
    ("sqrt(y ** 2 - (x / 2) ** 2) in V", "x", "at most 95 V", 2 * 975**0.5),
    ("x - y in V", "y", "at least -30 V", 110.0),
    ("x + y in V", "x", "170 to 188 V", 88.0),
]


@pytest.mark.parametrize(("formula", "input", "says", "expected"), FLIPS)
def test_flips_are_found_to_a_thousandth(
    tmp_path: Path, formula: str, input: str, says: str, expected: float
) -> None:
    found = judged(claimed(tmp_path, TWO, formula, block(says)))
    flip = next(flip for flip in found.flips if flip.input == input)
    assert flip.value == pytest.approx(expected, rel=1e-3)


def test_a_flip_within_the_range_of_its_input_lies_within_reason(tmp_path: Path) -> None:
    inputs = {"near": "100 ± 8 V", "far": "100 ± 0.1 V", "exact": "100 V"}
    formula = "near + far + exact in V"
    found = judged(claimed(tmp_path, inputs, formula, block("at least 297 V")))
    reach = [(flip.input, flip.within_reason) for flip in found.flips]
    assert reach == [("near", True), ("far", False), ("exact", False)]


def test_no_flip_lies_where_a_result_has_none(tmp_path: Path) -> None:
    """1 / x changes sign at a pole, which is no place where the statement turns."""
    pole = {"x": "2 V", "y": "3 V"}
    found = judged(claimed(tmp_path, pole, "1 / (x - y) in 1/V", block("at most 0 1/V")))
    assert "x" not in {flip.input for flip in found.flips}


def test_what_would_decide_a_claim_is_found_by_recomputation(tmp_path: Path) -> None:
    """x + y with u = 4 and 1 against a limit 3 away: Φ(3/√(16 f² + 1)) reaches 95 % at f ≈ 0.38."""
    inputs = {"x": "100 ± 8 V", "y": "100 ± 2 V"}
    claim = block("at least 197 V", "undecided")
    whole = claimed(tmp_path, inputs, "x + y in V", claim)
    (open_claim,) = whole.judgement.undecided
    assert open_claim.largest is not None
    assert open_claim.largest.input == "x"
    (better,) = open_claim.improvements
    assert (better.input, better.factor, better.verdict) == ("x", 0.25, "holds")
    assert better.probability == pytest.approx(norm.cdf(3 / 2**0.5), abs=0.005)
    assert better.share == pytest.approx(16 / 17, abs=0.01)


def test_questions_hear_of_their_claims_and_results(tmp_path: Path) -> None:
    question = """
```yaml question
id: how-much
asks: How much is x?
settles: A better voltmeter.
of: [said, trial.result]
review_by: 2026-12-31
```
"""
    inputs = {"x": "100 ± 8 V", "y": "100 ± 2 V"}
    claim = block("at least 197 V", "undecided") + question
    whole = claimed(tmp_path, inputs, "x + y in V", claim)
    found = whole.judgement.questions["how-much"]
    assert [each.claim.claim.id for each in found.undecided] == ["said"]
    assert whole.judgement.undecided[0].questions == ("how-much",)
    first = found.gains["trial.result"][0]
    assert first.input == "x"
    assert first.standard_uncertainty == pytest.approx((2**2 + 1) ** 0.5, rel=0.02)


def test_what_a_question_is_of_must_exist(tmp_path: Path) -> None:
    question = """
```yaml question
id: how-much
asks: How much is x?
settles: A better voltmeter.
of: [sayd, trial.rezult, trial.result, said]
review_by: 2026-12-31
```
"""
    whole = claimed(tmp_path, TWO, "x * 1 in V", block("at least 3 V") + question)
    assert [problem.kind for problem in whole.problems] == ["reference", "reference"]
    messages = " ".join(problem.message for problem in whole.problems)
    assert "did you mean said" in messages
    assert "did you mean result" in messages


@pytest.mark.parametrize(
    ("says", "of", "than", "kind", "words"),
    [
        ("at least 3 A", "trial.result", "", "dimension", "state it in a unit of that kind"),
        ("at least 3 V", "trial.other", "", "reference", "has no 'other'"),
        ("at least 3 A more", "trial.result", "trial.y", "dimension", "does not compare"),
        ("about 3 V", "trial.result", "", "block", "needs its tolerance"),
    ],
)
def test_a_claim_that_cannot_be_judged_says_why(
    tmp_path: Path, says: str, of: str, than: str, kind: str, words: str
) -> None:
    whole = claimed(tmp_path, TWO, "x * 1 in V", block(says, of=of, than=than))
    assert [problem.kind for problem in whole.problems] == [kind]
    assert words in whole.problems[0].message


def test_the_stated_verdict_of_estimates_is_held_to(tmp_path: Path) -> None:
    page = """\
# Trial

```yaml estimates
id: pool
title: Pool
verdict: consistent
values:
  first: {value: 10 ± 8 V, source: bench}
  second: {value: 30 ± 10 V, source: invented}
  top: {value: at most 0.05 kV, source: bench}
```

Its top is [at most 50 V](quote:pool.top).
"""
    whole = work(tmp_path, {"trial.md": page})
    found = whole.judgement.estimates["pool"]
    assert found.agrees is False
    assert found.sentence.startswith("No.")
    assert [problem.kind for problem in whole.problems] == ["drift"]
    assert "'verdict: inconsistent' would agree" in whole.problems[0].message
    bound = found.members[-1]
    assert bound.region is not None
    assert bound.region.high == pytest.approx(50)
