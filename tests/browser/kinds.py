"""One page of each kind that the site has, and how to lay open everything on it."""

from __future__ import annotations

from collections.abc import Mapping

from playwright.sync_api import Page, ViewportSize

KINDS: Mapping[str, str] = {
    "home": "/",
    "questions": "/questions/",
    "question": "/questions/dearer-cell/",
    "longest question": "/questions/turnaround/",
    "cell": "/cells/heron/",
    "material": "/materials/silicon/",
    "methods": "/methods/",
    "method": "/methods/cells/pouch-budget/",
    "claims": "/evidence/claims/",
    "forecasts": "/evidence/forecasts/",
    "open questions": "/evidence/open-questions/",
    "corrections": "/evidence/corrections/",
    "sources": "/evidence/sources/",
    "source": "/evidence/sources/chen-2020/",
    "facts": "/facts/ferry/",
    "guide": "/guide/how-to-read-a-figure/",
    "notation": "/guide/notation/",
    "glossary": "/glossary/",
}
"""Address of one page of each kind."""

PHONE: ViewportSize = {"width": 360, "height": 780}
DESK: ViewportSize = {"width": 1280, "height": 900}

_UNFOLD = """() => {
  for (const fold of document.querySelectorAll("details")) fold.open = true;
}"""

_LAY_OUT = """() => {
  for (const card of document.querySelectorAll("[popover]")) card.removeAttribute("popover");
}"""


def unfold(page: Page) -> None:
    """Opens every fold of the page."""
    page.evaluate(_UNFOLD)


def lay_out_cards(page: Page) -> None:
    """Takes every card out of hiding and puts it at the page's end, where it stands in the text."""
    page.evaluate(_LAY_OUT)
