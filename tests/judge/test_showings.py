"""What charts, tables and panels name wrongly: each kind said with its place and the mend."""

from __future__ import annotations

from pathlib import Path

import pytest

from calc.book.ordered import plan
from calc.book.read import read_book
from calc.engine.compute import compute
from calc.engine.procedures import signatures
from calc.judge.showings import check_showings
from calc.problems import Problem
from tests.helpers import calc_page, write_book

CALC = calc_page(
    {"x": "2.0 ± 0.1 m", "mass": "3.0 kg", "part": "2.0 kg", "other": "5.0 m"},
    {
        "area": "x * x in m^2",
        "all": "mass in kg",
        "some": "part in kg",
        "much": "2 * mass in kg",
        "which": "where(2 * x > other, 2, 1)",
    },
)
CLAIM = (
    "```yaml claim\nid: big\nsource: bench\nsays: at least 3 m^2\nof: trial.area\n"
    "verdict: holds\n```\n"
)
LINE = "kind: line\nof: trial.area\nover: {trial.x: 1 m to 4 m}\n"
FIRST_LINE = f"{CALC}{CLAIM}\n```yaml\nid: shown".count("\n") + 1


def found(folder: Path, block: str) -> list[Problem]:
    """What is wrong with one block on a page beside a calc and a claim."""
    write_book(folder, {"index.md": f"{CALC}{CLAIM}\n{block}"})
    book = read_book(folder / "content", folder / "site_data")
    assert not book.problems
    planned = plan(book, signatures())
    computed = compute(book, planned)
    assert not (*planned.problems, *computed.problems)
    return check_showings(book, planned, computed)


def block(kind: str, body: str) -> str:
    """A block of a showing."""
    return f"```yaml {kind}\nid: shown\ntitle: Shown\n{body}\n```\n"


@pytest.mark.parametrize(
    ("kind", "body"),
    [
        ("chart", "kind: line\nof: trial.area\nover: {trial.x: 1 m to 4 m}"),
        ("chart", "kind: line\nof: {A: trial.area}\nover: {trial.x: 100 to 400 cm}"),
        ("chart", f"{LINE}bands: {{trial.which: {{1: short, 2: long}}}}"),
        ("chart", "kind: bars\nof: {All: trial.all, Some: trial.some}"),
        ("chart", "kind: breakdown\nof: {Some: trial.some}\ntotal: trial.all"),
        ("chart", "kind: contributions\nof: trial.area"),
        ("chart", "kind: distribution\nof: trial.area in cm^2\nat: big"),
        ("table", 'rows: {One: trial}\ncolumns: {Area: "{row}.area in cm^2"}\nsort: Area, rising'),
        ("explore", "calc: trial\nsliders: {x: 1 m to 4 m}\nshow: [area]\nclaims: [big]"),
    ],
)
def test_what_is_right_passes(tmp_path: Path, kind: str, body: str) -> None:
    assert found(tmp_path, block(kind, body)) == []


WRONG = [
    ("chart", "kind: bars\nof: {A: trial.aera}", "reference", "did you mean"),
    ("chart", "kind: bars\nof: {A: trail.area}", "reference", "nothing is called 'trail'"),
    ("chart", "kind: bars\nof: {A: trial}", "reference", "write it in full"),
    ("chart", "kind: bars\nof: {A: trial.area in kg}", "dimension", "not 'kg'"),
    ("chart", "kind: bars\nof: {A: trial.area in foo}", "unit", "no unit is called 'foo'"),
    ("chart", "kind: bars\nof: {A: trial.area, M: trial.all}", "dimension", "one axis"),
    ("chart", "kind: bars", "block", "'of' of shown is missing"),
    ("chart", "kind: line\nof: trial.area", "block", "'over' of shown is missing"),
    ("chart", "kind: line\nof: trial.area\nover: {trial.x: 4 m}", "quantity", "no range"),
    ("chart", "kind: line\nof: trial.area\nover: {trial.x: 4 m to 1 m}", "quantity", "not rise"),
    ("chart", "kind: line\nof: trial.area\nover: {trial.x: 1 to 4 kg}", "dimension", "not 'kg'"),
    ("chart", "kind: line\nof: trial.area\nover: {trial.other: 1 m to 4 m}", "reference", "flat"),
    ("chart", f"{LINE}bands: trial.which", "block", "a word for each of its numbers"),
    ("chart", f"{LINE}bands: {{trial.wich: {{1: short}}}}", "reference", "did you mean"),
    ("chart", f"{LINE}bands: {{trial.all: {{1: short}}}}", "dimension", "a plain number"),
    ("chart", f"{LINE}bands: {{trial.which: {{one: short}}}}", "block", "no whole number"),
    ("chart", f"{LINE}bands: {{trial.which: {{2: long}}}}", "block", "has no word for it"),
    ("chart", "kind: breakdown\nof: {M: trial.much}\ntotal: trial.all", "block", "add up to 2 "),
    ("chart", "kind: estimates\nof: none", "reference", "no estimates are called 'none'"),
    ("chart", "kind: contributions\nof: [trial.all, trial.some]", "block", "one result"),
    ("chart", "kind: distribution\nof: trial.area\nat: bog", "reference", "did you mean big"),
    ("chart", "kind: distribution\nof: trial.all\nat: big", "reference", "is of trial.area"),
    ("table", 'rows: {One: trial}\ncolumns: {Area: "{row}.aera"}', "reference", "did you mean"),
    ("table", 'rows: {One: trial}\ncolumns: {A: "{row}.area"}\nsort: B', "reference", "no column"),
    ("explore", "calc: trail\nsliders: {x: 1 m to 4 m}\nshow: [area]", "reference", "no calc"),
    ("explore", "calc: trial\nsliders: {y: 1 m to 4 m}\nshow: [area]", "reference", "no 'y'"),
    ("explore", "calc: trial\nsliders: {x: 3 m to 4 m}\nshow: [area]", "block", "widen"),
    ("explore", "calc: trial\nsliders: {x: 1 m to 4 m}\nshow: [aera]", "reference", "mean area"),
    (
        "explore",
        "calc: trial\nsliders: {x: 1 m to 4 m}\nshow: [area]\nchart: y",
        "reference",
        "no slider is called 'y'",
    ),
    (
        "explore",
        "calc: trial\nsliders: {x: 1 m to 4 m}\nshow: [area]\nclaims: [bog]",
        "reference",
        "did you mean big",
    ),
]


@pytest.mark.parametrize(("kind", "body", "problem", "phrase"), WRONG)
def test_what_is_wrong_is_said(
    tmp_path: Path, kind: str, body: str, problem: str, phrase: str
) -> None:
    said = found(tmp_path, block(kind, body))
    assert [each.kind for each in said] == [problem]
    assert said[0].file == "content/index.md"
    assert said[0].line == FIRST_LINE
    assert phrase in said[0].message


def test_everything_wrong_is_said_at_once(tmp_path: Path) -> None:
    text = 'rows: {A: trial, B: trail}\ncolumns: {One: "{row}.area", Two: "{row}.aera"}\nsort: C'
    said = found(tmp_path, block("table", text))
    assert len(said) == 4
