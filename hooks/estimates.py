"""Estimates of one quantity, side by side, and whether they can all be right."""

from __future__ import annotations

from calc.book.model import Estimate, Estimates
from calc.engine.agreement import probability_text
from calc.judge.verdicts import JudgedEstimates
from hooks.atlas import Atlas
from hooks.claims import pairs_html
from hooks.markup import table, tag, text
from hooks.sources import badge, source_link
from hooks.wording import digits, prose, sentence, spoken, to_two, typed
from hooks.working import block_head, input_origin, input_value, results_list


def estimates_html(estimates: Estimates, atlas: Atlas) -> str:
    """Several estimates of one quantity, and what they say together."""
    judged = atlas.whole.judgement.estimates.get(estimates.id)
    head = ("Estimate", "Value", "Where it comes from")
    lines = (_estimate(each, estimates.id, atlas) for each in estimates.values)
    parts = [
        block_head("Estimates", estimates.id, estimates.title),
        table(head, lines, f"Estimates: {estimates.title}", "wc-inputs"),
        tag("p", text(judged.sentence), class_="wc-answers") if judged else "",
        results_list([f"{estimates.id}.combined"], atlas, anchors=True),
        _side_by_side(judged) if judged and judged.found else "",
    ]
    return tag(
        "section", "".join(parts), class_="wc-block wc-estimates", id=estimates.id,
        aria_label=f"Estimates: {estimates.title}",
    )  # fmt: skip


def _side_by_side(judged: JudgedEstimates) -> str:
    """The arithmetic behind the answer: chi-squared, the Birge ratio, and every pair."""
    found = judged.found
    assert found is not None
    labels = {member.name: member.label for member in judged.members}
    freedom = f"{found.degrees_of_freedom} degree{'' if found.degrees_of_freedom == 1 else 's'}"
    lines = [
        ("Chi-squared", text(f"{digits(found.chi_squared, 3)} with {freedom} of freedom")),
        ("By chance alone", text(probability_text(found.chi_squared_probability))),
        ("Birge ratio", text(digits(found.birge_ratio, 3))),
    ]
    pairs = (
        (
            text(f"{labels.get(pair.a, pair.a)} and {labels.get(pair.b, pair.b)}"),
            text(to_two(abs(pair.normalised_error))),
            "within it" if pair.agrees else "beyond it",
        )
        for pair in found.pairs
    )
    head = ("Pair", "Difference over its expanded uncertainty", "")
    shown = pairs_html(lines) + table(head, pairs, "Pairs of estimates", "wc-register")
    return tag(
        "details", f"<summary>The arithmetic of agreement</summary>{shown}", class_="wc-fold"
    )


def _estimate(each: Estimate, block: str, atlas: Atlas) -> tuple[str, str, str]:
    id = f"{block}.{each.input.name}"
    about = tag("small", text(prose(each.input.about))) if each.input.about else ""
    name = tag("span", f"{text(sentence(spoken(each.input.name)))} {about}".strip(), id=id)
    if each.bound is not None:
        known = atlas.whole.book.sources.get(each.input.source)
        kind = badge(known.kind) if known else ""
        source = f"{kind} {source_link(each.input.source, atlas)}".strip()
        return name, f"{text(typed(each.bound.text))} <small>a bound, not averaged</small>", source
    return name, input_value(id, atlas), input_origin(id, atlas)
