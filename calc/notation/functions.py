"""The short list of functions that a formula may call, and what each does to dimensions."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from calc.notation.units import PLAIN, Dimension
from calc.problems import Wrong

Wild = Dimension | None
"""A dimension, or None for a literal zero, which goes with anything."""


@dataclass(frozen=True)
class Function:
    """A function of formulas: how many arguments it takes, and the dimension it gives.

    `most` is None when any number of arguments will do.
    """

    about: str
    fewest: int
    most: int | None
    gives: Callable[[str, Sequence[Wild]], Wild]


def alike(name: str, given: Sequence[Wild]) -> Wild:
    """The one dimension of all that is given. Raises: Wrong when they differ."""
    known = [dimension for dimension in given if dimension is not None]
    for other in known[1:]:
        if other != known[0]:
            raise Wrong("dimension", f"{name} is given {known[0]} and {other}; they must be alike")
    return known[0] if known else None


def _pure(name: str, given: Sequence[Wild]) -> Wild:
    for dimension in given:
        if dimension is not None and dimension != PLAIN:
            raise Wrong(
                "dimension",
                f"{name}() takes a plain number, got {dimension}; divide by a quantity of its kind",
            )
    return PLAIN


def _root(name: str, given: Sequence[Wild]) -> Wild:
    return given[0].to(0.5) if given[0] is not None else None


def _choice(name: str, given: Sequence[Wild]) -> Wild:
    _pure("the condition of where", given[:1])
    return alike(name, given[1:])


FUNCTIONS: Mapping[str, Function] = {
    "sqrt": Function("square root", 1, 1, _root),
    **{
        name: Function(about, 1, 1, _pure)
        for name, about in (
            ("exp", "e to a power"),
            ("log", "natural logarithm"),
            ("log10", "logarithm to base 10"),
            ("log2", "logarithm to base 2"),
            ("sin", "sine, of radians"),
            ("cos", "cosine, of radians"),
            ("tan", "tangent, of radians"),
            ("asin", "inverse sine, in radians"),
            ("acos", "inverse cosine, in radians"),
            ("atan", "inverse tangent, in radians"),
            ("sinh", "hyperbolic sine"),
            ("cosh", "hyperbolic cosine"),
            ("tanh", "hyperbolic tangent"),
            ("asinh", "inverse hyperbolic sine"),
            ("floor", "whole number at or below"),
            ("ceil", "whole number at or above"),
            ("round", "nearest whole number, a tie going up"),
        )
    },
    "abs": Function("size without sign", 1, 1, alike),
    "min": Function("smallest", 1, None, alike),
    "max": Function("largest", 1, None, alike),
    "sum": Function("all added", 1, None, alike),
    "mean": Function("arithmetic mean", 1, None, alike),
    "where": Function("where(condition, a, b): a where it is true, else b", 3, 3, _choice),
}

ELSEWHERE: Mapping[str, str] = {
    "ln": "log",
    "lg": "log10",
    "arcsin": "asin",
    "arccos": "acos",
    "arctan": "atan",
    "avg": "mean",
    "average": "mean",
    "if": "where",
    "pow": "a ** b",
    "power": "a ** b",
    "square": "a ** 2",
}
"""What functions are called elsewhere, and how they are written here."""
