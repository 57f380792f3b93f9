"""Values, units and chemical formulas are found as a reader types them."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from tests.browser.searching import search

WANTED = {
    "LiFePO4": {"/facts/lithium-iron-phosphate/", "/materials/iron-phosphate/", "/glossary/"},
    "Wh/kg": {"/questions/energy-per-kilogram/", "/questions/four-estimates/"},
    "watt hours per kilogram": {"/questions/energy-per-kilogram/"},
    "watt-hours per kilogram": {"/questions/energy-per-kilogram/"},
    "LiNi0.8Mn0.1Co0.1O2": {"/facts/nmc-811/", "/materials/layered-oxides/"},
    "mAh/g": {"/materials/"},
    "theoretical capacity": {"/methods/hosts/theoretical-capacity/"},
    "specific energy": {"/methods/pack-and-craft/pack-specific-energy/"},
}
"""What is typed, and pages that have to be among the first ten found."""


@pytest.mark.browser
@pytest.mark.parametrize("words", WANTED)
def test_the_search_finds(page: Page, words: str) -> None:
    page.goto("/")
    assert WANTED[words] <= set(search(page, words)[:10])


@pytest.mark.browser
def test_the_search_opens_what_it_found(page: Page) -> None:
    page.goto("/")
    first = search(page, "iron phosphate")[0]
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    page.wait_for_url(f"**{first}**")
