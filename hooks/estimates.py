"""Estimates of one quantity, side by side, and whether they can all be right."""

from __future__ import annotations

from collections.abc import Iterator

from calc.book.model import Estimate, Estimates
from calc.engine.agreement import probability_text
from calc.engine.means import Mean
from calc.engine.reconcile import Reconciliation
from calc.judge.verdicts import JudgedEstimates
from calc.notation.rounding import stated
from hooks.atlas import Atlas
from hooks.blocks import block_head
from hooks.markup import table, tag, text
from hooks.sources import badge, source_link
from hooks.values import input_origin, input_value, results_list
from hooks.wording import digits, prose, sentence, spoken, to_two, typed, with_unit

_MEANS = {
    "weighted": "Weighted mean",
    "scaled": "The same, widened by the Birge ratio",
    "dersimonian_laird": "Random-effects mean of DerSimonian and Laird",
    "paule_mandel": "Random-effects mean of Paule and Mandel",
}

_Line = tuple[str, str, str]
"""A number of a comparison: its name, what it is, and the number in words."""


def estimates_html(estimates: Estimates, atlas: Atlas) -> str:
    """Several estimates of one quantity, and what they say together."""
    judged = atlas.whole.judgement.estimates.get(estimates.id)
    head = ("Estimate", "Value", "Where it comes from")
    lines = (_estimate(each, estimates.id, atlas) for each in estimates.values)
    parts = [
        block_head("Estimates", estimates.id, estimates.title),
        table(head, lines, f"Estimates: {estimates.title}", "wc-inputs"),
        tag("p", text(judged.sentence), class_="wc-answers") if judged else "",
        results_list([f"{estimates.id}.combined"], atlas, own=""),
        _side_by_side(judged, judged.found, atlas) if judged and judged.found else "",
    ]
    return tag(
        "section", "".join(parts), class_="wc-block wc-estimates", id=estimates.id,
        aria_label=f"Estimates: {estimates.title}",
    )  # fmt: skip


def _side_by_side(judged: JudgedEstimates, found: Reconciliation, atlas: Atlas) -> str:
    """The arithmetic behind the answer: chi-squared, the Birge ratio, and every pair."""
    id = judged.estimates.id
    lines = [*_scatter(found), *_means(judged, found), *_unexplained(id, atlas)]
    numbers = "".join(
        tag("div", f"<dt>{text(about)}</dt><dd>{text(value)}</dd>", id=f"{id}.{name}")
        for name, about, value in lines
    )
    head = ("Pair", "Difference over its expanded uncertainty", "Lies")
    listed = tag("dl", numbers, class_="wc-pairs wc-pairs--wide")
    inner = listed + table(head, _pairs(judged, found), "Pairs of estimates", "wc-register")
    return tag(
        "details", f"<summary>The arithmetic of agreement</summary>{inner}", class_="wc-fold"
    )


def _scatter(found: Reconciliation) -> Iterator[_Line]:
    freedom = f"{found.degrees_of_freedom} degree{'' if found.degrees_of_freedom == 1 else 's'}"
    about = f"Chi-squared, with {freedom} of freedom"
    yield "chi_squared", about, digits(found.chi_squared, 3)
    about = "Probability of so wide a scatter by chance alone"
    yield "chi_squared_probability", about, probability_text(found.chi_squared_probability)
    about = "Birge ratio: scatter over what the uncertainties allow"
    yield "birge_ratio", about, digits(found.birge_ratio, 3)


def _means(judged: JudgedEstimates, found: Reconciliation) -> Iterator[_Line]:
    for name, about in _MEANS.items():
        yield name, about, number_of(getattr(found, name), judged)


def _unexplained(id: str, atlas: Atlas) -> Iterator[_Line]:
    apart = atlas.whole.computation.results.get(f"{id}.disagreement")
    if apart is not None:
        about = "Scatter between them that their uncertainties do not explain (standard deviation)"
        yield "disagreement", about, with_unit(to_two(apart.standard_uncertainty), apart.unit)


def _pairs(judged: JudgedEstimates, found: Reconciliation) -> Iterator[tuple[str, str, str]]:
    labels = {member.name: member.label for member in judged.members}
    for pair in found.pairs:
        both = f"{labels.get(pair.a, pair.a)} and {labels.get(pair.b, pair.b)}"
        where = "within it" if pair.agrees else "beyond it"
        yield text(both), text(to_two(abs(pair.normalised_error))), where


def number_of(mean: Mean, judged: JudgedEstimates) -> str:
    """A mean with its expanded uncertainty (k = 2)."""
    value, spread = stated(mean.value, 2 * mean.standard_uncertainty)
    return with_unit(f"{value} ± {spread}", judged.unit)


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
