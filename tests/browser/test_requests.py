"""The site speaks with itself alone, and nothing goes wrong in its scripts."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from tests.browser.kinds import KINDS
from tests.browser.searching import search


@pytest.fixture
def watched(page: Page) -> tuple[Page, list[str]]:
    """A page, and what goes wrong on it; the page itself refuses any request that leaves."""
    wrong: list[str] = []
    page.on("console", lambda said: wrong.append(said.text) if said.type == "error" else None)
    page.on("requestfailed", lambda request: wrong.append(f"failed: {request.url}"))
    page.on(
        "response",
        lambda answer: wrong.append(f"{answer.status}: {answer.url}") if not answer.ok else None,
    )
    return page, wrong


@pytest.mark.browser
@pytest.mark.parametrize("kind", KINDS)
def test_a_page_loads_in_peace(watched: tuple[Page, list[str]], kind: str) -> None:
    page, wrong = watched
    page.goto(KINDS[kind], wait_until="networkidle")
    assert wrong == []


@pytest.mark.browser
def test_the_search_loads_in_peace(watched: tuple[Page, list[str]]) -> None:
    page, wrong = watched
    page.goto("/")
    assert search(page, "energy")
    page.wait_for_load_state("networkidle")
    assert wrong == []


@pytest.mark.browser
def test_the_watch_sees_what_is_missing(watched: tuple[Page, list[str]]) -> None:
    page, wrong = watched
    page.goto("/")
    page.evaluate("fetch('nowhere.txt').then(() => console.error('said'))")
    page.wait_for_load_state("networkidle")
    assert any(text.startswith("404: ") for text in wrong)
    assert "said" in wrong
