"""MathML from a formula's tree, in pieces between which a line may break.

A browser does not break a line inside MathML, so a long formula is set as several `math`
elements in a row, cut at the loosest signs. Who calls says what stands for a name: its symbol,
or its number with a unit.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from calc.notation.formula import (
    Call,
    Comparison,
    Name,
    Negative,
    Node,
    Number,
    Operation,
    looseness,
)
from hooks.markup import text
from hooks.signs import Leaf, number_markup, words
from hooks.wording import digits, spoken

WIDEST = 26
"""Characters that stay on one line; at 360 px about so many fit."""

_TYPED = 10
"""Characters of the longest number that anybody types into a formula."""

_SIGNS = {"+": "+", "-": "−", "*": "×", "<": "<", "<=": "≤", ">": ">", ">=": "≥", "==": "=",
          "!=": "≠"}  # fmt: skip
_FUNCTIONS = {"log": "ln", "log10": "log", "log2": "log", "asinh": "arsinh", "asin": "arcsin",
              "acos": "arccos", "atan": "arctan"}  # fmt: skip
_BASES = {"log10": "10", "log2": "2"}
_FENCED = {"abs": ("|", "|"), "floor": ("⌊", "⌋"), "ceil": ("⌈", "⌉")}
_NARROW = ("min", "max", "mean", "sum", "round", "exp", *_FUNCTIONS, *"sqrt sin cos tan".split())


_OPEN = '<math displaystyle="true">'
"""In a line, and yet with fractions at full size."""

Naming = Callable[[str], Leaf]
"""From a name of the formula to what stands for it."""


def typeset(node: Node, naming: Naming) -> str:
    """A tree as MathML in a row of `math` elements; see above for where it may break."""
    pieces = _Setter(naming).pieces(flattened(node))
    return " ".join(f"{_OPEN}{piece}</math>" for piece in pieces)


def equation(left: str, node: Node, naming: Naming, result: str = "") -> str:
    """`left = formula`, and `= result` when one is given; left and result are MathML."""
    pieces = _Setter(naming).pieces(flattened(node))
    if left:
        pieces = _prefixed(f"{left}<mo>=</mo>", pieces, len(_bare(left)) < WIDEST // 2)
    if result:
        pieces.append(f"{_leading('=')}{result}")
    return " ".join(f"{_OPEN}{piece}</math>" for piece in pieces)


def flattened(node: Node) -> Node:
    """The same value with one fraction where several stood on one another: a / b / c as a / (b c).

    >>> from calc.notation.formula import parse_formula, spelled
    >>> spelled(flattened(parse_formula("a / b / c").tree))
    'a / (b * c)'
    """
    if isinstance(node, Operation):
        left, right = flattened(node.left), flattened(node.right)
        if node.sign == "/" and isinstance(left, Operation) and left.sign == "/":
            return Operation("/", left.left, Operation("*", left.right, right))
        return Operation(node.sign, left, right)
    if isinstance(node, Comparison):
        return Comparison(node.sign, flattened(node.left), flattened(node.right))
    if isinstance(node, Negative):
        return Negative(flattened(node.of))
    if isinstance(node, Call):
        return Call(node.function, tuple(flattened(each) for each in node.arguments))
    return node


def inline(node: Node, naming: Naming) -> Leaf:
    """A tree as what stands for a name within another."""
    setter = _Setter(naming)
    return Leaf(f"<mrow>{setter.whole(node)}</mrow>", setter.width(node), looseness(node))


def _bare(markup: str) -> str:
    return re.sub(r"<[^>]*>", "", markup)


def _prefixed(first: str, pieces: list[str], joined: bool = True) -> list[str]:
    """The pieces with something set before the first of them, on its line when joined."""
    return [first + pieces[0], *pieces[1:]] if joined else [first, *pieces]


class _Setter:
    """Sets one formula with one naming."""

    def __init__(self, naming: Naming) -> None:
        self.naming = naming

    def pieces(self, node: Node) -> list[str]:
        """The tree cut where it is too wide for a line."""
        if self.width(node) <= WIDEST:
            return [self.whole(node)]
        if isinstance(node, Comparison):
            return self._cut(node.left, _SIGNS[node.sign], node.right, 1, 1)
        if isinstance(node, Operation) and node.sign in "+-*":
            level = looseness(node)
            return self._cut(node.left, _SIGNS[node.sign], node.right, level, level + 1)
        if isinstance(node, Operation) and node.sign == "/":
            return self._cut(node.left, "/", node.right, 2, 3)
        if isinstance(node, Negative):
            return _prefixed("<mo>−</mo>", self._held(node.of, 3))
        if isinstance(node, Call) and node.function == "where":
            return self._where_cut(node)
        if isinstance(node, Call):
            return self._call_cut(node)
        return [self.whole(node)]

    def _cut(self, left: Node, sign: str, right: Node, low: int, high: int) -> list[str]:
        return [*self._held(left, low), *_prefixed(_leading(sign), self._held(right, high))]

    def _held(self, node: Node, level: int) -> list[str]:
        pieces = self.pieces(node)
        if self._level(node) >= level:
            return pieces
        first, *rest = _prefixed('<mo stretchy="false">(</mo>', pieces)
        return _closed([first, *rest], ")")

    def _call_cut(self, node: Call) -> list[str]:
        head = f'{self._function(node.function)}<mo stretchy="false">(</mo>'
        pieces: list[str] = []
        for at, argument in enumerate(node.arguments):
            comma = at < len(node.arguments) - 1
            pieces += _closed(self.pieces(argument), ",") if comma else self.pieces(argument)
        return _closed(_prefixed(head, pieces), ")")

    def _where_cut(self, node: Call) -> list[str]:
        """A choice in words, where braces would be too wide."""
        condition, yes, no = map(self.pieces, node.arguments)
        told = _prefixed("<mtext>if\u00a0</mtext>", condition)
        return [*yes, *_closed(told, ","), *_prefixed("<mtext>otherwise\u00a0</mtext>", no)]

    def whole(self, node: Node) -> str:
        """The tree in one piece."""
        if isinstance(node, Number):
            return number_markup(_short(node))
        if isinstance(node, Name):
            return self.naming(node.name).markup
        if isinstance(node, Negative):
            return f"<mrow><mo>−</mo>{self._inside(node.of, 3)}</mrow>"
        if isinstance(node, Call):
            return self._call(node)
        if isinstance(node, Comparison):
            sign = text(_SIGNS[node.sign])
            return f"<mrow>{self.whole(node.left)}<mo>{sign}</mo>{self.whole(node.right)}</mrow>"
        return self._operation(node)

    def _operation(self, node: Operation) -> str:
        level = looseness(node)
        if node.sign == "/":
            return f"<mfrac>{_row(self.whole(node.left))}{_row(self.whole(node.right))}</mfrac>"
        if node.sign == "**":
            return f"<msup>{_row(self._inside(node.left, 5))}{_row(self.whole(node.right))}</msup>"
        left, right = self._inside(node.left, level), self._inside(node.right, level + 1)
        return f"<mrow>{left}{_joint(node.sign)}{right}</mrow>"

    def _inside(self, node: Node, level: int) -> str:
        if self._level(node) >= level or (level <= 3 and _is_fraction(node)):
            return self.whole(node)
        return f"<mrow><mo>(</mo>{self.whole(node)}<mo>)</mo></mrow>"

    def _level(self, node: Node) -> int:
        if isinstance(node, Name):
            held = self.naming(node.name).level
            return 3 if held == 2 else held
        return looseness(node)

    def _call(self, node: Call) -> str:
        inside = [self.whole(argument) for argument in node.arguments]
        if node.function == "sqrt":
            return f"<msqrt>{inside[0]}</msqrt>"
        if node.function == "exp" and self.width(node.arguments[0]) <= WIDEST // 2:
            return f"<msup><mi>e</mi>{_row(inside[0])}</msup>"
        if node.function in _FENCED:
            left, right = _FENCED[node.function]
            return f"<mrow><mo>{left}</mo>{inside[0]}<mo>{right}</mo></mrow>"
        if node.function == "where" and len(inside) == 3:
            return _cases(*inside)
        listed = "<mo>,</mo>".join(inside)
        return f"<mrow>{self._function(node.function)}<mo>(</mo>{listed}<mo>)</mo></mrow>"

    def _function(self, name: str) -> str:
        shown = _FUNCTIONS.get(name, name) if name in _NARROW else spoken(name)
        head = f"<mi>{text(shown)}</mi>" if name in _NARROW else words(name).markup
        return f"<msub>{head}<mn>{_BASES[name]}</mn></msub>" if name in _BASES else head

    def width(self, node: Node) -> int:
        """About how many characters wide a tree is set."""
        if isinstance(node, Number):
            return len(_short(node))
        if isinstance(node, Name):
            return self.naming(node.name).width
        if isinstance(node, Negative):
            return 1 + self.width(node.of)
        if isinstance(node, Operation) and node.sign == "/":
            return max(self.width(node.left), self.width(node.right))
        if isinstance(node, Call):
            return len(node.function) + 2 + sum(self.width(item) + 1 for item in node.arguments)
        return self.width(node.left) + self.width(node.right) + (0 if _is_power(node) else 3)


def _short(node: Number) -> str:
    """A number as typed; one that was computed, such as a weight, to four digits."""
    return node.text if len(node.text) <= _TYPED else digits(node.value, 4)


def _joint(sign: str) -> str:
    """A sign between two parts; a cross gets room on both sides."""
    room = ' lspace="0.27em" rspace="0.27em"' if sign == "*" else ""
    return f"<mo{room}>{_SIGNS[sign]}</mo>"


def _leading(sign: str) -> str:
    """A sign at the head of a piece, where the space between two pieces gives the room before."""
    return f'<mo form="infix" lspace="0" rspace="0.27em">{text(sign)}</mo>'


def _is_power(node: Node) -> bool:
    return isinstance(node, Operation) and node.sign == "**"


def _is_fraction(node: Node) -> bool:
    return isinstance(node, Operation) and node.sign == "/"


def _row(markup: str) -> str:
    return f"<mrow>{markup}</mrow>"


def _closed(pieces: list[str], sign: str) -> list[str]:
    return [*pieces[:-1], f'{pieces[-1]}<mo stretchy="false">{sign}</mo>']


def _cases(condition: str, yes: str, no: str) -> str:
    rows = "".join(
        f"<mtr><mtd>{value}</mtd><mtd>{when}</mtd></mtr>"
        for value, when in (
            (yes, f"<mtext>if\u00a0</mtext>{condition}"),
            (no, "<mtext>otherwise</mtext>"),
        )
    )
    return f"<mrow><mo>{{</mo><mtable>{rows}</mtable></mrow>"
