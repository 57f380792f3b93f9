"""With the keyboard alone, everything is reached and everything works."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.kinds import KINDS

# Every place gets a number as soon as it can be reached, also what unfolding has brought.
_MARK = """() => {
  const wanted = ".wc-figure, .wc-term, summary, .chart__scroll, .wc-scroll, input[type=range]";
  let at = 0;
  for (const place of document.querySelectorAll(".md-content :is(" + wanted + ")"))
    if (place.matches("button, summary, [tabindex], input")) place.dataset.place = String(at++);
  return at;
}"""

_HERE = """() => {
  const here = document.activeElement;
  const kind = here.matches("summary") ? "fold"
    : here.matches("input[type=range]") ? "slider"
    : here.matches("button[popovertarget]") ? "card" : "other";
  const ring = getComputedStyle(here);
  return {
    place: here.dataset.place ?? "", kind, last: here === document.body,
    ringed: ring.outlineStyle !== "none" && parseFloat(ring.outlineWidth) >= 1,
  };
}"""

_CARD = """() => {
  const card = document.getElementById(document.activeElement.getAttribute("popovertarget"));
  return card.matches(":popover-open");
}"""


def open_and_close_card(page: Page) -> None:
    """Enter opens the card of the button in focus, Escape closes it and comes back."""
    place = page.evaluate("document.activeElement.dataset.place")
    page.keyboard.press("Enter")
    assert page.evaluate(_CARD), f"Enter opens no card at place {place}"
    page.keyboard.press("Escape")
    assert page.evaluate("document.activeElement.dataset.place") == place
    assert not page.evaluate(_CARD), f"Escape closes no card at place {place}"


def unfold(page: Page) -> None:
    """Enter opens the fold in focus; one that is open already is left so."""
    if not page.evaluate("document.activeElement.parentElement.open"):
        page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.parentElement.open")


def move_slider(page: Page) -> None:
    """An arrow moves the slider in focus, and results move with it."""
    before = page.evaluate("document.activeElement.value")
    page.keyboard.press("ArrowRight")
    if page.evaluate("document.activeElement.value") == before:  # it stands at its end
        page.keyboard.press("ArrowLeft")
    assert page.evaluate("document.activeElement.value") != before
    expect(page.locator(".explore:focus-within .explore__status")).to_contain_text("Moved: ")
    expect(page.locator(".explore:focus-within [data-of]").first).not_to_be_empty()


ACTS = {"card": open_and_close_card, "fold": unfold, "slider": move_slider}


@pytest.mark.browser
@pytest.mark.slow
def test_everything_is_reached_and_works(page: Page) -> None:
    page.goto(KINDS["question"])
    places = {str(at) for at in range(page.evaluate(_MARK))}
    reached: dict[str, set[str]] = {kind: set() for kind in (*ACTS, "other")}
    for _ in range(2000):
        page.keyboard.press("Tab")
        here = page.evaluate(_HERE)
        if here["last"]:
            break
        if here["place"]:
            assert here["ringed"], page.evaluate("document.activeElement.outerHTML")
            reached[here["kind"]].add(here["place"])
            if here["kind"] in ACTS:
                ACTS[here["kind"]](page)
    assert set().union(*reached.values()) == places
    assert all(reached.values()), reached


@pytest.mark.browser
def test_the_way_to_the_text_is_short(page: Page) -> None:
    page.goto(KINDS["question"])
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent").strip() == "Skip to content"
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('article') !== null")
