"""Why a formula has no value: the part that fails first, in a sentence."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

import numpy as np

from calc.engine.evaluate import evaluate
from calc.notation.formula import Call, Node, Operation, children, spelled

_DOMAINS = {
    "log": "a logarithm of zero or less",
    "log2": "a logarithm of zero or less",
    "log10": "a logarithm of zero or less",
    "sqrt": "a square root of less than zero",
    "asin": "an inverse sine of what lies outside -1 to 1",
    "acos": "an inverse cosine of what lies outside -1 to 1",
}


def why_undefined(tree: Node, values: Mapping[str, Any]) -> str:
    """The first part, from the inside out, whose value is not a finite number, and why.

    Parameters: values, of every name, floats or arrays of draws.
    """
    for child in children(tree):
        if not _finite(child, values):
            return why_undefined(child, values)
    return f"{_reason(tree, values)} in '{_local(tree)}'"


def _reason(node: Node, values: Mapping[str, Any]) -> str:
    if isinstance(node, Operation) and node.sign == "/" and np.any(_at(node.right, values) == 0):
        return "a division by zero"
    if isinstance(node, Operation) and node.sign == "**":
        return "a power that is no real number"
    if isinstance(node, Call) and node.function in _DOMAINS:
        return _DOMAINS[node.function]
    return "a value too large, or not a number,"


def _at(node: Node, values: Mapping[str, Any]) -> Any:
    with np.errstate(all="ignore"):
        return np.asarray(evaluate(node, values))


def _finite(node: Node, values: Mapping[str, Any]) -> bool:
    return bool(np.all(np.isfinite(_at(node, values))))


def _local(node: Node) -> str:
    """The part as the writer typed it: names without the id in front."""
    return re.sub(r"[a-z0-9]+(?:-[a-z0-9]+)*\.(?=[a-z])", "", spelled(node))
