"""Values as pages show them: inputs with where they come from, results, and shares of doubt."""

from __future__ import annotations

from collections.abc import Iterable

from calc.book.plan import Column
from calc.engine.results import Result
from hooks.atlas import Atlas
from hooks.labels import input_label
from hooks.markup import tag, text
from hooks.sources import badge, origin
from hooks.wording import interval_text, percent, prose, sentence, typed, value_text


def input_value(id: str, atlas: Atlas) -> str:
    """An input's value as it was typed or computed, with what is known of its uncertainty."""
    node = atlas.whole.plan.nodes.get(atlas.target(id))
    if isinstance(node, Column):
        return text(f"{node.column}, a column of {node.log}")
    root = atlas.root(id)
    if root is not None and root.input is not None:
        known = atlas.result(root.id)
        note = tag("small", "no uncertainty given") if known and not known.uncertain else ""
        return f"{text(typed(root.quantity.text))} {note}".strip()
    result = atlas.result(id)
    return text(value_text(result)) if result else tag("em", "could not be computed")


def input_origin(id: str, atlas: Atlas) -> str:
    """Where an input comes from: its source, or the working that gives it."""
    root = atlas.root(id)
    target = atlas.target(id)
    if root is not None and root.input is not None:
        links = atlas.evidence(id)
        kind = badge(links[0].kind) if links else ""
        return f"{kind} {origin(root.input, atlas)}"
    if target == id:
        return ""
    links = atlas.evidence(id)
    weakest = f"{badge(links[0].kind)} at its weakest" if links else ""
    return f"Computed: {atlas.link_to(target, text(_further(target, atlas)))} {weakest}".strip()


def _further(target: str, atlas: Atlas) -> str:
    return f"{atlas.block_title(atlas.block(target))} · {atlas.name(target)}"


def results_list(ids: Iterable[str], atlas: Atlas, own: str | None = None) -> str:
    """Results as a list: name, value, interval.

    Each gets its id as an address when `own` is given, but for that one, which has it already.
    """
    lines = [
        _result_line(id, result, atlas, "" if own is None or id == own else id)
        for id in ids
        if (result := atlas.result(id))
    ]
    return tag("dl", "".join(lines), class_="wc-results") if lines else ""


def _result_line(id: str, result: Result, atlas: Atlas, anchor: str) -> str:
    name = named(id, atlas)
    value = tag("strong", text(value_text(result)), class_="wc-value")
    small = ""
    if result.uncertain and result.bent:
        small = tag("small", text(f"most likely {interval_text(result)}, lopsided"))
    return tag("div", f"<dt>{name}</dt><dd>{value}{small}</dd>", id=anchor)


def shares_html(result: Result, atlas: Atlas, most: int = 5) -> str:
    """The share of a result's variance that each input brings, as bars."""
    ordered = sorted(result.shares.items(), key=lambda item: -item[1])
    total = sum(result.shares.values()) or 1.0
    shown = [(name, share / total) for name, share in ordered[:most] if share / total >= 0.005]
    rest = 1 - sum(share for _, share in shown)
    lines = [_bar(_share_of(name, atlas), share) for name, share in shown]
    if rest >= 0.005:
        lines.append(_bar("all others", rest))
    said = f"What the uncertainty of {atlas.name(result.id)} comes from"
    caption = tag("figcaption", text(said))
    return tag("figure", f"{caption}<ul>{''.join(lines)}</ul>", class_="wc-shares")


def _share_of(name: str, atlas: Atlas) -> str:
    return "inputs acting together" if name == "interaction" else input_label(name, atlas.whole)


def _bar(name: str, share: float) -> str:
    bar = tag("span", tag("span", "", style=f"width:{100 * share:.1f}%"), class_="wc-bar",
              aria_hidden="true")  # fmt: skip
    return tag("li", f"<span>{text(name)}</span>{bar}<span>{text(percent(share))}</span>")


def named(id: str, atlas: Atlas, recorded: str = "") -> str:
    """A value's name with its symbol, and below it what it is.

    The name links to where the value is `recorded`, when that is said.
    """
    sign, name, about = atlas.symbol_of(id), atlas.name(id), atlas.about(id)
    shown = text(sentence(name))
    if recorded:
        shown = atlas.link_to(recorded, shown)
    if sign:
        shown += f" <math>{sign.markup}</math>"
    new = about.lower() not in (name.lower(), name.rpartition(": ")[2].lower())
    return shown + (f" <small>{text(prose(about))}</small>" if new else "")
