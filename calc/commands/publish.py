"""`publish`: freeze what the pages state now, so that nothing of it changes in silence."""

from __future__ import annotations

import argparse
from datetime import date

from calc.commands.folders import add_folders, complain, day, refuse, whole_of
from calc.judge.publish import publish
from calc.problems import Wrong, exit_code
from calc.whole import LEDGER_NAME


def add(parser: argparse.ArgumentParser) -> None:
    """Adds the words that publish takes."""
    add_folders(parser)
    parser.add_argument(
        "--date", type=day, metavar="YYYY-MM-DD", help="day of publication (left out: today)"
    )


def run(asked: argparse.Namespace) -> int:
    """Publishes when all agrees; otherwise says what does not and changes nothing."""
    whole = whole_of(asked)
    complain(whole.problems)
    if code := exit_code(whole.problems):
        print("nothing was published; mend these first")
        return code
    stated = whole.judgement.stated
    pages = {page.file for page in whole.book.pages}
    corrections = tuple(whole.book.corrections.values())
    when = asked.date or date.today()
    try:
        silent = publish(asked.data / LEDGER_NAME, stated, corrections, pages, when)
    except Wrong as error:
        return refuse(error)
    complain(silent)
    if silent:
        return exit_code(silent)
    print(f"{len(stated)} statements stand as published on {when} in {asked.data / LEDGER_NAME}")
    return 0
