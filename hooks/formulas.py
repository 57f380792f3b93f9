"""A value's formula in print: with symbols, and with the numbers put in."""

from __future__ import annotations

from dataclasses import dataclass
from inspect import getdoc

from calc.book.model import Calc, Method, Step
from calc.book.plan import Computed, Part, Run
from calc.cell.catalogue import PROCEDURES
from calc.notation.formula import Name, Node, parse_formula
from hooks.atlas import Atlas
from hooks.markup import tag, text
from hooks.mathml import Naming, equation, typeset
from hooks.put_in import Numbers, enough
from hooks.signs import Leaf, quantity, symbol, words
from hooks.wording import nominal, spoken, unit_text


@dataclass(frozen=True)
class Formulas:
    """Formulas of values by their ids, as rows of MathML."""

    atlas: Atlas

    def symbols(self, id: str) -> str:
        """The formula as its writer typed it, or "" when the value has none."""
        step = self.atlas.declared.get(id)
        if not isinstance(step, Step) or step.formula is None:
            return ""
        naming = self._local(id)
        return equation(naming(step.name).markup, step.formula.tree, naming)

    def numbers(self, id: str) -> str:
        """The formula with the numbers put in, and its result."""
        node = self.atlas.whole.plan.nodes.get(id)
        result = self.atlas.result(id)
        if not isinstance(node, Computed) or result is None:
            return ""
        shown = quantity(nominal(result), unit_text(result.unit)).markup
        numbers = enough(node.tree, result, self.atlas)
        if isinstance(node.tree, Name) and numbers.leaf(node.tree.name).markup == shown:
            return ""
        return equation("", node.tree, numbers.leaf, shown)

    def both(self, id: str) -> str:
        """Symbols and numbers, a line each, or how a procedure found the value.

        The working and every card of a value show the same, which is set once.
        """
        if id not in self.atlas.formulas:
            self.atlas.formulas[id] = self._both(id)
        return self.atlas.formulas[id]

    def _both(self, id: str) -> str:
        lines = [self.symbols(id), self.numbers(id)]
        kinds = ("wc-formula", "wc-formula wc-formula--numbers")
        shown = "".join(
            formula_line(line, kind) for line, kind in zip(lines, kinds, strict=True) if line
        )
        return shown or self.procedure(id)

    def procedure(self, id: str) -> str:
        """What the procedure behind a value does, and from what."""
        plan = self.atlas.whole.plan
        node = plan.nodes.get(id)
        run = plan.nodes.get(node.run) if isinstance(node, Part) else None
        if not isinstance(run, Run) or run.procedure not in PROCEDURES:
            return ""
        about = (getdoc(PROCEDURES[run.procedure].function) or "").split("\n")[0]
        name = tag("em", text(spoken(run.procedure)))
        given = ", ".join(self._argument(key, held) for key, held in run.arguments.items())
        return tag("p", f"By the procedure {name}: {text(about)} Given {given}.", class_="wc-run")

    def _argument(self, name: str, held: Node | str) -> str:
        if isinstance(held, str):
            return text(f"{spoken(name)} {held}")
        return f"{text(spoken(name))} {typeset(held, Numbers(self.atlas).leaf)}"

    def given(self, step: Step, id: str) -> str:
        """What a method was given in a step: `share = …`, each with its number."""
        naming = self._local(id)
        lines = (
            f"{text(spoken(name))} = {typeset(parse_formula(written).tree, naming)}"
            for name, written in step.given.items()
        )
        return "; ".join(lines)

    def _local(self, id: str) -> Naming:
        """What names stand for where a step is declared: in a method, or in a calc."""
        prefix = id.rpartition(".")[0]
        book, plan = self.atlas.whole.book, self.atlas.whole.plan
        if prefix in self.atlas.applied:
            return method_naming(book.methods[self.atlas.applied[prefix].method], self.atlas)
        names = plan.names.get(self.atlas.block(id), {})

        def naming(name: str) -> Leaf:
            head, dot, rest = name.partition(".")
            full = names.get(name) or (f"{names[head]}{dot}{rest}" if head in names else name)
            return self.atlas.sign_of(full, name)

        return naming


def formula_line(line: str, kind: str = "wc-formula") -> str:
    """A line of MathML; one with cases, which no browser breaks, scrolls by itself."""
    if "<mtable" not in line:
        return tag("div", line, class_=kind)
    return tag(
        "div", line, class_=f"{kind} wc-formula--cases", tabindex="0", role="group",
        aria_label="Formula with cases",
    )  # fmt: skip


def method_naming(method: Method | Calc, atlas: Atlas) -> Naming:
    """What names stand for within a method: the symbols of its inputs, steps and constants."""
    signs: dict[str, str] = {}
    if isinstance(method, Method):
        signs |= {item.name: item.symbol for item in method.parameters}
        for name, id in method.uses.items():
            used = atlas.declared.get(id)
            signs[name] = used.symbol if used else ""
    signs |= {step.name: step.symbol for step in method.steps}

    def naming(name: str) -> Leaf:
        return symbol(signs[name]) if signs.get(name) else words(name)

    return naming
