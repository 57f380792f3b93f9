"""What rounding leaves of nought, or of no uncertainty, is nought and none."""

from __future__ import annotations

from pathlib import Path

from calc.engine.results import Result
from tests.helpers import calc_page, work


def computed(folder: Path, inputs: dict[str, str], steps: dict[str, str], name: str) -> Result:
    """One result of a calc on a page of its own."""
    return work(folder, {"index.md": calc_page(inputs, steps)}).computation.results[f"trial.{name}"]


def test_a_difference_of_equals_is_nought_in_every_draw(tmp_path: Path) -> None:
    inputs = {"whole": "194.02 ± 0.50 g", "part": "0.3 ± 0.1 g"}
    steps = {"sum": "whole + part", "rest": "sum - part - whole in g"}
    found = computed(tmp_path, inputs, steps, "rest")
    assert (found.value, found.uncertain) == (0.0, False)


def test_a_ratio_that_its_uncertain_input_drops_out_of_is_certain(tmp_path: Path) -> None:
    inputs = {"energy": "1000 ± 30 kWh"}
    steps = {"more": "5.1 * energy", "less": "1.7 * energy / 0.9", "ratio": "more / less"}
    found = computed(tmp_path, inputs, steps, "ratio")
    assert not found.uncertain
    assert found.shares == {}


def test_a_small_difference_that_is_meant_stays(tmp_path: Path) -> None:
    inputs = {"length": "1 m", "longer": "1.000000000001 m"}
    found = computed(tmp_path, inputs, {"rest": "longer - length in pm"}, "rest")
    assert round(found.value, 2) == 1.0
