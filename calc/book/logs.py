"""Measurement logs: a CSV file whose columns are headed quantity / unit, read into arrays."""

from __future__ import annotations

import csv
import re
import warnings
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from itertools import islice
from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Series = NDArray[np.float64]

MOST_REPORTED = 20
"""A file that is wrong throughout is told about its first rows, and how many more there are."""

_HEADING = re.compile(r"\s*(?P<quantity>[^/]+?)\s*/\s*(?P<unit>\S.*?)\s*$")


class Finding(NamedTuple):
    """Something about one row: its line in the file, counted from 1, and a plain sentence."""

    row: int
    sentence: str


class Column(NamedTuple):
    """One measured quantity: its unit as the heading writes it, and its values in that unit."""

    unit: str
    values: Series


@dataclass(frozen=True)
class Log:
    """What a log file holds.

    `columns`: by name (`state_of_charge` for a heading `State of charge / %`), values [the
    heading's unit] of shape (rows,). `row_lines`: the line in the file of each row.
    `problems`: what has to be mended before the values mean anything; columns are then empty.
    `notes`: what was left out or is worth knowing, the values being right without it.
    `file`: where it lies, as messages name it.
    """

    name: str
    columns: Mapping[str, Column]
    row_lines: NDArray[np.int64]
    problems: tuple[Finding, ...] = ()
    notes: tuple[Finding, ...] = ()
    file: str = ""

    def column(self, name: str) -> Column:
        """One column. Raises: ValueError, naming the columns there are."""
        if name in self.columns:
            return self.columns[name]
        near = get_close_matches(name, list(self.columns), n=1)
        hint = f"; did you mean {near[0]}?" if near else ""
        raise ValueError(
            f"{self.name} has no column {name!r}, it has {', '.join(self.columns) or 'none'}{hint}"
        )


class _Broken(Exception):
    """The findings that stop a log from being read."""

    def __init__(self, findings: list[Finding]) -> None:
        super().__init__(findings)
        self.findings = findings


@dataclass(frozen=True)
class _Text:
    """A log's lines with what its first lines tell: where values start, and how they part."""

    lines: list[str]
    first: int  # index of the first line of values
    headings: list[tuple[str, str]]
    separator: str

    @property
    def decimal_comma(self) -> bool:
        """Where a semicolon or tab parts the values, a comma can only be a decimal sign."""
        return self.separator != ","


def read_log(path: Path) -> Log:
    """Read a CSV log, one heading `quantity / unit` a column; lines before it may start with #.

    Returns: the log; values in the units that the headings name, shape (rows,) each. Semicolons
    or tabs may part the values, and then a decimal comma is read as one. A last line that is cut
    short is left out and noted. Anything else that is not a number is a problem with its line.
    Raises: nothing about the file's text; OSError when it cannot be opened.
    """
    nothing = np.empty(0, np.int64)
    try:
        text = _headed(_decoded(path))
        notes = _cut_short(text)
        table, rows = _values(text)
        _refuse_not_a_number(text, table, rows)
    except _Broken as broken:
        return Log(path.name, {}, nothing, tuple(broken.findings))
    columns = {
        name: Column(unit, np.ascontiguousarray(table[:, place]))
        for place, (name, unit) in enumerate(text.headings)
    }
    return Log(path.name, columns, rows, (), tuple(notes))


def _decoded(path: Path) -> list[str]:
    raw = path.read_bytes()
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise _Broken(
            [Finding(line, f"byte 0x{raw[error.start]:02x} is not UTF-8; save the log as UTF-8")]
        ) from error
    if "\0" in text:
        line = text[: text.index("\0")].count("\n") + 1
        raise _Broken([Finding(line, "a zero byte stands here; export the log again")])
    # Split as files are written; splitlines would also break at form feeds and the like.
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")


def _headed(lines: list[str]) -> _Text:
    first = next((i for i, line in enumerate(lines) if line.strip() and line[0] != "#"), None)
    if first is None:
        raise _Broken([Finding(1, "the log is empty; it needs a heading line and rows of values")])
    heading = lines[first]
    separator = next((mark for mark in ";\t" if mark in heading), ",")
    cells = next(csv.reader([heading], delimiter=separator))
    findings: list[Finding] = []
    headings: list[tuple[str, str]] = []
    for cell in cells:
        found = _HEADING.match(cell)
        if not found:
            findings.append(
                Finding(
                    first + 1,
                    f"heading {cell!r} names no unit; write quantity / unit, as in 'voltage / V' "
                    "(unit 1 where there is none)",
                )
            )
            continue
        name = "_".join(re.findall(r"\w+", found["quantity"].lower()))
        if name in (earlier for earlier, _ in headings):
            findings.append(Finding(first + 1, f"two columns are headed {name!r}; rename one"))
        headings.append((name, found["unit"]))
    if not findings and not any(line.strip() for line in lines[first + 1 :]):
        findings.append(Finding(first + 1, "the log has a heading and no rows of values"))
    if findings:
        raise _Broken(findings)
    return _Text(lines, first + 1, headings, separator)


def _cut_short(text: _Text) -> list[Finding]:
    """Take off a last line that ends early: the logger stopped in the middle of it."""
    closed = not text.lines[-1].strip()
    while not text.lines[-1].strip():
        text.lines.pop()
    last = len(text.lines)
    cells = text.lines[-1].split(text.separator)
    short = len(cells) < len(text.headings) or not cells[-1].strip()
    if not short and not closed:
        return [Finding(last, "no line break ends the last line; its last value may be cut short")]
    if not short or last - 1 <= text.first:
        return []
    text.lines.pop()
    wanted = len(text.headings)
    given = len([cell for cell in cells if cell.strip()])
    return [
        Finding(last, f"the last line is cut short ({given} of {wanted} values) and is left out")
    ]


def _values(text: _Text) -> tuple[Series, NDArray[np.int64]]:
    body = text.lines[text.first :]
    if text.decimal_comma:
        body = [line.replace(",", ".") for line in body]
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            table = np.loadtxt(
                body, delimiter=text.separator, ndmin=2, comments=None, dtype=np.float64
            )
    except (ValueError, UserWarning) as error:
        raise _Broken(_why(text, body)) from error
    if table.shape[1] != len(text.headings):
        raise _Broken(_why(text, body))
    # loadtxt passes over empty lines: the rows that it kept are those with something on them.
    lines = np.arange(text.first + 1, text.first + 1 + len(body), dtype=np.int64)
    if len(body) != len(table):
        lines = lines[[bool(line.strip()) for line in body]]
    return table, lines


def _why(text: _Text, body: list[str]) -> list[Finding]:
    """Each line that is no row of numbers, in words; the slow way, for a log known to be wrong."""
    found = list(islice(_wrong_lines(text, body), MOST_REPORTED + 1))
    if len(found) > MOST_REPORTED:
        found[-1] = Finding(found[-1].row, "and more from here on; mend these first")
    return found or [Finding(text.first + 1, "the values cannot be read as numbers")]


def _wrong_lines(text: _Text, body: list[str]) -> Iterator[Finding]:
    wanted = len(text.headings)
    for row, line in enumerate(body, text.first + 1):
        if not line.strip():
            continue
        cells = line.split(text.separator)
        if len(cells) != wanted:
            yield Finding(
                row, f"{len(cells)} values for {wanted} columns" + _comma_hint(text, cells)
            )
            continue
        for (name, unit), cell in zip(text.headings, cells, strict=True):
            if not _is_number(cell):
                said = f"{cell.strip()!r} is no number" if cell.strip() else "no value"
                yield Finding(row, f"{said} for {name} / {unit}")


def _comma_hint(text: _Text, cells: list[str]) -> str:
    if text.separator == "," and len(cells) == 2 * len(text.headings):
        return "; decimal commas? write points, or part the values by semicolons"
    return ""


def _is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return "_" not in cell


def _refuse_not_a_number(text: _Text, table: Series, rows: NDArray[np.int64]) -> None:
    bad_rows, bad_columns = np.nonzero(~np.isfinite(table))
    if not len(bad_rows):
        return
    findings = [
        Finding(
            int(rows[row]),
            f"{text.headings[column][0]} is {table[row, column]}, not a finite number; "
            "mend the row or take it out",
        )
        for row, column in islice(zip(bad_rows, bad_columns, strict=True), MOST_REPORTED)
    ]
    if len(bad_rows) > MOST_REPORTED:
        findings.append(
            Finding(int(rows[bad_rows[MOST_REPORTED]]), f"{len(bad_rows)} such values in all")
        )
    raise _Broken(findings)
