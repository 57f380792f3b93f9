"""A page with every kind of block, scrambled at random: whatever comes of it, no traceback."""

from __future__ import annotations

import random
import re
from pathlib import Path

import pytest

from calc.report import results_text
from calc.whole import work_through
from tests.helpers import write_book

SCRAMBLES = 120
PAGE = """\
---
title: Trial
review_by: 2026-12-31
order: 1
cautions: [opening]
---

# Trial

It holds [273.4 ± 1.7 Wh](calc:trial.energy), [](calc:trial.specific),
its maker says [at least 250 Wh](quote:maker).
About [270 Wh](calc:trial.energy "within 5 %"); a [12 V](given:name) system.
It would take [](calc:trial.solve.voltage).

```yaml calc
id: trial
title: Trial
about: a trial
interval: shortest
inputs:
  charge: {from: cell.charge}
  voltage: {value: 3.655 ± 0.012 V, source: bench, mark: seen, symbol: U}
  mass: {value: "1.0 to 1.1 kg, likely 1.05 kg", source: assumption, because: why}
  nought: {value: 0 A, source: bench}
  gap: {value: 1 h, source: bench}
  hot: {value: 30 degC, source: bench}
  price: {value: 5 ± 1 USD/kWh (2024 prices), source: bench}
  time: {log: a.csv, column: time, source: bench}
  current: {log: a.csv, column: current, source: bench}
  volts: {log: a.csv, column: voltage, source: bench}
steps:
  energy: charge * voltage in Wh
  specific: {formula: energy / mass in Wh/kg, about: x, symbol: w}
  cost: price * energy in USD
  half: {use: halves, with: {whole: mass}}
  odd: where(half.part > half.part / 2, exp(-voltage / voltage), sqrt(2)) ** 2
  totals:
    procedure: log_totals
    with: {direction: discharge, time: time, voltage: volts, current: current, current_gain: 1,
      current_offset: nought, voltage_gain: 1, voltage_offset: 0,
      largest_gap: gap, rest_current: 0}
correlated: [{between: [voltage, mass], r: 0.5}]
solve:
  voltage: {so_that: energy = 280 Wh, between: 3 to 4 V}
```

```yaml method
id: halves
title: Halves
answers: how much is half
inputs:
  whole: {unit: kg, about: all, symbol: m, typical: 1 to 2}
uses: {two: cell.two}
steps:
  part: {formula: whole / two in kg, about: half}
valid: [whole > 0, whole between 0.1 kg and 100 kg, two >= 1]
checks:
  - {given: {whole: 3 kg}, gives: {part: 1.5 kg}, source: exact}
  - {given: {whole: 3.1 kg}, gives: {part: about 1.5 kg}, source: bench, mark: copy,
    within: 5 %, why: because}
```

```yaml claim
id: maker
source: bench
says: at least 250 Wh
of: trial.energy
verdict: holds
```

```yaml claim
id: compared
source: bench
says: 20 % less
of: trial.energy
than: cell.energy
verdict: does not hold
```

```yaml estimates
id: both
title: Both
unit: Wh
verdict: consistent
values:
  one: {from: trial.energy}
  two: {value: 270 ± 4 Wh, source: bench}
  three: {value: at least 200 Wh, source: bench}
```

```yaml chart
id: picture
title: What
kind: line
of: trial.energy
over: {trial.voltage: 3 V to 4 V}
```

```yaml chart
id: bars
title: What
kind: bars
of: {One: trial.energy, Two: both.combined in kJ}
at: maker
```

```yaml table
id: tab
title: Tab
rows: {One: cell, Two: cell}
columns: {Charge: "{row}.charge in A h"}
```

```yaml explore
id: move
title: Move
calc: trial
sliders: {voltage: 3 to 4 V}
show: [energy]
claims: [maker]
```

```yaml forecast
id: will
says: it will
of: trial.energy
probability: 70 %
registered: 2026-03-01
due: 2027-06-30
settles: somebody
```

```yaml question
id: what
asks: what
settles: that
of: [trial.energy, maker]
review_by: 2026-12-31
```

```yaml correction
id: corr
date: 2026-03-09
figure: trial.energy
was: about 276 Wh
now: 273.4 ± 1.7 Wh
reason: mistake
```
"""
SHEET = """\
id: cell
title: Cell
kind: cell
inputs:
  charge: {value: 74.8 ± 0.4 A h, source: bench}
  energy: {value: 300 ± 5 Wh, source: bench}
  two: {value: 2, source: exact}
"""
LOG = "time / s,voltage / V,current / A\n0,3,-2\n600,3,-2\n1200,3,-2\n"
ODD = (
    *"[] {} null ~ nan inf 1e400 - … % in () a.b trial trial.energy cell".split(),
    *"99999999999999999999 0 -1 ' \" : ``` # | [x,y] {a:b} about true &a *a !!int".split(),
    *"\x00 ² ** 1/0 log (2024 solve".split(),
    *"both.combined halves maker 2026-13-45 USD cell.charge 1e-320 picture".split(),
    *("", "\t", "a b c", "1 ± 0 V", "5 to 5 V", "x" * 300),
)
"""What a slip of the hand may leave in place of a word."""


def scrambled(chance: random.Random, text: str) -> str:
    """The text after one to three slips: lines lost, doubled or swapped, odd words put in."""
    lines = text.split("\n")
    for _ in range(chance.choice([1, 1, 2, 3])):
        at, other = chance.randrange(len(lines)), chance.randrange(len(lines))
        slip = chance.random()
        if slip < 0.2 and len(lines) > 1:
            del lines[at]
        elif slip < 0.3:
            lines.insert(at, lines[other])
        elif slip < 0.4:
            lines[at], lines[other] = lines[other], lines[at]
        else:
            words = re.findall(r"[\w.±]+|[^\w\s]|\s+", lines[at]) or [""]
            words[chance.randrange(len(words))] = chance.choice(ODD)
            lines[at] = "".join(words)
    return "\n".join(lines)


def test_the_page_is_clean_before_it_is_scrambled(tmp_path: Path) -> None:
    write_book(tmp_path, {"a.md": PAGE}, {"cell.yml": SHEET, "logs/a.csv": LOG})
    found = work_through(tmp_path / "content", tmp_path / "site_data").problems
    assert not [str(problem) for problem in found if problem.severity == "error"]


@pytest.mark.parametrize("seed", range(SCRAMBLES))
def test_no_slip_ends_in_a_traceback(tmp_path: Path, seed: int) -> None:
    chance = random.Random(seed)
    texts = {"content/a.md": PAGE, "site_data/cell.yml": SHEET, "site_data/logs/a.csv": LOG}
    write_book(tmp_path, {})
    hit = chance.choices(list(texts), [8, 1, 1])[0]
    for name, text in texts.items():
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        written = scrambled(chance, text) if name == hit else text
        path.write_text(written, encoding="utf-8")
    whole = work_through(tmp_path / "content", tmp_path / "site_data")
    assert results_text(whole)
    for problem in whole.problems:
        assert problem.line >= 1 and problem.file.startswith(("content/", "site_data/"))
        assert problem.message and "\n" not in problem.message
