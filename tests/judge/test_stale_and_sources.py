"""What is due to be looked at again, and sources that nobody uses or nobody can find."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from calc.judge.stale import stale
from calc.problems import exit_code
from tests.helpers import SOURCES, work

PAGE = """\
# Trial

```yaml question
id: how-much
asks: How much is x?
settles: A better voltmeter.
review_by: 2026-06-30
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


def test_questions_and_forecasts_fall_due_the_day_after(tmp_path: Path) -> None:
    book = work(tmp_path, {"trial.md": PAGE}).book
    assert not stale(book, date(2026, 2, 1))
    assert [each.kind for each in stale(book, date(2026, 2, 2))] == ["overdue"]
    assert len(stale(book, date(2026, 7, 1))) == 2
    assert exit_code(stale(book, date(2027, 1, 1))) == 0


def test_a_day_that_is_none_is_refused(tmp_path: Path) -> None:
    whole = work(tmp_path, {"trial.md": PAGE.replace("2026-06-30", "2026-06-31")})
    errors = [each for each in whole.problems if each.severity == "error"]
    assert ["is no day" in each.message for each in errors] == [True]


def test_idle_and_unfindable_sources_are_warned_of(tmp_path: Path) -> None:
    sources = SOURCES + "- {id: work, kind: published, mark: seen, title: A work}\n"
    sheet = "id: a\ntitle: A\ninputs:\n  x: {value: 1 V, source: work}\n"
    whole = work(tmp_path, {"trial.md": "# Trial\n"}, {"sources.yml": sources, "a.yml": sheet})
    said = {each.message.partition(":")[0]: each for each in whole.problems}
    assert "nothing comes from it" in said["the source bench"].message
    assert "a reader cannot find it" in said["the source work"].message
    assert {each.severity for each in said.values()} == {"warning"}
    assert said["the source work"].line == 2
