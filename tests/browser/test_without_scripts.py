"""With scripts off, everything can still be read and opened."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser.kinds import KINDS


@pytest.fixture
def plain(browser: Browser, site_address: str) -> Iterator[Page]:
    """The question page in a browser that runs no scripts."""
    context = browser.new_context(base_url=site_address, java_script_enabled=False)
    opened = context.new_page()
    opened.goto(KINDS["question"])
    yield opened
    context.close()


def each(found: Locator) -> Iterator[Locator]:
    """One after the other; there has to be one."""
    count = found.count()
    assert count
    return (found.nth(at) for at in range(count))


@pytest.mark.browser
def test_every_figure_and_term_opens_its_card(plain: Page) -> None:
    for button in each(plain.locator("button.wc-figure, button.wc-term")):
        card = plain.locator(f"#{button.get_attribute('popovertarget')}")
        expect(card).to_be_hidden()
        button.click()
        expect(card).to_be_visible()
        assert len(card.inner_text()) > 40
        card.get_by_role("button", name="Close").click()
        expect(card).to_be_hidden()


@pytest.mark.browser
def test_every_working_and_table_unfolds(plain: Page) -> None:
    for fold in each(plain.locator(".md-content details")):
        fold.locator("> summary").click()
        inside = fold.locator("> *:not(summary)").first
        expect(inside).to_be_visible()
    expect(plain.locator(".wc-working math").first).to_be_visible()
    for table in each(plain.locator(".chart__scroll table")):
        expect(table).to_be_visible()
        assert table.locator("tbody tr").count() >= 1


@pytest.mark.browser
def test_every_file_of_numbers_is_there(plain: Page) -> None:
    plain.evaluate("document.querySelectorAll('details').forEach((fold) => { fold.open = true; })")
    for link in each(plain.locator("a[href$='.csv']")):
        expect(link).to_be_visible()
        address = link.evaluate("link => link.href")
        lines = plain.request.get(address).text().splitlines()
        columns = lines[0].count(",")
        assert len(lines) > 1 and columns >= 1


@pytest.mark.browser
def test_a_panel_shows_what_is_stated_and_no_dead_slider(plain: Page) -> None:
    for panel in each(plain.locator("section.explore")):
        expect(panel.locator(".explore__inputs")).to_be_visible()
        expect(panel.locator(".explore__results")).to_be_visible()
        for slider in each(panel.locator("input[type=range]")):
            expect(slider).to_be_hidden()
