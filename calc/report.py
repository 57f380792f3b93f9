"""What came out, as data: the published results, the same bytes for the same inputs."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Any

from calc.engine.results import Result, Solved
from calc.notation.prose import GIVEN
from calc.problems import Problem
from calc.tell.evidence import evidence_data
from calc.tell.numbers import number, unit_text
from calc.whole import Whole


def results_text(whole: Whole) -> str:
    """Everything that was computed and judged, as a JSON text."""
    return json.dumps(results(whole), ensure_ascii=False, indent=1, sort_keys=True) + "\n"


def results(whole: Whole) -> dict[str, Any]:
    """Everything that was computed and judged, as plain data."""
    return {
        "calcs": {id: _calc(id, whole) for id in whole.book.calcs},
        "figures": [
            {
                "file": figure.place.file,
                "line": figure.place.line,
                "text": figure.figure.text,
                "of": figure.of,
                "kind": figure.figure.scheme,
                "agrees": figure.agrees if figure.figure.scheme != GIVEN else True,
                "recomputed": figure.recomputed,
            }
            for figure in whole.judgement.figures
        ],
        "checks": [
            {
                "method": check.method,
                "result": check.name,
                "given": dict(check.given),
                "expected": check.expected,
                "computed": check.computed,
                "agrees": check.agrees,
                "source": check.source,
                "mark": check.mark,
            }
            for check in whole.judgement.checks
        ],
        **evidence_data(whole),
        "problems": [_problem(problem) for problem in whole.problems],
    }


def _calc(id: str, whole: Whole) -> dict[str, Any]:
    calc = whole.book.calcs[id]
    found = whole.computation.results
    return {
        "page": calc.place.file,
        "line": calc.place.line,
        "title": calc.title,
        "results": {
            result.partition(".")[2]: _result(found[result])
            for result in whole.plan.results.get(id, ())
            if result in found
        },
        "solve": {
            solved.name: _solved(solved)
            for key, solved in whole.computation.solved.items()
            if key.startswith(f"{id}.solve.")
        },
    }


def _result(result: Result) -> dict[str, Any]:
    data = {
        "value": number(result.value),
        "unit": unit_text(result.unit),
        "standard_uncertainty": number(result.standard_uncertainty),
        "interval": [number(end) for end in result.interval],
        "shares": _shares(result.shares),
    }
    if result.total_shares:
        data["total_shares"] = _shares(result.total_shares)
    if result.bent:
        data["mean"] = number(result.mean)
    return data


def _shares(shares: Mapping[str, float]) -> dict[str, float]:
    return {name: round(share, 6) for name, share in shares.items()}


def _solved(solved: Solved) -> dict[str, Any]:
    if solved.none:
        return {"none": solved.none}
    data: dict[str, Any] = {"value": number(solved.values[0]), "unit": unit_text(solved.unit)}
    if len(solved.values) > 1:
        data["all"] = [number(value) for value in solved.values]
    return data


def _problem(problem: Problem) -> dict[str, Any]:
    return {
        "file": problem.file,
        "line": problem.line,
        "kind": problem.kind,
        "severity": problem.severity,
        "message": problem.message,
    }


def problems_text(problems: Iterable[Problem]) -> str:
    """Every problem on a line, in order of place, warnings marked."""
    lines = [
        f"{problem}" if problem.severity == "error" else f"{problem} (warning)"
        for problem in problems
    ]
    return "\n".join(lines)
