"""Panels run on settings, and what the build itself makes of the same settings."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from random import Random

from calc.engine.evaluate import values_of
from calc.whole import Whole
from hooks.explore_panel import Panel, Shown, Slider
from tests.helpers import ROOT, calc_page, work

ROLL = (
    "{procedure: wound_roll, with:"
    " {thickness: thickness, inner_radius: inner, outer_radius: outer}}"
)
SCRIPT = ROOT / "content" / "assets" / "explore.js"


def rolled(folder: Path) -> Whole:
    """A book with a panel whose result only a procedure gives."""
    inputs = {"thickness": "200 um", "inner": "2 mm", "outer": "10.0 ± 0.1 mm", "width": "60 mm"}
    steps = {"roll": ROLL, "area": "roll.length * width in cm^2"}
    block = (
        "\n```yaml explore\nid: rolled\ntitle: A roll\ncalc: trial\n"
        "sliders: {outer: 8 mm to 24 mm, thickness: 150 um to 300 um, width: 40 mm to 80 mm}\n"
        "show: [roll.turns, roll.length, area]\n```\n"
    )
    return work(folder, {"index.md": calc_page(inputs, steps) + block})


def random_settings(panel: Panel, random: Random) -> dict[str, str]:
    """A step of each slider, as its text."""
    return {slider.name: _a_step(slider, random) for slider in panel.sliders}


def _a_step(slider: Slider, random: Random) -> str:
    steps = int((slider.high - slider.low) / slider.step + 1e-9)
    places = max(0, len(re.sub(r"^[^.]*\.?", "", f"{slider.step:f}".rstrip("0"))))
    places = max(places, len(re.sub(r"^[^.]*\.?", "", f"{slider.low!r}")))
    return f"{slider.low + random.randint(0, steps) * slider.step:.{places}f}"


def built(panel: Panel, settings: Mapping[str, float], whole: Whole) -> dict[str, float]:
    """What the build makes of settings: each shown result in its unit, by its id."""
    moved = {
        each.node: each.unit.to_base(settings.get(each.name, each.stated)) for each in panel.sliders
    }
    found = values_of([each.node for each in panel.shown], moved, whole.plan, whole.book.logs)
    return {each.id: own(each, float(found[each.node])) for each in panel.shown}


def own(shown: Shown, base: float) -> float:
    """A value in SI base units in the unit of a result."""
    return shown.value.unit.from_base(base)
