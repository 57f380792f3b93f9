"""`restate`: put what is recomputed in place of what drifted; what was published is left alone."""

from __future__ import annotations

import argparse
from datetime import date

from calc.commands.folders import add_folders, complain, day, whole_of
from calc.judge.replace_file import replace_file
from calc.tell.restated import Restated, correction_block, drifted, rewritten
from calc.whole import Whole


def add(parser: argparse.ArgumentParser) -> None:
    """Adds the words that restate takes."""
    add_folders(parser)
    parser.add_argument(
        "--published",
        action="store_true",
        help="also change published figures, and print the corrections that they need",
    )
    parser.add_argument(
        "--date", type=day, metavar="YYYY-MM-DD", help="day of the corrections (left out: today)"
    )


def run(asked: argparse.Namespace) -> int:
    """Rewrites the pages, each in one step, and says what it changed and what it left.

    Returns 0 when nothing that drifted is left, else 1.
    """
    whole = whole_of(asked)
    found = drifted(whole.judgement.figures, whole.ledger)
    mine = [each for each in found if asked.published or not each.published]
    left = [each for each in found if each not in mine]
    for page in whole.book.pages:
        changes = [each for each in mine if each.figure.page == page.file]
        if changes:
            path = asked.content / page.path
            replace_file(path, _dressed_as(path.read_bytes(), rewritten(page, changes)))
    _tell(mine, left, asked.date or date.today())
    others = [problem for problem in whole.problems if problem.kind == "drift"]
    others = [each for each in others if not _of_figure(each.line, each.file, found)]
    complain(others)
    _count(mine, left, whole)
    return 1 if left or others else 0


def _dressed_as(before: bytes, text: str) -> str:
    """A text with the line ends and the byte order mark that its file had before."""
    ends = "\r\n" if b"\r\n" in before else "\n"
    mark = "\ufeff" if before.startswith(b"\xef\xbb\xbf") else ""
    return mark + text.replace("\n", ends)


def _of_figure(line: int, file: str, found: tuple[Restated, ...]) -> bool:
    return any((each.figure.place.file, each.figure.place.line) == (file, line) for each in found)


def _tell(mine: list[Restated], left: list[Restated], when: date) -> None:
    for each in mine:
        place = each.figure.place
        print(f"{place.file}:{place.line}: '{each.was}' is now '{each.now}'")
        if each.published:
            print(f"it was published on {each.published}; add this to its page, with the reason:")
            print(correction_block(each, when.isoformat()))
    for each in left:
        place = each.figure.place
        print(
            f"{place.file}:{place.line}: '{each.was}' was published on {each.published} and was"
            f" left alone; '{each.now}' would agree; with --published it is changed"
        )


def _count(mine: list[Restated], left: list[Restated], whole: Whole) -> None:
    print(f"{len(mine)} of {len(whole.judgement.figures)} figures restated, {len(left)} left alone")
