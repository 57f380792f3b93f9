"""The commands: `python -m calc check` and its like."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from calc.problems import exit_code
from calc.report import problems_text, results_text
from calc.whole import Whole, work_through


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command and returns its exit code."""
    asked = _parser().parse_args(arguments)
    return int(asked.run(asked))


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m calc", description=__doc__)
    verbs = parser.add_subparsers(required=True, metavar="VERB")
    check = verbs.add_parser("check", help="recompute everything, and say what does not agree")
    _folders(check)
    check.add_argument("--json", type=Path, metavar="FILE", help="write all results to FILE")
    check.set_defaults(run=_check)
    return parser


def _folders(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--content", type=Path, default=Path("content"), help="folder of pages")
    parser.add_argument("--data", type=Path, default=Path("site_data"), help="folder of facts")


def _check(asked: argparse.Namespace) -> int:
    whole = work_through(asked.content, asked.data)
    if asked.json:
        asked.json.write_text(results_text(whole), encoding="utf-8")
    if whole.problems:
        print(problems_text(whole.problems), file=sys.stderr)
    print(_summary(whole))
    return exit_code(whole.problems)


def _summary(whole: Whole) -> str:
    figures = [figure for figure in whole.judgement.figures if figure.agrees is not None]
    agreeing = sum(bool(figure.agrees) for figure in figures)
    checks = whole.judgement.checks
    holding = sum(check.agrees for check in checks)
    return (
        f"{agreeing} of {len(figures)} figures agree, {holding} of {len(checks)} checks hold,"
        f" {len(whole.problems)} problems"
    )


if __name__ == "__main__":
    sys.exit(main())
