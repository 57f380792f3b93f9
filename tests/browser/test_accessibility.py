"""Nobody is shut out: axe-core finds nothing on any kind of page, however it is looked at."""

from __future__ import annotations

from collections.abc import Mapping
from importlib.resources import files
from typing import Literal

import pytest
from playwright.sync_api import Page, ViewportSize

from tests.browser.kinds import DESK, KINDS, PHONE, lay_out_cards, unfold
from tests.browser.searching import search

Look = tuple[ViewportSize, Literal["light", "dark"]]

AXE = files("axe_playwright_python").joinpath("axe.min.js").read_text("utf-8")
LOOKS: Mapping[str, Look] = {
    "phone, light": (PHONE, "light"),
    "desk, dark": (DESK, "dark"),
    "phone, dark": (PHONE, "dark"),
    "desk, light": (DESK, "light"),
}
# Each size and each scheme once for every kind, with its hundreds of cards laid out; all four for
# the kinds that between them have every part. The longest page has nothing that the others lack.
ONCE = ("phone, light", "desk, dark")
WHOLE = ("home", "question", "method", "claims")
PAGES = [(kind, how) for kind in KINDS for how in LOOKS
         if kind in WHOLE or how in (ONCE[:1] if kind == "longest question" else ONCE)]  # fmt: skip

_RUN = """async (place) => {
  const found = await axe.run(place ?? document, { resultTypes: ["violations"] });
  return found.violations.flatMap((rule) => rule.nodes.map((node) =>
    `${rule.id}: ${node.target.join(" ")}: ${node.failureSummary}`));
}"""


def faults(page: Page, place: str | None = None) -> list[str]:
    """What axe-core finds wrong on the page, or in one place of it."""
    if not page.evaluate("typeof axe === 'object'"):
        page.evaluate(AXE)
    found: list[str] = page.evaluate(_RUN, place)
    return found


def look(page: Page, kind: str, how: str) -> None:
    """Opens a page of a kind on a screen of one size, light or dark."""
    size, scheme = LOOKS[how]
    page.set_viewport_size(size)
    page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
    page.goto(KINDS[kind])


@pytest.mark.browser
@pytest.mark.slow
@pytest.mark.parametrize(("kind", "how"), PAGES)
def test_a_page_laid_open_has_no_fault(page: Page, kind: str, how: str) -> None:
    look(page, kind, how)
    unfold(page)
    if how in ONCE:
        lay_out_cards(page)
    assert faults(page) == []


@pytest.mark.browser
@pytest.mark.parametrize("how", LOOKS)
def test_an_open_card_has_no_fault(page: Page, how: str) -> None:
    look(page, "question", how)
    for kind, card in (("wc-figure", "#card-1"), ("wc-term", "#term-1")):
        page.locator(f"button.{kind}").first.click()
        assert faults(page, card) == []
        page.keyboard.press("Escape")


@pytest.mark.browser
@pytest.mark.parametrize("how", LOOKS)
def test_a_moved_panel_has_no_fault(page: Page, how: str) -> None:
    look(page, "question", how)
    page.locator("section.explore input[type=range]").first.press("ArrowRight")
    assert faults(page, "section.explore--moved") == []


@pytest.mark.browser
@pytest.mark.parametrize("how", LOOKS)
def test_the_open_search_has_no_fault(page: Page, how: str) -> None:
    look(page, "home", how)
    search(page, "energy")
    assert faults(page) == []


@pytest.mark.browser
def test_the_open_menu_has_no_fault(page: Page) -> None:
    look(page, "question", "phone, light")
    page.locator("label.md-header__button[for=__drawer]").click()
    assert faults(page, ".md-sidebar--primary") == []


@pytest.mark.browser
def test_a_fault_would_be_found(page: Page) -> None:
    look(page, "home", "desk, light")
    page.evaluate("document.querySelector('article p').style.color = '#bbb'")
    assert [text for text in faults(page) if text.startswith("color-contrast")]
