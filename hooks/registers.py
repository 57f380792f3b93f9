"""Pages that nobody wrote: registers of evidence, facts, sources and methods.

A generated page is Markdown; a line `<<<`, HTML, and a line `>>>` keep HTML away from Markdown.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from calc.book.model import Claim
from calc.judge.forecasts import brier_score, outcomes
from calc.notation.rounding import rounded
from hooks.atlas import Atlas
from hooks.claims import (
    claim_link,
    compared_text,
    day,
    decided_by,
    forecast_html,
    verdict_html,
    verdict_of,
)
from hooks.facts import fact_pages
from hooks.indexes import index_pages
from hooks.leaves import page, raw
from hooks.markup import link, table, tag, text
from hooks.source_pages import source_pages
from hooks.sources import source_link
from hooks.wording import prose, sentence, typed, value_text


def generated_pages(atlas: Atlas) -> Mapping[str, str]:
    """Markdown by path; a page that somebody wrote is never generated."""
    made = {
        "evidence/claims.md": _claims(atlas),
        "evidence/forecasts.md": _forecasts(atlas),
        "evidence/open-questions.md": _questions(atlas),
        "evidence/corrections.md": _corrections(atlas),
        **source_pages(atlas),
        **fact_pages(atlas),
    }
    made |= index_pages(atlas, made)
    return {path: made[path] for path in sorted(made) if path not in atlas.pages}


def _claims(atlas: Atlas) -> str:
    claims = atlas.whole.book.claims.values()
    lines = (
        (
            claim_link(claim, atlas),
            source_link(claim.source, atlas),
            _value(claim, atlas),
            verdict_html(verdict_of(claim, atlas)),
        )
        for claim in claims
    )
    head = ("Claim", "Said by", "Recomputed", "Verdict")
    said = (
        "What makers and others state, each tested against what can be recomputed. A claim holds "
        "when it is true with a probability of 95 % or more, does not hold at 5 % or less, and is "
        "undecided between the two."
    )
    listed = tag("div", table(head, lines, "Claims", "wc-register"), data_search_exclude=True)
    return page("Claims", said, raw(listed))


def _value(claim: Claim, atlas: Atlas) -> str:
    judged = atlas.whole.judgement.claims.get(claim.id)
    if judged and judged.than and judged.value is not None:
        return text(compared_text(judged))
    result = atlas.result(claim.of)
    return text(value_text(result)) if result else "–"


def _forecasts(atlas: Atlas) -> str:
    forecasts = list(atlas.whole.book.forecasts.values())
    settled = outcomes(forecasts)
    said = (
        "Statements about what will be, each with its probability, registered before the outcome."
    )
    if settled:
        score = rounded(brier_score(settled), Decimal("0.001"))
        said += (
            f" Settled so far: {len(settled)}, with a mean squared error of {score} (0 is best, "
            "0.25 is what an even guess gets, 1 is worst)."
        )
    shown = [raw(forecast_link(each.id, atlas) + forecast_html(each, atlas)) for each in forecasts]
    return page("Forecasts", said, *(shown or ["No forecast is registered yet."]))


def forecast_link(id: str, atlas: Atlas) -> str:
    """Where a forecast was made."""
    home = atlas.homes[id]
    return tag("p", f"Made on {atlas.page_link(home)}", class_="wc-made")


def _questions(atlas: Atlas) -> str:
    questions = sorted(
        atlas.whole.book.questions.values(), key=lambda each: (each.review_by or "9999", each.id)
    )
    lines = (
        (
            link(text(each.asks), atlas.homes[each.id], each.id),
            text(prose(each.settles)),
            text(day(each.review_by)) if each.review_by else "–",
        )
        for each in questions
    )
    head = ("What is not known", "What would settle it", "Look again by")
    said = (
        "What nobody here knows yet, the measurement that would settle it, and when to look again."
    )
    asked = raw(table(head, lines, "Open questions", "wc-register"))
    return page("Open questions", said, asked, _undecided(atlas))


def _undecided(atlas: Atlas) -> str:
    """Claims that nothing decides yet, the easiest first."""
    lines = [tag("li", decided_by(each, atlas)) for each in atlas.whole.judgement.undecided]
    if not lines:
        return ""
    said = "Each with the single measurement that would decide it; the easiest comes first."
    return f"## Undecided claims\n\n{said}\n\n" + raw(tag("ul", "".join(lines), class_="wc-list"))


def _corrections(atlas: Atlas) -> str:
    corrections = sorted(
        atlas.whole.book.corrections.values(), key=lambda each: (each.date, each.id), reverse=True
    )
    lines = (
        (
            link(text(day(each.date)), atlas.homes[each.id], each.id),
            atlas.link_to(each.figure, text(sentence(atlas.about(each.figure)))),
            tag("del", text(typed(each.was))),
            tag("ins", text(typed(each.now))),
            text(prose(each.reason)),
        )
        for each in corrections
    )
    head = ("When", "Figure", "Was", "Now", "Why")
    said = "Published figures that changed, what they were, and why. Nothing changes in silence."
    return page("Corrections", said, raw(table(head, lines, "Corrections", "wc-register")))
