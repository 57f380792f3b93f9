"""Explore panels before any browser: what is handed to it, grids and their stated error."""

from __future__ import annotations

import json
import re
from decimal import Decimal
from pathlib import Path
from random import Random

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.whole import Whole, work_through
from hooks.explore import explore_html
from hooks.explore_grids import grids, interpolated
from hooks.explore_panel import nice_step, read_panel
from hooks.explore_program import names
from tests.helpers import ROOT, calc_page, work
from tests.hooks.panels import ROLL, built, rolled


@pytest.fixture(scope="module")
def site() -> Whole:
    """The site's own content, worked through."""
    return work_through(ROOT / "content", ROOT / "site_data")


def handed_over(html: str) -> dict[str, object]:
    """What a panel gives to the browser."""
    found = re.search(r'<script type="application/json">(.*?)</script>', html, re.S)
    assert found
    data: dict[str, object] = json.loads(found[1])
    return data


def test_every_panel_of_the_site_is_offered_and_complete(site: Whole) -> None:
    panels = [each for each in site.book.showings.values() if each.kind == "explore"]
    assert panels
    for each in panels:
        panel = read_panel(each, site)
        made = panel.program
        known = set(made.given) | {slider.node for slider in panel.sliders}
        known |= {held.id for held in panel.grids}
        for id, tree in made.steps:
            assert names(tree) <= known, (each.id, id)
            known.add(id)
        assert {shown.node for shown in panel.shown} <= known
        assert all(names(tree) <= known for tree, _ in made.limits)


def test_a_panel_reads_as_tables_without_scripts(site: Whole) -> None:
    for each in site.book.showings.values():
        if each.kind == "explore":
            html = explore_html(each, site)
            panel = read_panel(each, site)
            before_scripts = re.sub(r"<script.*?</script>", "", html, flags=re.S)
            assert all(shown.value.full in before_scripts for shown in panel.shown)
            assert all(slider.stated_text in before_scripts for slider in panel.sliders)
            assert re.search(r'<div class="explore__controls" hidden>', html)


def test_no_text_of_a_page_ends_the_script(tmp_path: Path) -> None:
    page = calc_page({"x": "2 m"}, {"y": "2 * x in m"}) + (
        '\n```yaml explore\nid: e\ntitle: "</script><b>"\ncalc: trial\nsliders: {x: 1 m to 3 m}\n'
        "show: [y]\n```\n"
    )
    whole = work(tmp_path, {"index.md": page})
    html = explore_html(whole.book.showings["e"], whole)
    assert html.count("</script>") == 1
    assert "<b>" not in html


def test_a_grid_stays_within_its_stated_error(tmp_path: Path) -> None:
    whole = rolled(tmp_path)
    panel = read_panel(whole.book.showings["rolled"], whole)
    assert {held.id for held in panel.grids} == {"trial.roll.turns", "trial.roll.length"}
    assert all(len(held.axes) == 2 for held in panel.grids)
    random = Random(3)
    for _ in range(300):
        settings = {each.name: random.uniform(each.low, each.high) for each in panel.sliders}
        moved = {
            each.node: np.array([each.unit.to_base(settings[each.name])]) for each in panel.sliders
        }
        exact = built(panel, settings, whole)
        for shown in panel.shown[:2]:
            held = next(one for one in panel.grids if one.id == shown.node)
            near = shown.value.unit.from_base(float(interpolated(held, moved)[0]))
            assert shown.error > 0
            assert abs(near - exact[shown.id]) <= shown.error


def test_a_procedure_that_refuses_leaves_straight_lines_and_gaps(tmp_path: Path) -> None:
    inputs = {"thickness": "200 um", "inner": "9 mm", "outer": "10.0 mm"}
    block = (
        "\n```yaml explore\nid: rolled\ntitle: A roll\ncalc: trial\n"
        "sliders: {outer: 8 mm to 24 mm}\nshow: [roll.turns]\n```\n"
    )
    whole = work(tmp_path, {"index.md": calc_page(inputs, {"roll": ROLL}) + block})
    (held,) = read_panel(whole.book.showings["rolled"], whole).grids
    refused = np.isnan(held.values)
    assert held.order == 1
    assert refused[:4].all() and not refused[5:].any()  # a roll needs an outside beyond its core


def test_a_grid_is_exact_where_it_was_computed(tmp_path: Path) -> None:
    whole = rolled(tmp_path)
    panel = read_panel(whole.book.showings["rolled"], whole)
    held = panel.grids[0]
    (again,) = grids([held.id], held.axes, whole)
    corner = {led.node: np.array([led.unit.to_base(led.high)]) for led in held.axes}
    assert interpolated(again, corner)[0] == pytest.approx(held.values[-1], rel=1e-12)


def test_the_error_of_a_grid_is_told(tmp_path: Path) -> None:
    whole = rolled(tmp_path)
    html = explore_html(whole.book.showings["rolled"], whole)
    assert "read off a grid" in html and "roll: turns by at most" in html
    assert len(handed_over(html)["grids"]) == 2  # type: ignore[arg-type]


def test_formulas_need_no_grid_and_state_no_error(site: Whole) -> None:
    for each in site.book.showings.values():
        if each.kind == "explore":
            panel = read_panel(each, site)
            if not panel.grids:
                assert all(shown.error == 0 for shown in panel.shown)
                assert "read off a grid" not in explore_html(each, site)


@given(st.integers(-300, 300), st.integers(1, 400), st.integers(-4, 3))
def test_steps_are_round_and_fine_enough(low: int, span: int, power: int) -> None:
    start, end = (float(Decimal(number).scaleb(power)) for number in (low, low + span))
    assume(end > start)
    step = nice_step(start, end)
    digits = Decimal(repr(step)).normalize().as_tuple().digits
    assert digits in ((1,), (2,), (5,))
    assert 99 <= (end - start) / step <= 251
