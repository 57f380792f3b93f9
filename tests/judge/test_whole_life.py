"""The whole life of a published figure and a verdict: published, changed, corrected, published."""

from __future__ import annotations

from pathlib import Path

import pytest

from calc.__main__ import main
from calc.judge.ledger import read_ledger
from tests.helpers import write_book
from tests.killed import killed_at_each_line

PAGE = """\
# Trial

It holds [273 Wh](calc:trial.energy), or so: [](calc:trial.energy).

```yaml calc
id: trial
title: Trial
inputs:
  charge: {value: 74.8 ± 0.4 A h, source: bench}
  voltage: {value: 3.655 ± 0.012 V, source: bench}
steps:
  energy: charge * voltage in Wh
```

```yaml claim
id: maker
source: bench
says: at least 270 Wh
of: trial.energy
verdict: holds
```

```yaml forecast
id: rain
says: It will rain.
probability: 70 %
registered: 2026-01-01
due: 2026-02-01
settles: The gauge.
```
"""

CORRECTIONS = """
```yaml correction
id: first
date: 2026-04-02
figure: trial.energy
was: 273 Wh
now: 262 Wh
reason: The charge was read again.
```

```yaml correction
id: filled
date: 2026-04-02
figure: trial.energy
was: 273.4 Wh
now: 262.4 Wh
reason: The charge was read again.
```

```yaml correction
id: verdict
date: 2026-04-02
figure: maker
was: holds
now: does not hold
reason: The charge was read again.
```
"""


def begun(folder: Path) -> tuple[Path, list[str]]:
    write_book(folder, {"trial.md": PAGE})
    words = ["--content", str(folder / "content"), "--data", str(folder / "site_data")]
    return folder / "content" / "trial.md", words


def test_a_whole_life(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    page, words = begun(tmp_path)
    ledger = tmp_path / "site_data" / "published.json"

    assert main(["publish", *words, "--date", "2026-03-01"]) == 0
    first = ledger.read_bytes()
    assert main(["check", *words]) == 0

    # An input changes: the figure drifts, and so does the verdict.
    page.write_text(PAGE.replace("74.8", "71.8"), "utf-8")
    assert main(["check", *words]) == 1
    capsys.readouterr()

    # The page follows its numbers, in silence: that is what the ledger is for.
    changed = PAGE.replace("74.8", "71.8").replace("273 Wh", "262 Wh")
    changed = changed.replace("verdict: holds", "verdict: does not hold")
    page.write_text(changed, "utf-8")
    assert main(["check", *words]) == 1
    said = capsys.readouterr().err
    assert (
        "content/trial.md:3: '273 Wh' was published on 2026-03-01 for trial.energy and the page"
        " now says '262 Wh'; put it back, or add a correction to the page with"
        " figure: trial.energy, was: 273 Wh, now: 262 Wh, its date and its reason"
    ) in said
    assert "'273.4 Wh' was published" in said  # what the build fills in is stated as well
    assert "'holds' was published on 2026-03-01 for maker" in said
    assert said.count("was published") == 3

    # Publishing does not help, and changes nothing.
    assert main(["publish", *words, "--date", "2026-04-02"]) == 1
    assert ledger.read_bytes() == first
    capsys.readouterr()

    # Corrections on the page do.
    page.write_text(changed + CORRECTIONS, "utf-8")
    assert main(["check", *words]) == 0
    assert main(["publish", *words, "--date", "2026-04-02"]) == 0
    dates = {entry.text: str(entry.published) for entry in read_ledger(ledger).entries}
    assert dates["262 Wh"] == dates["does not hold"] == "2026-04-02"
    assert dates["It will rain."] == "2026-03-01"
    assert main(["check", *words]) == 0

    # A correction on record may not go either.
    page.write_text(changed + CORRECTIONS.partition("\n```yaml correction\nid: filled")[0], "utf-8")
    assert main(["check", *words]) == 1
    assert "for filled and is gone" in capsys.readouterr().err

    # A forecast is never edited, only settled.
    settled = "settles: The gauge.\noutcome: true\nsettled: 2026-02-01"
    page.write_text(changed.replace("settles: The gauge.", settled) + CORRECTIONS, "utf-8")
    assert main(["check", *words]) == 0
    page.write_text(changed.replace("70 %", "80 %") + CORRECTIONS, "utf-8")
    assert main(["check", *words]) == 1
    assert "'70 %' was published on 2026-03-01 for rain.probability" in capsys.readouterr().err


def test_adding_needs_no_correction_and_deleting_does(tmp_path: Path) -> None:
    page, words = begun(tmp_path)
    assert main(["publish", *words, "--date", "2026-03-01"]) == 0
    page.write_text(PAGE + "\nOnce more: [273.4 Wh](calc:trial.energy).\n", "utf-8")
    assert main(["check", *words]) == 0
    gone = PAGE.replace("[273 Wh](calc:trial.energy), or so: ", "")
    page.write_text(gone, "utf-8")
    assert main(["check", *words]) == 1
    withdrawn = CORRECTIONS.replace("now: 262 Wh", "now: withdrawn")
    page.write_text(gone + withdrawn.partition("\n```yaml correction\nid: filled")[0], "utf-8")
    assert main(["check", *words]) == 0


def test_the_newest_correction_says_what_stands(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page, words = begun(tmp_path)
    page.write_text(PAGE + CORRECTIONS, "utf-8")
    assert main(["check", *words]) == 1
    said = capsys.readouterr().err
    assert "the correction verdict says that maker is now 'does not hold', but 'holds'" in said
    assert "is now '262" in said


def test_a_ledger_that_cannot_be_read_is_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _, words = begun(tmp_path)
    (tmp_path / "site_data" / "published.json").write_text("{", "utf-8")
    assert main(["check", *words]) == 2
    assert "site_data/published.json:1: the published ledger is not JSON" in capsys.readouterr().err
    assert main(["publish", *words]) == 2
    assert (tmp_path / "site_data" / "published.json").read_text("utf-8") == "{"


KILLED = """
import sys
from calc.__main__ import main
from calc.judge.replace_file import replace_file
from tests.killed import die_before

die_before(int(sys.argv[1]), replace_file.__code__)
sys.exit(main(["publish", *sys.argv[2:], "--date", "2026-04-02"]))
"""


@pytest.mark.slow
def test_a_killed_publication_leaves_a_whole_ledger(tmp_path: Path) -> None:
    page, words = begun(tmp_path)
    ledger = tmp_path / "site_data" / "published.json"
    assert main(["publish", *words, "--date", "2026-03-01"]) == 0
    first = ledger.read_bytes()
    page.write_text(PAGE + "\nOnce more: [273.4 Wh](calc:trial.energy).\n", "utf-8")
    seen = []
    for _ in killed_at_each_line(KILLED, words):
        seen.append(ledger.read_bytes())
        ledger.write_bytes(first)
    assert main(["publish", *words, "--date", "2026-04-02"]) == 0
    # Each found the old ledger or the new one, and once it was new it was not old again.
    old, new = seen.count(first), seen.count(ledger.read_bytes())
    assert seen == [first] * old + [ledger.read_bytes()] * new
    assert old > 2 and new > 1
