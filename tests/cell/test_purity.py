"""Nines read by digits, against the digits themselves."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.cell.purity import nines_by_digits


@given(st.integers(0, 8), st.integers(0, 8), st.sampled_from(["", "1", "5"]))
def test_nines_are_those_that_are_written(nines: int, digit: int, more: str) -> None:
    """The text of the number is the other route: count its nines and look at the next digit."""
    written = "0." + "9" * nines + str(digit) + more
    assert nines_by_digits(float(written)) == (nines, digit)


@pytest.mark.parametrize("nines", range(1, 10))
def test_a_whole_grade_keeps_its_last_nine(nines: int) -> None:
    """-log10(1 - 0.999) is 2.9999999999999996 in binary, and is three."""
    assert nines_by_digits(float("0." + "9" * nines)) == (nines, 0)


def test_draws_are_read_one_by_one() -> None:
    found = nines_by_digits(np.array([0.99, 0.9995, 0.99995]))
    assert np.array_equal(found.nines, [2, 3, 4])
    assert np.array_equal(found.next_digit, [0, 5, 5])


@pytest.mark.parametrize("purity", [1.0, 1.2, -0.1])
def test_what_is_no_purity_is_refused(purity: float) -> None:
    with pytest.raises(ValueError, match="purity"):
        nines_by_digits(purity)
