"""Standing cautions of pages that touch work in which somebody may be hurt."""

from __future__ import annotations

from collections.abc import Iterable

from hooks.atlas import Atlas
from hooks.markup import link, tag, text

CAUTIONS = {
    "opening": (
        "Opening a cell",
        "A charged cell holds its energy whether or not it is connected. Opening one can start a "
        "fire that cannot be put out by smothering, and lets out vapours that burn and poison. It "
        "is work for a laboratory with an inert or very dry enclosure, a discharged cell, "
        "extraction, eye and skin protection, and somebody else present.",
    ),
    "heating": (
        "Heating a cell",
        "Above the temperature that its maker allows a cell can heat itself, vent and burn. Tests "
        "that heat cells belong in a chamber built for them, with venting, gas warning and a way "
        "to leave.",
    ),
    "charging": (
        "Charging a cell",
        "Stay within the voltage, current and temperature that the maker of the cell allows, with "
        "supervision of every cell. A cell charged too fast, too far or too cold can plate metal "
        "inside and fail later without warning.",
    ),
    "transporting": (
        "Transporting cells",
        "Cells are dangerous goods: packing, state of charge, labels and papers are laid down by "
        "rules for each way of transport. Damaged or returned cells have stricter rules of their "
        "own.",
    ),
}
"""The usual cautions, by what a page touches (common practice, no source)."""

_DEFERS = (
    "Nothing on this page is an instruction. Local codes, the maker's own documents and licensed "
    "practice come first."
)


def cautions_html(touched: object) -> str:
    """The cautions for what a page touches, or "" when it touches nothing of the kind."""
    names = touched if isinstance(touched, Iterable) and not isinstance(touched, str) else ()
    known = [CAUTIONS[str(name)] for name in names if str(name) in CAUTIONS]
    if not known:
        return ""
    lines = "".join(f"<dt>{text(title)}</dt><dd>{text(said)}</dd>" for title, said in known)
    head = tag("p", "Before anybody tries this", class_="wc-caution-title")
    inner = f"{head}<dl>{lines}</dl>{tag('p', text(_DEFERS))}"
    return tag("aside", inner, class_="wc-caution", aria_label="Cautions", data_search_exclude=True)


_LIMITS = (
    "These are desk estimates from stated inputs. They do not replace a test of the cells that "
    "you have, a maker's documents, or the judgement of somebody licensed for the work."
)
_LIMITS_PAGE, _LIMITS_PLACE = "guide/how-to-read-this-site.md", "what-these-estimates-are-not"


def limits_html(units: str, atlas: Atlas) -> str:
    """What the estimates of a page are not, and its units in words."""
    more = ""
    if _LIMITS_PAGE in atlas.pages:
        more = f" {link('What these estimates are not', _LIMITS_PAGE, _LIMITS_PLACE)}."
    # What every page says alike finds no page; the units in words do.
    standing = tag("p", f"{text(_LIMITS)}{more}", data_search_exclude=True)
    return tag("div", standing + units, class_="wc-limits")
