"""Every page of the site on a phone: nothing to scroll sideways, no line begins with a comma."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.kinds import PHONE, lay_out_cards, unfold

_TOO_WIDE = """() => {
  const width = innerWidth;
  const wide = document.documentElement.scrollWidth > width ? ["page"] : [];
  for (const card of document.querySelectorAll(".wc-card"))
    if (card.scrollWidth > card.clientWidth) wide.push(card.id);
  return wide;
}"""

# Where punctuation follows a button, it has to begin on the line where the button ends.
_LEFT_ALONE = """() => {
  const alone = [];
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const range = document.createRange();
  for (const button of document.querySelectorAll("button.wc-figure, button.wc-term")) {
    texts.currentNode = button.lastChild;
    const next = texts.nextNode();
    if (!next || !/^[.,;:!?)\\]”’…]/.test(next.data)) continue;
    range.setStart(next, 0);
    range.setEnd(next, 1);
    if (range.getBoundingClientRect().top >= button.getBoundingClientRect().bottom)
      alone.push(button.textContent + next.data.slice(0, 9));
  }
  return alone;
}"""


def faults(phone: Page, addresses: Iterable[str]) -> dict[str, list[str]]:
    """What is wrong with each page that has a fault, all folds and cards of it laid open."""
    found: dict[str, list[str]] = {}
    for address in addresses:
        phone.goto(address)
        unfold(phone)
        alone: list[str] = phone.evaluate(_LEFT_ALONE)
        lay_out_cards(phone)
        wide: list[str] = phone.evaluate(_TOO_WIDE)
        if alone or wide:
            found[address] = [*wide, *alone]
    return found


def addresses(site: Path, holding: str = "") -> list[str]:
    """All pages of the site that hold a piece of HTML."""
    pages = sorted(site.rglob("*.html"))
    return [f"/{page.relative_to(site).as_posix()}" for page in pages
            if holding in page.read_text("utf-8")]  # fmt: skip


@pytest.fixture(params=[False, True], ids=["no scripts", "scripts"])
def phone(
    browser: Browser, site_address: str, request: pytest.FixtureRequest
) -> Iterator[tuple[Page, bool]]:
    """A page on a phone that keeps what it has loaded once, for a long walk; has it scripts?"""
    scripts: bool = request.param
    context = browser.new_context(
        base_url=site_address, viewport=PHONE, java_script_enabled=scripts
    )
    yield context.new_page(), scripts
    context.close()


# The theme's scripts cost most of a page's time; what scripts change in our own is the panels.
@pytest.mark.browser
@pytest.mark.slow
def test_every_page_fits(phone: tuple[Page, bool], built_site: Path) -> None:
    page, scripts = phone
    walked = addresses(built_site, "explore__controls" if scripts else "")
    assert len(walked) >= (12 if scripts else 100)
    assert faults(page, walked) == {}
