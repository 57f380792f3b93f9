"""The published ledger: what the pages stated when they were last published.

Here is what it holds and how it is kept; what may not change in silence is judged in `publish`.
"""

from __future__ import annotations

import json
from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from calc.notation.plain import plain
from calc.problems import Wrong

FIGURES, VERDICTS, FORECASTS, CORRECTIONS = "figures", "verdicts", "forecasts", "corrections"
SECTIONS = (FIGURES, VERDICTS, FORECASTS, CORRECTIONS)
WITHDRAWN = "withdrawn"
"""What a correction gives as `now` when a published statement is gone."""


@dataclass(frozen=True)
class Stated:
    """Something a page states, to be frozen: `of` is an id, or id.name, and `text` its words.

    Rows come in reading order. A figure belongs to its page, where several may state one result;
    a claim's verdict (`of` its id), a forecast's part (`of` id.part) or a correction belongs to
    its id alone.
    """

    section: str
    file: str
    line: int
    of: str
    text: str

    @property
    def subject(self) -> str:
        """What stays the same when lines move: page and id for a figure, else the id."""
        return f"{self.file}#{self.of}" if self.section == FIGURES else self.of


@dataclass(frozen=True)
class Entry:
    """One frozen statement, with the day on which this text of it was first published."""

    section: str
    subject: str
    text: str
    published: date

    @property
    def of(self) -> str:
        """The id, or id.name, without its page."""
        return self.subject.rpartition("#")[2]

    @property
    def page(self) -> str:
        """The page that a figure belongs to; nothing for what belongs to its id alone."""
        return self.subject.rpartition("#")[0]


@dataclass(frozen=True)
class Ledger:
    """All that was stated when the site was last published; empty before the first time."""

    entries: tuple[Entry, ...] = ()

    def without(self, waiting: Collection[tuple[str, str]]) -> Ledger:
        """The same without figures that cannot be recomputed at present, by page and id.

        An id may stand without its block, where that could not be read.
        """

        def waits(entry: Entry) -> bool:
            return any(
                entry.page == page and (entry.of == of or entry.of.endswith(f".{of}"))
                for page, of in waiting
            )

        return Ledger(tuple(entry for entry in self.entries if not waits(entry)))


def read_ledger(path: Path) -> Ledger:
    """The ledger kept in a file; an empty one when there is no file yet.

    Raises: Wrong (kind "file") when the file is not a ledger; nothing is guessed.
    """
    if not path.exists():
        return Ledger()
    try:
        return _from_json(json.loads(path.read_text(encoding="utf-8")))
    except json.JSONDecodeError as error:
        message = f"the published ledger is not JSON ({error.msg}); restore it from history"
        raise Wrong("file", message, offset=error.lineno - 1) from error
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        part = f" ({error})" if isinstance(error, KeyError) else ""
        message = f"the published ledger lacks a part{part}; restore it from history"
        raise Wrong("file", message) from error


def updated(ledger: Ledger, stated: Iterable[Stated], day: date) -> Ledger:
    """The ledger of what is stated now; a text that stood before keeps its earlier date."""
    dates = defaultdict(list)
    for entry in ledger.entries:
        dates[entry.section, entry.subject, same_text(entry.text)].append(entry.published)
    entries = []
    for row in stated:
        known = dates[row.section, row.subject, same_text(row.text)]
        published = known.pop(0) if known else day
        entries.append(Entry(row.section, row.subject, row.text, published))
    return Ledger(tuple(entries))


def as_json(ledger: Ledger) -> str:
    """The ledger's text: a row a statement, in an order that depends on nothing else.

    A figure's key is its page, its id.name and its number among that page's figures of it.
    """
    sections: dict[str, dict[str, dict[str, str]]] = {section: {} for section in SECTIONS}
    seen: Counter[tuple[str, str]] = Counter()
    for entry in sorted(ledger.entries, key=lambda entry: (entry.section, entry.subject)):
        seen[entry.section, entry.subject] += 1
        number = seen[entry.section, entry.subject]
        key = f"{entry.subject}#{number}" if entry.section == FIGURES else entry.subject
        row = {"text": entry.text, "published": entry.published.isoformat()}
        sections[entry.section][key] = row
    return json.dumps(sections, ensure_ascii=False, indent=2) + "\n"


def same_text(text: str) -> str:
    """A text as compared: typographic and plain signs alike, any white space one space.

    >>> same_text("270\u2009Wh/kg") == same_text("270 Wh/kg")
    True
    """
    return " ".join(plain(text).split())


def _from_json(sections: Mapping[str, Mapping[str, Mapping[str, str]]]) -> Ledger:
    return Ledger(
        tuple(
            Entry(
                section,
                key.rpartition("#")[0] if section == FIGURES else key,
                row["text"],
                date.fromisoformat(row["published"]),
            )
            for section in SECTIONS
            for key, row in sections[section].items()
        )
    )
