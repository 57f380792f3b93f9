"""`check`: recompute everything, and say what does not agree."""

from __future__ import annotations

import argparse
from pathlib import Path

from calc.commands.folders import add_folders, complain, day, refuse, whole_of
from calc.problems import exit_code
from calc.report import results_text
from calc.whole import Whole


def add(parser: argparse.ArgumentParser) -> None:
    """Adds the words that check takes."""
    add_folders(parser)
    parser.add_argument("--json", type=Path, metavar="FILE", help="write all results to FILE")
    parser.add_argument(
        "--today", type=day, metavar="YYYY-MM-DD", help="also say what is overdue on this day"
    )


def run(asked: argparse.Namespace) -> int:
    """Checks, and returns 0 when all agrees, 1 on drift, 2 when something cannot be computed."""
    whole = whole_of(asked, asked.today)
    complain(whole.problems)
    if asked.json:
        try:
            asked.json.write_text(results_text(whole), encoding="utf-8")
        except OSError as error:
            return refuse(f"{asked.json} cannot be written: {error.strerror}; name another file")
    print(_summary(whole))
    return exit_code(whole.problems)


def _summary(whole: Whole) -> str:
    figures = [figure for figure in whole.judgement.figures if figure.agrees is not None]
    claims = [claim for claim in whole.judgement.claims.values() if claim.agrees is not None]
    checks = whole.judgement.checks
    warnings = sum(problem.severity == "warning" for problem in whole.problems)
    return (
        f"{sum(bool(each.agrees) for each in figures)} of {len(figures)} figures agree,"
        f" {sum(bool(each.agrees) for each in claims)} of {len(claims)} verdicts,"
        f" {sum(each.agrees for each in checks)} of {len(checks)} checks hold;"
        f" {len(whole.problems) - warnings} problems, {warnings} warnings"
    )
