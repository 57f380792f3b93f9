"""On paper, cards are endnotes and nothing stays folded."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Page, expect

from tests.browser.kinds import KINDS


@pytest.fixture
def printed(page: Page) -> Iterator[Page]:
    """The question page as it would be printed."""
    page.goto(KINDS["question"])
    page.emulate_media(media="print")
    yield page


@pytest.mark.browser
def test_each_figure_carries_the_number_of_its_note(printed: Page) -> None:
    figures = printed.locator("button.wc-figure")
    assert figures.count()
    for at in range(figures.count()):
        figure = figures.nth(at)
        card = printed.locator(f"#{figure.get_attribute('popovertarget')}")
        expect(card).to_be_visible()
        number = card.locator(".wc-note-number").inner_text()
        shown = figure.evaluate("here => getComputedStyle(here, '::after').content")
        assert "[" in shown and (number in shown or "attr(data-note)" in shown)
        assert number == figure.get_attribute("data-note")
        expect(card.get_by_role("button", name="Close")).to_be_hidden()


@pytest.mark.browser
def test_workings_are_printed_unfolded(printed: Page) -> None:
    steps = printed.locator(".wc-working details .wc-step")
    assert steps.count()
    for at in range(steps.count()):
        assert steps.nth(at).evaluate("step => step.checkVisibility() && step.offsetHeight > 0")


@pytest.mark.browser
def test_sliders_and_menus_are_not_printed(printed: Page) -> None:
    for gone in (".md-header", ".md-tabs", ".md-sidebar--primary", ".explore__controls"):
        expect(printed.locator(gone).first).to_be_hidden()


@pytest.mark.browser
def test_the_dark_page_is_printed_dark_on_light(page: Page) -> None:
    page.emulate_media(color_scheme="dark")
    page.goto(KINDS["question"])
    page.emulate_media(media="print", color_scheme="dark")
    ink, paper = page.evaluate(
        """() => [getComputedStyle(document.querySelector("article p")).color,
                 getComputedStyle(document.body).backgroundColor].map((colour) =>
          Math.max(...colour.match(/[\\d.]+/g).slice(0, 3).map(Number)))"""
    )
    assert ink < 100 and paper > 240
