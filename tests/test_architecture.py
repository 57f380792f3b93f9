"""The shape of the house: who may import whom, how long a module is, what a docstring says."""

from __future__ import annotations

import ast
import importlib
import inspect
import re
from collections.abc import Callable, Iterable, Iterator

import pytest

from calc.cell import catalogue
from calc.cell.procedure import Procedure
from tests.source_tree import (
    TOO_LONG,
    Module,
    imports,
    modules,
    public_definitions,
)

# A stage may import itself and these. calc.problems is for every stage but the procedures.
ARROWS = {
    "calc.notation": {"calc.problems"},
    "calc.book": {"calc.problems", "calc.notation"},
    "calc.cell": set(),
    "calc.engine": {"calc.problems", "calc.notation", "calc.book", "calc.cell"},
    "calc.judge": {"calc.problems", "calc.notation", "calc.book", "calc.engine"},
    "calc.tell": {
        "calc.problems",
        "calc.notation",
        "calc.book",
        "calc.engine",
        "calc.judge",
        "calc.whole",
    },
    "calc.commands": {
        "calc.problems",
        "calc.notation",
        "calc.book",
        "calc.engine",
        "calc.judge",
        "calc.tell",
        "calc.whole",
        "calc.report",
    },
    "calc.problems": set(),
}
NOT_FOR_CALC = {"mkdocs", "material", "matplotlib", "hooks", "tests"}
NOT_FOR_HOOKS = {"tests"}


def stage(name: str) -> str:
    """The first two parts of a dotted name: calc.book.sheets is of calc.book."""
    return ".".join(name.split(".")[:2])


def broken_arrows(code: Iterable[Module]) -> Iterator[str]:
    """A sentence for every import that goes against the picture."""
    for module in code:
        allowed = ARROWS.get(stage(module.name))
        kept_out = NOT_FOR_HOOKS if module.name.startswith("hooks") else NOT_FOR_CALC
        for line, name in imports(module):
            home = stage(name)
            astray = name.split(".")[0] in kept_out or (
                allowed is not None
                and home.startswith("calc.")
                and home != stage(module.name)
                and home not in allowed
            )
            if astray:
                yield f"{module.path}:{line}: {module.name} must not import {name}"


def called_by_name(module: Module, names: set[str]) -> Iterator[str]:
    """Where a module uses one of these built-in names."""
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Name) and node.id in names:
            yield f"{module.path}:{node.lineno}: {node.id}"


def without_docstring(code: Iterable[Module]) -> Iterator[str]:
    """Modules and public definitions that say nothing about themselves."""
    for module in code:
        if not ast.get_docstring(module.tree):
            yield f"{module.path}:1: the module says nothing about itself"
        for node in public_definitions(module):
            if not ast.get_docstring(node):
                yield f"{module.path}:{node.lineno}: {node.name} says nothing about itself"


def procedures() -> dict[str, Procedure]:
    """What the tables of the modules of calc/cell offer to formulas, by name."""
    own = [importlib.import_module(module.name) for module in modules("calc/cell")]
    tables = [m.PROCEDURES for m in own if m is not catalogue and hasattr(m, "PROCEDURES")]
    return {name: row for table in tables for name, row in table.items()}


def unsourced(function: Callable[..., object]) -> Iterator[str]:
    """What the docstring of a procedure lacks: a unit in brackets, its source."""
    text = inspect.getdoc(function) or ""
    if not re.search(r"\[[^\]\n]+\]", text):
        yield "no unit in [brackets]"
    if not re.search(r"\bSource: *\S", text):
        yield "no 'Source:'"


@pytest.mark.parametrize("name", sorted(ARROWS))
def test_every_stage_of_the_picture_exists(name: str) -> None:
    found = [module.name for module in modules("calc") if stage(module.name) == name]
    assert found, f"{name} is in the picture and not in the house"


def test_every_folder_of_calc_is_in_the_picture() -> None:
    folders = {stage(module.name) for module in modules("calc") if module.path.count("/") > 1}
    assert folders <= set(ARROWS)


def test_no_import_goes_against_the_arrows() -> None:
    assert not list(broken_arrows(modules("calc", "hooks")))


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("calc/notation/units.py", "from calc.book import sheets"),
        ("calc/notation/units.py", "from calc import book"),
        ("calc/notation/units.py", "from ..book.sheets import read"),
        ("calc/notation/__init__.py", "from ..engine import draws"),
        ("calc/book/pages.py", "def f():\n    import calc.engine.draws"),
        ("calc/cell/rolls.py", "from calc.problems import Problem"),
        ("calc/engine/draws.py", "from calc.judge import claims"),
        ("calc/engine/draws.py", "import calc.report"),
        ("calc/problems.py", "from calc.notation import units"),
        ("calc/report.py", "import matplotlib.pyplot as plt"),
        ("calc/__main__.py", "from mkdocs.commands import build"),
        ("calc/judge/claims.py", "from hooks import page"),
        ("hooks/site.py", "from tests.printed import agrees"),
    ],
)
def test_an_arrow_that_points_back_is_seen(path: str, text: str) -> None:
    assert list(broken_arrows([Module(path, text)]))


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("calc/notation/units.py", "from calc.notation.plain import plain\nimport pint"),
        ("calc/notation/units.py", "from .plain import plain\nfrom ..problems import Wrong"),
        ("calc/engine/draws.py", "from calc.cell.catalogue import PROCEDURES"),
        ("calc/report.py", "from calc.judge import claims"),
        ("hooks/site.py", "import matplotlib\nfrom calc.engine import draws"),
    ],
)
def test_an_arrow_that_points_on_is_let_through(path: str, text: str) -> None:
    assert not list(broken_arrows([Module(path, text)]))


def test_a_module_is_read_in_one_sitting() -> None:
    long = [m for m in modules("calc", "hooks", "tests") if m.lines > TOO_LONG]
    assert not [f"{module.path}: {module.lines} lines, {TOO_LONG} at most" for module in long]


def test_public_names_of_calc_say_what_they_are() -> None:
    assert not list(without_docstring(modules("calc")))


def test_the_catalogue_offers_every_procedure() -> None:
    assert catalogue.PROCEDURES.keys() == procedures().keys()


def test_procedures_give_units_and_sources() -> None:
    lacking = {name: list(unsourced(row.function)) for name, row in procedures().items()}
    assert not {name: lack for name, lack in lacking.items() if lack}


def test_a_procedure_without_unit_or_source_is_seen() -> None:
    def turns() -> None:
        """Turns of a roll."""

    def length() -> None:
        """Length [m] of a roll.

        Source: exact.
        """

    assert len(list(unsourced(turns))) == 2
    assert not list(unsourced(length))


def test_no_text_is_run_as_code() -> None:
    assert list(called_by_name(Module("calc/x.py", "y = eval('1')"), {"eval"}))
    found = [use for m in modules("calc", "hooks") for use in called_by_name(m, {"eval", "exec"})]
    assert not found
