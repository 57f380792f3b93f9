"""Temperatures and their differences: one dimension, two meanings.

20 degC and a rise by 20 degC differ by 273.15, which no check of dimensions sees.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from calc.notation.formula import Call, Comparison, Name, Negative, Node, Operation, names_in
from calc.notation.units import PLAIN, Unit
from calc.problems import Wrong

POINT, DIFFERENCE = "point", "difference"
_AMONG = frozenset(("min", "max", "mean"))

Units = Callable[[str], Unit]


def temperature(tree: Node, unit_of: Units) -> str:
    """Whether a formula gives a temperature, a difference of two, or "" when none can tell.

    A unit with an offset marks a temperature, delta_degC a difference; K may be either.
    Raises: Wrong (kind "dimension") when temperatures are added, or one is compared with a
    difference.
    """
    if isinstance(tree, Name):
        return _named(unit_of(tree.name))
    if isinstance(tree, Negative):
        return _only(temperature(tree.of, unit_of))
    if isinstance(tree, Operation):
        return _joined(tree, unit_of)
    if isinstance(tree, Call):
        return _called(tree.function, [temperature(item, unit_of) for item in tree.arguments])
    if isinstance(tree, Comparison):
        _alike([temperature(side, unit_of) for side in (tree.left, tree.right)])
    return ""


def _named(scale: Unit) -> str:
    if scale.offset:
        return POINT
    return DIFFERENCE if scale.text.startswith("delta_") else ""


def _only(found: str) -> str:
    return DIFFERENCE if found == DIFFERENCE else ""


def _called(function: str, found: Sequence[str]) -> str:
    if function == "where":
        return _alike(found[1:])
    if function in _AMONG:
        return _alike(found)
    if function == "sum":
        return _sum(found)
    return _only(found[0]) if function == "abs" else ""


def _alike(found: Sequence[str]) -> str:
    """What one of several values is, which must all mean the same."""
    if POINT in found and DIFFERENCE in found:
        raise Wrong(
            "dimension",
            "a temperature and a difference of temperatures do not compare; add the difference to"
            " a temperature first",
        )
    return found[0] if len(set(found)) == 1 else ""


def _sum(found: Sequence[str]) -> str:
    if found.count(POINT) > 1:
        raise Wrong(
            "dimension",
            "two temperatures do not add; write what is added as a difference, in delta_degC",
        )
    return POINT if POINT in found else _only(found[0] if len(set(found)) == 1 else "")


def _joined(tree: Operation, unit_of: Units) -> str:
    left, right = temperature(tree.left, unit_of), temperature(tree.right, unit_of)
    if tree.sign == "+":
        return _sum([left, right])
    if tree.sign == "-":
        return _less(left, right)
    if tree.sign == "*":
        return _only(right) if _plain(tree.left, unit_of) else _scaled(tree, left, unit_of)
    return _scaled(tree, left, unit_of) if tree.sign == "/" else ""


def _less(left: str, right: str) -> str:
    """From a temperature only a temperature leaves a difference, whatever unit it has."""
    if right == POINT:
        return DIFFERENCE
    return left if right == DIFFERENCE else ""


def _scaled(tree: Operation, left: str, unit_of: Units) -> str:
    return _only(left) if _plain(tree.right, unit_of) else ""


def _plain(tree: Node, unit_of: Units) -> bool:
    """Whether a formula is made of plain numbers alone."""
    return all(unit_of(name).dimension == PLAIN for name in names_in(tree))
