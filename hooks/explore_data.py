"""An explore panel as the browser reads it: plain numbers and trees, nothing to be run as code."""

from __future__ import annotations

from collections.abc import Sequence
from math import isinf

from hooks.charts.words import unit_shown
from hooks.explore_grids import Grid
from hooks.explore_panel import ClaimShown, Panel, Slider
from hooks.explore_program import Program
from hooks.wording import with_powers


def panel_data(panel: Panel) -> dict[str, object]:
    """The panel as the browser reads it; values in SI base units unless a unit is named."""
    return {
        "sliders": [_slider_data(each) for each in panel.sliders],
        **_program_data(panel.program),
        "over": panel.over,
        "grids": [_grid_data(each) for each in panel.grids],
        "show": [
            {
                "id": each.id,
                "node": each.node,
                "label": each.value.label,
                "factor": each.value.unit.factor,
                "offset": each.value.unit.offset,
                "unit": unit_shown(each.value.unit),
                "stated": each.value.number,
                "place": each.place,
                "span": list(each.span),
            }
            for each in panel.shown
        ],
        "claims": [_claim_data(each) for each in panel.claims],
    }


def _claim_data(tested: ClaimShown) -> dict[str, object]:
    compared = tested.compared
    low, high = (None if isinf(end) else end for end in (compared.region.low, compared.region.high))
    return {
        "id": tested.id,
        "nodes": list(tested.nodes),
        "way": compared.way,
        "factor": compared.unit.factor,
        "offset": compared.unit.offset,
        "low": low,
        "high": high,
    }


def _slider_data(slider: Slider) -> dict[str, object]:
    return {
        "name": slider.name,
        "node": slider.node,
        "label": slider.label,
        "factor": slider.unit.factor,
        "offset": slider.unit.offset,
        "unit": unit_shown(slider.unit),
        "stated": slider.stated,
        "text": slider.stated_text,
        "step": slider.step,
        "low": slider.low,
    }


def _program_data(made: Program) -> dict[str, object]:
    return {
        "given": dict(made.given),
        "steps": [list(step) for step in made.steps],
        "guards": [{"tree": tree, "text": with_powers(said)} for tree, said in made.limits],
    }


def _grid_data(grid: Grid) -> dict[str, object]:
    axes = [{"slider": led.node, "low": led.low, "high": led.high} for led in grid.axes]
    values: Sequence[float] = grid.values.tolist()
    numbers = [value if value == value else None for value in values]
    return {
        "id": grid.id,
        "count": grid.count,
        "order": grid.order,
        "axes": axes,
        "values": numbers,
    }
