"""The site's search box, used as a reader uses it."""

from __future__ import annotations

from urllib.parse import urlsplit

from playwright.sync_api import Page


def search(page: Page, words: str) -> list[str]:
    """Types words into the search box; returns the paths of the pages found, the best first."""
    if page.viewport_size and page.viewport_size["width"] < 960:
        page.locator("label.md-header__button[for=__search]").click()
    box = page.get_by_role("textbox", name="Search")
    box.click()
    box.press_sequentially(words)  # the theme listens to keys
    page.locator(".md-search-result__item").first.wait_for()
    links = page.locator(".md-search-result__item > a").evaluate_all(
        "links => links.map((link) => link.href)"
    )
    paths = (urlsplit(link).path for link in links)
    return list(dict.fromkeys(paths))
