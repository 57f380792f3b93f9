"""Odd places of the logs that calcs read: warned of with their line, and told under the chart."""

from __future__ import annotations

from pathlib import Path

import pytest

from calc.whole import Whole, work_through
from hooks.charts import Readings, chart_html
from hooks.charts import log as log_chart
from tests.helpers import work

HEAD = "# Invented data: one cell\ntime / min,voltage / V\n"
PAGE = """\
# Trial

```yaml calc
id: trial
title: Trial
inputs:
  time: {{log: bench.csv, column: time, source: bench}}
  voltage: {{log: bench.csv, column: voltage, source: bench}}
  current: {{log: check.csv, column: current, source: bench}}
  largest_gap: {{value: {gap}, source: bench}}
  rest_current: {{value: 0.1 A, source: bench}}
steps:
  quality: {{procedure: log_quality, with: {{time: time, voltage: voltage, current: current,
    largest_gap: largest_gap, rest_current: rest_current}}}}
```

```yaml chart
id: shown
title: Shown
kind: log
log: bench.csv
x: time
y: [voltage]
```
"""


def worked(folder: Path, rows: list[tuple[float, float]], gap: str = "4 min") -> Whole:
    """A small book whose calc reads a log of these minutes and volts."""
    body = "".join(f"{minute:g},{volts:.4f}\n" for minute, volts in rows)
    still = "time / s,current / A\n" + "".join(f"{at},0\n" for at in range(len(rows)))
    logs = {"logs/bench.csv": HEAD + body, "logs/check.csv": still}
    return work(folder, {"index.md": PAGE.format(gap=gap)}, logs)


def sound() -> list[tuple[float, float]]:
    """Forty rows of a minute each, at rest in the last ten."""
    return [(at, 3.7 + 1e-3 * min(at, 30) + 1e-4 * (at % 3)) for at in range(40)]


def said(whole: Whole) -> list[tuple[str, int, str]]:
    """Place and first words of what is said of logs."""
    assert all(problem.severity == "warning" for problem in whole.problems)
    return [(each.file, each.line, each.message) for each in whole.problems if each.kind == "log"]


def test_a_sound_log_and_its_rests_are_not_warned_of(tmp_path: Path) -> None:
    whole = worked(tmp_path, sound())
    assert said(whole) == []
    assert "odd place" not in chart_html(whole.book.showings["shown"], Readings(whole))


def test_every_odd_place_is_warned_of_at_its_line(tmp_path: Path) -> None:
    rows = sound()
    rows[10] = (10, 4.5)
    rows[20] = (19, rows[20][1])
    rows[30:] = [(minute + 9, volts) for minute, volts in rows[30:]]
    rows[35] = (43, rows[35][1])
    rows[36] = (42.5, rows[36][1])
    whole = worked(tmp_path, rows)
    found = said(whole)
    assert {file for file, _, _ in found} == {"site_data/logs/bench.csv"}
    # A comment and the heading stand above the first row.
    assert [(line, words.split(";")[0][:22]) for _, line, words in found] == [
        (13, "voltage 4.5 V stands a"),
        (23, "time 1140 s stands her"),
        (33, "600 s without a sample"),
        (38, "time 2580 s stands her"),
        (39, "time goes back by 30 s"),
    ]
    assert (
        "5 odd places in the file: a spike in line 13, a repeated time stamp in line 23, "
        "a gap before the row in line 33, a repeated time stamp in line 38 and "
        "a time stamp that goes back in line 39."
    ) in chart_html(whole.book.showings["shown"], Readings(whole))


def test_the_line_is_broken_at_a_gap(tmp_path: Path) -> None:
    rows = [(minute + 9 * (minute > 20), volts) for minute, volts in sound()]
    whole = worked(tmp_path, rows)
    trace = log_chart.read(whole.book.showings["shown"], whole).traces[0]
    assert [at for at, y in enumerate(trace.y) if y != y] == [21]
    assert trace.x[20:23] == (20, 30, 30)
    assert len(trace.x) == len(trace.y) == len(rows) + 1
    assert "As recorded, 40 rows." in chart_html(whole.book.showings["shown"], Readings(whole))


def test_a_last_row_cut_short_is_told_too(tmp_path: Path) -> None:
    whole = worked(tmp_path, sound())
    log = tmp_path / "site_data" / "logs" / "bench.csv"
    log.write_text(log.read_text("utf-8") + "40", "utf-8")
    whole = work_through(tmp_path / "content", tmp_path / "site_data")
    assert [line for _, line, _ in said(whole)] == [43]
    html = chart_html(whole.book.showings["shown"], Readings(whole))
    assert "1 odd place in the file: a last row cut short in line 43." in html


@pytest.mark.parametrize(("gap", "warned"), [("9 min", 1), ("11 min", 0)])
def test_what_a_gap_is_the_calc_says(tmp_path: Path, gap: str, warned: int) -> None:
    rows = [(minute + 9 * (minute > 20), volts) for minute, volts in sound()]
    assert len(said(worked(tmp_path, rows, gap))) == warned


def test_of_a_log_odd_throughout_the_first_places_are_told(tmp_path: Path) -> None:
    rows = [(minute - minute % 2, volts) for minute, volts in [*sound(), *sound(), *sound()]]
    found = said(worked(tmp_path, sorted(rows)))
    assert len(found) == 21
    assert "more odd places" in found[-1][2]
