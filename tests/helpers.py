"""Small books made for a test, and methods of the site run on given values."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path

from calc.book.model import Book, Check, Place
from calc.book.ordered import plan
from calc.book.read import read_book
from calc.engine.compute import compute
from calc.engine.procedures import signatures
from calc.notation.quantity import parse_quantity
from calc.whole import Whole, work_through

ROOT = Path(__file__).resolve().parents[1]
SOURCES = "- {id: bench, kind: measured, title: A bench record}\n"


def write_book(
    folder: Path, pages: Mapping[str, str], data: Mapping[str, str] | None = None
) -> None:
    """Writes pages below content/ and sheets below site_data/, with one source called bench."""
    for name, text in pages.items():
        path = folder / "content" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(textwrap.dedent(text), encoding="utf-8")
    for name, text in ({"sources.yml": SOURCES} | dict(data or {})).items():
        path = folder / "site_data" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(textwrap.dedent(text), encoding="utf-8")


def work(folder: Path, pages: Mapping[str, str], data: Mapping[str, str] | None = None) -> Whole:
    """A small book, worked through."""
    write_book(folder, pages, data)
    return work_through(folder / "content", folder / "site_data")


def calc_page(inputs: Mapping[str, str], steps: Mapping[str, str], more: str = "") -> str:
    """A page with one calc called `trial`; inputs are quantity texts."""
    lines = ["# Trial", "", "```yaml calc", "id: trial", "title: Trial", "inputs:"]
    lines += [f'  {name}: {{value: "{text}", source: bench}}' for name, text in inputs.items()]
    lines += ["steps:", *(f"  {name}: {formula}" for name, formula in steps.items())]
    return "\n".join([*lines, more.rstrip(), "```", ""])


def run_method(method_id: str, given: Mapping[str, str]) -> dict[str, tuple[float, str]]:
    """A method of the site on given quantities: value and unit of every step.

    Raises: AssertionError with the problems when it cannot be computed.
    """
    book = site_book()
    place = Place("tests", 1)
    quantities = {name: parse_quantity(text) for name, text in given.items()}
    check = Check(quantities, {}, "exact", "exact", place)
    method = replace(book.methods[method_id], checks=(check,))
    used = {item for item in book.methods if item != method_id}
    bare = {item: replace(book.methods[item], checks=()) for item in used}
    trial = replace(book, methods={method_id: method, **bare}, calcs={}, estimates={}, problems=())
    planned = plan(trial, signatures())
    computed = compute(trial, planned)
    assert not (*planned.problems, *computed.problems), (planned.problems, computed.problems)
    prefix = f"{method_id}#1."
    return {
        id.removeprefix(prefix): (result.value, result.unit.text)
        for id, result in computed.results.items()
        if id.startswith(prefix)
    }


@cache
def site_book() -> Book:
    """The site's own book, read once."""
    return read_book(ROOT / "content", ROOT / "site_data")
