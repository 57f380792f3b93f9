"""Properties that comparing and combining estimates must have, whatever the numbers."""

from __future__ import annotations

from math import inf, nan, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.engine.agreement import can_they_all_be_right
from calc.engine.covariance import shared_covariance
from calc.engine.reconcile import Reconciliation, normalised_error, reconcile

ESTIMATES = st.lists(
    st.tuples(st.floats(min_value=-100, max_value=100), st.floats(min_value=0.1, max_value=10)),
    min_size=2,
    max_size=8,
)


def set_side_by_side(estimates: list[tuple[float, float]]) -> Reconciliation:
    values, uncertainties = zip(*estimates, strict=True)
    return reconcile([f"e{i}" for i in range(len(values))], values, uncertainties)


@given(ESTIMATES)
def test_every_mean_lies_among_independent_estimates(estimates: list[tuple[float, float]]) -> None:
    found = set_side_by_side(estimates)
    low, high = min(value for value, _ in estimates), max(value for value, _ in estimates)
    for mean in (found.weighted, found.scaled, found.dersimonian_laird, found.paule_mandel):
        assert low - 1e-9 <= mean.value <= high + 1e-9
        assert sum(mean.weights) == pytest.approx(1)


@given(ESTIMATES)
def test_widening_leaves_the_mean_and_never_narrows(estimates: list[tuple[float, float]]) -> None:
    found = set_side_by_side(estimates)
    assert found.scaled.value == found.weighted.value
    ratio = found.scaled.standard_uncertainty / found.weighted.standard_uncertainty
    assert ratio == pytest.approx(max(1.0, found.birge_ratio))
    assert found.paule_mandel.standard_uncertainty >= found.weighted.standard_uncertainty - 1e-12


@given(ESTIMATES)
def test_fitted_variance_brings_chi_squared_to_its_degrees_of_freedom(
    estimates: list[tuple[float, float]],
) -> None:
    found = set_side_by_side(estimates)
    mean = found.paule_mandel
    left = sum((v - mean.value) ** 2 / (u**2 + mean.between_variance) for v, u in estimates)
    if mean.between_variance > 0:
        assert left == pytest.approx(found.degrees_of_freedom, rel=1e-6)
    else:
        assert left <= found.degrees_of_freedom + 1e-9


@given(ESTIMATES)
def test_the_sentence_says_what_the_flag_says(estimates: list[tuple[float, float]]) -> None:
    found = set_side_by_side(estimates)
    sentence = can_they_all_be_right(found)
    assert sentence.startswith(("Yes.", "Just about.")) == found.consistent
    assert "nan" not in sentence


def test_a_change_of_unit_changes_nothing_but_the_unit() -> None:
    large = reconcile(["a", "b", "c"], [10, 30, 15], [4, 5, 2])
    small = reconcile(["a", "b", "c"], [10e-9, 30e-9, 15e-9], [4e-9, 5e-9, 2e-9])
    assert small.chi_squared == pytest.approx(large.chi_squared)
    assert small.paule_mandel.value == pytest.approx(large.paule_mandel.value * 1e-9)
    assert small.combined.standard_uncertainty == pytest.approx(
        large.combined.standard_uncertainty * 1e-9
    )


def test_equal_estimates_keep_the_plain_mean() -> None:
    found = reconcile(["a", "b"], [5, 5], [1, 1])
    assert found.chi_squared == 0
    assert found.combined.value == 5
    assert found.combined.standard_uncertainty == pytest.approx(sqrt(0.5))


def test_combined_is_the_widened_mean_while_consistent_and_the_fitted_one_after() -> None:
    near = reconcile(["a", "b", "c"], [10, 12, 15], [2, 2, 2])
    far = reconcile(["a", "b", "c"], [10, 30, 15], [2, 2, 2])
    assert near.consistent and near.birge_ratio > 1 and near.combined == near.scaled
    assert not far.consistent and far.combined == far.paule_mandel


def test_significance_is_a_setting() -> None:
    strict = reconcile(["a", "b"], [10, 30], [4, 5], significance=0.001)
    assert strict.consistent


def test_pairs_carry_the_sign_of_their_difference_and_the_order_of_names() -> None:
    found = reconcile(["a", "b", "c"], [1, 3, 2], [0.1, 0.1, 0.1])
    assert [(pair.a, pair.b) for pair in found.pairs] == [("a", "b"), ("a", "c"), ("b", "c")]
    assert [np.sign(pair.normalised_error) for pair in found.pairs] == [-1, -1, 1]


def test_correlated_estimates_count_for_less_than_independent_ones() -> None:
    uncertainties = [2.0, 2.0, 2.0]
    shared = shared_covariance(uncertainties, ["sheet", "sheet", "bench"], 0.9)
    apart = reconcile(["a", "b", "c"], [10, 10, 16], uncertainties)
    together = reconcile(["a", "b", "c"], [10, 10, 16], uncertainties, shared)
    assert apart.weighted.value == pytest.approx(12)
    assert together.weighted.value > 12.8
    assert together.weighted.standard_uncertainty > apart.weighted.standard_uncertainty


def test_generalised_mean_against_its_matrix_form() -> None:
    """Two correlated estimates in closed form: w1 = (u2² − c) / (u1² + u2² − 2c); exact."""
    u1, u2, c = 1.0, 2.0, 0.6
    found = reconcile(["a", "b"], [3, 5], [u1, u2], [[u1**2, c], [c, u2**2]])
    spread = u1**2 + u2**2 - 2 * c
    weight = (u2**2 - c) / spread
    assert found.weighted.weights == pytest.approx((weight, 1 - weight))
    assert found.weighted.standard_uncertainty**2 == pytest.approx((u1**2 * u2**2 - c**2) / spread)
    assert found.chi_squared == pytest.approx(4 / spread)


def test_two_correlated_estimates_need_the_between_variance_that_explains_their_gap() -> None:
    """For two of them chi-squared is d² / (u1² + u2² − 2c + 2τ²), so τ² is known; exact."""
    c = 0.6
    found = reconcile(["a", "b"], [0, 10], [1, 2], [[1, c], [c, 4]])
    expected = (100 - (5 - 2 * c)) / 2
    assert found.paule_mandel.between_variance == pytest.approx(expected)
    assert found.dersimonian_laird.between_variance == pytest.approx(expected)


def test_shared_covariance_keeps_weights_positive() -> None:
    uncertainties = [1.0, 5.0, 9.0]
    covariance = shared_covariance(uncertainties, ["x"] * 3, 0.99)
    found = reconcile(["a", "b", "c"], [1, 2, 3], uncertainties, covariance)
    assert min(found.weighted.weights) > 0


def test_a_difference_without_uncertainty_is_infinitely_wrong_unless_it_is_none() -> None:
    assert normalised_error(-1.0, 0.0) == -inf
    assert normalised_error(0.0, 0.0) == 0.0


REFUSED = [
    # names, values, uncertainties, covariance, what is said
    (["a"], [1.0], [1.0], None, "at least two estimates"),
    (["a", "b"], [1.0], [1.0, 1.0], None, "as many values"),
    (["a", "maker"], [1.0, 2.0], [1.0, 0.0], None, "maker needs"),
    (["a", "maker"], [1.0, nan], [1.0, 1.0], None, "maker needs"),
    (["a", "b"], [1.0, 2.0], [1.0, 1.0], [[1.0, 1.0], [1.0, 1.0]], "a and b share all"),
    (["a", "b"], [1.0, 2.0], [1.0, 1.0], [[4.0, 0.0], [0.0, 1.0]], "diagonal"),
    (["a", "b"], [1.0, 2.0], [1.0, 1.0], [[1.0, 0.3], [0.1, 1.0]], "symmetric"),
    (
        ["a", "b", "c"],
        [1.0, 2.0, 3.0],
        [1.0, 1.0, 1.0],
        [[1.0, 0.9, -0.9], [0.9, 1.0, 0.9], [-0.9, 0.9, 1.0]],
        "cannot all be true",
    ),
]


@pytest.mark.parametrize(("names", "values", "uncertainties", "covariance", "said"), REFUSED)
def test_what_cannot_be_compared_is_refused_in_words(
    names: list[str],
    values: list[float],
    uncertainties: list[float],
    covariance: list[list[float]] | None,
    said: str,
) -> None:
    with pytest.raises(ValueError, match=said):
        reconcile(names, values, uncertainties, covariance)


def test_share_of_one_is_refused() -> None:
    with pytest.raises(ValueError, match="share"):
        shared_covariance([1, 1], ["x", "x"], 1.0)


SAID = [
    ([266, 268, 271, 264], [3, 3, 4, 5], "Yes. The four estimates scatter within"),
    ([266, 281, 271, 264], [3, 3, 4, 5], "No. The four estimates scatter 2"),
    ([266, 266.1, 266, 265.9], [3, 3, 4, 5], "agree more closely"),
    ([260, 268, 264, 264, 264, 264], [1.9, 1.9, 2, 2, 2, 2], "Just about. The six"),
]


@pytest.mark.parametrize(("values", "uncertainties", "said"), SAID)
def test_the_sentence(values: list[float], uncertainties: list[float], said: str) -> None:
    found = reconcile([f"e{i}" for i in range(len(values))], values, uncertainties)
    assert said in can_they_all_be_right(found)


def test_the_sentence_uses_titles() -> None:
    found = reconcile(["a", "b"], [10, 30], [4, 5])
    assert "the maker and the bench" in can_they_all_be_right(
        found, {"a": "the maker", "b": "the bench"}
    )
