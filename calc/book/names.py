"""Local names in a formula become full ids."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from calc.notation.formula import Call, Comparison, Name, Negative, Node, Operation
from calc.problems import Wrong, nearest


@dataclass(frozen=True)
class Scope:
    """What local names stand for; `globals_too` where `id.name` may be written."""

    prefix: str
    block: str
    names: Mapping[str, str]
    globals_too: bool = False

    def find(self, name: str) -> str | None:
        """The full id of a name, or None."""
        if name in self.names:
            return self.names[name]
        head, dot, rest = name.partition(".")
        if dot and head in self.names:
            return f"{self.names[head]}.{rest}"
        return name if dot and self.globals_too else None


def resolved(tree: Node, scope: Scope) -> Node:
    """The same tree with full ids for names. Raises: Wrong when a name stands for nothing."""
    if isinstance(tree, Name):
        return Name(_full(tree.name, scope))
    if isinstance(tree, Negative):
        return Negative(resolved(tree.of, scope))
    if isinstance(tree, Operation):
        return Operation(tree.sign, resolved(tree.left, scope), resolved(tree.right, scope))
    if isinstance(tree, Comparison):
        return Comparison(tree.sign, resolved(tree.left, scope), resolved(tree.right, scope))
    if isinstance(tree, Call):
        return Call(tree.function, tuple(resolved(item, scope) for item in tree.arguments))
    return tree


def _full(name: str, scope: Scope) -> str:
    found = scope.find(name)
    if found is not None:
        return found
    if "." in name:
        short = name.partition(".")[2].replace(".", "_")
        raise Wrong(
            "reference",
            f"'{name}' is not a name of this block; add it as an input: {short}: {{from: {name}}}",
        )
    raise Wrong(
        "reference",
        f"nothing in this block is called '{name}'{nearest(name, scope.names)}"
        f"{'' if nearest(name, scope.names) else '; add it as an input or a step'}",
    )
