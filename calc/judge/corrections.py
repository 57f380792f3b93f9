"""Corrections: the newest one of each figure must say what stands now."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from calc.book.model import Correction
from calc.engine.results import Result
from calc.judge.agree import agreement
from calc.judge.forecasts import frozen
from calc.judge.ledger import WITHDRAWN, same_text
from calc.judge.targets import Targets
from calc.notation.statement import parse_statement
from calc.problems import Problem, Wrong, nearest


def newest_first(corrections: Iterable[Correction]) -> tuple[Correction, ...]:
    """Corrections in the order in which a reader wants them: by date, then by id."""
    by_id = sorted(corrections, key=lambda each: each.id)
    return tuple(sorted(by_id, key=lambda each: each.date, reverse=True))


def check_corrections(targets: Targets) -> Iterator[Problem]:
    """Corrections of nothing that exists, and newest ones that are not what stands now."""
    seen: set[tuple[str, str]] = set()
    for each in newest_first(targets.book.corrections.values()):
        newest = (each.place.file, each.figure) not in seen
        seen.add((each.place.file, each.figure))
        try:
            if newest and (problem := _judge(each, targets)):
                yield problem
        except Wrong as error:
            yield error.at(each.place.file, each.place.line)


def _judge(each: Correction, targets: Targets) -> Problem | None:
    if each.now == WITHDRAWN:
        return None
    stands = _words_of(each.figure, targets)
    if stands is not None:
        return None if same_text(stands) == same_text(each.now) else _drift(each, stands)
    page = next(page for page in targets.book.pages if page.file == each.place.file)
    found = targets.result(targets.find(each.figure, page))
    if not isinstance(found, Result):
        return None
    outcome = agreement(parse_statement(each.now), found)
    return None if outcome.agrees else _drift(each, outcome.recomputed)


def _words_of(figure: str, targets: Targets) -> str | None:
    """What stands of a claim or of a forecast's part; None when it is a result's id."""
    claim = targets.book.claims.get(figure)
    if claim:
        return claim.verdict
    if figure.partition(".")[0] in targets.book.forecasts:
        parts = {row.of: row.text for row in frozen(targets.book.forecasts.values())}
        if figure not in parts:
            raise Wrong("reference", f"no forecast has '{figure}'{nearest(figure, parts)}")
        return parts[figure]
    return None


def _drift(each: Correction, stands: str) -> Problem:
    return Problem(
        each.place.file,
        each.place.line,
        "drift",
        f"the correction {each.id} says that {each.figure} is now '{each.now}', but '{stands}'"
        " stands; add a newer correction, or mend this one if it was never published",
    )
