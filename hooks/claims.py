"""Evidence blocks: claims with their verdicts, estimates, forecasts, questions, corrections."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from calc.book.model import Claim, Correction, Forecast, Question
from calc.engine.agreement import probability_text
from calc.judge.verdicts import Flip, JudgedClaim, JudgedQuestion, Undecided
from hooks.atlas import Atlas
from hooks.blocks import block_head
from hooks.labels import input_label
from hooks.markup import link, tag, text
from hooks.sources import badge, source_link
from hooks.wording import (
    digits,
    grouped,
    number_between,
    prose,
    sentence,
    typed,
    value_text,
    with_unit,
    without_year,
)

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
    said = tag("blockquote", tag("p", f'"{_words(claim)}"'), class_="wc-said")
    inner = block_head("Claim", claim.id, title) + said + claim_body(claim, atlas)
    slug = _SLUGS.get(verdict_of(claim, atlas), "open")
    return tag(
        "section", inner, class_=f"wc-block wc-claim wc-claim--{slug}", id=claim.id,
        aria_label=f"Claim: {title}",
    )  # fmt: skip


def verdict_of(claim: Claim, atlas: Atlas) -> str:
    """The recomputed verdict, or the one that the page states where nothing was recomputed."""
    judged = atlas.whole.judgement.claims.get(claim.id)
    return (judged.verdict if judged else None) or claim.verdict


def claim_body(claim: Claim, atlas: Atlas) -> str:
    """Who says it, what was recomputed, the verdict, and what the verdict turns on."""
    lines = [("Said by", _said_by(claim.source, atlas))]
    judged = atlas.whole.judgement.claims.get(claim.id)
    if judged and judged.than and judged.value is not None:
        lines.append(("Recomputed", _compared(judged, atlas)))
    else:
        lines.append(("Recomputed", _recomputed(claim.of, atlas)))
    verdict = verdict_html(verdict_of(claim, atlas))
    if judged and judged.probability is not None:
        verdict += f" <small>{_chance(judged)}</small>"
    lines.append(("Verdict", verdict))
    if judged and judged.flips:
        lines.append(("It would turn", _flips(judged, atlas)))
    return pairs_html(lines)


def _words(claim: Claim) -> str:
    """What a claim says, in the signs of print."""
    return text(grouped(typed(claim.says.text)))


def _said_by(source: str, atlas: Atlas) -> str:
    known = atlas.whole.book.sources.get(source)
    if known and not known.place.file:
        return badge(known.kind)  # a kind of evidence by itself, with no work behind it
    return f"{badge(known.kind) if known else ''} {source_link(source, atlas)}".strip()


def _chance(judged: JudgedClaim) -> str:
    if not judged.uncertain:
        return "nothing in it is uncertain"
    return f"true with a probability of {text(probability_text(judged.probability or 0.0))}"


def compared_text(judged: JudgedClaim) -> str:
    """How one result stands to another, as a number with its interval."""
    low, high = judged.interval or (judged.value, judged.value)
    return number_between(judged.value or 0.0, low or 0.0, high or 0.0, judged.unit)


def _compared(judged: JudgedClaim, atlas: Atlas) -> str:
    one, other = (atlas.link_to(id, text(atlas.name(id))) for id in (judged.of, judged.than))
    titles = [text(atlas.block_title(atlas.block(id))) for id in (judged.of, judged.than)]
    return (
        f"<strong>{text(compared_text(judged))}</strong> "
        f"<small>{one} ({titles[0]}) against {other} ({titles[1]})</small>"
    )


def _flips(judged: JudgedClaim, atlas: Atlas, most: int = 3) -> str:
    """The nearest values of single inputs at which the statement becomes true or false."""
    lines = []
    for flip in judged.flips[:most]:
        name = atlas.link_to(flip.root, text(input_label(flip.input, atlas.whole)))
        moved, stated = _apart(flip)
        value = text(with_unit(moved, flip.unit))
        now = text(without_year(with_unit(stated, flip.unit)))
        reach = "" if flip.within_reason else "; beyond what is known of it"
        lines.append(f"if {name} were {value} <small>(now {now}{reach})</small>")
    return _plain_list(lines)


def _apart(flip: Flip) -> tuple[str, str]:
    """Both numbers of a flip, to three digits or as many as tell them apart."""
    now = digits(flip.nominal)
    shown = (digits(flip.value, count) for count in range(3, 16))
    return next((value for value in shown if value != now), now), now


def _recomputed(id: str, atlas: Atlas) -> str:
    result = atlas.result(id)
    value = text(value_text(result)) if result else "could not be computed"
    where = atlas.link_to(atlas.target(id), text(f"{atlas.name(id)}"))
    return f"<strong>{value}</strong> <small>{where}</small>"


def pairs_html(lines: Iterable[tuple[str, str]]) -> str:
    """Names with what belongs to them, as a list."""
    shown = "".join(f"<div><dt>{text(name)}</dt><dd>{value}</dd></div>" for name, value in lines)
    return tag("dl", shown, class_="wc-pairs")


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
    if forecast.source:
        lines.append(("Source", _said_by(forecast.source, atlas)))
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
    hanging = _plain_list(_hangs(id, atlas) for id in question.of)
    lines = [("What would settle it", text(prose(question.settles)))]
    if hanging:
        lines.append(("What hangs on it", hanging))
    judged = atlas.whole.judgement.questions.get(question.id)
    if judged and judged.undecided:
        lines.append(("Undecided until then", _undecided(judged, atlas)))
    if question.review_by:
        lines.append(("Look again by", text(day(question.review_by))))
    inner = block_head("Open question", question.id, question.asks) + pairs_html(lines)
    return tag(
        "section", inner, class_="wc-block wc-question", id=question.id,
        aria_label=f"Open question: {question.asks}",
    )  # fmt: skip


def _undecided(judged: JudgedQuestion, atlas: Atlas) -> str:
    return _plain_list(decided_by(each, atlas) for each in judged.undecided)


def _plain_list(items: Iterable[str]) -> str:
    lines = "".join(tag("li", item) for item in items)
    return tag("ul", lines, class_="wc-plain") if lines else ""


def decided_by(each: Undecided, atlas: Atlas) -> str:
    """An undecided claim, and the single measurement that would decide it soonest."""
    claim = each.claim.claim
    said = claim_link(claim, atlas)
    best = each.improvements[0] if each.improvements else each.largest
    if best is None:
        return said
    name = atlas.link_to(best.root, text(input_label(best.input, atlas.whole)))
    if not each.improvements:
        return f"{said}: no single measurement decides it; most of the doubt is in {name}"
    better = _AS_WELL.get(best.factor, "exactly")
    return f"{said}: would be decided ({text(best.verdict)}) by knowing {name} {better}"


_AS_WELL = {
    0.5: "twice as well",
    0.25: "four times as well",
    0.125: "eight times as well",
    0.0625: "sixteen times as well",
}


def claim_link(claim: Claim, atlas: Atlas) -> str:
    """A claim by what it is about, with its words, linked to where it is tested."""
    about = claim.title or sentence(atlas.name(claim.of))
    words = tag("small", f'"{_words(claim)}"')
    return f"{link(text(about), atlas.homes[claim.id], claim.id)} {words}"


def _hangs(id: str, atlas: Atlas) -> str:
    block = atlas.block(id)
    title = atlas.block_title(block)
    name = title if id == block else f"{atlas.about(id)} ({title})"
    return atlas.link_to(id, text(name))


def correction_html(correction: Correction, atlas: Atlas) -> str:
    """The public record of a figure that changed."""
    lines = [
        ("Figure", _hangs(correction.figure, atlas)),
        ("Was", tag("del", text(typed(correction.was)))),
        ("Now", tag("ins", text(typed(correction.now)))),
        ("Why", text(prose(correction.reason))),
    ]
    if correction.source:
        lines.append(("Source", _said_by(correction.source, atlas)))
    title = f"Corrected on {day(correction.date)}"
    inner = block_head("Correction", correction.id, title) + pairs_html(lines)
    return tag(
        "section", inner, class_="wc-block wc-correction", id=correction.id, aria_label=title
    )
