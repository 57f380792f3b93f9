"""Evidence blocks: claims with their verdicts, estimates, forecasts, questions, corrections."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from calc.book.model import Claim, Correction, Estimate, Estimates, Forecast, Question
from hooks.atlas import Atlas
from hooks.markup import table, tag, text
from hooks.sources import badge, source_link
from hooks.wording import prose, sentence, spoken, typed, value_text
from hooks.working import block_head, input_origin, input_value, results_list

_SLUGS = {"holds": "holds", "does not hold": "fails", "undecided": "open"}


def verdict_html(verdict: str) -> str:
    """A verdict as a label, told by word, shape and colour."""
    slug = _SLUGS.get(verdict, "open")
    return tag("span", text(verdict), class_=f"wc-verdict wc-verdict--{slug}")


def day(written: str) -> str:
    """A date as people write it.

    >>> day("2026-03-09")
    '9 March 2026'
    """
    try:
        found = date.fromisoformat(written)
    except ValueError:
        return written
    months = (
        "January February March April May June July August September October November December"
    ).split()
    return f"{found.day} {months[found.month - 1]} {found.year}"


def claim_html(claim: Claim, atlas: Atlas) -> str:
    """A claim beside what was recomputed, with its verdict."""
    title = claim.title or f"{sentence(atlas.name(claim.of))}, as stated"
    said = tag("blockquote", tag("p", f"“{text(typed(claim.says.text))}”"), class_="wc-said")
    inner = block_head("Claim", claim.id, title) + said + claim_body(claim, atlas)
    slug = _SLUGS.get(claim.verdict, "open")
    return tag(
        "section", inner, class_=f"wc-block wc-claim wc-claim--{slug}", id=claim.id,
        aria_label=f"Claim: {title}",
    )  # fmt: skip


def claim_body(claim: Claim, atlas: Atlas) -> str:
    """Who says it, what was recomputed, and the verdict."""
    source = atlas.whole.book.sources.get(claim.source)
    kind = badge(source.kind) if source else ""
    lines = [
        ("Said by", f"{kind} {source_link(claim.source, atlas)}"),
        ("Recomputed", _recomputed(claim.of, atlas)),
    ]
    if claim.than:
        lines.append(("Compared with", _recomputed(claim.than, atlas)))
    lines.append(("Verdict", verdict_html(claim.verdict)))
    return pairs_html(lines)


def _recomputed(id: str, atlas: Atlas) -> str:
    result = atlas.result(id)
    value = text(value_text(result)) if result else "could not be computed"
    where = atlas.link_to(atlas.target(id), text(f"{atlas.name(id)}"))
    return f"<strong>{value}</strong> <small>{where}</small>"


def pairs_html(lines: Iterable[tuple[str, str]]) -> str:
    """Names with what belongs to them, as a list."""
    shown = "".join(f"<div><dt>{text(name)}</dt><dd>{value}</dd></div>" for name, value in lines)
    return tag("dl", shown, class_="wc-pairs")


def estimates_html(estimates: Estimates, atlas: Atlas) -> str:
    """Several estimates of one quantity, and what they say together."""
    head = ("Estimate", "Value", "Where it comes from")
    lines = (_estimate(each, estimates.id, atlas) for each in estimates.values)
    parts = [
        block_head("Estimates", estimates.id, estimates.title),
        table(head, lines, f"Estimates: {estimates.title}", "wc-inputs"),
        results_list([f"{estimates.id}.combined"], atlas, anchors=True),
    ]
    return tag(
        "section", "".join(parts), class_="wc-block wc-estimates", id=estimates.id,
        aria_label=f"Estimates: {estimates.title}",
    )  # fmt: skip


def _estimate(each: Estimate, block: str, atlas: Atlas) -> tuple[str, str, str]:
    id = f"{block}.{each.input.name}"
    about = tag("small", text(prose(each.input.about))) if each.input.about else ""
    name = tag("span", f"{text(sentence(spoken(each.input.name)))} {about}".strip(), id=id)
    if each.bound is not None:
        source = source_link(each.input.source, atlas)
        return name, f"{text(typed(each.bound.text))} <small>a bound, not averaged</small>", source
    return name, input_value(id, atlas), input_origin(id, atlas)


def forecast_html(forecast: Forecast, atlas: Atlas) -> str:
    """A forecast with its probability, and its outcome once it is settled."""
    lines = [
        ("Probability", text(typed(forecast.probability.text))),
        ("Registered", text(day(forecast.registered))),
        ("Due", text(day(forecast.due))),
        ("Settled by", text(prose(forecast.settles))),
    ]
    if forecast.of:
        lines.append(("About", _recomputed(forecast.of, atlas)))
    lines.append(("Outcome", _outcome(forecast)))
    said = tag("blockquote", tag("p", text(prose(forecast.says))), class_="wc-said")
    inner = block_head("Forecast", forecast.id, "What will be") + said + pairs_html(lines)
    return tag(
        "section", inner, class_="wc-block wc-forecast", id=forecast.id,
        aria_label=f"Forecast: {forecast.says}",
    )  # fmt: skip


def _outcome(forecast: Forecast) -> str:
    if not forecast.outcome:
        return "not settled yet"
    came = "it came true" if forecast.outcome == "true" else "it did not come true"
    return text(f"{came}, settled on {day(forecast.settled)}")


def question_html(question: Question, atlas: Atlas) -> str:
    """What is not known, what would settle it, and what hangs on it."""
    hanging = "; ".join(_hangs(id, atlas) for id in question.of)
    lines = [("What would settle it", text(prose(question.settles)))]
    if hanging:
        lines.append(("What hangs on it", hanging))
    if question.review_by:
        lines.append(("Look again by", text(day(question.review_by))))
    inner = block_head("Open question", question.id, question.asks) + pairs_html(lines)
    return tag(
        "section", inner, class_="wc-block wc-question", id=question.id,
        aria_label=f"Open question: {question.asks}",
    )  # fmt: skip


def _hangs(id: str, atlas: Atlas) -> str:
    block = atlas.block(id)
    title = atlas.block_title(block)
    name = title if id == block else f"{atlas.name(id)} ({title})"
    return atlas.link_to(id, text(name))


def correction_html(correction: Correction, atlas: Atlas) -> str:
    """The public record of a figure that changed."""
    lines = [
        ("Figure", _hangs(correction.figure, atlas)),
        ("Was", tag("del", text(typed(correction.was)))),
        ("Now", tag("ins", text(typed(correction.now)))),
        ("Why", text(prose(correction.reason))),
    ]
    title = f"Corrected on {day(correction.date)}"
    inner = block_head("Correction", correction.id, title) + pairs_html(lines)
    return tag(
        "section", inner, class_="wc-block wc-correction", id=correction.id, aria_label=title
    )
