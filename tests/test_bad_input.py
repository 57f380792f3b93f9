"""Bad input: each mistake gives one message, at its place, with its mend; so do all at once."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from calc.problems import UNREADABLE, Problem, exit_code
from calc.whole import work_through
from tests.broken import Broken, calc
from tests.broken_evidence import EVIDENCE
from tests.broken_pages import BROKEN, SOURCES_FILE
from tests.helpers import ROOT


def write(folder: Path, files: dict[str, bytes]) -> None:
    """Writes files below a folder, which has content/ and site_data/ in any case."""
    for name in ("content", "site_data"):
        (folder / name).mkdir(exist_ok=True)
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text)


def errors(folder: Path) -> list[Problem]:
    """What is wrong with the book in a folder; remarks that fail no build left out."""
    found = work_through(folder / "content", folder / "site_data").problems
    return [problem for problem in found if problem.severity == "error"]


@pytest.mark.parametrize("broken", [*BROKEN, *EVIDENCE, *SOURCES_FILE], ids=lambda each: each.name)
def test_one_mistake_gives_one_message_at_its_place_with_its_mend(
    tmp_path: Path, broken: Broken
) -> None:
    write(tmp_path, broken.written())
    found = errors(tmp_path)
    assert [(each.file, each.line, each.kind) for each in found] == [
        (*broken.place(), broken.kind)
    ], found
    assert broken.phrase in found[0].message
    assert exit_code(found) == (2 if broken.kind in UNREADABLE else 1)


NAMES = "trial halves one two gull said pool picture will t p q c".split()
"""Ids that several broken pages have, and that one book can hold but once."""


def together() -> tuple[dict[str, bytes], list[tuple[str, int, str]]]:
    """Every broken page in one book, under ids and names of its own, and what each must give."""
    files: dict[str, bytes] = {}
    expected: list[tuple[str, int, str]] = []
    for number, broken in enumerate([*BROKEN, *EVIDENCE]):
        names = {word: f"{word}-{number}" for word in NAMES}
        renamed = {
            _renamed(file, number): _with(names, text) for file, text in broken.written().items()
        }
        files |= renamed
        file, line = broken.place()
        expected.append((_renamed(file, number), line, broken.kind))
    return files, sorted(expected)


def _renamed(file: str, number: int) -> str:
    if file.endswith("sources.yml"):
        return file
    folder, _, name = file.partition("/")
    return f"{folder}/{number:03}-{name}"


def _with(names: dict[str, str], text: bytes) -> bytes:
    for word, other in names.items():
        for sign in (b" ", b":", b"\n"):
            text = text.replace(b"id: " + word.encode() + sign, b"id: " + other.encode() + sign)
        for before in (b"use: ", b"from: ", b"of: ", b"of: [", b"One: ", b"figure: ", b"calc:"):
            for after in (b".", b","):
                old = before + word.encode() + after
                text = text.replace(old, before + other.encode() + after)
        text = text.replace(b"quote:" + word.encode(), b"quote:" + other.encode())
    return text


def test_all_mistakes_of_a_build_are_said_together_without_a_traceback(tmp_path: Path) -> None:
    files, expected = together()
    write(tmp_path, files)
    assert sorted((each.file, each.line, each.kind) for each in errors(tmp_path)) == expected
    run = check(tmp_path)
    assert run.returncode == 2
    assert "Traceback" not in run.stdout + run.stderr
    said = run.stderr.splitlines()
    assert not [place for place in expected if not _said(place, said)]
    assert len([line for line in said if not line.endswith("(warning)")]) == len(expected)


def _said(place: tuple[str, int, str], lines: list[str]) -> bool:
    return any(line.startswith(f"{place[0]}:{place[1]}: ") for line in lines)


def check(folder: Path) -> subprocess.CompletedProcess[str]:
    """The command that checks a folder, as a writer runs it."""
    command = [sys.executable, "-m", "calc", "check"]
    command += ["--content", str(folder / "content"), "--data", str(folder / "site_data")]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True)


@pytest.mark.parametrize(
    ("prose", "code"),
    [
        ("It weighs [1.2 kg](calc:trial.x).", 0),
        ("It weighs [1.3 kg](calc:trial.x).", 1),
        ("It weighs 1.2 kg.", 1),
        ("It weighs [1.2 kg](calc:trial.y).", 2),
    ],
)
def test_the_exit_code_tells_drift_from_what_cannot_be_computed(
    tmp_path: Path, prose: str, code: int
) -> None:
    text = calc("mass: {value: 1.2 ± 0.1 kg, source: bench}", "x: mass in kg", prose=f"\n{prose}\n")
    write(tmp_path, Broken("", "", "", {"content/a.md": text}).written())
    run = check(tmp_path)
    assert (run.returncode, "Traceback" in run.stderr) == (code, False)


def test_an_answer_that_does_not_exist_is_a_result(tmp_path: Path) -> None:
    wish = "solve: {mass: {so_that: x = 9 kg, between: 1 to 3 kg}}"
    text = calc("mass: {value: 1.2 kg, source: bench}", "x: mass in kg", wish)
    write(tmp_path, Broken("", "", "", {"content/a.md": text}).written())
    whole = work_through(tmp_path / "content", tmp_path / "site_data")
    assert not whole.problems
    assert whole.computation.solved["trial.solve.mass"].none == (
        "nothing between 1 kg and 3 kg gives it"
    )


@pytest.mark.parametrize("missing", ["content", "site_data"])
def test_a_folder_that_is_not_there_is_said(tmp_path: Path, missing: str) -> None:
    other = "site_data" if missing == "content" else "content"
    (tmp_path / other).mkdir()
    (found,) = errors(tmp_path)
    assert (found.file, found.kind) == (missing, "file")
    assert f"there is no folder '{missing}'" in found.message
