"""The commands, each run as a writer runs it, on folders of a few files."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from calc.__main__ import VERBS, main
from calc.book.csl import read_csl_json
from calc.book.from_bibtex import read_works
from tests.helpers import SOURCES, write_book

PAGE = """\
# Trial

It holds [273 Wh](calc:trial.energy), as its maker says: [at least 250 Wh](quote:maker).

```yaml calc
id: trial
title: Trial
inputs:
  charge: {from: cell.charge}
  voltage: {value: 3.655 ± 0.012 V, source: bench}
steps:
  energy: charge * voltage in Wh
```

```yaml claim
id: maker
source: sheet
says: at least 250 Wh
of: trial.energy
verdict: holds
```

```yaml chart
id: picture
title: What the energy rests on
kind: contributions
of: trial.energy
```
"""
SHEET = "id: cell\ntitle: Cell\ninputs:\n  charge: {value: 74.8 ± 0.4 A h, source: bench}\n"
FACTS = {
    "sources.yml": SOURCES + "- {id: sheet, kind: maker, title: A maker's sheet}\n",
    "cells/cell.yml": SHEET,
}


@pytest.fixture
def folders(tmp_path: Path) -> list[str]:
    """A book of one page and one sheet, as the words that name its folders."""
    write_book(tmp_path, {"trial.md": PAGE}, FACTS)
    return ["--content", str(tmp_path / "content"), "--data", str(tmp_path / "site_data")]


def edit(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), "utf-8")


def said(capsys: pytest.CaptureFixture[str]) -> str:
    out, err = capsys.readouterr()
    return out + err


def test_every_verb_says_what_it_is_for(capsys: pytest.CaptureFixture[str]) -> None:
    for verb in VERBS:
        with pytest.raises(SystemExit) as ended:
            main([verb, "--help"])
        assert ended.value.code == 0
    assert "usage" in said(capsys)


def test_check_writes_the_evidence(tmp_path: Path, folders: list[str]) -> None:
    path = tmp_path / "results.json"
    assert main(["check", *folders, "--json", str(path)]) == 0
    claim = json.loads(path.read_text("utf-8"))["claims"]["maker"]
    assert claim["verdict"] == claim["stated_verdict"] == "holds"
    assert claim["agrees"] is True
    assert claim["of"] == "trial.energy"
    assert claim["flips"]["charge"]["value"] == pytest.approx(250 / 3.655, rel=1e-3)
    assert claim["flips"]["charge"]["unit"] == "A h"


def test_a_flipped_verdict_does_not_pass(tmp_path: Path, folders: list[str]) -> None:
    edit(tmp_path / "content/trial.md", "verdict: holds", "verdict: undecided")
    assert main(["check", *folders]) == 1


def test_overdue_is_said_for_a_day_and_never_fails(
    tmp_path: Path, folders: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    edit(tmp_path / "content/trial.md", "# Trial", "---\nreview_by: 2026-06-30\n---\n\n# Trial")
    edit(tmp_path / "site_data/cells/cell.yml", "bench}", "bench, review_by: 2026-05-31}")
    assert main(["check", *folders]) == 0
    assert "looked at again" not in said(capsys)
    assert main(["check", *folders, "--today", "2026-06-30"]) == 0
    text = said(capsys)
    assert "site_data/cells/cell.yml:4: the value of charge was to be looked at again" in text
    assert "this page" not in text
    assert main(["check", *folders, "--today", "2026-07-01"]) == 0
    assert "content/trial.md:1: this page was to be looked at again by 2026-06-30" in said(capsys)


def test_trace_goes_down_to_the_sources(
    folders: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["trace", "trial.energy", *folders]) == 0
    lines = said(capsys).splitlines()
    assert lines[0] == "trial.energy = 273.4 Wh   [charge * voltage]"
    assert lines[1].strip() == "cell.charge = 74.8 ± 0.4 A h   bench (measured), A bench record"
    assert main(["trace", "maker", *folders]) == 0
    assert "'at least 250 Wh', said by sheet" in said(capsys)
    assert main(["trace", "trial.enrgy", *folders]) == 2
    assert "did you mean energy" in said(capsys)


@pytest.mark.parametrize("name", ["cell.charge", "bench"])
def test_uses_says_what_would_move(
    name: str, folders: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["uses", name, *folders]) == 0
    text = said(capsys)
    for words in (
        "cell.charge = 74.8 ± 0.4 A h; with one hundredth more:",
        "trial.energy: 273.394 → 276.128 Wh (+1 %)",
        "content/trial.md:3: '273 Wh' of trial.energy (+1 %)",
        "claim maker: 273.394 → 276.128 Wh against 'at least 250 Wh' (holds now",
        "content/trial.md:24: contributions picture",
    ):
        assert words in text
    assert main(["uses", "sheet", *folders]) == 0
    assert "the claim maker is its statement" in said(capsys)
    assert main(["uses", "bensh", *folders]) == 2
    assert "did you mean bench" in said(capsys)


def test_what_rests_on_estimates_moves_through_them(
    tmp_path: Path, folders: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    more = """
```yaml estimates
id: pool
title: Pool
values:
  ours: {from: trial.energy}
  theirs: {value: 275 ± 3 Wh, source: sheet}
```

Together they say [](calc:pool.combined).
"""
    edit(tmp_path / "content/trial.md", "# Trial\n", "# Trial\n" + more)
    assert main(["uses", "cell.charge", *folders]) == 0
    moved = re.search(r"pool\.combined: (\S+) → (\S+) Wh", said(capsys))
    assert moved is not None
    assert 0 < float(moved[2]) - float(moved[1]) < 2.734


def test_restate_writes_what_would_agree(
    tmp_path: Path, folders: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    edit(tmp_path / "site_data/cells/cell.yml", "74.8", "75.9")
    assert main(["check", *folders]) == 1
    assert main(["restate", *folders]) == 0
    assert "'273 Wh' is now '277 Wh'" in said(capsys)
    assert PAGE.replace("273 Wh", "277 Wh") == (tmp_path / "content/trial.md").read_text("utf-8")
    assert main(["check", *folders]) == 0


@pytest.mark.parametrize("wrapped", ["273\r\nWh", "273\u00a0Wh", "273  Wh"])
def test_restate_keeps_line_ends_and_finds_wrapped_texts(
    tmp_path: Path, folders: list[str], capsys: pytest.CaptureFixture[str], wrapped: str
) -> None:
    edit(tmp_path / "site_data/cells/cell.yml", "74.8", "75.9")
    page = tmp_path / "content/trial.md"
    windows = "\ufeff" + PAGE.replace("\n", "\r\n").replace("[273 Wh]", f"[{wrapped}]")
    page.write_bytes(windows.encode())
    assert main(["restate", *folders]) == 0
    said(capsys)
    assert page.read_bytes().decode() == windows.replace(wrapped, "277 Wh")


def test_restate_leaves_what_was_published_alone(
    tmp_path: Path, folders: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["publish", *folders, "--date", "2026-03-01"]) == 0
    edit(tmp_path / "site_data/cells/cell.yml", "74.8", "75.9")
    assert main(["restate", *folders]) == 1
    assert "'273 Wh' was published on 2026-03-01 and was left alone" in said(capsys)
    assert (tmp_path / "content/trial.md").read_text("utf-8") == PAGE
    assert main(["restate", *folders, "--published", "--date", "2026-04-01"]) == 0
    text = said(capsys)
    block = re.search(r"```yaml correction\n.*?```", text, re.S)
    assert block is not None
    assert main(["check", *folders]) == 1  # until the correction stands on the page
    page = tmp_path / "content/trial.md"
    reason = block.group().replace('reason: ""', "reason: The charge was read again.")
    page.write_text(page.read_text("utf-8") + "\n" + reason + "\n", "utf-8")
    assert main(["check", *folders]) == 0


def test_restate_does_not_turn_a_verdict(
    tmp_path: Path, folders: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    edit(tmp_path / "content/trial.md", "verdict: holds", "verdict: undecided")
    assert main(["restate", *folders]) == 1
    assert "'verdict: holds' would agree" in said(capsys)


@pytest.mark.parametrize(
    ("what", "name", "path"),
    [
        ("page", "questions/how-heavy", "content/questions/how-heavy.md"),
        ("sheet", "cells/plover", "site_data/cells/plover.yml"),
    ],
)
def test_what_is_begun_builds(
    tmp_path: Path, folders: list[str], what: str, name: str, path: str
) -> None:
    assert main(["new", what, name, *folders]) == 0
    before = (tmp_path / path).read_text("utf-8")
    assert main(["check", *folders]) == 0
    assert main(["new", what, name, *folders]) == 2
    assert (tmp_path / path).read_text("utf-8") == before


@pytest.mark.parametrize("name", ["Upper", "a b", "../out", "/top", "cell", "trial"])
def test_a_name_that_is_no_good_or_taken_is_refused(folders: list[str], name: str) -> None:
    assert main(["new", "sheet", name, *folders]) == 2


BIBTEX = """\
@article{Brier1950,
  author = {Brier, G. W.},
  title = {Verification of forecasts expressed in terms of probability},
  journal = {Monthly Weather Review},
  year = {1950},
}
"""
CSL = '[{"id": "gum", "type": "standard", "title": "A guide"}]'


@pytest.mark.parametrize(
    ("text", "id"), [(BIBTEX, "brier-1950"), (CSL, "gum")], ids=["bibtex", "csl"]
)
def test_sources_come_in_and_go_out(
    tmp_path: Path, folders: list[str], text: str, id: str, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "works"
    file.write_text(text, "utf-8")
    data = folders[2:]
    assert main(["sources", "import", str(file), *data]) == 0
    assert "marked memory until its text was read" in said(capsys)
    assert main(["check", *folders]) == 0
    assert f"the source {id}: nothing comes from it" in said(capsys)
    assert main(["sources", "import", str(file), *data]) == 2
    assert "is there already" in said(capsys)
    assert main(["sources", "export", "--csl", *data]) == 0
    works, problems = read_csl_json(said(capsys), "out")
    assert [work["id"] for work in works] == ["bench", "sheet", id]
    assert not problems
    out = tmp_path / "out.bib"
    assert main(["sources", "export", "--bibtex", "--to", str(out), *data]) == 0
    entries, problems = read_works(out.read_text("utf-8"), "out.bib")
    assert [entry["id"] for entry in entries] == ["bench", "sheet", id]
    assert not problems


def test_a_file_that_is_no_list_of_works_adds_nothing(
    tmp_path: Path, folders: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    before = (tmp_path / "site_data/sources.yml").read_text("utf-8")
    file = tmp_path / "works.bib"
    file.write_text("@article{a,\n  year = {1950}\n}\n", "utf-8")
    assert main(["sources", "import", str(file), *folders[2:]]) == 2
    assert "works.bib:1" in said(capsys)
    assert main(["sources", "import", str(tmp_path / "none"), *folders[2:]]) == 2
    assert (tmp_path / "site_data/sources.yml").read_text("utf-8") == before
