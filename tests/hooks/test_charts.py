"""Charts and tables: what they show is what was computed, and every picture can be read."""

from __future__ import annotations

import csv
import re
from io import StringIO
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.book.model import Showing
from calc.whole import Whole, work_through
from hooks.charts import (
    Readings,
    chart_html,
    data_files,
    distribution,
    svg,
)
from hooks.charts.chart import KINDS, csv_address, csv_path
from hooks.charts.data import Data, details_html
from hooks.charts.end_labels import apart
from hooks.charts.style import VARIABLES, WIDTH, width_of
from hooks.charts.values import NotShown
from tests.helpers import ROOT
from tests.hooks.pictures import SVG, picture

PHONE = 328
"""CSS pixels that a phone of 360 px leaves to a picture."""

READABLE = 10.0
"""CSS pixels of type that a phone shows legibly (common practice, no source)."""


@pytest.fixture(scope="module")
def site() -> Readings:
    """What the site's own charts and tables show."""
    return Readings(work_through(ROOT / "content", ROOT / "site_data"))


def charts(readings: Readings) -> list[Showing]:
    """Every chart block of a book."""
    return [each for each in readings.whole.book.showings.values() if each.kind in KINDS]


def test_every_kind_of_chart_is_on_the_site(site: Readings) -> None:
    assert {each.kind for each in charts(site)} == set(KINDS)


def test_every_picture_of_the_site_is_sound(site: Readings) -> None:
    drawn = "".join(chart_html(each, site) for each in charts(site))
    assert not re.findall(r"#0a0b[0-9a-f]{2}|#[0-9a-f]{6}\b", drawn), "a colour of no variable"
    assert "DejaVu" not in drawn
    assert "<metadata" not in drawn and "<style" not in drawn
    ids = re.findall(r'\bid="([^"]+)"', drawn)
    assert len(ids) == len(set(ids))
    used = re.findall(r'url\(#([\w-]+)\)|href="#([\w-]+)"', drawn)
    assert {one or other for one, other in used} <= set(ids)


def test_every_picture_has_a_name_and_is_told_in_words(site: Readings) -> None:
    for each in charts(site):
        html = chart_html(each, site)
        assert "Not drawn" not in html, each.id
        root = picture(html)
        assert root.get("role") == "img"
        title = root.find(f"{SVG}title")
        told = root.find(f"{SVG}desc")
        assert title is not None and title.text == each.title
        assert title.get("id") == root.get("aria-labelledby")
        assert told is not None and told.get("id") == root.get("aria-describedby")
        assert told.text and (each.fields.get("alt") or re.search(r"\d", told.text)), each.id


def test_type_is_legible_on_a_phone_and_stays_inside(site: Readings) -> None:
    for each in charts(site):
        for node in picture(chart_html(each, site)).iter(f"{SVG}text"):
            style = node.get("style", "")
            size = float(re.search(r"font-size: ([\d.]+)px", style)[1])  # type: ignore[index]
            assert size * PHONE / WIDTH >= READABLE, each.id
            if "rotate" in node.get("transform", ""):
                continue
            x, wide = _place(node), width_of(node.text or "", size)
            shift = {"middle": 0.5, "end": 1.0}.get(_anchor(style), 0.0)
            left = x - shift * wide
            assert left >= -8 and left + wide <= WIDTH + 14, (each.id, node.text)


def _place(node: ElementTree.Element) -> float:
    moved = re.search(r"translate\(([-\d.]+)", node.get("transform", ""))
    return float(moved[1]) if moved else float(node.get("x", "0"))


def _anchor(style: str) -> str:
    found = re.search(r"text-anchor: (\w+)", style)
    return found[1] if found else "start"


def test_the_cache_changes_no_byte(
    site: Readings, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    some = {each.kind: each for each in charts(site)}
    monkeypatch.setattr(svg, "_CACHE", tmp_path)
    first = [chart_html(each, site) for each in some.values()]
    assert len(list(tmp_path.iterdir())) == len(some)
    again = Readings(site.whole)
    assert [chart_html(each, again) for each in some.values()] == first
    monkeypatch.setattr(svg, "_CACHE", tmp_path / "elsewhere")
    assert [chart_html(each, again) for each in some.values()] == first


@pytest.mark.parametrize("refused", [False, True])
def test_a_block_is_read_once_for_its_page_and_its_file(site: Readings, refused: bool) -> None:
    asked = []

    def read(showing: Showing, whole: Whole) -> str:
        asked.append(showing.id)
        if refused:
            raise NotShown(showing.id)
        return "what it shows"

    readings, each = Readings(site.whole), charts(site)[0]
    found = [readings.of(each, read) for _ in range(2)]
    assert found == [None if refused else "what it shows"] * 2
    assert asked == [each.id]


def test_numbers_go_with_every_chart_and_table(site: Readings) -> None:
    files = data_files(site)
    shown = [each for each in site.whole.book.showings.values() if each.kind != "explore"]
    assert set(files) == {csv_path(each) for each in shown}
    for text in files.values():
        lengths = {len(row) for row in csv.reader(StringIO(text))}
        assert len(lengths) == 1 and lengths != {0}


def test_the_link_to_the_numbers_fits_the_place_of_the_page(site: Readings) -> None:
    each = next(one for one in charts(site) if one.place.file.startswith("content/questions/"))
    assert csv_address(each, site.whole) == f"../../data/charts/{each.id}.csv"


def test_dots_fall_on_the_side_that_the_probability_says(site: Readings) -> None:
    for each in charts(site):
        if each.kind == "distribution":
            found = distribution.read(each, site.whole)
            if found.stated:
                share = sum(map(found.stated.holds, found.dots)) / len(found.dots)
                assert share == pytest.approx(found.stated.probability, abs=0.5 / 50 + 1e-3)


def test_long_numbers_are_thinned_on_the_page_and_whole_in_the_file() -> None:
    long = Data(("x",), tuple((float(at),) for at in range(1000)))
    html = details_html(long, "Long", "x.csv")
    assert html.count("<tr>") < 30 and "One row in 42" in html


@given(
    st.lists(st.tuples(st.floats(0, 200), st.floats(10, 26)), min_size=1, max_size=5),
)
def test_names_at_line_ends_never_touch(ends: list[tuple[float, float]]) -> None:
    wanted, sizes = zip(*ends, strict=True)
    middles = apart(wanted, sizes, (0.0, 200.0))
    placed = sorted(zip(middles, sizes, strict=True))
    for (above, tall), (below, high) in pairwise(placed):
        assert below - above >= (tall + high) / 2 - 1e-9
    assert placed[0][0] - placed[0][1] / 2 >= -1e-9
    assert placed[-1][0] + placed[-1][1] / 2 <= 200 + 1e-9


def test_variables_stand_for_one_colour_each() -> None:
    assert len(set(VARIABLES.values())) == len(VARIABLES)
