"""Tables that compare, in a real browser: sorted by a press, and cards on a phone."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from hooks.charts import Readings, table_html
from tests.helpers import ROOT, work

pytestmark = pytest.mark.browser

ASSETS = ROOT / "content" / "assets"
TEXT = (
    "# Page\n```yaml table\nid: shown\ntitle: Shown\nrows: {A: a, B: b, C: c}\n"
    'columns: {Mass: "{row}.mass in g", Length: "{row}.length in mm"}\n```\n'
)


def opened(browser: Browser, folder: Path, width: int) -> Page:
    """A table of three rows with our own styles and script."""
    sheets = {
        f"{name}.yml": f"id: {name}\ntitle: {name}\nkind: cell\nabout: One.\ninputs:\n"
        f"  mass: {{value: {mass} kg, source: bench}}\n"
        f"  length: {{value: {length} m, source: bench}}\n"
        for name, mass, length in (("a", "2.0", "1"), ("b", "10.0", "3"), ("c", "3.0", "2"))
    }
    whole = work(folder, {"index.md": TEXT}, sheets)
    page = browser.new_page(viewport={"width": width, "height": 800})
    html = table_html(whole.book.showings["shown"], Readings(whole))
    page.set_content(f'<!doctype html><title>T</title><main class="md-typeset">{html}</main>')
    page.add_style_tag(path=ASSETS / "charts.css")
    page.add_script_tag(path=ASSETS / "tables.js")
    return page


def test_a_press_on_a_heading_sorts_by_number(browser: Browser, tmp_path: Path) -> None:
    page = opened(browser, tmp_path, 1000)
    names = page.locator("tbody th")
    expect(names).to_have_text(["A", "B", "C"])
    head = page.get_by_role("button", name="Mass / g")
    head.press("Enter")
    expect(names).to_have_text(["B", "C", "A"])
    expect(page.get_by_role("columnheader", name="Mass / g")).to_have_attribute(
        "aria-sort", "descending"
    )
    head.press("Enter")
    expect(names).to_have_text(["A", "C", "B"])
    page.get_by_role("button", name="Length / mm").click()
    expect(names).to_have_text(["B", "C", "A"])
    expect(page.locator("[aria-sort]")).to_have_count(1)
    page.close()


def test_on_a_phone_rows_are_cards_and_nothing_runs_off(browser: Browser, tmp_path: Path) -> None:
    page = opened(browser, tmp_path, 360)
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= 360
    first, second = (page.locator("tbody tr").nth(at).bounding_box() for at in (0, 1))
    assert first and second and second["y"] >= first["y"] + first["height"]
    told = page.locator("tbody td").first.evaluate(
        "cell => getComputedStyle(cell, '::before').content"
    )
    assert told == '"Mass / g"'
    page.close()


def test_on_a_phone_a_list_puts_the_cards_in_order(browser: Browser, tmp_path: Path) -> None:
    page = opened(browser, tmp_path, 360)
    names, order = page.locator("tbody th"), page.get_by_label("Order:")
    for chosen, expected in (
        ("Mass / g, largest first", ["B", "C", "A"]),
        ("Length / mm, smallest first", ["A", "C", "B"]),
        ("as given", ["A", "B", "C"]),
    ):
        order.select_option(chosen)
        expect(names).to_have_text(expected)
    expect(page.get_by_role("button")).to_have_count(0)
    page.close()


def test_at_a_desk_the_headings_order_and_the_list_is_away(
    browser: Browser, tmp_path: Path
) -> None:
    page = opened(browser, tmp_path, 1000)
    expect(page.locator(".compare__order")).to_be_hidden()
    page.get_by_role("button", name="Mass / g").click()
    expect(page.locator(".compare__order select")).to_have_value("1,1")
    page.close()
