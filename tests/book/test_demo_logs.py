"""The demonstration's logs: made again byte for byte, and true to the sheets of their cells."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml

from calc.book.logs import read_log
from calc.cell.arguments import Number
from calc.cell.integrate_log import log_totals
from calc.cell.log_checks import oddities
from calc.cell.resistance_steps import step_resistance
from calc.engine.odd_places import odd_places
from calc.notation.quantity import Normal, parse_quantity
from calc.whole import work_through
from tests.cell.half_cells import Columns
from tests.source_tree import ROOT

LOGS, CELLS = ROOT / "site_data" / "logs", ROOT / "site_data" / "cells"
METER: dict[str, Any] = {
    "current_gain": 1,
    "current_offset": 0,
    "voltage_gain": 1,
    "voltage_offset": 0,
    "largest_gap": 200,
    "rest_current": 0.05,
}


def sheet(cell: str) -> dict[str, dict[str, str]]:
    read: dict[str, Any] = yaml.safe_load((CELLS / f"{cell}.yml").read_text("utf-8"))
    inputs: dict[str, dict[str, str]] = read["inputs"]
    return inputs


def columns(name: str) -> Columns:
    log = read_log(LOGS / name)
    return log.column("time").values, log.column("voltage").values, log.column("current").values


def consistent(text: str, found: Number) -> bool:
    """Whether a value [SI] lies within the expanded uncertainty that a sheet states."""
    stated = parse_quantity(text)
    assert isinstance(stated.spread, Normal)
    return abs(float(found) - stated.base) <= 2 * stated.spread.standard * stated.unit.factor


def test_the_logs_are_what_their_script_writes(tmp_path: Path) -> None:
    subprocess.run([sys.executable, str(LOGS / "make_logs.py"), str(tmp_path)], check=True)
    made = {path.name: path.read_bytes() for path in tmp_path.glob("*.csv")}
    kept = {path.name: path.read_bytes() for path in LOGS.glob("*.csv")}
    assert made == kept


@pytest.mark.parametrize("path", sorted(LOGS.glob("*.csv")), ids=lambda path: path.name)
def test_every_log_reads_cleanly_and_says_what_it_is(path: Path) -> None:
    log = read_log(path)
    assert not log.problems
    assert not log.notes
    kinds = ("# Invented data: ", "# Made up so that its results are known: ", "# Computed from ")
    assert path.read_text("utf-8").startswith(kinds)
    assert path.name.startswith("check-") or path.read_text("utf-8").startswith(kinds[0])


@pytest.mark.parametrize("cell", ["heron", "gannet", "petrel"])
def test_a_bench_log_says_what_the_sheet_says(cell: str) -> None:
    stated, log = sheet(cell), columns(f"{cell}-bench.csv")
    out = log_totals(*log, "discharge", **METER)
    into = log_totals(*log, "charge", **METER)
    assert consistent(stated["charge"]["value"], out.charge)
    assert consistent(stated["mean_voltage"]["value"], out.mean_voltage)
    assert consistent(stated["charge_in"]["value"], into.charge)
    assert consistent(stated["mean_charge_voltage"]["value"], into.mean_voltage)
    assert {odd.kind for odd in oddities(*log, 200, 0.05)} == {"rest"}


def test_herons_pulses_say_what_the_sheet_says() -> None:
    found = step_resistance(*columns("heron-pulses.csv"), 1, 10.0, 5.0, 10.0, 1, 1)
    assert consistent(sheet("heron")["resistance"]["value"], found.resistance)


def test_herons_resistance_over_hours_parts_its_two_discharges() -> None:
    fast, slow = (
        log_totals(*columns(name), "discharge", **METER)
        for name in ("heron-bench.csv", "heron-slow-discharge.csv")
    )
    apart = fast.charge / fast.time - slow.charge / slow.time
    found = (slow.mean_voltage - fast.mean_voltage) / apart
    assert consistent(sheet("heron")["resistance_hours"]["value"], found)


def test_the_logger_on_board_lost_a_minute_and_the_rest_of_the_logs_are_sound() -> None:
    """Which oddities of which demonstration logs a check of the site warns of, by kind."""
    site = work_through(ROOT / "content", ROOT / "site_data")
    odd = {
        name: [place.kind for place in found]
        for name, log in sorted(site.book.logs.items())
        if not name.startswith("check-") and (found := odd_places(log, site.book, site.plan))
    }
    assert odd == {"heron-quay-stop.csv": ["gap", "spike", "repeated"]}
