"""Temperatures and their differences are told apart in whatever formula they stand."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.helpers import calc_page, work

INPUTS = {"hot": "45 degC", "cold": "25 degC", "warm": "300 K", "rise": "5 delta_degC",
          "share": "0.25"}  # fmt: skip

GIVES = [
    ("hot - cold in delta_degC", 20.0),
    ("share * (hot - cold) in delta_degC", 5.0),
    ("(hot - cold) * share / 2 in delta_degC", 2.5),
    ("abs(cold - hot) in K", 20.0),
    ("warm - cold in K", 1.85),
    ("cold + share * (hot - cold) in degC", 30.0),
    ("sum(cold, rise, rise) in degC", 35.0),
    ("mean(hot, cold) in degC", 35.0),
    ("max(hot, cold) - rise in degC", 40.0),
    ("where(hot > cold, hot, cold) in degC", 45.0),
]
REFUSED = [
    ("share * (hot - cold) in degC", "is a difference of temperatures"),
    ("abs(hot - cold) in degC", "is a difference of temperatures"),
    ("warm - hot in degC", "is a difference of temperatures"),
    ("max(rise, hot - cold) in degC", "is a difference of temperatures"),
    ("sum(hot, cold) in degC", "two temperatures do not add"),
    ("hot + rise + cold in degC", "two temperatures do not add"),
    ("mean(rise, hot, cold) in degC", "do not compare"),
    ("cold - warm in degC", "below absolute zero"),
    ("where(hot > rise, hot, cold) in degC", "do not compare"),
]


@pytest.mark.parametrize(("formula", "value"), GIVES)
def test_what_is_meant_comes_out(tmp_path: Path, formula: str, value: float) -> None:
    whole = work(tmp_path, {"index.md": calc_page(INPUTS, {"x": formula})})
    assert not whole.problems
    assert whole.computation.results["trial.x"].value == pytest.approx(value, abs=1e-9)


@pytest.mark.parametrize(("formula", "message"), REFUSED)
def test_what_cannot_be_meant_is_told(tmp_path: Path, formula: str, message: str) -> None:
    whole = work(tmp_path, {"index.md": calc_page(INPUTS, {"x": formula})})
    assert [message in problem.message for problem in whole.problems] == [True]
