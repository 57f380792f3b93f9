"""Estimates in the graph: what they say together is a value like any other."""

from __future__ import annotations

from pathlib import Path

import pytest

from calc.book.plan import Root
from calc.whole import Whole
from tests.helpers import SOURCES, work
from tests.printed import agrees

OTHER = SOURCES + "- {id: other, kind: measured, title: Another record}\n"


def page(values: str, more: str = "") -> str:
    return f"# Trial\n\n```yaml estimates\nid: pool\ntitle: Pool\nvalues:\n{values}```\n\n{more}"


def worked(folder: Path, values: str, more: str = "") -> Whole:
    return work(folder, {"trial.md": page(values, more)}, {"sources.yml": OTHER})


TWO = """\
  first: {value: 10 ± 4 kV (k=1), source: bench}
  second: {value: 30 ± 5 kV (k=1), source: other}
"""


def test_published_values_stand_in_the_graph(tmp_path: Path) -> None:
    """10 ± 4 and 30 ± 5: a worked example of weighting and of the scale factor (seen)."""
    found = worked(tmp_path, TWO).computation.results
    printed = {
        "pool.weighted": ("17.80488", "3.12348"),
        "pool.scaled": ("17.80488", "9.75610"),
    }
    for id, (value, uncertainty) in printed.items():
        assert agrees(value, found[id].value)
        assert agrees(uncertainty, found[id].standard_uncertainty)
    assert agrees("9.75610", found["pool.chi_squared"].value)


def test_the_combined_value_is_an_input_elsewhere(tmp_path: Path) -> None:
    more = """\
```yaml calc
id: next
title: Next
inputs:
  voltage: {from: pool.combined}
steps:
  double: voltage * 2 in kV
```

It is [](calc:pool.combined), twice [](calc:next.double);
chi-squared is [9.76](calc:pool.chi_squared).
"""
    whole = worked(tmp_path, TWO, more)
    assert not whole.problems
    found = whole.computation.results
    combined = whole.computation.reconciliations["pool"].combined
    assert found["pool.combined"].value == pytest.approx(combined.value)
    spread = found["pool.combined"].standard_uncertainty
    assert spread == pytest.approx(combined.standard_uncertainty, rel=0.02)
    assert found["next.double"].value == pytest.approx(2 * combined.value)
    assert found["next.double"].standard_uncertainty == pytest.approx(2 * spread)
    assert set(found["next.double"].shares) == {"pool.first", "pool.second", "pool.disagreement"}


def test_consistent_estimates_add_no_disagreement(tmp_path: Path) -> None:
    values = TWO.replace("30", "12")
    whole = worked(tmp_path, values)
    assert "pool.disagreement" not in whole.plan.nodes
    assert whole.computation.reconciliations["pool"].consistent


def test_the_combined_value_shares_the_errors_of_its_estimates(tmp_path: Path) -> None:
    """The difference to one of two equal witnesses has the uncertainty that theory gives.

    Exact: with u = 4 each, m = (a + b) / 2 and m - a = (b - a) / 2 has u = 4 / sqrt(2).
    """
    values = TWO.replace("30 ± 5", "12 ± 4")
    more = """\
```yaml calc
id: apart
title: Apart
inputs:
  mean: {from: pool.combined}
  first: {from: pool.first}
steps:
  distance: mean - first in kV
```
"""
    found = worked(tmp_path, values, more).computation.results["apart.distance"]
    assert found.standard_uncertainty == pytest.approx(4 / 2**0.5, rel=0.02)


def test_a_shared_input_counts_once(tmp_path: Path) -> None:
    """Exact: a common error of u = 3 under own errors of u = 4 leaves u² = 3² + 4²/2."""
    more = """\
```yaml calc
id: routes
title: Routes
inputs:
  shared: {value: 5 ± 3 kV (k=1), source: bench}
  one: {value: 5 ± 4 kV (k=1), source: bench}
  two: {value: 6 ± 4 kV (k=1), source: bench}
steps:
  a: shared + one in kV
  b: shared + two in kV
```
"""
    values = "  a: {from: routes.a}\n  b: {from: routes.b}\n"
    found = worked(tmp_path, values, more).computation
    expected = (3**2 + 4**2 / 2) ** 0.5
    assert found.reconciliations["pool"].combined.standard_uncertainty == pytest.approx(
        expected, rel=0.02
    )
    drawn = found.results["pool.combined"].standard_uncertainty
    assert drawn == pytest.approx(expected, rel=0.02)


def test_two_figures_from_one_source_are_not_two_witnesses(tmp_path: Path) -> None:
    alike = TWO.replace("30 ± 5", "12 ± 4")
    apart = worked(tmp_path / "apart", alike).computation
    same = worked(tmp_path / "same", alike.replace("other", "bench")).computation
    free = apart.reconciliations["pool"].weighted.standard_uncertainty
    bound = same.reconciliations["pool"].weighted.standard_uncertainty
    assert free == pytest.approx(4 / 2**0.5)
    assert bound == pytest.approx(4 * 0.75**0.5)  # exact: u² = (1 + r) u1² / 2 with r = 1/2
    drawn = same.results["pool.combined"].standard_uncertainty
    assert drawn == pytest.approx(bound, rel=0.02)


def test_a_bound_takes_no_part(tmp_path: Path) -> None:
    whole = worked(tmp_path, TWO + "  maker: {value: at least 40 V, source: bench}\n")
    assert not whole.problems
    assert whole.computation.reconciliations["pool"].names == ("first", "second")


def test_estimates_may_rest_on_other_estimates(tmp_path: Path) -> None:
    more = """\
```yaml estimates
id: above
title: Above
values:
  below: {from: pool.combined}
  own: {value: 20 ± 3 kV (k=1), source: bench}
```
"""
    whole = worked(tmp_path, TWO, more)
    assert not whole.problems
    assert set(whole.computation.reconciliations) == {"pool", "above"}
    order = list(whole.plan.nodes)
    assert order.index("pool.disagreement") < order.index("pool.combined")
    assert isinstance(whole.plan.nodes["above.chi_squared"], Root)


@pytest.mark.parametrize(
    ("values", "kind", "words"),
    [
        ("  a: {value: 10 ± 1 kV, source: bench}\n  b: {value: 11 V, source: other}\n",
         "estimates", "b needs a finite value and an uncertainty above zero"),
        ("  a: {value: at least 3 kV, source: bench}\n  b: {value: at most 4 V, source: other}\n",
         "estimates", "at least two estimates with values of their own"),
        ("  a: {value: 10 ± 1 kV, source: bench}\n  b: {value: 11 ± 1 A, source: other}\n",
         "dimension", "estimates of one block are of one quantity"),
        ("  a: {value: 10 ± 1 kV, source: bench}\n  b: {from: pool.a}\n",
         "estimates", "share all their error"),
        ("  a: {value: 10 ± 1 kV, source: bench}\n  b: {from: pool.combined}\n",
         "cycle", "needs itself"),
        ("  a: {value: 10 ± 1 kV, source: bench}\n  scaled: {value: 10 ± 1 V, source: other}\n",
         "double-id", "give the estimate another name"),
    ],
)  # fmt: skip
def test_what_cannot_be_combined_is_said_once(
    tmp_path: Path, values: str, kind: str, words: str
) -> None:
    more = "It is [](calc:pool.combined), and [3](calc:pool.birge_ratio).\n"
    found = worked(tmp_path, values, more).problems
    problems = [problem for problem in found if problem.severity == "error"]
    assert [problem.kind for problem in problems] == [kind]
    assert words in problems[0].message
