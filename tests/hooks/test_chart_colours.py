"""The colours of charts: told from the paper, and from one another, by every reader."""

from __future__ import annotations

import re
from itertools import combinations

import pytest

from hooks.charts.style import DASHES, SERIES, VARIABLES
from tests.helpers import ROOT
from tests.hooks.colour_vision import VISION, contrast, distance

ASSETS = ROOT / "content" / "assets"
GRAPHIC, TEXT = 3.0, 4.5
"""WCAG 2.2, success criteria 1.4.11 and 1.4.3."""

APART = 15.0
"""ΔE*ab; what differs by 2.3 is just told apart side by side (common practice, no source), and
lines on a page lie further from one another than that."""


def variables(css: str, scheme: str) -> dict[str, str]:
    """The colours that a style sheet sets for one scheme."""
    rule = re.search(rf'data-md-color-scheme="{scheme}"\] \{{(.*?)\}}', css, re.S)
    assert rule, scheme
    return dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", rule[1]))


CHARTS = (ASSETS / "charts.css").read_text("utf-8")
SCREEN, PRINT = CHARTS.split("@media print")
SCHEMES = {
    "light": variables(SCREEN, "default"),
    "dark": variables(SCREEN, "slate"),
    "print": variables(PRINT, "slate"),
}


def series(colours: dict[str, str]) -> list[str]:
    """The colours of lines and bars, in order."""
    return [colours[f"chart-{number}"] for number in range(1, len(SERIES) + 1)]


def test_every_variable_of_the_drawings_has_a_colour() -> None:
    for colours in SCHEMES.values():
        assert {name.removeprefix("--") for name in VARIABLES.values()} <= colours.keys()


@pytest.mark.parametrize("scheme", SCHEMES)
def test_marks_and_text_stand_out_from_the_paper(scheme: str) -> None:
    colours = SCHEMES[scheme]
    for colour in series(colours):
        assert contrast(colour, colours["chart-paper"]) >= GRAPHIC, colour
    for name in ("chart-ink", "chart-quiet"):
        assert contrast(colours[name], colours["chart-paper"]) >= TEXT, name


@pytest.mark.parametrize("vision", VISION)
@pytest.mark.parametrize("scheme", SCHEMES)
def test_colours_are_told_apart_by_every_eye(scheme: str, vision: str) -> None:
    for one, other in combinations(series(SCHEMES[scheme]), 2):
        assert distance(one, other, vision) >= APART, (one, other)


def test_lines_differ_without_any_colour() -> None:
    assert len(set(map(str, DASHES))) == len(DASHES) >= len(SERIES)


def test_the_paper_of_charts_is_the_paper_of_the_site() -> None:
    site = (ASSETS / "site.css").read_text("utf-8")
    for scheme, name in (("light", "default"), ("dark", "slate")):
        assert SCHEMES[scheme]["chart-paper"] == variables(site, name)["wc-paper"]


def test_the_arithmetic_sees_what_it_should() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    # Red and green of one lightness: far apart, and close together without red-green vision.
    assert distance("#a04a3a", "#5c7030") > 40
    assert distance("#a04a3a", "#5c7030", "deuteranopia") < APART
