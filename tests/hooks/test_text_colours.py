"""Text is told from what it stands on, light and dark; charts have a test of their own."""

from __future__ import annotations

import pytest

from tests.hooks.colour_vision import contrast
from tests.hooks.test_chart_colours import ASSETS, TEXT, variables

CSS = (ASSETS / "site.css").read_text("utf-8")
SCHEMES = {name: variables(CSS, name) for name in ("default", "slate")}
ON = {
    "wc-paper": (
        "wc-ink",
        "wc-ink-soft",
        "wc-link",
        "wc-copper",
        "wc-holds",
        "wc-fails",
        "wc-open",
    ),
    "wc-raised": ("wc-ink", "wc-ink-soft", "wc-link", "wc-copper"),
    "wc-copper-tint": ("wc-ink", "wc-link"),
    "wc-holds-tint": ("wc-holds", "wc-ink"),
    "wc-fails-tint": ("wc-fails", "wc-ink"),
    "wc-open-tint": ("wc-open", "wc-ink"),
}
"""Colours of text by what they may stand on."""


@pytest.mark.parametrize("scheme", SCHEMES)
def test_text_stands_out(scheme: str) -> None:
    colours = SCHEMES[scheme]
    for ground, inks in ON.items():
        for ink in inks:
            assert contrast(colours[ink], colours[ground]) >= TEXT, (ink, ground)


@pytest.mark.parametrize("scheme", SCHEMES)
def test_code_stands_out(scheme: str) -> None:
    colours = SCHEMES[scheme]
    inks = {name: value for name, value in colours.items() if name.startswith("md-code-hl-")}
    assert len(inks) >= 10
    for name, ink in (inks | {"md-code-fg-color": colours["md-code-fg-color"]}).items():
        assert contrast(ink, colours["md-code-bg-color"]) >= TEXT, name


@pytest.mark.parametrize("scheme", SCHEMES)
def test_an_underline_that_opens_something_is_seen(scheme: str) -> None:
    colours = SCHEMES[scheme]
    assert contrast(colours["wc-copper"], colours["wc-paper"]) >= 3
    assert contrast(colours["wc-ink-soft"], colours["wc-paper"]) >= 3
