"""The whole book from two folders: pages with their blocks, sources, sheets and logs."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from calc.book.fields import Findings
from calc.book.logs import Log, read_log
from calc.book.model import (
    Block,
    Book,
    Calc,
    Claim,
    Correction,
    Estimates,
    Forecast,
    Method,
    Page,
    Question,
    Sheet,
    Showing,
)
from calc.book.pages import read_page
from calc.book.settings import SETTINGS_FILE, read_settings
from calc.book.sheets import read_sheets
from calc.book.sources import read_sources
from calc.problems import Problem

_SHELVES: dict[type, str] = {
    Calc: "calcs",
    Method: "methods",
    Claim: "claims",
    Estimates: "estimates",
    Forecast: "forecasts",
    Question: "questions",
    Correction: "corrections",
    Showing: "showings",
}


@dataclass
class _Shelves:
    """Blocks by kind and id while they are gathered; one namespace for all ids."""

    problems: list[Problem] = field(default_factory=list)
    taken: dict[str, str] = field(default_factory=dict)
    lost: set[str] = field(default_factory=set)
    kinds: dict[str, dict[str, Any]] = field(
        default_factory=lambda: {name: {} for name in (*_SHELVES.values(), "sheets")}
    )

    def note(self, findings: Findings) -> None:
        """Keeps what was found wrong in one file."""
        self.problems += findings.problems
        self.lost |= findings.lost

    def put(self, block: Block | Sheet) -> None:
        """Shelves one block, unless its id is taken."""
        if not block.id:
            return
        where = f"{block.place.file}:{block.place.line}"
        if block.id in self.taken:
            self.problems.append(
                Problem(
                    block.place.file,
                    block.place.line,
                    "double-id",
                    f"the id '{block.id}' is taken already, at {self.taken[block.id]};"
                    " give one of them another",
                )
            )
            return
        self.taken[block.id] = where
        shelf = "sheets" if isinstance(block, Sheet) else _SHELVES[type(block)]
        self.kinds[shelf][block.id] = block


def read_book(content: Path, data: Path) -> Book:
    """Everything below the two folders, with all that is wrong in it.

    Files are named by the folder's own name and the path below it, so that what comes out does
    not depend on where the folders lie.
    """
    shelves = _Shelves()
    label = data.resolve().name
    findings = Findings(f"{label}/sources.yml")
    sources = read_sources(data / "sources.yml", findings.file, findings)
    shelves.note(findings)
    said = Findings(f"{label}/{SETTINGS_FILE}")
    settings = read_settings(data / SETTINGS_FILE, said)
    shelves.note(said)
    _check_folder(data, "facts", shelves)
    for sheet, found in read_sheets(data, label):
        shelves.note(found)
        if sheet:
            shelves.put(sheet)
    pages = _read_pages(content, shelves)
    logs = _read_logs(data / "logs", f"{label}/logs", shelves)
    return Book(
        pages=tuple(pages),
        sources=sources,
        logs=logs,
        problems=tuple(shelves.problems),
        settings=settings,
        lost=frozenset(shelves.lost - shelves.taken.keys()),
        **shelves.kinds,
    )


def _check_folder(folder: Path, holds: str, shelves: _Shelves) -> None:
    if not folder.is_dir():
        message = f"there is no folder '{folder.name}'; name the one that holds the {holds}"
        shelves.problems.append(Problem(folder.resolve().name, 1, "file", message))


def _read_pages(content: Path, shelves: _Shelves) -> Iterable[Page]:
    label = content.resolve().name
    found: list[Page] = []
    _check_folder(content, "pages", shelves)
    for path in sorted(content.rglob("*.md")):
        rel = path.relative_to(content).as_posix()
        findings = Findings(f"{label}/{rel}")
        read = read_page(path, rel, findings)
        shelves.note(findings)
        if read:
            found.append(read[0])
            for block in read[1]:
                shelves.put(block)
    return found


def _read_logs(folder: Path, label: str, shelves: _Shelves) -> dict[str, Log]:
    """The logs that the book names; a log that cannot be read is a problem where it is named."""
    found: dict[str, Log] = {}
    for name, file, line in _named_logs(shelves):
        if name in found:
            continue
        path = folder / name
        if not path.is_file():
            shelves.problems.append(
                Problem(file, line, "log", f"there is no log '{name}' in {label}")
            )
            continue
        found[name] = replace(read_log(path), file=f"{label}/{name}")
        for severity, findings in (("error", found[name].problems), ("warning", found[name].notes)):
            shelves.problems += [
                Problem(f"{label}/{name}", row, "log", sentence, severity)
                for row, sentence in findings
            ]
    return found


def _named_logs(shelves: _Shelves) -> Iterable[tuple[str, str, int]]:
    holders = (*shelves.kinds["sheets"].values(), *shelves.kinds["calcs"].values())
    for holder in holders:
        for item in holder.inputs:
            if item.log:
                yield item.log, item.place.file, item.place.line
    for method in shelves.kinds["methods"].values():
        for check in method.checks:
            for log, _ in check.columns.values():
                yield log, check.place.file, check.place.line
    for showing in shelves.kinds["showings"].values():
        if log := showing.fields.get("log"):
            yield str(log), showing.place.file, showing.place.line
