"""Limits of methods where they are used: conditions on nodes, their dimensions checked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from calc.book.model import Limit
from calc.book.names import Scope as Names
from calc.book.names import resolved
from calc.book.plan import Guard
from calc.book.unfolded import Unfolded
from calc.notation.dimensions import Scope, dimension_of
from calc.notation.formula import Comparison, Name, Node, Number
from calc.problems import Wrong


def guards(raw: Unfolded, scope: Scope) -> Iterator[Guard]:
    """Every limit as conditions that can be evaluated; a limit that misfits is noted once."""
    said: set[Limit] = set()
    for guard in raw.guards:
        if not all(id in scope.names for id in guard.ids.values()):
            continue
        if any((guard.prefix, name) in raw.misgiven for name in guard.ids):
            continue
        try:
            _check(guard.limit, guard.ids, scope)
        except Wrong as error:
            if guard.limit not in said:
                place = guard.limit.place
                raw.problems.append(error.at(place.file, place.line))
            said.add(guard.limit)
            continue
        for tree in _conditions(guard.limit, guard.ids):
            yield Guard(guard.block, tree, guard.limit, guard.method, guard.place, guard.ids)


def _check(limit: Limit, ids: Mapping[str, str], scope: Scope) -> None:
    if limit.formula:
        dimension_of(resolved(limit.formula.tree, Names("", "", ids, globals_too=True)), scope)
        return
    end = limit.low or limit.high
    found = scope.names[ids[limit.name]]
    if end and found != end.unit.dimension:
        raise Wrong("dimension", f"the limit '{limit.text}' is {end.unit.dimension}, not {found}")


def _conditions(limit: Limit, ids: Mapping[str, str]) -> Iterator[Node]:
    if limit.formula:
        yield resolved(limit.formula.tree, Names("", "", ids, globals_too=True))
        return
    name = Name(ids[limit.name])
    if limit.low:
        yield Comparison(">" if limit.strict else ">=", name, Number(repr(limit.low.base)))
    if limit.high:
        yield Comparison("<" if limit.strict else "<=", name, Number(repr(limit.high.base)))
