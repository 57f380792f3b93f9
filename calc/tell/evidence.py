"""Claims, estimates, corrections, forecasts and questions as plain data for the results."""

from __future__ import annotations

from typing import Any

from calc.engine.means import Mean
from calc.judge.corrections import newest_first
from calc.judge.judge import Judgement
from calc.judge.verdicts import JudgedClaim, JudgedEstimates, Member
from calc.notation.units import Unit
from calc.tell.numbers import maybe, number, unit_text
from calc.tell.record import (
    correction_data,
    forecast_data,
    improvement_data,
    question_data,
    scores_data,
)
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
            each.id: forecast_data(each, judged.forecasts) for each in book.forecasts.values()
        },
        "forecast_scores": scores_data(judged.forecasts),
        "questions": {id: question_data(each) for id, each in judged.questions.items()},
    }


def claim_data(judged: JudgedClaim, judgement: Judgement) -> dict[str, Any]:
    """One claim: what it says, whether it holds, what that turns on, what would decide it."""
    claim = judged.claim
    data: dict[str, Any] = {
        "says": claim.says.text,
        "source": claim.source,
        "of": judged.of,
        "verdict": judged.verdict,
        "probability": maybe(judged.probability),
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
        data["would_decide"] = [improvement_data(each) for each in found.improvements]
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
