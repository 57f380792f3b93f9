"""Numbers put into a formula, to so many digits that the line can be reckoned again by hand.

A value is shown to the digits that its uncertainty supports. In the next formula these may be too
few: 2 × 37 000 is not 75 000. Then the computed numbers of that line get more of their digits.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from calc.book.plan import Computed, Root
from calc.engine.evaluate import NotComputed, evaluate
from calc.engine.results import Result
from calc.notation.dimensions import Series
from calc.notation.formula import Node, names_in
from calc.notation.rounding import rounded, written
from calc.notation.units import Unit
from hooks.atlas import Atlas
from hooks.mathml import inline
from hooks.signs import Leaf, quantity, words
from hooks.wording import nominal, place_of, unit_text

_MOST = 9
"""Digits that may be added; a float has no more to give."""


@dataclass(frozen=True)
class Numbers:
    """What values are in a line of numbers, with `guard` digits more than they are shown to."""

    atlas: Atlas
    guard: int = 0

    def leaf(self, id: str) -> Leaf:
        """What stands for a value: its number with its unit, or its name when it has none."""
        tree, root, result = self._hidden(id), self._entered(id), self._result(id)
        if tree is not None:
            return inline(tree, self.leaf)
        if root is not None:
            return _in_formula(root.quantity.digits, root.unit)
        if result is None:
            return words(id.partition(".")[2] or id)
        return _in_formula(nominal(result, self.guard), result.unit)

    def value(self, id: str) -> float | None:
        """The number that stands for a value, in SI base units, or None for a mere name."""
        tree, root, result = self._hidden(id), self._entered(id), self._result(id)
        if tree is not None:
            return self.reckoned(tree)
        if root is not None:
            return root.quantity.base
        if result is None:
            return None
        shown = float(written(nominal(result, self.guard)))
        return shown * result.unit.factor + result.unit.offset

    def reckoned(self, tree: Node) -> float | None:
        """What a formula gives from the numbers as they stand, in SI base units."""
        values = {name: self.value(name) for name in names_in(tree)}
        if None in values.values():
            return None
        try:
            return float(evaluate(tree, values))
        except NotComputed:
            return None

    def _hidden(self, id: str) -> Node | None:
        node = self.atlas.whole.plan.nodes.get(self.atlas.target(id))
        return node.tree if isinstance(node, Computed) and node.hidden else None

    def _entered(self, id: str) -> Root | None:
        node = self.atlas.whole.plan.nodes.get(self.atlas.target(id))
        return node if isinstance(node, Root) and node.quantity.digits else None

    def _result(self, id: str) -> Result | None:
        series = isinstance(self.atlas.whole.plan.kinds.get(id), Series)
        return None if series else self.atlas.result(id)


def _in_formula(digits: str, scale: Unit) -> Leaf:
    """A number with its unit; a temperature as an absolute one, which is what formulas take."""
    if not scale.offset:
        return quantity(digits, unit_text(scale))
    number = written(digits)
    kelvin = scale.to_base(float(number))
    place = min(Decimal(1).scaleb(int(number.as_tuple().exponent)), Decimal("0.01"))
    return quantity(rounded(kelvin, place), "K")


def enough(tree: Node, result: Result, atlas: Atlas) -> Numbers:
    """The numbers that a formula is shown with: the fewest digits that give the result as shown."""
    return next((numbers for numbers in _finer(atlas) if gives(numbers, tree, result)),
                Numbers(atlas))  # fmt: skip


def _finer(atlas: Atlas) -> Iterator[Numbers]:
    return (Numbers(atlas, guard) for guard in range(_MOST + 1))


def gives(numbers: Numbers, tree: Node, result: Result) -> bool:
    """Whether the formula gives the result, as shown, from the numbers as they stand."""
    found = numbers.reckoned(tree)
    if found is None:
        return True  # nothing that could be reckoned by hand
    place, unit = place_of(result), result.unit
    return rounded((found - unit.offset) / unit.factor, place) == rounded(result.value, place)
