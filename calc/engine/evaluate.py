"""Evaluation: trees interpreted from a white list, on bare numbers or arrays of draws."""

from __future__ import annotations

import warnings
from collections.abc import Callable, Iterable, Mapping
from typing import Any

import numpy as np

from calc.book.logs import Log
from calc.book.plan import Alias, Column, Computed, Part, Plan, PlanNode, Root, Run
from calc.cell.catalogue import PROCEDURES
from calc.notation.formula import Call, Comparison, Name, Negative, Node, Number, Operation

Value = Any
"""A float, an array of draws, a column of a log, or what a procedure gave."""


class NotComputed(ArithmeticError):
    """A procedure refused its arguments, in a plain sentence."""


def _stacked(reduce: Callable[..., Any]) -> Callable[..., Any]:
    return lambda *given: reduce(np.array(np.broadcast_arrays(*given)), axis=0)


FUNCTIONS: Mapping[str, Callable[..., Any]] = {
    "sqrt": np.sqrt,
    "exp": np.exp,
    "log": np.log,
    "log10": np.log10,
    "log2": np.log2,
    "sin": np.sin,
    "cos": np.cos,
    "tan": np.tan,
    "asin": np.arcsin,
    "acos": np.arccos,
    "atan": np.arctan,
    "sinh": np.sinh,
    "cosh": np.cosh,
    "tanh": np.tanh,
    "asinh": np.arcsinh,
    "floor": np.floor,
    "ceil": np.ceil,
    "round": lambda value: np.floor(np.asarray(value) + 0.5)[()],
    "abs": np.abs,
    "min": _stacked(np.min),
    "max": _stacked(np.max),
    "sum": _stacked(np.sum),
    "mean": _stacked(np.mean),
    "where": lambda condition, a, b: np.asarray(np.where(condition, a, b))[()],
}
_CANCELLED = 8 * np.finfo(float).eps
"""A difference smaller than this share of what it was taken of is what rounding left of nought."""


def _difference(left: Value, right: Value) -> Value:
    found = np.subtract(left, right)
    return np.where(np.abs(found) <= _CANCELLED * np.abs(left), 0.0, found)[()]


_SIGNS: Mapping[str, Callable[[Any, Any], Any]] = {
    "+": np.add,
    "-": _difference,
    "*": np.multiply,
    "/": np.true_divide,
    "**": np.power,
    "<": np.less,
    "<=": np.less_equal,
    ">": np.greater,
    ">=": np.greater_equal,
    "==": np.equal,
    "!=": np.not_equal,
}


def evaluate(tree: Node, values: Mapping[str, Value]) -> Value:
    """The value of a tree; what is undefined comes out as nan or inf.

    Parameters: values, of every name in the tree, in SI base units, floats or shape (n,).
    """
    if isinstance(tree, Number):
        return np.float64(tree.value)
    if isinstance(tree, Name):
        return values[tree.name]
    if isinstance(tree, Negative):
        return -evaluate(tree.of, values)
    if isinstance(tree, Operation | Comparison):
        return _SIGNS[tree.sign](evaluate(tree.left, values), evaluate(tree.right, values))
    return _call(tree, values)


def _call(tree: Call, values: Mapping[str, Value]) -> Value:
    given = [evaluate(argument, values) for argument in tree.arguments]
    if tree.function in FUNCTIONS:
        return FUNCTIONS[tree.function](*given)
    return _procedure(tree.function, given, {})


def _procedure(name: str, given: Iterable[Value], named: Mapping[str, Value]) -> Value:
    try:
        return PROCEDURES[name].function(*given, **named)
    except ValueError as error:
        raise NotComputed(f"{name}: {error}") from None
    except (ArithmeticError, LookupError, TypeError) as error:
        # A fault of the procedure, not of the writer, who is told where it shows all the same.
        raise NotComputed(f"{name} cannot take these values ({error}); change them") from None


def node_value(node: PlanNode, values: Mapping[str, Value], logs: Mapping[str, Log]) -> Value:
    """The value of one node in SI base units, from those that it needs.

    Raises: NotComputed when a procedure refuses its arguments.
    """
    if isinstance(node, Computed):
        return evaluate(node.tree, values)
    if isinstance(node, Alias):
        return values[node.of]
    if isinstance(node, Part):
        whole = values[node.run]
        return getattr(whole, node.field) if node.field else whole
    if isinstance(node, Run):
        named = {
            name: argument if isinstance(argument, str) else evaluate(argument, values)
            for name, argument in node.arguments.items()
        }
        return _procedure(node.procedure, (), named)
    if isinstance(node, Column):
        return logs[node.log].columns[node.column].values * node.unit.factor + node.unit.offset
    raise KeyError(node.id)


def values_of(
    targets: Iterable[str], roots: Mapping[str, Value], plan: Plan, logs: Mapping[str, Log]
) -> dict[str, Value]:
    """Values of targets, and of all below them, when the roots have the values given.

    Parameters: roots, by id, in SI base units, floats or arrays that broadcast; a root that is
    not given keeps its nominal value.
    Returns: values by id, in SI base units.
    Raises: NotComputed when a procedure refuses its arguments.
    """
    found: dict[str, Value] = {}
    with np.errstate(all="ignore"), warnings.catch_warnings():
        warnings.simplefilter("ignore", RuntimeWarning)
        for id in below(targets, plan):
            node = plan.nodes[id]
            if id in roots:
                found[id] = roots[id]
            elif isinstance(node, Root):
                found[id] = np.float64(node.quantity.base)
            else:
                found[id] = node_value(node, found, logs)
    return found


def values_again(
    targets: Iterable[str],
    changed: Mapping[str, Value],
    known: Mapping[str, Value],
    plan: Plan,
    logs: Mapping[str, Log],
) -> dict[str, Value]:
    """Values of targets when some roots change and all else is as it was known.

    Parameters: known, values of the targets and of all below them, as `values_of` returned them.
    """
    moved = set(changed)
    kept = {id: known[id] for id in known if moved.isdisjoint(plan.roots[id])}
    return values_of(targets, {**kept, **changed}, plan, logs)


def below(targets: Iterable[str], plan: Plan) -> list[str]:
    """Targets and all that they need, each after what it needs."""
    done: dict[str, None] = {}
    stack = [(id, False) for id in reversed(list(targets))]
    while stack:
        id, ready = stack.pop()
        if ready:
            done[id] = None
        elif id not in done:
            stack.append((id, True))
            stack += [(need, False) for need in reversed(plan.needs[id]) if need not in done]
    return list(done)
