"""What most commands share: where the pages and the facts are, and working through them."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable
from datetime import date
from pathlib import Path

from calc.problems import Problem, Wrong
from calc.report import problems_text
from calc.whole import Whole, work_through


def add_folders(parser: argparse.ArgumentParser) -> None:
    """Adds the words that say where the two folders are."""
    parser.add_argument("--content", type=Path, default=Path("content"), help="folder of pages")
    parser.add_argument("--data", type=Path, default=Path("site_data"), help="folder of facts")


def whole_of(asked: argparse.Namespace, today: date | None = None) -> Whole:
    """Everything below the two folders asked for."""
    return work_through(asked.content, asked.data, today)


def day(text: str) -> date:
    """A day as a command takes it. Raises: ValueError, which argparse turns into its message."""
    return date.fromisoformat(text)


def complain(problems: Iterable[Problem]) -> None:
    """Prints problems where errors go."""
    text = problems_text(problems)
    if text:
        print(text, file=sys.stderr)


def refuse(error: Wrong | str) -> int:
    """Says in one line why a command cannot be done; its exit code is 2."""
    print(error, file=sys.stderr)
    return 2
