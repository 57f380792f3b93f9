"""What charts and tables show of small books: values, bands, ends, and what is alike."""

from __future__ import annotations

import csv
import re
from io import StringIO
from pathlib import Path

import pytest

from hooks.charts import (
    Readings,
    breakdown,
    chart_html,
    data_files,
    line,
    table_html,
    tables,
)
from tests.helpers import calc_page, work
from tests.hooks.pictures import SVG, picture


def page(inputs: dict[str, str], steps: dict[str, str], block: str) -> str:
    """A page with one calc and one block of a picture."""
    return calc_page(inputs, steps) + f"\n```yaml chart\nid: shown\ntitle: Shown\n{block}\n```\n"


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
