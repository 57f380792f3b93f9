"""Formulas: trees first, one row for each rule of precedence, then values, then what is refused."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as some

from calc.engine.evaluate import evaluate
from calc.notation.formula import (
    Call,
    Comparison,
    Name,
    Negative,
    Node,
    Number,
    Operation,
    names_in,
    parse_formula,
    spelled,
)
from calc.problems import Wrong

A, B, C, TWO = Name("a"), Name("b"), Name("c"), Number("2")


def joined(left: Node, sign: str, right: Node) -> Node:
    """Two sides and what joins them."""
    return Operation(sign, left, right)


TREES: list[tuple[str, Node]] = [
    ("a", A),
    ("2", TWO),
    ("a + b", joined(A, "+", B)),
    # to the left
    ("a - b - c", joined(joined(A, "-", B), "-", C)),
    ("a / b / c", joined(joined(A, "/", B), "/", C)),
    ("a / b * c", joined(joined(A, "/", B), "*", C)),
    # products before sums
    ("a + b * c", joined(A, "+", joined(B, "*", C))),
    ("a * b + c", joined(joined(A, "*", B), "+", C)),
    # brackets first
    ("(a + b) * c", joined(joined(A, "+", B), "*", C)),
    ("a - (b - c)", joined(A, "-", joined(B, "-", C))),
    ("a / (b * c)", joined(A, "/", joined(B, "*", C))),
    # powers before a minus in front, and to the right
    ("-a ** 2", Negative(joined(A, "**", TWO))),
    ("(-a) ** 2", joined(Negative(A), "**", TWO)),
    ("a ** b ** c", joined(A, "**", joined(B, "**", C))),
    ("(a ** b) ** c", joined(joined(A, "**", B), "**", C)),
    ("a ** -b", joined(A, "**", Negative(B))),
    ("a ** b * c", joined(joined(A, "**", B), "*", C)),
    ("a * b ** c", joined(A, "*", joined(B, "**", C))),
    # a minus in front before products
    ("-a * b", joined(Negative(A), "*", B)),
    ("a * -b", joined(A, "*", Negative(B))),
    ("a - -b", joined(A, "-", Negative(B))),
    ("--a", Negative(Negative(A))),
    ("+a", A),
    # comparisons last
    ("a + b <= c * 2", Comparison("<=", joined(A, "+", B), joined(C, "*", TWO))),
    ("a == b", Comparison("==", A, B)),
    ("a != b", Comparison("!=", A, B)),
    ("(a < b) * c", joined(Comparison("<", A, B), "*", C)),
    # calls
    ("min(a, b, c)", Call("min", (A, B, C))),
    ("where(a > 2, b, c)", Call("where", (Comparison(">", A, TWO), B, C))),
    ("-sqrt(a) ** 2", Negative(joined(Call("sqrt", (A,)), "**", TWO))),
    # names with dots, and a minus beside a name
    ("anode.capacity / 2", joined(Name("anode.capacity"), "/", TWO)),
    ("graphite-host.capacity", Name("graphite-host.capacity")),
    ("a-b", joined(A, "-", B)),
    ("a - b.c", joined(A, "-", Name("b.c"))),
    # typographic signs are plain ones
    ("a × b", joined(A, "*", B)),
    ("a · b", joined(A, "*", B)),
    ("a − b", joined(A, "-", B)),
    ("a²", joined(A, "**", TWO)),
    ("a²·b⁻¹", joined(joined(A, "**", TWO), "*", joined(B, "**", Negative(Number("1"))))),
    # numbers
    ("1.5e-3 * a", joined(Number("1.5e-3"), "*", A)),
    (".5 * a", joined(Number(".5"), "*", A)),
]
AT = {"a": 3.0, "b": 2.0, "c": -1.5}
VALUES = [
    ("-a ** 2", -9),
    ("(-a) ** 2", 9),
    ("2 ** -b ** 2", 2**-4),
    ("a - b - c", 2.5),
    ("a / b / c", -1),
    ("a - -b * c", 0),
    ("a > b", 1),
    ("where(a > b, a, b)", 3),
    ("min(a, b, c) + max(a, b, c) + sum(a, b, c) + mean(a, b, c)", 1.5 + 3.5 + 3.5 / 3),
    ("floor(c) + ceil(c)", -3),
    ("round(c) + round(2.5) + round(-2.5)", -1 + 3 - 2),
    ("abs(c) + sqrt(9)", 4.5),
    ("exp(1) - log(exp(2)) + log10(1000) + log2(8)", math.e - 2 + 3 + 3),
    ("asin(sin(0.3)) + acos(cos(0.3)) + atan(tan(0.3))", 0.9),
    ("asinh(sinh(0.3)) + tanh(0)", 0.3),
    ("cosh(0)", 1),
]
REFUSED = [
    ("", "an empty formula"),
    ("a +", "ends too early"),
    ("a + in Wh", "ends too early"),
    ("a in", "a unit is missing after 'in'"),
    ("(a + b", "')' expected"),
    ("a + b)", "')' is not expected there"),
    ("* a", "'*' is not expected there"),
    ("a b", "'b' is not expected there"),
    ("a ^ 2", "write ** for a power"),
    ("a // b", "'/' is not expected there"),
    ("50 % * a", "make a quantity with a unit an input of its own"),
    ("a * 2.4 V", "make a quantity with a unit an input of its own"),
    ("1 000 * a", "write the number without spaces"),
    ("a = b", "write == to compare"),
    ("a < b < c", "one comparison at a time"),
    ("f(, a)", "',' is not expected there"),
    ("f(a b)", "',' expected before 'b'"),
    ("a[0]", "'[' has no meaning"),
    ("a if b else c", "'if' is not expected there"),
    ("lambda: 1", "':' has no meaning"),
    ("'text'", "has no meaning"),
    ("α * a", "'α' has no meaning"),
]


@pytest.mark.parametrize(("text", "tree"), TREES)
def test_a_formula_is_this_tree(text: str, tree: Node) -> None:
    assert parse_formula(text).tree == tree


@pytest.mark.parametrize(("text", "tree"), TREES)
def test_a_tree_is_spelled_so_that_it_reads_back(text: str, tree: Node) -> None:
    assert parse_formula(spelled(tree)).tree == tree


@pytest.mark.parametrize(("text", "value"), VALUES)
def test_a_formula_has_this_value(text: str, value: float) -> None:
    tree = parse_formula(text).tree
    assert float(evaluate(tree, AT)) == pytest.approx(value, rel=1e-12, abs=1e-12)
    drawn = evaluate(tree, {name: np.full(3, number) for name, number in AT.items()})
    assert np.broadcast_to(drawn, 3).tolist() == pytest.approx([value] * 3, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize(("text", "phrase"), REFUSED)
def test_what_is_no_formula_is_refused(text: str, phrase: str) -> None:
    with pytest.raises(Wrong) as refused:
        parse_formula(text)
    assert refused.value.kind == "formula"
    assert phrase in refused.value.message


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("a * b in Wh/kg", "Wh/kg"),
        ("a * b", ""),
        ("a in USD/kWh (2024 prices)", "USD/kWh (2024 prices)"),
        ("a in ohm cm^2", "ohm cm^2"),
    ],
)
def test_in_names_the_unit_to_show(text: str, unit: str) -> None:
    assert parse_formula(text).unit == unit


def test_names_stand_in_order_of_first_mention() -> None:
    assert names_in(parse_formula("b * a + min(c, b) ** a").tree) == ("b", "a", "c")


LEAVES: some.SearchStrategy[Node] = some.sampled_from([A, B, C, TWO, Number("0.5"), Name("d.e")])


def _grown(inner: some.SearchStrategy[Node]) -> some.SearchStrategy[Node]:
    signs = some.sampled_from(["+", "-", "*", "/", "**"])
    return some.one_of(
        some.builds(Operation, signs, inner, inner),
        some.builds(Negative, inner),
        some.builds(lambda one, two: Call("max", (one, two)), inner, inner),
        some.builds(Comparison, some.sampled_from(["<", ">=", "=="]), inner, inner),
    )


@given(some.recursive(LEAVES, _grown, max_leaves=12))
def test_any_tree_reads_back_as_itself(tree: Node) -> None:
    assert parse_formula(spelled(tree)).tree == tree


@pytest.mark.parametrize("text", ["(" * 500 + "a" + ")" * 500, "+".join(["a"] * 5000)])
def test_a_formula_without_end_is_told_in_a_sentence(text: str) -> None:
    with pytest.raises(Wrong, match="make steps of its parts"):
        parse_formula(text)
