"""Nothing stated goes without being compared: addresses that name no single result are told."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.helpers import calc_page, work

INPUTS = {"mass": "2.4 kg", "t": "200 um", "i": "2 mm", "o": "10 mm"}
STEPS = {
    "x": "mass * 1",
    "twin": "{use: twin, with: {m: mass}}",
    "roll": "{procedure: wound_roll, with: {thickness: t, inner_radius: i, outer_radius: o}}",
}
TWIN = (
    "# Twin\n```yaml method\nid: twin\ntitle: Twin\ninputs:\n  m: {unit: kg}\n"
    "steps:\n  a: 2 * m in kg\n  b: 3 * m in kg\nchecks:\n"
    "  - {given: {m: 1 kg}, gives: {a: 2 kg}, source: exact}\n```\n"
)
SEVERAL = "'trial.twin' has several results; name one of them, such as trial.twin.a"


def said(folder: Path, text: str, twin: str = TWIN) -> list[str]:
    """Every message about a page that ends with a text."""
    whole = work(folder, {"index.md": calc_page(INPUTS, STEPS) + text, "twin.md": twin})
    return [problem.message for problem in whole.problems]


@pytest.mark.parametrize(
    ("named", "message"),
    [
        ("x.nonsense", "'trial' has no 'x.nonsense'"),
        ("mass.nonsense", "'trial' has no 'mass.nonsense'"),
        ("twin", SEVERAL),
        ("twin.c", "'trial' has no 'twin.c'"),
        ("roll", "'trial.roll' has several results; name one of them"),
        ("roll!", "'trial' has no 'roll!'"),
        ("roll.lenth", "'trial' has no 'roll.lenth'; did you mean roll.length"),
    ],
)
def test_a_name_behind_a_result_is_none(tmp_path: Path, named: str, message: str) -> None:
    claim = (
        f"```yaml claim\nid: c\nsource: bench\nsays: at least 9 kg\nof: trial.{named}\n"
        "verdict: holds\n```\n"
    )
    chart = f"```yaml chart\nid: h\ntitle: T\nkind: bars\nof: {{A: trial.{named}}}\n```\n"
    for text in (f"\nIt is [999 kg](calc:trial.{named}).\n", claim, chart):
        found = said(tmp_path, text)
        assert len(found) == 1 and message in found[0], text


@pytest.mark.parametrize("named", ["a.nonsense", "c"])
def test_a_check_of_nothing_is_told(tmp_path: Path, named: str) -> None:
    found = said(tmp_path, "", TWIN.replace("gives: {a: 2 kg}", f"gives: {{{named}: 2 kg}}"))
    assert found and found[0].startswith(f"twin has no step '{named}'")


def test_what_could_not_be_planned_is_told_once(tmp_path: Path) -> None:
    page = calc_page({"mass": "2.4 kg"}, {"x": "mass * nothing", "y": "2 * x in kg"})
    whole = work(tmp_path, {"index.md": page + "\n[999 kg](calc:trial.x) [999 kg](calc:trial.y)\n"})
    assert [problem.kind for problem in whole.problems] == ["reference"]


def test_what_is_solved_for_is_one_number(tmp_path: Path) -> None:
    page = calc_page(
        {"mass": "2.4 ± 0.1 kg", "n": "3"}, {"x": "mass * n"},
        "solve:\n  n: {so_that: x = 12 kg, between: 1 to 9}",
    )  # fmt: skip
    for text, kinds in (("5", []), ("about 5", []), ("at least 4", ["statement"]),
                        ("5 ± 1", ["statement"])):  # fmt: skip
        whole = work(tmp_path, {"index.md": f"{page}\n[{text}](calc:trial.solve.n)\n"})
        assert [problem.kind for problem in whole.problems] == kinds, text


@pytest.mark.parametrize(
    ("formula", "wanted", "between"),
    [("k / n", "0.05", "-10 to 10"), ("floor(n) * k", "2.5", "0 to 10")],
)
def test_a_pole_or_a_jump_solves_nothing(
    tmp_path: Path, formula: str, wanted: str, between: str
) -> None:
    solve = f"solve:\n  n: {{so_that: x = {wanted}, between: {between}}}"
    page = calc_page({"k": "1", "n": "3"}, {"x": formula}, solve)
    whole = work(tmp_path, {"index.md": page})
    assert whole.computation.solved["trial.solve.n"].values == ()


def test_a_short_name_of_several_results_is_told_as_well(tmp_path: Path) -> None:
    found = said(tmp_path, "\nIt is [999 kg](calc:twin).\n")
    assert found == [SEVERAL]


def test_of_several_results_one_that_can_be_stated_is_offered(tmp_path: Path) -> None:
    steps = {"deep": "{use: rolled, with: {t: t, i: i, o: o}}"}
    method = (
        "# Rolled\n```yaml method\nid: rolled\ntitle: Rolled\ninputs:\n  t: {unit: um}\n"
        f"  i: {{unit: mm}}\n  o: {{unit: mm}}\nsteps:\n  roll: {STEPS['roll']}\n```\n"
    )
    inputs = {name: INPUTS[name] for name in "tio"}
    page = calc_page(inputs, steps) + "\nIt is [9 m](calc:trial.deep).\n"
    whole = work(tmp_path, {"index.md": page, "rolled.md": method})
    found = [each.message for each in whole.problems if each.severity == "error"]
    assert len(found) == 1 and "such as trial.deep.roll.length" in found[0]
