"""What was published may not change or go in silence; publishing freezes what is stated now.

A correction on the page says what it was, what it is now, and why. New statements are free.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from datetime import date
from itertools import zip_longest
from pathlib import Path

from calc.book.model import Correction
from calc.judge.ledger import (
    WITHDRAWN,
    Entry,
    Ledger,
    Stated,
    as_json,
    read_ledger,
    same_text,
    updated,
)
from calc.judge.replace_file import replace_file
from calc.problems import Problem

LEDGER_FILE = "site_data/published.json"


def compare(
    ledger: Ledger,
    stated: Iterable[Stated],
    corrections: Sequence[Correction],
    pages: Collection[str],
) -> list[Problem]:
    """What changed or went since it was published, without a correction.

    A correction counts when it stands on the page of the statement, is no older than the
    publication, and leads from the published text to the present one, alone or with others.
    Parameters: ledger; stated, everything the pages state now, in reading order; corrections on
    record; pages, the files there are now: one that is gone cannot hold its own corrections, so
    those of any page count for it.
    Returns: problems of kind "published", each with its place and the correction that would
    mend it, by section and subject.
    """
    now: dict[tuple[str, str], list[Stated]] = defaultdict(list)
    for row in stated:
        now[row.section, row.subject].append(row)
    then: dict[tuple[str, str], list[Entry]] = defaultdict(list)
    for entry in ledger.entries:
        then[entry.section, entry.subject].append(entry)
    return [
        _problem(entry, row)
        for subject in sorted(then)
        for entry, row in _silent(then[subject], now[subject], corrections, pages)
    ]


def publish(
    path: Path,
    stated: Sequence[Stated],
    corrections: Sequence[Correction],
    pages: Collection[str],
    day: date,
) -> list[Problem]:
    """Freeze what is stated now, unless something published changed without a correction.

    Returns: those problems, and then the file is as it was; or none, and the file is replaced
    in one step.
    Raises: Wrong as `read_ledger`, OSError as `replace_file`.
    """
    ledger = read_ledger(path)
    problems = compare(ledger, stated, corrections, pages)
    if not problems:
        replace_file(path, as_json(updated(ledger, stated, day)))
    return problems


def _silent(
    then: Sequence[Entry],
    now: Sequence[Stated],
    corrections: Sequence[Correction],
    pages: Collection[str],
) -> Iterator[tuple[Entry, Stated | None]]:
    """Texts of one subject that changed or went uncorrected, each beside what took its place.

    Equal texts are matched first wherever they stand, so that a figure added above another does
    not pass for a change of it.
    """
    homes = {row.file for row in now} or {entry.page for entry in then}
    here = [step for step in corrections if step.place.file in homes or homes.isdisjoint(pages)]

    def corrected(entry: Entry) -> set[str]:
        since = entry.published.isoformat()
        in_time = [step for step in here if step.figure == entry.of and step.date >= since]
        return _reached(same_text(entry.text), in_time)

    gone, new = _unmatched(then, now, lambda entry: {same_text(entry.text)})
    gone, new = _unmatched(gone, new, corrected)
    gone = [entry for entry in gone if WITHDRAWN not in corrected(entry)]
    for entry, row in zip_longest(gone, new[: len(gone)]):
        if entry is not None:
            yield entry, row


def _unmatched(
    entries: Sequence[Entry], rows: Sequence[Stated], texts: Callable[[Entry], set[str]]
) -> tuple[list[Entry], list[Stated]]:
    """Entries and rows left when each entry has taken the first row with a text that it may."""
    left, free = [], list(rows)
    for entry in entries:
        match = next((row for row in free if same_text(row.text) in texts(entry)), None)
        if match is None:
            left.append(entry)
        else:
            free.remove(match)
    return left, free


def _reached(text: str, corrections: Sequence[Correction]) -> set[str]:
    """All texts that corrections lead to from one, in one step or several."""
    reached: set[str] = set()
    waiting = [text]
    while waiting:
        was = waiting.pop()
        steps = {same_text(step.now) for step in corrections if same_text(step.was) == was}
        waiting.extend(steps - reached)
        reached |= steps
    return reached


def _problem(entry: Entry, row: Stated | None) -> Problem:
    found = f"and the page now says '{row.text}'" if row else "and is gone"
    return Problem(
        row.file if row else entry.page or LEDGER_FILE,
        row.line if row else 1,
        "published",
        f"'{entry.text}' was published on {entry.published} for {entry.of} {found}; put it "
        f"back, or add a correction to the page with figure: {entry.of}, was: {entry.text}, "
        f"now: {row.text if row else WITHDRAWN}, its date and its reason",
    )
