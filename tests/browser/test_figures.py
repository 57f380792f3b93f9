"""A figure opens its working: by pointer, by keyboard, without scripts, and on paper."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

pytestmark = pytest.mark.browser

QUESTION = "/questions/energy-per-kilogram/"


@pytest.fixture
def scriptless(browser: Browser, site_address: str) -> Iterator[Page]:
    """A page of the site in a browser that runs no scripts."""
    context = browser.new_context(base_url=site_address, java_script_enabled=False)
    yield context.new_page()
    context.close()


def figure(page: Page) -> Locator:
    """The first figure of a page's prose."""
    return page.locator("button.wc-figure").first


def card(page: Page) -> Locator:
    """The card that the first figure opens."""
    return page.locator("#card-1")


def test_a_click_opens_the_card_and_escape_closes_it(page: Page) -> None:
    page.goto(QUESTION)
    expect(card(page)).to_be_hidden()
    figure(page).click()
    expect(card(page)).to_be_visible()
    expect(card(page)).to_contain_text("most likely")
    expect(card(page)).to_contain_text("Weakest link")
    page.keyboard.press("Escape")
    expect(card(page)).to_be_hidden()


def test_the_keyboard_opens_the_card_and_reaches_its_links(page: Page) -> None:
    page.goto(QUESTION)
    figure(page).focus()
    page.keyboard.press("Enter")
    expect(card(page)).to_be_visible()
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('.wc-card')?.id") == "card-1"
    page.keyboard.press("Escape")
    expect(card(page)).to_be_hidden()
    expect(figure(page)).to_be_focused()


def test_a_press_elsewhere_closes_the_card(page: Page) -> None:
    page.goto(QUESTION)
    figure(page).click()
    page.mouse.click(5, 400)
    expect(card(page)).to_be_hidden()


def test_the_card_has_a_button_that_closes_it(page: Page) -> None:
    page.goto(QUESTION)
    figure(page).click()
    card(page).get_by_role("button", name="Close").click()
    expect(card(page)).to_be_hidden()


def test_the_card_is_named_for_those_who_listen(page: Page) -> None:
    page.goto(QUESTION)
    figure(page).click()
    expect(page.get_by_role("dialog", name="Working of specific energy")).to_be_visible()


def test_the_card_opens_without_scripts(scriptless: Page) -> None:
    scriptless.goto(QUESTION)
    figure(scriptless).click()
    expect(card(scriptless)).to_be_visible()
    scriptless.keyboard.press("Escape")
    expect(card(scriptless)).to_be_hidden()


def test_a_working_unfolds_without_scripts(scriptless: Page) -> None:
    scriptless.goto(QUESTION)
    working = scriptless.locator("#heron-energy")
    steps = working.locator(".wc-steps")
    expect(working.locator(".wc-results").first).to_be_visible()
    expect(steps).to_be_hidden()
    working.locator("summary").click()
    expect(steps).to_be_visible()
    assert working.locator("math").count() > 4


def test_a_term_is_explained_in_place(page: Page) -> None:
    page.goto(QUESTION)
    page.locator("button.wc-term").first.click()
    expect(page.locator("#term-1")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.locator("#term-1")).to_be_hidden()


def test_an_address_within_a_folded_working_unfolds_it(page: Page) -> None:
    page.goto(QUESTION + "#heron-parts.mass")
    expect(page.locator("[id='heron-parts.mass']")).to_be_visible()


def test_on_paper_the_cards_are_endnotes(page: Page) -> None:
    page.goto(QUESTION)
    page.emulate_media(media="print")
    expect(card(page)).to_be_visible()
    expect(page.get_by_text("Workings of the figures")).to_be_visible()
    shown = "getComputedStyle(document.querySelector('.wc-figure'), '::after').content"
    assert "[" in page.evaluate(shown)


def test_a_card_fits_on_a_phone(page: Page) -> None:
    page.set_viewport_size({"width": 360, "height": 740})
    page.goto(QUESTION)
    figure(page).click()
    box = card(page).bounding_box()
    assert box is not None
    assert box["x"] >= 0
    assert box["x"] + box["width"] <= 360
    assert box["y"] + box["height"] <= 741
