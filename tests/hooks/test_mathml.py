"""MathML from formulas: what each sign becomes, where lines may break, and that all parses."""

from __future__ import annotations

import re
from collections.abc import Iterator
from xml.etree import ElementTree

import pytest

from calc.book.model import Calc, Method
from calc.notation.formula import Node, parse_formula
from hooks.mathml import WIDEST, equation, typeset
from hooks.signs import Leaf, quantity, symbol, words
from tests.helpers import site_book

# Elements of MathML Core that browsers draw; others, mfenced among them, they do not.
DRAWN = {
    "math", "mfrac", "mi", "mn", "mo", "mrow", "mspace", "msqrt", "msub", "msup", "mtable", "mtd",
    "mtext", "mtr",
}  # fmt: skip


def parsed(row: str) -> ElementTree.Element:
    """A row of MathML as a tree."""
    return ElementTree.fromstring(f"<row>{row}</row>")


def said(row: str) -> str:
    """The characters of a row, in order, without spaces."""
    return re.sub(r"\s", "", "".join(parsed(row).itertext()))


def tree(text: str) -> Node:
    """A formula's tree."""
    return parse_formula(text).tree


@pytest.mark.parametrize(
    ("formula", "characters"),
    [
        ("a + b - c", "a+b−c"),
        ("a - (b - c)", "a−(b−c)"),
        ("a - (b + c)", "a−(b+c)"),
        ("a * b", "a×b"),
        ("(a + b) * c", "(a+b)×c"),
        ("a * (b * c)", "a×(b×c)"),
        ("-a", "−a"),
        ("-(a + b)", "−(a+b)"),
        ("a <= b", "a≤b"),
        ("a != b", "a≠b"),
        ("log(a)", "ln(a)"),
        ("log10(a)", "log10(a)"),
        ("abs(a)", "|a|"),
        ("floor(a)", "⌊a⌋"),
        ("min(a, b)", "min(a,b)"),
        ("2.50 * a", "2.50×a"),
        ("1e-3 * a", "1×10−3×a"),
    ],
)
def test_a_formula_reads_as_it_is_meant(formula: str, characters: str) -> None:
    assert said(typeset(tree(formula), symbol)) == characters


@pytest.mark.parametrize(
    ("formula", "shape"),
    [
        ("a / b", "mfrac"),
        ("a ** 2", "msup"),
        ("sqrt(a)", "msqrt"),
        ("where(a > 0, b, c)", "mtable"),
        ("exp(a)", "msup"),
    ],
)
def test_a_shape_of_mathematics_is_drawn(formula: str, shape: str) -> None:
    assert parsed(typeset(tree(formula), symbol)).find(f".//{shape}") is not None


def test_a_sum_is_bracketed_below_a_power() -> None:
    assert said(typeset(tree("(a + b) ** 2"), symbol)) == "(a+b)2"


def test_a_sum_needs_no_brackets_in_a_fraction() -> None:
    assert said(typeset(tree("(a + b) / c"), symbol)) == "a+bc"


def test_a_number_with_a_unit_is_bracketed_below_a_power() -> None:
    row = typeset(tree("a ** 2"), lambda name: quantity("3.0", "mm"))
    assert said(row) == "(3.0mm)2"


@pytest.mark.parametrize(
    ("written", "base", "below"), [("E_t", "E", "t"), ("C_max", "C", "max"), ("U_+", "U", "+")]
)
def test_a_symbol_carries_its_index(written: str, base: str, below: str) -> None:
    found = parsed(symbol(written).markup).find("msub")
    assert found is not None
    assert [part.text for part in found] == [base, below]


def test_a_name_without_symbol_becomes_words() -> None:
    assert words("anode.areal_capacity").markup == (
        '<mi class="wc-words">anode:\u00a0areal\u00a0capacity</mi>'
    )


def test_signs_of_html_are_escaped() -> None:
    assert "&lt;" in typeset(tree("a < b"), symbol)
    assert "<b>" not in words("<b>").markup


def test_an_equation_has_its_name_and_its_result() -> None:
    row = equation("<mi>q</mi>", tree("a / b"), symbol, "<mn>7</mn>")
    assert said(row) == "q=ab=7"


def formulas_of_the_site() -> Iterator[tuple[str, Node]]:
    """Every formula that a page of the site holds."""
    book = site_book()
    blocks: list[Calc | Method] = [*book.calcs.values(), *book.methods.values()]
    for id, step in ((block.id, step) for block in blocks for step in block.steps):
        if step.formula is not None:
            yield f"{id}.{step.name}", step.formula.tree


def test_every_formula_of_the_site_is_drawn_and_breaks() -> None:
    count = 0
    for id, node in formulas_of_the_site():
        row = typeset(node, words)
        found = parsed(row)
        assert {part.tag for part in found.iter()} - {"row"} <= DRAWN, id
        for piece in found:
            names = [part.text or "" for part in piece.iter("mi")]
            longest = max(map(len, names), default=0)
            assert width(piece) <= max(WIDEST, longest) + 12, (id, width(piece))
        count += 1
    assert count > 300


def width(piece: ElementTree.Element) -> int:
    """About how many characters wide an element is set: a fraction is as wide as its wider part."""
    if piece.tag == "mfrac":
        return max(width(part) for part in piece)
    if piece.tag == "mtable":
        return max(width(part) for part in piece)
    return len((piece.text or "").strip()) + sum(width(part) for part in piece)


def test_a_wide_sum_breaks_between_its_terms() -> None:
    row = typeset(tree(" + ".join(f"a_rather_long_name_{n}" for n in "abcdef")), words)
    assert len(list(parsed(row))) == 6


def test_a_wide_fraction_is_set_on_a_line() -> None:
    long = " * ".join(f"a_rather_long_name_{n}" for n in "abc")
    row = typeset(tree(f"({long}) / (b + c)"), words)
    assert said(row).endswith("/(b+c)")
    assert parsed(row).find(".//mfrac") is None


def test_numbers_put_in_keep_their_units() -> None:
    numbers = {"a": quantity("74.8", "Ah"), "b": quantity("3.655", "V")}

    def naming(name: str) -> Leaf:
        return numbers[name]

    row = equation("", tree("a * b"), naming, quantity("273.4", "Wh").markup)
    assert said(row) == "74.8Ah×3.655V=273.4Wh"
