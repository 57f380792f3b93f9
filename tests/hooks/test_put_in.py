"""Numbers put into formulas: what a reader reckons from them is what the line says."""

from __future__ import annotations

import re
from pathlib import Path

from calc.book.plan import Computed
from calc.whole import work_through
from hooks.atlas import Atlas
from hooks.formulas import Formulas
from hooks.put_in import enough, gives
from tests.helpers import ROOT, calc_page, work


def line(folder: Path, inputs: dict[str, str], steps: dict[str, str], name: str) -> str:
    """The line of numbers of one step, bare."""
    atlas = Atlas(work(folder, {"index.md": calc_page(inputs, steps)}))
    return re.sub(r"<[^>]*>|\s", "", Formulas(atlas).numbers(f"trial.{name}"))


def test_coarse_numbers_get_the_digits_that_the_result_asks_for(tmp_path: Path) -> None:
    steps = {"trips": "days / 2", "crossings": "trips * 2"}
    # 37 456.5 ± 4250, shown as 37 000; twice that would be 74 000.
    shown = line(tmp_path, {"days": "74913 ± 17000"}, steps, "crossings")
    assert shown == "37500×2=75000"


def test_numbers_that_are_fine_enough_get_no_more(tmp_path: Path) -> None:
    steps = {"energy": "2 * half", "share": "energy / mass in Wh/kg"}
    inputs = {"half": "136.7 ± 0.8 Wh", "mass": "1.0120 kg"}
    assert line(tmp_path, inputs, steps, "share") == "273.4Wh1.0120kg=270.2Wh/kg"


def test_temperatures_are_put_in_as_absolute_ones(tmp_path: Path) -> None:
    inputs = {"warm": "35 degC", "cool": "25 degC"}
    assert line(tmp_path, inputs, {"ratio": "warm / cool"}, "ratio") == "308.15K298.15K=1.0335"


def test_every_line_of_the_site_can_be_reckoned_again() -> None:
    atlas = Atlas(work_through(ROOT / "content", ROOT / "site_data"))
    seen = 0
    for id, node in atlas.whole.plan.nodes.items():
        result = atlas.result(id)
        if isinstance(node, Computed) and result is not None and "#" not in id:  # checks aside
            assert gives(enough(node.tree, result, atlas), node.tree, result), id
            seen += 1
    assert seen > 1000
