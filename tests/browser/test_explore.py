"""Explore panels in a real browser: the same numbers as the build, reachable, and shareable."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise
from pathlib import Path
from random import Random

import pytest
from playwright.sync_api import Browser, Page, expect

from calc.whole import Whole, work_through
from hooks.explore import explore_html
from hooks.explore_panel import Panel, read_panel
from tests.helpers import ROOT, calc_page, work
from tests.hooks.panels import SCRIPT, built, random_settings, rolled

pytestmark = pytest.mark.browser

TRIES = 8
EQUAL = 1e-9
"""Relative; Math.pow and its like may differ from NumPy's in the last bit."""

MOVE = """([id, settings]) => {
  const section = document.getElementById(id);
  for (const [name, text] of Object.entries(settings)) {
    section.querySelector(`input[name="${name}"]`).value = text;
  }
  section.dispatchEvent(new Event("input"));
  return Object.fromEntries([...section.querySelectorAll("[data-of]")].map(
    (output) => [output.dataset.of, Number(output.dataset.value)]));
}"""


@pytest.fixture(scope="module")
def site() -> Whole:
    """The site's own content, worked through."""
    return work_through(ROOT / "content", ROOT / "site_data")


@pytest.fixture
def bare(browser: Browser) -> Iterator[Page]:
    """An empty page that fails on an error in a script."""
    page = browser.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    yield page
    page.close()
    assert not errors


def open_panels(page: Page, whole: Whole) -> dict[str, Panel]:
    """Every panel of a book on one page, with the script; by id."""
    showings = [each for each in whole.book.showings.values() if each.kind == "explore"]
    body = "".join(explore_html(each, whole) for each in showings)
    page.set_content(f"<!doctype html><title>Panels</title><main>{body}</main>")
    page.add_script_tag(path=SCRIPT)
    return {each.id: read_panel(each, whole) for each in showings}


def moved(page: Page, id: str, settings: Mapping[str, str]) -> dict[str, float]:
    """What a panel shows once its sliders stand at the settings, by the id of the result."""
    found: dict[str, float] = page.evaluate(MOVE, [id, dict(settings)])
    return found


def effective(panel: Panel, settings: Mapping[str, str]) -> dict[str, float]:
    """What the settings mean: a slider put back where it rests has exactly its stated value."""
    return {
        each.name: each.stated if _at_rest(each.low, each.step, each.stated, text) else float(text)
        for each in panel.sliders
        for text in (settings[each.name],)
    }


def _at_rest(low: float, step: float, stated: float, text: str) -> bool:
    return abs(low + round((stated - low) / step) * step - float(text)) < 1e-9 * step


def test_browser_and_build_agree_on_every_panel_of_the_site(bare: Page, site: Whole) -> None:
    panels = open_panels(bare, site)
    random = Random(11)
    for id, panel in panels.items():
        for _ in range(TRIES):
            settings = random_settings(panel, random)
            shown = moved(bare, id, settings)
            expected = built(panel, effective(panel, settings), site)
            for each in panel.shown:
                room = max(EQUAL * abs(expected[each.id]), 1e-12 * (each.span[1] - each.span[0]))
                room = each.error or room
                assert abs(shown[each.id] - expected[each.id]) <= room, (id, each.id, settings)
    assert any(panel.grids for panel in panels.values())
    assert any(not panel.grids for panel in panels.values())


def test_at_rest_every_panel_has_the_stated_values(bare: Page, site: Whole) -> None:
    for id, panel in open_panels(bare, site).items():
        shown = moved(bare, id, {})
        for each in panel.shown:
            stated, error = each.value.number, each.error
            room = pytest.approx(stated, abs=error) if error else pytest.approx(stated, rel=EQUAL)
            assert shown[each.id] == room, (id, each.id)
        expect(bare.locator(f"#{id} .explore__reset")).to_be_disabled()


def test_what_a_grid_gives_is_within_its_stated_error(bare: Page, tmp_path: Path) -> None:
    whole = rolled(tmp_path)
    panel = open_panels(bare, whole)["rolled"]
    random = Random(5)
    for _ in range(40):
        settings = random_settings(panel, random)
        shown = moved(bare, "rolled", settings)
        expected = built(panel, effective(panel, settings), whole)
        for each in panel.shown:
            assert abs(shown[each.id] - expected[each.id]) <= each.error


PAGE = calc_page(
    {"x": "2.03 ± 0.10 m", "width": "3 m", "warm": "20 degC"},
    {
        "area": "x * width in m^2",
        "every": "abs(-x) / x + sum(1, 2) + mean(1, 2, 3) + min(x, width) / x + max(1, 2)"
        " + where(x > width, 1, 2) + round(x / width) + floor(2.5) + ceil(2.5) + (x == x)",
        "roots": "sqrt(x / width) + exp(x / width) + log(x / width) + log10(x / width)"
        " + log2(x / width) + sin(x / width) + cos(x / width) + tan(x / width)"
        " + asin(x / width / 9) + acos(x / width / 9) + atan(x / width) + sinh(x / width)"
        " + cosh(x / width) + tanh(x / width) + asinh(x / width)",
        "power": "(x / width) ** -1.5",
        "warmer": "warm * (1 + x / width / 100) in degC",
    },
) + (
    "```yaml claim\nid: wide\nsource: bench\nsays: at least 6 m^2\nof: trial.area\n"
    "verdict: undecided\n```\n```yaml explore\nid: panel\ntitle: A panel\ncalc: trial\n"
    "sliders: {x: 1 m to 3 m, width: 2 m to 4 m, warm: 0 degC to 40 degC}\n"
    "show: [area, every, roots, power, warmer]\nclaims: [wide]\n```\n"
)


def test_every_function_of_formulas_means_the_same_in_both(bare: Page, tmp_path: Path) -> None:
    whole = work(tmp_path, {"index.md": PAGE})
    panel = open_panels(bare, whole)["panel"]
    random = Random(2)
    for _ in range(40):
        settings = random_settings(panel, random)
        expected = built(panel, effective(panel, settings), whole)
        assert moved(bare, "panel", settings) == pytest.approx(expected, rel=EQUAL)


def test_moved_looks_moved_and_one_press_brings_all_back(bare: Page, tmp_path: Path) -> None:
    open_panels(bare, work(tmp_path, {"index.md": PAGE}))
    panel = bare.locator("#panel")
    slider = panel.get_by_label("x")
    status = panel.locator(".explore__status")
    expect(status).to_contain_text("as stated")
    slider.focus()
    slider.press("ArrowRight")
    expect(status).to_contain_text("x 2.04\u00a0m (stated 2.03 ± 0.10\u00a0m)")
    expect(status).to_contain_text("no longer what the site states")
    expect(panel.locator("[data-of='trial.area']")).to_have_text("6.12\u00a0m²")
    expect(panel.locator("[data-claim='wide']")).to_have_text("would hold")
    expect(panel.get_by_text("6.09 ± 0.30\u00a0m²")).to_be_visible()
    assert slider.get_attribute("aria-valuetext") == "2.04\u00a0m"
    expect(panel.get_by_role("status")).to_contain_text("area 6.12\u00a0m²")
    slider.press("Home")
    expect(panel.locator("[data-claim='wide']")).to_have_text("would not hold")
    panel.get_by_role("button", name="Back to the stated values").press("Enter")
    expect(status).to_contain_text("as stated")
    expect(panel.locator("[data-of='trial.area']")).to_have_text("")


def test_the_curve_follows_the_slider_in_hand(bare: Page, tmp_path: Path) -> None:
    open_panels(bare, work(tmp_path, {"index.md": PAGE}))
    picture = bare.locator("#panel .explore__curve")
    expect(picture.locator("p")).to_have_text("area over x")
    after = picture.locator(".explore__after")
    assert after.get_attribute("d") == ""
    bare.get_by_label("width").press("End")
    expect(picture.locator("p")).to_have_text("area over width")
    points = [
        tuple(map(float, point.split(",")))
        for point in (after.get_attribute("d") or "").lstrip("M").split("L")
    ]
    assert len(points) == 61
    slopes = [(b[1] - a[1]) / (b[0] - a[0]) for a, b in pairwise(points)]
    assert max(slopes) - min(slopes) < 0.1, "area is straight in width"
    assert slopes[0] < 0, "a larger value stands higher"


def test_the_address_carries_the_settings(bare: Page, tmp_path: Path) -> None:
    whole = work(tmp_path, {"index.md": PAGE})
    html = explore_html(whole.book.showings["panel"], whole)
    place = tmp_path / "page.html"
    script = f"<script>{SCRIPT.read_text('utf-8')}</script>"
    place.write_text(f"<!doctype html><title>P</title><main>{html}</main>{script}", "utf-8")
    bare.goto(f"{place.as_uri()}#panel:x=2.5;width=3.5")
    area = bare.locator("[data-of='trial.area']")
    assert float(area.get_attribute("data-value") or "") == pytest.approx(8.75)
    link = bare.get_by_role("link", name="Address of these settings")
    assert (link.get_attribute("href") or "") == "#panel:x=2.5;width=3.5"
    bare.get_by_label("width").press("End")
    assert bare.url.endswith("#panel:x=2.5;width=4")
    bare.goto(f"{place.as_uri()}#panel:x=nonsense;width=99;other=1")
    assert float(area.get_attribute("data-value") or "") == pytest.approx(2.03 * 4)


def test_without_scripts_the_stated_values_are_read_as_tables(
    browser: Browser, tmp_path: Path
) -> None:
    whole = work(tmp_path, {"index.md": PAGE})
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.set_content(explore_html(whole.book.showings["panel"], whole))
    expect(page.get_by_role("row", name="x 2.03 ± 0.10 m 1 to 3 m")).to_be_visible()
    expect(page.get_by_role("cell", name="6.09 ± 0.30 m²")).to_be_visible()
    expect(page.get_by_role("slider")).to_have_count(0)
    context.close()


@pytest.mark.slow
def test_a_panel_works_on_the_built_site(page: Page, site: Whole) -> None:
    each = next(one for one in site.book.showings.values() if one.kind == "explore")
    home = each.place.file.removeprefix("content/").removesuffix(".md").removesuffix("index")
    panel = read_panel(each, site)
    settings = random_settings(panel, Random(1))
    parts = ";".join(f"{name}={text}" for name, text in settings.items())
    page.goto(f"/{home}/#{each.id}:{parts}")
    expected = built(panel, effective(panel, settings), site)
    for shown in panel.shown:
        output = page.locator(f"[data-of='{shown.id}']")
        assert float(output.get_attribute("data-value") or "") == pytest.approx(expected[shown.id])
