"""Works read from BibTeX, strictly."""

from __future__ import annotations

import re

from calc.book.bibtex_terms import FIELDS, TYPES
from calc.book.csl import Work
from calc.notation.bibtex import Entry, read_bibtex
from calc.notation.latex_letters import from_latex
from calc.problems import Problem, Wrong

_FROM_FIELD = {field: name for name, fields in FIELDS.items() for field in fields}
_READ_APART = frozenset(
    ("author", "editor", "year", "month", "day", "date", "urldate", "kind", "mark")
)
_VERBATIM = frozenset(("doi", "url"))
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_DATE = re.compile(r"(\d{4})(?:-(\d\d?)(?:-(\d\d?))?)?")


def read_works(text: str, file: str) -> tuple[list[Work], list[Problem]]:
    """Works of a BibTeX text, and all that is wrong with it, each with its line.

    An entry with an error is left out; a field that a source has no place for is left out of
    its entry, and said in a warning.
    """
    entries, faults = read_bibtex(text)
    problems = [fault.at(file, 1) for fault in faults]
    works: list[Work] = []
    for entry in entries:
        try:
            works.append(_work(entry))
        except Wrong as fault:
            problems.append(fault.at(file, 1))
        problems += [_unused(entry, name, file) for name in entry.fields if not _known(name)]
    return works, sorted(problems)


def _work(entry: Entry) -> Work:
    if entry.kind not in TYPES:
        raise _fault(entry, "", f"'@{entry.kind}' is no kind of work; '@misc' fits anything")
    if not entry.fields.get("title"):
        raise _fault(entry, "", f"the entry '{entry.key}' needs a title")
    work: Work = {"id": entry.key, "type": TYPES[entry.kind]}
    for name in ("author", "editor"):
        if name in entry.fields:
            work[name] = [_name(entry, name, text) for text in _split(entry.fields[name])]
    for field, text in entry.fields.items():
        if field in _FROM_FIELD:
            work.setdefault(_FROM_FIELD[field], _plain(entry, field, text))
    if work["type"] == "article-journal" and "issue" not in work and "number" in work:
        work["issue"] = work.pop("number")
    work |= _dates(entry)
    own = {name: entry.fields[name] for name in ("kind", "mark") if name in entry.fields}
    return work | ({"custom": own} if own else {})


def _plain(entry: Entry, field: str, text: str) -> str:
    if field == "doi":
        return re.sub(r"^https?://(?:dx\.)?doi\.org/", "", text)
    if field in _VERBATIM:
        return text
    try:
        plain = from_latex(text)
    except Wrong as fault:
        raise _fault(entry, field, f"in the field '{field}', {fault.message}") from fault
    return plain.replace("–", "-") if field == "pages" else plain


def _split(names: str) -> list[str]:
    """The names between "and"s that stand outside braces."""
    found, depth, start, names = [], 0, 0, f" {names} "
    for sign in re.finditer(r"[{}]|\sand(?=\s)", names):
        if sign.group() in "{}":
            depth += 1 if sign.group() == "{" else -1
        elif depth == 0:
            found.append(names[start : sign.start()])
            start = sign.end()
    return [*found, names[start:]]


def _name(entry: Entry, field: str, text: str) -> dict[str, str]:
    bare = text.strip()
    if re.fullmatch(r"\{[^{}]*\}", bare) or bare == "others":
        return {"literal": _plain(entry, field, bare)}
    parts = [_plain(entry, field, part) for part in bare.split(",")]
    if len(parts) == 1:
        return _in_reading_order(parts[0].split(), entry, field)
    if len(parts) > 3 or not parts[0]:
        raise _fault(entry, field, f"'{bare}' is no name; write 'Family, Given and Family, Given'")
    keys = ("family", "given") if len(parts) == 2 else ("family", "suffix", "given")
    return {key: part for key, part in zip(keys, parts, strict=True) if part}


def _in_reading_order(words: list[str], entry: Entry, field: str) -> dict[str, str]:
    """A name as spoken: the family begins at the first lower-case word, else it is the last."""
    if not words:
        raise _fault(entry, field, f"'{field}' has a name that is empty; take an 'and' away")
    lower = [at for at, word in enumerate(words[:-1]) if word[:1].islower()]
    begins = lower[0] if lower else len(words) - 1
    given = " ".join(words[:begins])
    return {"family": " ".join(words[begins:])} | ({"given": given} if given else {})


def _dates(entry: Entry) -> Work:
    dates: Work = {}
    issued = entry.fields.get("date") or "-".join(_issued_parts(entry))
    for name, field, text in (
        ("issued", "date" if "date" in entry.fields else "year", issued),
        ("accessed", "urldate", entry.fields.get("urldate", "")),
    ):
        if not text:
            continue
        found = _DATE.fullmatch(from_latex(text))
        if not found:
            raise _fault(entry, field, f"'{text}' is no date; write it like 2026 or 2026-03-01")
        dates[name] = {"date-parts": [[int(part) for part in found.groups() if part]]}
    return dates


def _issued_parts(entry: Entry) -> list[str]:
    """Year, month and day as far as they are given; a month may be a word."""
    parts = []
    for name in ("year", "month", "day"):
        if not (text := entry.fields.get(name, "")):
            break
        word = text.strip("{}. ").lower()[:3]
        parts.append(str(_MONTHS.index(word) + 1) if name == "month" and word in _MONTHS else text)
    return parts


def _known(field: str) -> bool:
    return field in _FROM_FIELD or field in _READ_APART


def _unused(entry: Entry, field: str, file: str) -> Problem:
    message = f"the field '{field}' of '{entry.key}' is left out; a source here has no place for it"
    return Problem(file, entry.lines[field], "source", message, "warning")


def _fault(entry: Entry, field: str, message: str) -> Wrong:
    return Wrong("source", message, offset=entry.lines.get(field, entry.line) - 1)
