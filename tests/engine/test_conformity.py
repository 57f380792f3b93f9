"""Statements at the edge of a distribution, and inputs that are refused."""

from __future__ import annotations

import numpy as np
import pytest

from calc.engine.conformity import (
    Region,
    around,
    probability,
    probability_from_quantiles,
    verdict,
)


def test_an_exact_value_on_its_limit_makes_the_statement_true() -> None:
    exact = np.full(100, 280.0)
    for region in (Region(low=280), Region(high=280), Region(280, 280)):
        assert probability(exact, region) == 1
        assert probability_from_quantiles(exact, region) == 1
    assert probability_from_quantiles(exact, Region(low=280.1)) == 0


def test_about_within_a_tolerance() -> None:
    assert probability([2.6, 2.7, 3.0, 3.3, 3.4], around(3.0, 0.1)) == pytest.approx(0.6)


@pytest.mark.parametrize("numbers", [[], [1.0, float("nan")], [[1.0]]])
def test_what_is_no_row_of_numbers_is_refused(numbers: list[float]) -> None:
    with pytest.raises(ValueError, match="finite numbers"):
        probability(numbers, Region())


def test_disorder_is_refused() -> None:
    with pytest.raises(ValueError, match="ascend"):
        probability_from_quantiles([2.0, 1.0], Region())
    with pytest.raises(ValueError, match="lower limit"):
        Region(2, 1)
    with pytest.raises(ValueError, match="limits in order"):
        verdict(0.5, 0.05, 0.95)
