"""Claims, estimates, corrections, forecasts and questions as plain data for the results."""

from __future__ import annotations

from typing import Any

from calc.book.model import Correction, Forecast
from calc.engine.means import Mean
from calc.judge.corrections import newest_first
from calc.judge.forecasts import Scores
from calc.judge.judge import Judgement
from calc.judge.verdicts import Improvement, JudgedClaim, JudgedEstimates, JudgedQuestion, Member
from calc.notation.units import Unit
from calc.tell.numbers import number, unit_text
from calc.whole import Whole


def evidence_data(whole: Whole) -> dict[str, Any]:
    """Who says what, whether it holds, what changed, what would settle it; each by id."""
    book, judged = whole.book, whole.judgement
    return {
        "claims": {id: claim_data(claim, judged) for id, claim in judged.claims.items()},
        "estimates": {id: estimates_data(each) for id, each in judged.estimates.items()},
        "corrections": {
            each.id: correction_data(each) for each in newest_first(book.corrections.values())
        },
        "forecasts": {
            each.id: _forecast(each, judged.forecasts) for each in book.forecasts.values()
        },
        "forecast_scores": _scores(judged.forecasts),
        "questions": {id: _question(each) for id, each in judged.questions.items()},
    }


def claim_data(judged: JudgedClaim, judgement: Judgement) -> dict[str, Any]:
    """One claim: what it says, whether it holds, what that turns on, what would decide it."""
    claim = judged.claim
    data: dict[str, Any] = {
        "says": claim.says.text,
        "source": claim.source,
        "of": judged.of,
        "verdict": judged.verdict,
        "probability": _maybe(judged.probability),
        "stated_verdict": claim.verdict,
        "agrees": judged.agrees,
        "flips": {
            flip.input: {
                "value": number(flip.value),
                "unit": unit_text(flip.unit),
                "nominal": number(flip.nominal),
                "within_reason": flip.within_reason,
            }
            for flip in judged.flips
        },
        "page": claim.place.file,
        "line": claim.place.line,
    }
    if judged.than:
        data["than"] = judged.than
    if judged.value is not None and judged.interval is not None:
        data["recomputed"] = {
            "value": number(judged.value),
            "unit": unit_text(judged.unit),
            "interval": [number(end) for end in judged.interval],
        }
    open_claims = {each.claim.claim.id: each for each in judgement.undecided}
    if found := open_claims.get(claim.id):
        data["would_decide"] = [_improvement(each) for each in found.improvements]
    return data


def estimates_data(judged: JudgedEstimates) -> dict[str, Any]:
    """One block of estimates: each as it stands, and what they say together."""
    data: dict[str, Any] = {
        "title": judged.estimates.title,
        "page": judged.estimates.place.file,
        "line": judged.estimates.place.line,
        "values": {each.name: _member(each, judged.unit) for each in judged.members},
    }
    found = judged.found
    if found is None:
        return data
    means = {
        "weighted": found.weighted,
        "scaled": found.scaled,
        "dersimonian_laird": found.dersimonian_laird,
        "paule_mandel": found.paule_mandel,
        "combined": found.combined,
    }
    return data | {
        "chi_squared": number(found.chi_squared),
        "chi_squared_probability": number(found.chi_squared_probability),
        "degrees_of_freedom": found.degrees_of_freedom,
        "birge_ratio": number(found.birge_ratio),
        "consistent": found.consistent,
        "sentence": judged.sentence,
        **{name: _mean(mean, judged.unit) for name, mean in means.items()},
        "pairs": [
            {"a": pair.a, "b": pair.b, "normalised_error": number(pair.normalised_error)}
            for pair in found.pairs
        ],
    }


def correction_data(each: Correction) -> dict[str, Any]:
    """One correction as it stands on its page."""
    return {
        "date": each.date,
        "figure": each.figure,
        "was": each.was,
        "now": each.now,
        "reason": each.reason,
        "page": each.place.file,
        "line": each.place.line,
    }


def _mean(mean: Mean, unit: Unit) -> dict[str, Any]:
    return {
        "value": number(mean.value),
        "unit": unit_text(unit),
        "standard_uncertainty": number(mean.standard_uncertainty),
    }


def _member(each: Member, unit: Unit) -> dict[str, Any]:
    source = {"source": each.source} if each.source else {}
    if each.value is None:
        return source | ({"bound": each.bound} if each.bound else {})
    return source | {
        "value": number(each.value),
        "unit": unit_text(unit),
        "standard_uncertainty": number(each.standard_uncertainty),
    }


def _forecast(each: Forecast, found: Scores) -> dict[str, Any]:
    data: dict[str, Any] = {
        "says": each.says,
        "probability": number(each.probability.base),
        "registered": each.registered,
        "due": each.due,
        "settles": each.settles,
        "page": each.place.file,
        "line": each.place.line,
    }
    if each.of:
        data["of"] = each.of
    for settled in found.settled:
        if settled.id == each.id:
            data |= {"outcome": settled.came_true, "settled": each.settled}
            data |= {"score": number(settled.score)}
    return data


def _scores(found: Scores) -> dict[str, Any]:
    return {
        "settled": len(found.settled),
        "brier_score": _maybe(found.brier),
        "reliability": [
            {
                "from": row.low,
                "to": row.high,
                "count": row.count,
                "stated": number(row.stated),
                "came_true": number(row.came_true),
            }
            for row in found.rows
        ],
    }


def _question(judged: JudgedQuestion) -> dict[str, Any]:
    question = judged.question
    return {
        "asks": question.asks,
        "settles": question.settles,
        "of": list(question.of),
        "review_by": question.review_by,
        "page": question.place.file,
        "line": question.place.line,
        "undecided": _would_decide(judged),
        "gains": {
            id: [_improvement(each) for each in found] for id, found in judged.gains.items()
        },
    }


def _would_decide(judged: JudgedQuestion) -> dict[str, list[dict[str, Any]]]:
    return {
        each.claim.claim.id: [_improvement(better) for better in each.improvements]
        for each in judged.undecided
    }


def _improvement(each: Improvement) -> dict[str, Any]:
    data: dict[str, Any] = {
        "input": each.input,
        "root": each.root,
        "factor": each.factor,
        "share": round(each.share, 6),
    }
    if each.probability is not None:
        data |= {"probability": number(each.probability), "verdict": each.verdict}
    if each.standard_uncertainty is not None:
        data["standard_uncertainty"] = number(each.standard_uncertainty)
    return data


def _maybe(value: float | None) -> float | None:
    return None if value is None else number(value)
