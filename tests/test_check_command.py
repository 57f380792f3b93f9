"""`check` as a writer and a program meet it: folders, exit codes, and the published data."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.helpers import ROOT, write_book

PAGE = """\
# Trial

It holds [273.4 ± 1.7 Wh](calc:trial.energy), [](calc:trial.specific), or [300 Wh](calc:energy).
A [12 V](given:name-of-the-system) system.

```yaml calc
id: trial
title: Trial
inputs:
  charge: {from: cell.charge}
  voltage: {value: 3.655 ± 0.012 V, source: bench}
  mass: {value: 1.0 kg, source: bench}
steps:
  energy: charge * voltage in Wh
  specific: energy / mass in Wh/kg
solve:
  voltage: {so_that: energy = 280 Wh, between: 3 to 4 V}
  mass: {so_that: specific = 900 Wh/kg, between: 1 to 2 kg}
```
"""
METHOD = """\
# Halves

```yaml method
id: halves
inputs:
  whole: {unit: kg}
steps:
  part: whole / 2 in kg
checks:
  - {given: {whole: 3 kg}, gives: {part: 1.5 kg}, source: exact}
```
"""
SHEET = "id: cell\ntitle: Cell\ninputs:\n  charge: {value: 74.8 ± 0.4 A h, source: bench}\n"
ISSUE = {
    "figures": {"file": str, "line": int, "text": str, "of": str, "recomputed": str},
    "checks": {
        "method": str, "given": dict, "expected": str, "computed": str, "agrees": bool,
        "source": str, "mark": str,
    },
    "problems": {"file": str, "line": int, "kind": str, "message": str},
}  # fmt: skip
"""What each entry of the published lists holds, at least."""


def check(folder: Path, *more: str, cwd: Path = ROOT) -> subprocess.CompletedProcess[str]:
    """Runs the command on a folder with content/ and site_data/."""
    command = [sys.executable, "-m", "calc", "check", *more]
    command += ["--content", str(folder / "content"), "--data", str(folder / "site_data")]
    return subprocess.run(command, cwd=cwd, capture_output=True, text=True)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A book of two pages and a sheet, with one figure that does not agree."""
    write_book(tmp_path, {"trial.md": PAGE, "halves.md": METHOD}, {"cell.yml": SHEET})
    return tmp_path


@pytest.fixture
def data(folder: Path) -> dict[str, Any]:
    """What the command writes about it."""
    run = check(folder, "--json", str(folder / "out.json"))
    assert run.returncode == 1, run.stderr
    found: dict[str, Any] = json.loads((folder / "out.json").read_text(encoding="utf-8"))
    return found


def test_drift_is_said_with_its_place_and_what_would_agree(folder: Path) -> None:
    run = check(folder)
    assert run.returncode == 1
    (line,) = run.stderr.splitlines()
    assert line.startswith("content/trial.md:3: '300 Wh' is stated, 273.39 Wh is recomputed")
    assert line.endswith("'273 Wh' would agree")
    assert re.search(r"\b2 of 3 figures agree\b.*\b1 of 1 checks hold\b", run.stdout)


def test_calcs_are_published_with_results_and_solutions(data: dict[str, Any]) -> None:
    assert list(data["calcs"]) == ["trial"]
    calc = data["calcs"]["trial"]
    assert (calc["page"], calc["line"], calc["title"]) == ("content/trial.md", 7, "Trial")
    energy = calc["results"]["energy"]
    assert energy["value"] == pytest.approx(74.8 * 3.655, rel=1e-12)
    assert energy["unit"] == "Wh"
    u = ((0.2 / 74.8) ** 2 + (0.006 / 3.655) ** 2) ** 0.5 * 74.8 * 3.655
    assert energy["standard_uncertainty"] == pytest.approx(u, rel=0.01)
    ends = [energy["value"] - 1.96 * u, energy["value"] + 1.96 * u]
    assert energy["interval"] == pytest.approx(ends, rel=1e-3)
    assert set(energy["shares"]) == {"charge", "voltage"}
    assert sum(energy["shares"].values()) == pytest.approx(1, abs=0.01)
    assert calc["solve"]["voltage"] == {"value": pytest.approx(280 / 74.8), "unit": "V"}
    assert calc["solve"]["mass"] == {"none": "nothing between 1 kg and 2 kg gives it"}


@pytest.mark.parametrize("part", sorted(ISSUE))
def test_lists_are_published_in_the_agreed_shape(data: dict[str, Any], part: str) -> None:
    assert data[part]
    for entry in data[part]:
        for key, kind in ISSUE[part].items():
            assert isinstance(entry[key], kind), (part, key, entry)


def test_every_figure_is_published_with_whether_it_agrees(data: dict[str, Any]) -> None:
    found = [(one["text"], one["of"], one["line"], one["agrees"]) for one in data["figures"]]
    assert found == [
        ("273.4 ± 1.7 Wh", "trial.energy", 3, True),
        ("", "trial.specific", 3, True),
        ("300 Wh", "trial.energy", 3, False),
        ("12 V", "name-of-the-system", 4, True),
    ]


def test_checks_and_problems_are_published(data: dict[str, Any]) -> None:
    (one,) = data["checks"]
    assert (one["method"], one["given"], one["agrees"]) == ("halves", {"whole": "3 kg"}, True)
    assert (one["expected"], one["source"], one["mark"]) == ("1.5 kg", "exact", "exact")
    (problem,) = data["problems"]
    assert (problem["file"], problem["line"], problem["kind"]) == ("content/trial.md", 3, "drift")


def test_an_input_further_up_is_named_in_full(tmp_path: Path) -> None:
    block = "```yaml calc\nid: {}\ninputs:\n  {}: {{from: {}}}\nsteps:\n  {}\n```\n"
    first = block.format("one", "charge", "cell.charge", "double: charge * 2")
    second = block.format("two", "double", "one.double", "more: double * 2")
    write_book(tmp_path, {"a.md": first + second}, {"cell.yml": SHEET})
    check(tmp_path, "--json", str(tmp_path / "out.json"))
    calcs = json.loads((tmp_path / "out.json").read_text(encoding="utf-8"))["calcs"]
    assert set(calcs["one"]["results"]["double"]["shares"]) == {"charge"}
    assert set(calcs["two"]["results"]["more"]["shares"]) == {"cell.charge"}


def test_the_folders_of_the_working_directory_are_the_default(folder: Path) -> None:
    named = check(folder)
    command = [sys.executable, "-m", "calc", "check"]
    environment = {"PYTHONPATH": str(ROOT), "PATH": ""}
    here = subprocess.run(command, cwd=folder, capture_output=True, text=True, env=environment)
    assert (here.returncode, here.stdout, here.stderr) == (1, named.stdout, named.stderr)


def test_a_file_that_cannot_be_written_is_said_in_one_line(folder: Path) -> None:
    run = check(folder, "--json", str(folder / "no" / "such" / "out.json"))
    assert run.returncode == 2
    assert "Traceback" not in run.stderr
    assert "out.json cannot be written" in run.stderr


def test_an_unknown_verb_is_refused_without_a_traceback() -> None:
    run = subprocess.run(
        [sys.executable, "-m", "calc", "chekc"], cwd=ROOT, capture_output=True, text=True
    )
    assert run.returncode == 2
    assert "Traceback" not in run.stderr and "chekc" in run.stderr
