"""Dimensions of a formula, found once from its tree before any number is computed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from calc.notation.formula import Call, Comparison, Name, Negative, Node, Number, Operation
from calc.notation.functions import ELSEWHERE, FUNCTIONS, Wild, alike
from calc.notation.units import PLAIN, Dimension, Unit
from calc.problems import Wrong, nearest


@dataclass(frozen=True)
class Series:
    """A column of a log, which only a procedure may take."""

    dimension: Dimension


Kind = Dimension | Series


@dataclass(frozen=True)
class Signature:
    """What a procedure takes, by parameter in order, and the units of what it gives.

    A parameter of kind None is a literal word; a single result has the name "".
    """

    takes: Mapping[str, Kind | None]
    gives: Mapping[str, Unit]


@dataclass(frozen=True)
class Scope:
    """What the names of one formula stand for."""

    names: Mapping[str, Kind]
    procedures: Mapping[str, Signature]


def dimension_of(tree: Node, scope: Scope) -> Dimension:
    """The dimension of a formula's value.

    Raises: Wrong (kind "dimension", "formula" or "reference").
    """
    found = _of(tree, scope)
    return PLAIN if found is None else found


def _of(node: Node, scope: Scope) -> Wild:
    if isinstance(node, Number):
        return PLAIN if node.value else None
    if isinstance(node, Name):
        return _named(node.name, scope)
    if isinstance(node, Negative):
        return _of(node.of, scope)
    if isinstance(node, Comparison):
        alike(f"'{node.sign}'", (_of(node.left, scope), _of(node.right, scope)))
        return PLAIN
    if isinstance(node, Operation):
        return _joined(node, scope)
    return _called(node, scope)


def _named(name: str, scope: Scope) -> Dimension:
    kind = scope.names.get(name)
    if kind is None:
        raise Wrong("reference", f"nothing here is called '{name}'{nearest(name, scope.names)}")
    if isinstance(kind, Series):
        raise Wrong(
            "formula",
            f"'{name}' is a column of a log; only a procedure can take it, such as those listed"
            " among the methods for measured curves",
        )
    return kind


def _joined(node: Operation, scope: Scope) -> Wild:
    left, right = _of(node.left, scope), _of(node.right, scope)
    if node.sign == "+":
        return alike("'+'", (left, right))
    if node.sign == "-":
        return alike("'-'", (left, right))
    if node.sign == "**":
        return _power(node, left, right)
    return (left or PLAIN).times(right or PLAIN, 1 if node.sign == "*" else -1)


def _power(node: Operation, base: Wild, exponent: Wild) -> Wild:
    if exponent not in (None, PLAIN):
        raise Wrong("dimension", f"an exponent is a plain number, got {exponent}")
    if base is None or base == PLAIN:
        return PLAIN
    literal = _literal(node.right)
    if literal is None:
        raise Wrong(
            "dimension",
            f"{base} to a power needs the exponent written as a number; divide by a reference"
            " quantity first",
        )
    return base.to(literal)


def _literal(node: Node) -> float | None:
    if isinstance(node, Number):
        return node.value
    if isinstance(node, Negative):
        inner = _literal(node.of)
        return None if inner is None else -inner
    if isinstance(node, Operation) and node.sign == "/":
        above, below = _literal(node.left), _literal(node.right)
        return above / below if above is not None and below else None
    return None


def _called(node: Call, scope: Scope) -> Wild:
    if signature := scope.procedures.get(node.function):
        return _procedure(node, signature, scope)
    function = FUNCTIONS.get(node.function)
    if function is None:
        known = [*FUNCTIONS, *scope.procedures]
        raise Wrong(
            "formula",
            f"no function is called '{node.function}'{_meant(node.function, known)}",
        )
    count = len(node.arguments)
    if count < function.fewest or (function.most is not None and count > function.most):
        least = "at least " if function.most is None else ""
        few = f"{least}{function.fewest} argument{'s' * (function.fewest > 1)}"
        message = f"{node.function}() takes {few}, got {count}: {function.about}"
        raise Wrong("formula", message)
    return function.gives(node.function, [_of(argument, scope) for argument in node.arguments])


def _meant(name: str, known: Iterable[str]) -> str:
    other = ELSEWHERE.get(name)
    return f"; it is written {other} here" if other else nearest(name, known)


def _procedure(node: Call, signature: Signature, scope: Scope) -> Dimension:
    if len(node.arguments) != len(signature.takes):
        raise Wrong(
            "formula",
            f"{node.function}() takes {', '.join(signature.takes)}; got {len(node.arguments)}"
            " arguments",
        )
    for argument, (parameter, wanted) in zip(node.arguments, signature.takes.items(), strict=True):
        argument_fits(node.function, parameter, wanted, argument, scope)
    if list(signature.gives) != [""]:
        fields = ", ".join(signature.gives)
        raise Wrong(
            "formula",
            f"{node.function} gives several results ({fields}); make it a step of its own:"
            f" name: {{procedure: {node.function}, with: {{…}}}}",
        )
    return signature.gives[""].dimension


def argument_fits(
    function: str, parameter: str, wanted: Kind | None, argument: Node, scope: Scope
) -> None:
    """Checks one argument of a procedure. Raises: Wrong when it is of another kind."""
    if wanted is None:
        raise Wrong("formula", f"{parameter} of {function} is a word; make it a step of its own")
    if isinstance(wanted, Series):
        found = scope.names.get(argument.name) if isinstance(argument, Name) else None
        if not isinstance(found, Series):
            raise Wrong("formula", f"{parameter} of {function} must be a column of a log")
        if found.dimension != wanted.dimension:
            raise Wrong(
                "dimension",
                f"{parameter} of {function} must be a column in {wanted.dimension}, got"
                f" {found.dimension}",
            )
        return
    given = _of(argument, scope)
    if given is not None and given.without_year() != wanted.without_year():
        raise Wrong("dimension", f"{parameter} of {function} is {wanted}, got {given}")
