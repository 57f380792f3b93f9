"""Temperatures and their differences: one dimension, two meanings.

20 degC and a rise by 20 degC differ by 273.15, which no check of dimensions sees.
"""

from __future__ import annotations

from collections.abc import Callable

from calc.notation.formula import Call, Name, Negative, Node, Number, Operation
from calc.notation.units import Unit
from calc.problems import Wrong

POINT, DIFFERENCE = "point", "difference"
_ALIKE = frozenset(("min", "max", "mean", "where"))


def temperature(tree: Node, unit_of: Callable[[str], Unit]) -> str:
    """Whether a formula gives a temperature, a difference of two, or "" when none can tell.

    A unit with an offset marks a temperature, delta_degC a difference; K may be either.
    Raises: Wrong (kind "dimension") when two temperatures are added.
    """
    if isinstance(tree, Name):
        return _named(unit_of(tree.name))
    if isinstance(tree, Negative):
        return _only(temperature(tree.of, unit_of))
    if isinstance(tree, Operation):
        return _joined(tree, unit_of)
    if isinstance(tree, Call) and tree.function in _ALIKE:
        found = {temperature(item, unit_of) for item in tree.arguments[-2:]}
        return found.pop() if len(found) == 1 else ""
    if isinstance(tree, Call):
        for item in tree.arguments:
            temperature(item, unit_of)
    return ""


def _named(scale: Unit) -> str:
    if scale.offset:
        return POINT
    return DIFFERENCE if scale.text.startswith("delta_") else ""


def _only(found: str) -> str:
    return DIFFERENCE if found == DIFFERENCE else ""


def _joined(tree: Operation, unit_of: Callable[[str], Unit]) -> str:
    left, right = temperature(tree.left, unit_of), temperature(tree.right, unit_of)
    if tree.sign == "-":
        return DIFFERENCE if left and left == right else POINT * (left == POINT and bool(right))
    if tree.sign == "+":
        if left == right == POINT:
            raise Wrong(
                "dimension",
                "two temperatures do not add; write what is added as a difference, in delta_degC",
            )
        return POINT if POINT in (left, right) else _only(left if left == right else "")
    if isinstance(tree.left, Number):
        return _only(right) if tree.sign == "*" else ""
    return _only(left) if isinstance(tree.right, Number) and tree.sign in "*/" else ""
