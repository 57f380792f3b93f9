"""Explore panels: sliders over a calc, in the browser, beside the values that the site states.

Without scripts the panel is two tables of stated values. With them the sliders appear; what is
moved is told by word and shape, and one press brings everything back.
"""

from __future__ import annotations

import json

from calc.book.model import Showing
from calc.problems import Wrong
from calc.whole import Whole
from hooks.blocks import block_head
from hooks.charts.values import NotShown
from hooks.charts.words import listed, plain_digits, price_year, with_unit
from hooks.explore_data import panel_data
from hooks.explore_panel import ClaimShown, Panel, Shown, Slider, read_panel
from hooks.markup import tag, text


def explore_html(showing: Showing, whole: Whole) -> str:
    """An explore block, or in its place a line that says it has to wait."""
    head = block_head("Explore", showing.id, showing.title)
    try:
        panel = read_panel(showing, whole)
    except (NotShown, Wrong):
        inner = head + tag("p", "Not offered: something it rests on could not be computed.")
        return tag("section", inner, class_="wc-block explore", id=showing.id)
    data = json.dumps(panel_data(panel), ensure_ascii=False, separators=(",", ":"))
    data = data.replace("<", "\\u003c")  # no text of a page can end the script
    return "\n".join(
        (
            f'<section class="wc-block explore" id="{text(showing.id)}"'
            f' aria-label="{text(showing.title)}">',
            head,
            _about(showing),
            _inputs(panel),
            _controls(panel, showing),
            _results(panel),
            _curve(panel),
            '<p class="explore__status"></p>',
            '<p class="explore__spoken" role="status"></p>',
            _note(panel),
            f'<script type="application/json">{data}</script>',
            "</section>",
        )
    )


def _about(showing: Showing) -> str:
    note = showing.fields.get("note")
    return tag("p", text(note), class_="explore__about") if note else ""


def _inputs(panel: Panel) -> str:
    """The inputs as a table, for a reader without scripts."""
    rows = "".join(
        f'<tr><th scope="row">{text(each.label)}</th><td>{text(each.stated_text)}</td>'
        f"<td>{text(_ends(each))}</td></tr>"
        for each in panel.sliders
    )
    return (
        '<table class="explore__inputs"><thead><tr><th scope="col">Input</th>'
        '<th scope="col">Stated</th><th scope="col">Range to explore</th></tr></thead>'
        f"<tbody>{rows}</tbody></table>"
    )


def _ends(slider: Slider) -> str:
    high = with_unit(plain_digits(slider.high, 6), slider.unit)
    return f"{plain_digits(slider.low, 6)} to {high}"


def _controls(panel: Panel, showing: Showing) -> str:
    sliders = "\n".join(_slider(each, showing) for each in panel.sliders)
    return (
        f'<div class="explore__controls" hidden>\n{sliders}\n'
        '<p class="explore__acts"><button type="button" class="explore__reset" disabled>'
        "Back to the stated values</button> "
        f'<a class="explore__link" href="#{text(showing.id)}">Address of these settings</a></p>\n'
        "</div>"
    )


def _slider(slider: Slider, showing: Showing) -> str:
    id = f"{showing.id}--{slider.name.replace('.', '-')}"
    share = 100 * (slider.stated - slider.low) / (slider.high - slider.low)
    return (
        f'<div class="explore__slider"><label for="{text(id)}">{text(slider.label)}</label>'
        f'<span class="explore__value">{text(slider.stated_text)}</span>{_said(slider.about, id)}'
        f'<input type="range" id="{text(id)}" name="{text(slider.name)}" min="{slider.low!r}"'
        f' max="{slider.high!r}" step="{slider.step!r}" value="{slider.stated!r}"'
        f' autocomplete="off"{_described(slider.about, id)} style="--stated:{share:.2f}%">'
        f'<span class="explore__ends" aria-hidden="true"><span>{text(_end(slider, slider.low))}'
        f"</span><span>{text(_end(slider, slider.high))}</span></span></div>"
    )


def _said(about: str, id: str) -> str:
    return tag("small", text(about), class_="explore__said", id=f"{id}-said") if about else ""


def _described(about: str, id: str) -> str:
    return f' aria-describedby="{text(id)}-said"' if about else ""


def _end(slider: Slider, value: float) -> str:
    return with_unit(plain_digits(value, 6), slider.unit)


def _results(panel: Panel) -> str:
    rows = "\n".join(_result(each) for each in panel.shown)
    claims = "\n".join(_claim(each) for each in panel.claims)
    return (
        '<table class="explore__results"><thead><tr><th scope="col">Result</th>'
        '<th scope="col">Stated</th><th scope="col" class="explore__new" hidden>Moved</th>'
        f"</tr></thead>\n<tbody>\n{rows}\n{claims}\n</tbody></table>"
    )


def _result(shown: Shown) -> str:
    low, high = shown.span
    band = [100 * (end - low) / (high - low) for end in (shown.value.low, shown.value.high)]
    here = 100 * (shown.value.number - low) / (high - low)
    strip = (
        f'<span class="explore__strip" aria-hidden="true"><i class="explore__band" style="left:'
        f'{band[0]:.2f}%;width:{band[1] - band[0]:.2f}%"></i>'
        f'<i class="explore__stated" style="left:{here:.2f}%"></i>'
        '<i class="explore__dot" hidden></i></span>'
    )
    said = tag("small", text(shown.about), class_="explore__said") if shown.about else ""
    return (
        f'<tr><th scope="row">{text(_name(shown))}{said}{strip}</th>'
        f"<td>{text(shown.value.full)}</td>"
        '<td class="explore__new" hidden>'
        f'<span class="explore__value" data-of="{text(shown.id)}"></span></td></tr>'
    )


def _curve(panel: Panel) -> str:
    """Where the browser draws the first result over one slider; its numbers stand in the table."""
    return (
        '<div class="explore__curve" hidden aria-hidden="true"><p></p>'
        '<svg viewBox="0 0 344 168"><path class="explore__axis" d="M4 4V132H340"/>'
        '<path class="explore__before"/><path class="explore__after"/>'
        '<circle class="explore__ring" r="4"/>'
        '<rect class="explore__here" x="-4" y="-4" width="8" height="8"/>'
        '<text x="8" y="14"></text><text x="8" y="128"></text><text x="4" y="148"></text>'
        '<text x="340" y="148" text-anchor="end"></text></svg></div>'
        if panel.shown
        else ""
    )


def _name(shown: Shown) -> str:
    """What a result is called, with the year of its prices."""
    return ", ".join(filter(None, (shown.value.label, price_year(shown.value.unit))))


def _claim(tested: ClaimShown) -> str:
    return (
        f'<tr class="explore__claim"><th scope="row">{text(tested.title)}:'
        f' "{text(tested.says)}"</th><td>{text(tested.verdict)}</td>'
        '<td class="explore__new" hidden>'
        f'<span class="explore__value" data-claim="{text(tested.id)}"></span></td></tr>'
    )


def _note(panel: Panel) -> str:
    parts = ["Bars: from the lowest to the highest that the sliders reach; the band is the stated"
             " 95 % interval."]  # fmt: skip
    known = [each for each in panel.shown if each.error]
    if known:
        told = [f"{each.value.label} by at most {_off(each)}" for each in known]
        parts.append(f"Moved values are read off a grid, which may shift {listed(told)}.")
    return tag("p", text(" ".join(parts)), class_="explore__note")


def _off(shown: Shown) -> str:
    return with_unit(plain_digits(shown.error, 2), shown.value.unit)
