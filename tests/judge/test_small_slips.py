"""Slips that used to pass: each gives one message with its mend."""

from __future__ import annotations

from pathlib import Path

import pytest

from hooks.charts import chart_html
from hooks.charts.readings import Readings
from tests.helpers import calc_page, work

PAGE = calc_page({"mass": "2.4 kg", "share": "0.5"}, {"x": "mass * share"})
FORECAST = (
    "```yaml forecast\nid: f\nsays: It rains.\nprobability: {probability}\nregistered: 2026-01-01\n"
    "due: 2026-06-01\nsettles: A gauge.\n{tail}```\n"
)
CHART = "```yaml chart\nid: c\ntitle: T\nkind: {kind}\nof: {{A: trial.x}}\n{tail}\n```\n"
TABLE = (
    '```yaml table\nid: t\ntitle: T\nrows: {A: trial, B: trial}\ncolumns: {Mass: "trial.x"}\n```\n'
)
SLIPS = [
    (FORECAST.format(probability="60 to 80 %", tail=""), "has one probability"),
    (FORECAST.format(probability="60 %", tail="settled: 2026-05-01\n"), "add outcome: true"),
    (CHART.format(kind="bars", tail="x_label: mass / g"), "the axis is in 'kg'"),
    (
        CHART.format(kind="line", tail="over: {trial.share: 0 to 1}\nx_label: share / %"),
        "the axis is in '1'",
    ),
    (
        CHART.format(kind="line", tail="over: {trial.share: 0 to 1}\ny_label: mass / g"),
        "y_label says '/ g'",
    ),
    (TABLE, "is the same in every row"),
]
INPUTS = [
    ("{value: 5 kg, source: }", "has no source"),
    ('{value: 5 kg, source: " "}', "has no source"),
    ('{value: " ", source: bench}', "needs one of value, from or log"),
    ('{from: " "}', "needs one of value, from or log"),
    ('{log: " ", column: x, source: bench}', "needs one of value, from or log"),
]


@pytest.mark.parametrize(("text", "message"), SLIPS, ids=[message for _, message in SLIPS])
def test_a_slip_is_told(tmp_path: Path, text: str, message: str) -> None:
    found = work(tmp_path, {"index.md": PAGE + text}).problems
    assert [message in problem.message for problem in found] == [True]


@pytest.mark.parametrize(("written", "message"), INPUTS)
def test_an_empty_field_counts_as_missing(tmp_path: Path, written: str, message: str) -> None:
    page = f"# P\n```yaml calc\nid: trial\ninputs:\n  mass: {written}\nsteps:\n  x: 2 * mass\n```\n"
    whole = work(tmp_path, {"index.md": page + "\nIt is [99 kg](calc:trial.x).\n"})
    found = [problem for problem in whole.problems if problem.severity == "error"]
    assert [message in problem.message for problem in found] == [True]


@pytest.mark.parametrize("label", ["mass", "mass / kg"])
def test_a_label_has_its_unit_once(tmp_path: Path, label: str) -> None:
    text = CHART.format(kind="bars", tail=f"x_label: {label}")
    whole = work(tmp_path, {"index.md": PAGE + text})
    assert not whole.problems
    assert chart_html(whole.book.showings["c"], Readings(whole)).count("mass / kg") >= 1


CLAIM = "id: c\nsource: bench\nsays: at least 999 kg\nof: trial.x\nverdict: holds\n"


@pytest.mark.parametrize(
    "opening",
    ["yaml-claim", "yaml,claim", "yamlclaim", "{yaml claim}", "yml-claim", "claims", "Claim",
     "json claim"],
)  # fmt: skip
def test_a_block_that_would_be_read_as_code_is_told(tmp_path: Path, opening: str) -> None:
    whole = work(tmp_path, {"index.md": f"{PAGE}\n```{opening}\n{CLAIM}```\n"})
    assert ["to declare a claim" in problem.message for problem in whole.problems] == [True]


def test_a_block_in_a_quotation_is_told(tmp_path: Path) -> None:
    quoted = "".join(f"> {line}\n" for line in f"```yaml claim\n{CLAIM}```".splitlines())
    whole = work(tmp_path, {"index.md": f"{PAGE}\n{quoted}"})
    assert any("in a quotation is shown as text" in each.message for each in whole.problems)


@pytest.mark.parametrize(
    ("written", "mend"),
    [
        ("3.66 +0.02 -0.03 V", "likely 3.66 V"),
        ("50..58 um", "50 to 58 um"),
        ("2026-01-01", "it is a day"),
        ("-500 to 100 degC", "below absolute zero"),
        ("5 kUSD (2024 prices)", "'thousand', 'million' or 'billion' and USD"),
        ("5 USD_2024/kWh (2019 prices)", "two price years"),
        ("5 %%", "no unit is called '%%'"),
    ],
)
def test_a_quantity_written_as_elsewhere_is_told_with_its_mend(
    tmp_path: Path, written: str, mend: str
) -> None:
    whole = work(tmp_path, {"index.md": calc_page({"m": written, "n": "2"}, {"x": "n * 2"})})
    assert [mend in problem.message for problem in whole.problems] == [True]


@pytest.mark.parametrize("text", ["3 kilowats", "3 dollars", "3 millimeters"])
def test_a_unit_with_a_slip_is_no_noun(tmp_path: Path, text: str) -> None:
    page = calc_page({"n": "3"}, {"x": "n * 1"})
    whole = work(tmp_path, {"index.md": f"{page}\nThere are [{text}](calc:trial.x).\n"})
    assert [problem.kind for problem in whole.problems] in (["unit"], ["dimension"])
