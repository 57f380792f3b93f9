"""Correlated inputs: what their shapes allow, and whose the uncertainty then is."""

from __future__ import annotations

from math import sqrt
from pathlib import Path

import pytest

from calc.whole import Whole
from tests.helpers import calc_page, work


def pair(folder: Path, inputs: dict[str, str], formula: str, r: float) -> Whole:
    """A calc of two inputs, a and b, that are correlated."""
    tail = f"correlated: [{{between: [a, b], r: {r}}}]"
    return work(folder, {"index.md": calc_page(inputs, {"x": formula}, tail)})


LOPSIDED = {"a": "4 to 6 kg, likely 4 kg", "b": "2 to 4 kg, likely 2 kg"}


@pytest.mark.parametrize(("r", "kinds"), [(-1.0, ["correlation"]), (-0.93, []), (1.0, [])])
def test_lopsided_inputs_cannot_go_fully_against_each_other(
    tmp_path: Path, r: float, kinds: list[str]
) -> None:
    # Two right triangles, one against the other: at least -0.931 (exact, by their quantiles).
    whole = pair(tmp_path, LOPSIDED, "a + b", r)
    assert [problem.kind for problem in whole.problems] == kinds
    assert not kinds or "with -0.93 at the most" in whole.problems[0].message


def test_inputs_that_make_up_for_one_another_have_one_share(tmp_path: Path) -> None:
    inputs = {"a": "9 ± 2 kg", "b": "5 ± 1 kg"}
    result = pair(tmp_path, inputs, "a - b", 0.9).computation.results["trial.x"]
    variance = 1 + 0.25 - 2 * 0.9 * 1 * 0.5
    assert result.standard_uncertainty == pytest.approx(sqrt(variance), rel=1e-3)
    assert result.shares == {"a and b": pytest.approx(1.0, abs=1e-6)}
    share, others = result.share_of("b")
    assert share == pytest.approx(1.0, abs=1e-6)
    assert others == ("a",)


def test_estimates_that_share_nothing_do_not_vary_together(tmp_path: Path) -> None:
    text = calc_page({"a": "9 ± 2 kg", "b": "5 ± 1 kg"}, {"x": "a + b"},
                     "correlated: [{between: [a, b], r: 0.9}]") + (
        "```yaml estimates\nid: pool\nvalues:\n  ours: {from: trial.x}\n"
        "  theirs: {value: 15 ± 3 kg, source: bench}\n```\n"
    )  # fmt: skip
    whole = work(tmp_path, {"index.md": text})
    ours = 1 + 0.25 + 2 * 0.9 * 1 * 0.5
    theirs = 1.5**2
    weight = (1 / ours) / (1 / ours + 1 / theirs)
    found = whole.computation.results["pool.weighted"]
    assert found.value == pytest.approx(weight * 14 + (1 - weight) * 15, rel=1e-3)
