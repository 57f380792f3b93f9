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
    breakdown,
    chart_html,
    data_files,
    distribution,
    line,
    svg,
    table_html,
    tables,
)
from hooks.charts.chart import KINDS, csv_address, csv_path
from hooks.charts.data import Data, details_html
from hooks.charts.end_labels import apart
from hooks.charts.style import VARIABLES, WIDTH, width_of
from hooks.charts.values import NotShown
from tests.helpers import ROOT, calc_page, work

SVG = "{http://www.w3.org/2000/svg}"
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


def page(inputs: dict[str, str], steps: dict[str, str], block: str) -> str:
    """A page with one calc and one block of a picture."""
    return calc_page(inputs, steps) + f"\n```yaml chart\nid: shown\ntitle: Shown\n{block}\n```\n"


def picture(html: str) -> ElementTree.Element:
    """The SVG of a chart, parsed."""
    found = re.search(r"<svg.*?</svg>", html, re.S)
    assert found, html
    body = found[0].replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ')
    return ElementTree.fromstring(body.replace(" data-search-exclude", ""))


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


def test_bars_show_what_was_computed_in_the_first_unit(tmp_path: Path) -> None:
    text = page(
        {"a": "2.0 ± 0.2 kg", "b": "4000 ± 0 g"},
        {"one": "a in kg", "two": "b in g"},
        "kind: bars\nof: {First: trial.one, Second: trial.two}",
    )
    whole = work(tmp_path, {"index.md": text})
    rows = list(csv.reader(StringIO(data_files(Readings(whole))["charts/shown.csv"])))
    assert rows[0][1] == "mass / kg"
    assert [float(row[1]) for row in rows[1:]] == [2.0, 4.0]
    assert float(rows[1][2]) == pytest.approx(0.1)
    assert float(rows[1][3]) == pytest.approx(2 - 1.96 * 0.1, abs=1e-3)
    html = chart_html(whole.book.showings["shown"], Readings(whole))
    assert "2.00 ± 0.20\u00a0kg" in html
    assert "4\u00a0kg" in html


def test_a_line_follows_its_formula_and_its_band_the_other_inputs(tmp_path: Path) -> None:
    text = page(
        {"x": "2 m", "slope": "3.0 ± 0.3 kg/m"},
        {"y": "slope * x in kg"},
        "kind: line\nof: trial.y\nover: {trial.x: 0 m to 10 m}",
    )
    whole = work(tmp_path, {"index.md": text})
    found = line.read(whole.book.showings["shown"], whole)
    assert found.stated_x == 2
    only = found.lines[0]
    assert only.stated == pytest.approx(6)
    for x, y, low, high in zip(found.x, only.y, only.low, only.high, strict=True):
        assert y == pytest.approx(3 * x)
        assert low == pytest.approx((3 - 1.96 * 0.15) * x, abs=2e-3 * x + 1e-12)
        assert high == pytest.approx((3 + 1.96 * 0.15) * x, abs=2e-3 * x + 1e-12)


def test_bands_end_where_another_limit_governs(tmp_path: Path) -> None:
    # Two straight lines meet at 4.2 m; a third undercuts both for a fiftieth of the range.
    text = page(
        {"x": "2 m", "gain": "1 kg/m", "most": "4.2 kg", "here": "7.05 m", "half": "0.1 m"},
        {
            "rising": "gain * x in kg",
            "which": "where(abs(x - here) < half, 3, where(rising < most, 1, 2))",
        },
        "kind: line\nof: trial.rising\nover: {trial.x: 0 m to 10 m}\n"
        "bands: {trial.which: {1: slope, 2: ceiling, 3: dip}}",
    )
    whole = work(tmp_path, {"index.md": text})
    showing = whole.book.showings["shown"]
    found = line.read(showing, whole)
    words = [band.word for band in found.bands]
    assert words == ["slope", "ceiling", "dip", "ceiling"]
    edges = [0, 4.2, 6.95, 7.15, 10]
    # The gap between two of 61 points is halved seven times.
    assert [b.low for b in found.bands] == pytest.approx(edges[:-1], abs=10 / 60 / 2**7)
    assert [b.high for b in found.bands] == pytest.approx(edges[1:], abs=10 / 60 / 2**7)
    html = chart_html(showing, Readings(whole))
    drawn = [node.text for node in picture(html).iter(f"{SVG}text")]
    assert [text for text in drawn if text in words] == words
    assert "slope from 0\u00a0m to 4.2\u00a0m" in line.describe(found)
    rows = list(csv.reader(StringIO(data_files(Readings(whole))["charts/shown.csv"])))
    assert rows[0][-1] == "which"
    assert {row[-1] for row in rows[1:] if float(row[0]) < 4} == {"slope"}


def test_a_line_stops_where_its_method_does(tmp_path: Path) -> None:
    method = (
        "# Root\n```yaml method\nid: root\ntitle: Root\nanswers: What is the root?\ninputs:\n"
        '  x: {unit: "1", about: a number}\nsteps:\n  root: sqrt(x)\nvalid: [x >= 0.25]\nchecks:\n'
        '  - {given: {x: "4"}, gives: {root: "2"}, source: exact}\n```\n'
    )
    text = (
        '# Trial\n```yaml calc\nid: trial\ntitle: T\ninputs: {x: {value: "1", source: bench}}\n'
        "steps: {y: {use: root, with: {x: x}}}\n```\n```yaml chart\nid: shown\ntitle: Shown\n"
        "kind: line\nof: trial.y.root\nover: {trial.x: 0 to 1}\n```\n"
    )
    whole = work(tmp_path, {"index.md": text, "methods/root.md": method})
    found = line.read(whole.book.showings["shown"], whole)
    for x, y in zip(found.x, found.lines[0].y, strict=True):
        assert (y is None) == (x < 0.25)
    assert "root" in line.note(found)


def test_a_breakdown_says_what_it_does_not_name(tmp_path: Path) -> None:
    text = page(
        {"a": "30 g", "b": "50 g", "all": "100 g"},
        {"first": "a", "second": "b", "total": "all"},
        "kind: breakdown\nof: {A: trial.first, B: trial.second}\ntotal: trial.total",
    )
    whole = work(tmp_path, {"index.md": text})
    found = breakdown.read(whole.book.showings["shown"], whole)
    assert [part.label for part in found.parts] == ["B", "A"]
    assert found.rest == pytest.approx(20)
    assert "not named 20\u00a0g" in breakdown.describe(found)


def test_dots_fall_on_the_side_that_the_probability_says(site: Readings) -> None:
    for each in charts(site):
        if each.kind == "distribution":
            found = distribution.read(each, site.whole)
            if found.stated:
                share = sum(map(found.stated.holds, found.dots)) / len(found.dots)
                assert share == pytest.approx(found.stated.probability, abs=0.5 / 50 + 1e-3)


def test_a_table_marks_what_cannot_be_told_apart_and_sorts(tmp_path: Path) -> None:
    sheets = {
        f"{name}.yml": f"id: {name}\ntitle: {name}\nkind: cell\nabout: One.\ninputs:\n"
        f"  mass: {{value: {mass} kg, source: bench}}\n"
        for name, mass in (("a", "1.00 ± 0.02"), ("b", "1.01 ± 0.02"), ("c", "3.00 ± 0.02"))
    }
    text = (
        "# Page\n```yaml table\nid: shown\ntitle: Shown\nrows: {A: a, B: b, C: c}\n"
        'columns: {Mass: "{row}.mass in g"}\nsort: Mass\n```\n'
    )
    whole = work(tmp_path, {"index.md": text}, sheets)
    html = table_html(whole.book.showings["shown"], Readings(whole))
    assert re.findall(r'scope="row">(\w)', html) == ["C", "B", "A"]
    assert re.findall(r"≈ (\w+)", html) == ["A", "B"]
    assert "Mass / g" in html and "1000 ±\u00a020" in html and "largest first" in html


def test_what_two_results_share_does_not_make_them_alike(tmp_path: Path) -> None:
    sheet = (
        "id: s\ntitle: s\nkind: prices\nabout: One.\ninputs:\n"
        "  price: {value: 100 ± 20 g, source: bench}\n  more: {value: 1.10 ± 0.04, source: bench}\n"
    )
    calcs = "".join(
        f"```yaml calc\nid: {id}\ntitle: {id}\ninputs:\n  price: {{from: s.price}}\n"
        f"  more: {{from: s.more}}\nsteps:\n  cost: {formula}\n```\n"
        for id, formula in (
            ("plain", "price * 1"),
            ("dear", "price * more"),
            ("free", "price - 5 * price * (more - 1)"),
        )
    )
    text = (
        "# Page\n"
        + calcs
        + (
            "```yaml table\nid: shown\ntitle: Shown\nrows: {A: plain, B: dear, C: free}\n"
            'columns: {Cost: "{row}.cost in g"}\n```\n'
        )
    )
    whole = work(tmp_path, {"index.md": text}, {"s.yml": sheet})
    column = tables.read(whole.book.showings["shown"], whole).columns[0]
    # B is 10 ± 4 % above A whatever the price; C is 50 ± 20 % below. All intervals overlap.
    assert column.alike == frozenset()


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
