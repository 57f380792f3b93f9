"""Drift through real files: digits edited in sheets and pages, and the command that notices."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from calc.book.plan import Root
from calc.judge.verdicts import JudgedFigure
from calc.notation.quantity import Exact, Normal, Quantity, parse_quantity
from calc.whole import work_through
from tests.helpers import ROOT
from tests.mutants import Site, Stated
from tests.text_mutants import text_mutants

RUNS, EDITS = 4, 6
"""Runs of the command, each over as many edits whose figures have nothing in common."""

Place = tuple[str, int, str]
"""A figure as the published data name it: file, line, text."""


@dataclass(frozen=True)
class Edit:
    """One digit of one input of a sheet changed, so that some figure must be wrong."""

    root: str
    file: str
    line: int
    old: str
    new: str

    def make(self, folder: Path) -> None:
        """Edits the file in a folder that holds a copy of the site."""
        path = folder / self.file
        rows = path.read_text(encoding="utf-8").split("\n")
        at = self.line - 1
        while self.old not in rows[at]:
            at += 1  # an input may spread over several lines
        rows[at] = rows[at].replace(self.old, self.new, 1)
        path.write_text("\n".join(rows), encoding="utf-8")


Groups = list[list[tuple[Edit, set[Stated]]]]
"""What each run edits, with the figures that must be wrong then."""


@pytest.fixture(scope="module")
def original(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the site's pages and facts, which nobody edits."""
    return copy_site(ROOT, tmp_path_factory.mktemp("original"))


@pytest.fixture(scope="module")
def site(original: Path) -> Site:
    """The site as it stands, worked through once."""
    return Site(work_through(original / "content", original / "site_data"))


def copy_site(source: Path, folder: Path) -> Path:
    """A copy of the pages and facts of a site."""
    for name in ("content", "site_data"):
        shutil.copytree(source / name, folder / name)
    return folder


def edits(site: Site) -> Iterator[tuple[Edit, set[Stated]]]:
    """One edit for each input of a sheet that a figure rests on, with what must be wrong."""
    # Every seventh input, then the next to each: from all over the sheets from the start.
    spread = sorted(enumerate(site.roots.items()), key=lambda each: (each[0] % 7, each[0]))
    for _, (root, resting) in spread:
        node = site.whole.computation.plan.nodes[root]
        assert isinstance(node, Root) and node.input is not None
        simple = isinstance(node.quantity.spread, Exact | Normal)
        if not simple or node.block not in site.whole.book.sheets:
            continue
        for new in _one_digit_changed(node.quantity):
            base = parse_quantity(new).base
            must = site.wrong_at(root, np.array([base]), resting)
            wrong = {each for each, where in must.items() if where[0] and not site.weighed(each)}
            if wrong:
                place = node.input.place
                yield Edit(root, place.file, place.line, node.quantity.text, new), wrong
                break


def _one_digit_changed(quantity: Quantity) -> Iterator[str]:
    """A quantity with one digit of its value one higher, the last digit first."""
    text, value = quantity.text, quantity.digits
    for at in reversed(range(len(value) if text.startswith(value) else 0)):
        if text[at].isdigit() and text[at] != "9":
            yield f"{text[:at]}{int(text[at]) + 1}{text[at + 1 :]}"


@pytest.fixture(scope="module")
def groups(site: Site) -> Groups:
    """Edits from all over the sheets, sorted into runs whose figures have nothing in common."""
    found: Groups = [[] for _ in range(RUNS)]
    taken: list[set[Stated]] = [set() for _ in range(RUNS)]
    for edit, wrong in edits(site):
        resting = set(site.roots[edit.root])
        for group, used in zip(found, taken, strict=True):
            if len(group) < EDITS and not resting & used:
                group.append((edit, wrong))
                used |= resting
                break
        if all(len(group) == EDITS for group in found):
            break
    return found


def check(folder: Path) -> tuple[int, str, set[Place]]:
    """Runs the command: its exit code, what it said, and the figures that do not agree."""
    command = [sys.executable, "-m", "calc", "check", "--json", str(folder / "out.json")]
    command += ["--content", str(folder / "content"), "--data", str(folder / "site_data")]
    run = subprocess.run(command, cwd=ROOT, capture_output=True, text=True)
    found = json.loads((folder / "out.json").read_text(encoding="utf-8"))["figures"]
    wrong = {
        (each["file"], each["line"], each["text"]) for each in found if each["agrees"] is False
    }
    return run.returncode, run.stderr, wrong


def places(figures: Iterable[JudgedFigure]) -> set[Place]:
    """Figures as the published data name them."""
    return {(one.place.file, one.place.line, one.figure.text) for one in figures}


@pytest.mark.slow
@pytest.mark.parametrize("run", range(RUNS))
def test_a_digit_of_a_sheet_edited_fails_exactly_what_rests_on_it(
    tmp_path: Path,
    original: Path,
    site: Site,
    groups: Groups,
    run: int,
    tally: Callable[[str], None],
) -> None:
    group = groups[run]
    assert group
    folder = copy_site(original, tmp_path)
    for edit, _ in group:
        edit.make(folder)
    code, said, wrong = check(folder)
    assert code and "Traceback" not in said
    may = places(each.judged for edit, _ in group for each in site.roots[edit.root])
    may |= places(judged for edit, _ in group for judged in site.solved(edit.root))
    for edit, must in group:
        due = places(each.judged for each in must)
        assert due <= wrong, f"{edit.root}: {edit.old} → {edit.new}"
        assert all(f"{file}:{line}: '{text}' is stated" in said for file, line, text in due)
    assert wrong <= may
    tally(f"files: {len(group)} inputs edited by a digit, {len(wrong)} figures reported")


@pytest.mark.slow
def test_digits_of_pages_edited_fail_exactly_there(
    tmp_path: Path, original: Path, site: Site, tally: Callable[[str], None]
) -> None:
    folder = copy_site(original, tmp_path)
    chosen = site.nominal_figures[:: max(1, len(site.nominal_figures) // 20)]
    expected: set[Place] = set()
    for page in site.whole.book.pages:
        mine = [one for one in chosen if one.judged.page == page.file]
        text = page.text
        for one in sorted(mine, key=lambda each: -each.judged.figure.start):
            figure = one.judged.figure
            new = next(text_mutants(one.said, site.half(one), _value(site, one)))
            whole = text[figure.start : figure.end].replace(figure.text, new, 1)
            text = text[: figure.start] + whole + text[figure.end :]
            expected.add((one.judged.place.file, figure.line, new))
        (folder / page.file).write_text(text, encoding="utf-8")
    code, said, wrong = check(folder)
    assert (code, "Traceback" in said) == (1, False)
    assert wrong == expected
    assert len(expected) >= 20
    tally(f"files: {len(expected)} figures edited by a digit, {len(wrong)} reported")


def _value(site: Site, stated: Stated) -> float:
    result = site.result(stated)
    return site.scale(stated).from_base(result.unit.to_base(result.value))
