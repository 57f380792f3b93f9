"""Methods by themselves: names that stand for nothing, and what a use must give."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from calc.book.model import Limit, Method, Parameter
from calc.notation.formula import names_in
from calc.problems import Problem, Wrong, nearest


def own_problems(method: Method) -> Iterator[Problem]:
    """What is wrong with a method wherever it is used: limits that speak of nothing in it."""
    known = [*(item.name for item in method.parameters), *method.uses]
    known += [step.name for step in method.steps]
    for limit in method.valid:
        for name in limit_names(limit):
            if name.partition(".")[0] not in known:
                hint = nearest(name, known) or f"; it has {', '.join(known)}"
                message = f"nothing in {method.id} is called '{name}'{hint}"
                yield Problem(limit.place.file, limit.place.line, "reference", message)


def limit_names(limit: Limit) -> tuple[str, ...]:
    """The names that a limit speaks of."""
    return names_in(limit.formula.tree) if limit.formula else (limit.name,)


def all_given(
    method: Method, parameters: Mapping[str, Parameter], bindings: Mapping[str, str]
) -> None:
    """Checks that a use gives each input, and no more. Raises: Wrong."""
    lacking = [name for name in parameters if name not in bindings]
    unasked = [name for name in bindings if name not in parameters]
    if unasked:
        hints = "".join(nearest(name, parameters) for name in unasked)
        known = hints or f"; it takes {', '.join(parameters)}"
        raise Wrong("reference", f"the method {method.id} has no input {', '.join(unasked)}{known}")
    if lacking:
        raise Wrong(
            "reference",
            f"the method {method.id} also needs {', '.join(lacking)}; give each in with:",
        )
