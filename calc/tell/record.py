"""Corrections, forecasts and questions as plain data for the results."""

from __future__ import annotations

from typing import Any

from calc.book.model import Correction, Forecast
from calc.judge.forecasts import Scores
from calc.judge.verdicts import Improvement, JudgedQuestion
from calc.tell.numbers import maybe, number


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


def forecast_data(each: Forecast, found: Scores) -> dict[str, Any]:
    """One forecast, with its score once it is settled."""
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
    if each.source:
        data["source"] = each.source
    for settled in found.settled:
        if settled.id == each.id:
            data |= {"outcome": settled.came_true, "settled": each.settled}
            data |= {"score": number(settled.score)}
    return data


def scores_data(found: Scores) -> dict[str, Any]:
    """How good all settled forecasts have been."""
    return {
        "settled": len(found.settled),
        "brier_score": maybe(found.brier),
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


def question_data(judged: JudgedQuestion) -> dict[str, Any]:
    """One open question, and which measurement would bring what."""
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
            id: [improvement_data(each) for each in found] for id, found in judged.gains.items()
        },
    }


def _would_decide(judged: JudgedQuestion) -> dict[str, list[dict[str, Any]]]:
    return {
        each.claim.claim.id: [improvement_data(better) for better in each.improvements]
        for each in judged.undecided
    }


def improvement_data(each: Improvement) -> dict[str, Any]:
    """What knowing one input better would do."""
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
