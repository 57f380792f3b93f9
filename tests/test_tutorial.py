"""The tutorial, typed exactly as printed into a fresh copy, does what it says."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path

from tests.helpers import ROOT

TUTORIAL = ROOT / "content" / "guide" / "how-to-write-a-page.md"
PRINTED = re.compile(r'^````\w+ title="([^"]+)"\n(.*?)^````$', re.M | re.S)


def printed() -> dict[str, str]:
    """What the tutorial prints, by the title above it."""
    return dict(PRINTED.findall(TUTORIAL.read_text(encoding="utf-8")))


def type_it(folder: Path) -> None:
    """A fresh copy of content and data, with the tutorial's files typed in."""
    for name in ("content", "site_data"):
        shutil.copytree(ROOT / name, folder / name)
    for title, text in printed().items():
        path = folder / title.removeprefix("add to ")
        if title.startswith("add to "):
            path.write_text(path.read_text(encoding="utf-8") + text, encoding="utf-8")
        elif "/" in title:
            path.write_text(text, encoding="utf-8")


def check(folder: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "calc", "check"]
    folders = ["--content", str(folder / "content"), "--data", str(folder / "site_data")]
    return subprocess.run([*command, *folders], cwd=ROOT, capture_output=True, text=True)


def figures_agreeing(said: str) -> int:
    found = re.search(r"(\d+) of \d+ figures agree", said)
    assert found, said
    return int(found[1])


def test_the_tutorial_builds_as_printed(tmp_path: Path) -> None:
    shutil.copytree(ROOT / "content", tmp_path / "before" / "content")
    shutil.copytree(ROOT / "site_data", tmp_path / "before" / "site_data")
    before = check(tmp_path / "before")
    type_it(tmp_path / "after")
    after = check(tmp_path / "after")
    assert after.returncode == before.returncode == 0, after.stderr
    assert figures_agreeing(after.stdout) == figures_agreeing(before.stdout) + 2


def test_the_tutorial_goes_wrong_as_printed(tmp_path: Path) -> None:
    type_it(tmp_path)
    sheet = tmp_path / "site_data" / "cells" / "lamp-cell.yml"
    changed = sheet.read_text(encoding="utf-8").replace("2.40 ±", "2.50 ±")
    sheet.write_text(changed, encoding="utf-8")
    said = check(tmp_path)
    assert said.returncode == 1
    lines = [line for line in said.stderr.splitlines() if line.startswith("content/lamp-cell.md")]
    assert lines == printed()["what make check prints"].splitlines()
