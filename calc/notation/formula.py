"""Formulas: from the writer's text to a tree, with nothing evaluated on the way.

Precedence, loosest first: comparison; + and -; * and /; unary minus; ** (to the right).
A tree is data: it is interpreted, typeset, unit-checked and sent to the browser as it stands.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from calc.notation.plain import plain
from calc.problems import Wrong


@dataclass(frozen=True)
class Number:
    """A bare, dimensionless number, kept as it was typed."""

    text: str

    @property
    def value(self) -> float:
        """The number as a float."""
        return float(self.text)


@dataclass(frozen=True)
class Name:
    """An input, a step, or (with dots) a result of a sub-step or another block."""

    name: str


@dataclass(frozen=True)
class Negative:
    """Minus something."""

    of: Node


@dataclass(frozen=True)
class Operation:
    """Two sides joined by one of + - * / **."""

    sign: str
    left: Node
    right: Node


@dataclass(frozen=True)
class Comparison:
    """Two sides joined by one of < <= > >= == !=."""

    sign: str
    left: Node
    right: Node


@dataclass(frozen=True)
class Call:
    """A function or procedure applied to its arguments."""

    function: str
    arguments: tuple[Node, ...]


Node = Number | Name | Negative | Operation | Comparison | Call


@dataclass(frozen=True)
class Formula:
    """A tree with the unit that its result is shown in ("" when none is named)."""

    text: str
    tree: Node
    unit: str


_TOKEN = re.compile(
    r"\s*(?:(?P<number>(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)"
    r"|(?P<name>[A-Za-z_][\w-]*(?:\.[A-Za-z_]\w*)+|[A-Za-z_]\w*)"
    r"|(?P<sign>\*\*|<=|>=|==|!=|[-+*/()<>,])|(?P<other>\S))"
)
_BARE = "; numbers inside a formula are bare, so make a quantity with a unit an input of its own"
_HINTS = {
    "^": "; write ** for a power",
    "%": _BARE,
    "=": "; write == to compare",
}
_LEFT_OVER = {
    ("number", "name"): _BARE,
    ("number", "number"): "; write the number without spaces",
}
_LONGEST = 300
"""Numbers, names and signs in one formula; a reader follows far fewer."""

_COMPARISONS = ("<", "<=", ">", ">=", "==", "!=")


class _Tokens:
    """The tokens of one formula, read from left to right."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.items = list(self._split(text))
        self.at = 0

    @staticmethod
    def _split(text: str) -> Iterator[tuple[str, str]]:
        for match in _TOKEN.finditer(text):
            kind = match.lastgroup or "other"
            token = match.group(kind)
            if kind == "other":
                hint = _HINTS.get(token, "")
                raise Wrong("formula", f"'{token}' has no meaning in the formula '{text}'{hint}")
            yield kind, token

    def peek(self) -> str:
        return self.items[self.at][1] if self.at < len(self.items) else ""

    def take(self) -> tuple[str, str]:
        if self.at >= len(self.items):
            raise Wrong("formula", f"the formula '{self.text}' ends too early")
        self.at += 1
        return self.items[self.at - 1]

    def left_over(self) -> Wrong:
        """What to say of the next token, which stands where none should, and of what was meant."""
        kind, token = self.items[self.at]
        before = self.items[self.at - 1][0] if self.at else ""
        hint = _LEFT_OVER.get((before, kind), "")
        return Wrong("formula", f"'{token}' is not expected there in '{self.text.strip()}'{hint}")

    def expect(self, token: str) -> None:
        if self.peek() != token:
            found = f"'{self.peek()}'" if self.peek() else "its end"
            raise Wrong("formula", f"'{token}' expected before {found} in '{self.text}'")
        self.at += 1


@lru_cache(maxsize=65536)
def parse_formula(text: str) -> Formula:
    """The tree of a formula, with the unit after `in`.

    Raises: Wrong (kind "formula") with a sentence that quotes the text.

    >>> parse_formula("charge * voltage in Wh").unit
    'Wh'
    """
    body, unit = _split_unit(plain(text))
    if not body.strip():
        raise Wrong("formula", "an empty formula; write an expression such as 'energy / mass'")
    tokens = _Tokens(body)
    if len(tokens.items) > _LONGEST:
        raise Wrong("formula", f"'{body[:40]}…' is too long to follow; make steps of its parts")
    tree = _comparison(tokens)
    if tokens.at < len(tokens.items):
        raise tokens.left_over()
    return Formula(text, tree, unit)


def _split_unit(text: str) -> tuple[str, str]:
    if text.rstrip().endswith(" in"):
        raise Wrong("formula", f"a unit is missing after 'in' at the end of '{text.strip()}'")
    body, found, unit = text.rpartition(" in ")
    return (body.strip(), unit.strip()) if found else (text.strip(), "")


def _comparison(tokens: _Tokens) -> Node:
    left = _sum(tokens)
    if tokens.peek() in _COMPARISONS:
        sign = tokens.take()[1]
        left = Comparison(sign, left, _sum(tokens))
    if tokens.peek() in _COMPARISONS:
        raise Wrong("formula", f"one comparison at a time, please, in '{tokens.text}'")
    return left


def _sum(tokens: _Tokens) -> Node:
    left = _product(tokens)
    while tokens.peek() in ("+", "-"):
        sign = tokens.take()[1]
        left = Operation(sign, left, _product(tokens))
    return left


def _product(tokens: _Tokens) -> Node:
    left = _signed(tokens)
    while tokens.peek() in ("*", "/"):
        sign = tokens.take()[1]
        left = Operation(sign, left, _signed(tokens))
    return left


def _signed(tokens: _Tokens) -> Node:
    if tokens.peek() == "-":
        tokens.take()
        return Negative(_signed(tokens))
    if tokens.peek() == "+":
        tokens.take()
        return _signed(tokens)
    return _power(tokens)


def _power(tokens: _Tokens) -> Node:
    base = _atom(tokens)
    if tokens.peek() == "**":
        tokens.take()
        return Operation("**", base, _signed(tokens))
    return base


def _atom(tokens: _Tokens) -> Node:
    kind, token = tokens.take()
    if kind == "number":
        return Number(token)
    if kind == "name":
        return _call(tokens, token) if tokens.peek() == "(" else Name(token)
    if token == "(":
        inside = _comparison(tokens)
        tokens.expect(")")
        return inside
    raise Wrong("formula", f"'{token}' is not expected there in '{tokens.text}'")


def _call(tokens: _Tokens, function: str) -> Node:
    tokens.expect("(")
    arguments: list[Node] = []
    while tokens.peek() != ")":
        arguments.append(_comparison(tokens))
        if tokens.peek() != ")":
            tokens.expect(",")
    tokens.expect(")")
    return Call(function, tuple(arguments))


def children(node: Node) -> tuple[Node, ...]:
    """The parts of a node, left to right."""
    if isinstance(node, Operation | Comparison):
        return (node.left, node.right)
    if isinstance(node, Negative):
        return (node.of,)
    return node.arguments if isinstance(node, Call) else ()


def names_in(node: Node) -> tuple[str, ...]:
    """Every name a tree mentions, in order of first mention."""
    found: dict[str, None] = {node.name: None} if isinstance(node, Name) else {}
    for child in children(node):
        found.update(dict.fromkeys(names_in(child)))
    return tuple(found)


_LOOSENESS = {"+": 1, "-": 1, "*": 2, "/": 2, "**": 4}


def looseness(node: Node) -> int:
    """How loosely a node holds together: 0 for a comparison, 5 for a name, number or call."""
    if isinstance(node, Comparison):
        return 0
    if isinstance(node, Operation):
        return _LOOSENESS[node.sign]
    return 3 if isinstance(node, Negative) else 5


def spelled(node: Node) -> str:
    """A tree as a text that parses to the same tree.

    >>> spelled(parse_formula("(a + b) * -c ** 2").tree)
    '(a + b) * -c ** 2'
    """
    if isinstance(node, Number):
        return node.text
    if isinstance(node, Name):
        return node.name
    if isinstance(node, Call):
        return f"{node.function}({', '.join(map(spelled, node.arguments))})"
    if isinstance(node, Negative):
        return "-" + _held(node.of, 3)
    if isinstance(node, Comparison):
        return f"{_held(node.left, 1)} {node.sign} {_held(node.right, 1)}"
    level = looseness(node)
    if node.sign == "**":
        return f"{_held(node.left, 5)} ** {_held(node.right, 3)}"
    return f"{_held(node.left, level)} {node.sign} {_held(node.right, level + 1)}"


def _held(node: Node, level: int) -> str:
    text = spelled(node)
    return f"({text})" if looseness(node) < level else text
