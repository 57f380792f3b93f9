"""The repository's own code as data: its modules, what they import and what they define."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TypeGuard

ROOT = Path(__file__).resolve().parent.parent
LONG, TOO_LONG = 200, 350

Definition = ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef


@dataclass(frozen=True)
class Module:
    """One Python file: its place below the root, and its text."""

    path: str
    text: str

    @property
    def tree(self) -> ast.Module:
        """Its syntax tree."""
        return ast.parse(self.text, self.path)

    @property
    def name(self) -> str:
        """Its dotted name: calc/book/sheets.py is calc.book.sheets."""
        return self.path.removesuffix(".py").removesuffix("/__init__").replace("/", ".")

    @property
    def package(self) -> str:
        """The package that a relative import in it starts from."""
        return self.name if self.path.endswith("__init__.py") else self.name.rpartition(".")[0]

    @property
    def lines(self) -> int:
        """How many lines it has."""
        return len(self.text.splitlines())


def modules(*folders: str) -> list[Module]:
    """Every Python file below the folders, in the order of their paths."""
    paths = sorted(path for folder in folders for path in (ROOT / folder).rglob("*.py"))
    return [Module(path.relative_to(ROOT).as_posix(), path.read_text("utf-8")) for path in paths]


def long_modules() -> list[Module]:
    """Modules that are long enough to think about splitting, the longest first."""
    long = [module for module in modules("calc", "hooks", "tests") if module.lines >= LONG]
    return sorted(long, key=lambda module: (-module.lines, module.path))


def imports(module: Module) -> Iterator[tuple[int, str]]:
    """(line, dotted name) of everything it imports, wherever the import stands.

    `from calc import book` gives both calc and calc.book: either may be the module meant.
    """
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            start = imported_from(module, node)
            yield node.lineno, start
            yield from ((node.lineno, f"{start}.{alias.name}") for alias in node.names)


def imported_from(module: Module, node: ast.ImportFrom) -> str:
    """The absolute name of what stands after `from`."""
    if not node.level:
        return node.module or ""
    above = module.package.split(".")
    kept = above[: len(above) - node.level + 1]
    return ".".join([*kept, *([node.module] if node.module else [])])


def public_definitions(module: Module) -> Iterator[Definition]:
    """Public functions and classes, and the public methods of public classes."""
    for node in module.tree.body:
        if is_public(node):
            yield node
            if isinstance(node, ast.ClassDef):
                yield from (member for member in node.body if is_public(member))


def is_public(node: ast.stmt) -> TypeGuard[Definition]:
    """Whether a statement defines a function or a class whose name starts with a letter."""
    return isinstance(node, Definition) and not node.name.startswith("_")
