"""Works in the terms of CSL-JSON: which there are, and reading and writing them as JSON."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from typing import Any

from calc.book.model import Source
from calc.problems import Problem

Work = dict[str, Any]
"""One work: names and values of CSL-JSON; `custom` holds the site's own kind and mark."""

_TYPES = """article article-journal article-magazine article-newspaper bill book broadcast chapter
    classic collection dataset document entry entry-dictionary entry-encyclopedia event figure
    graphic hearing interview legal_case legislation manuscript map motion_picture musical_score
    pamphlet paper-conference patent performance periodical personal_communication post
    post-weblog regulation report review review-book software song speech standard thesis treaty
    webpage"""
TYPES = frozenset(_TYPES.split())
"""Types of work; CSL 1.0.2, from memory, to be confirmed."""

NAMES = ("author", "editor")
DATES = ("issued", "accessed")
_TEXTS = """title container-title collection-title publisher publisher-place volume issue page
    number DOI URL ISBN ISSN abstract genre note edition event-title version language keyword
    medium"""
TEXTS = tuple(_TEXTS.split())
CARRIED = ("id", "type", *NAMES, *DATES, *TEXTS)
"""What a site's source may carry; anything else is left out on import, with a warning."""

KEPT = frozenset((*CARRIED, "custom"))
"""What is kept of a work on its way in."""

_ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")


def work_of(source: Source) -> Work:
    """A source of the site as a work, years as numbers, its kind and mark under `custom`."""
    work: Work = {"id": source.id, "type": source.csl.get("type") or "document"}
    for name, value in source.csl.items():
        if name not in work and value:
            work[name] = _dated(value) if name in DATES else value
    work.setdefault("title", source.title)
    return work | {"custom": {"kind": source.kind, "mark": source.mark}}


def csl_json(works: Iterable[Work]) -> str:
    """The works as a CSL-JSON text, in the order given."""
    return json.dumps(list(works), ensure_ascii=False, indent=2) + "\n"


def read_csl_json(text: str, file: str) -> tuple[list[Work], list[Problem]]:
    """Works of a CSL-JSON text, and all that is wrong with it, each with its line.

    A work with an error is left out; what a source does not carry is left out of a work, and
    said in a warning.
    """
    works: list[Work] = []
    problems: list[Problem] = []
    try:
        for line, item in _items(text):
            found = [Problem(file, line, "source", *said) for said in _faults(item)]
            problems += found
            if all(each.severity == "warning" for each in found):
                works.append({name: item[name] for name in item if name in KEPT})
    except json.JSONDecodeError as error:
        message = f"the file is not readable as CSL-JSON: {error.msg}"
        problems.append(Problem(file, error.lineno, "source", message))
    return works, problems


def good_id(text: str) -> bool:
    """Whether a text can be an id on the site: lower-case words joined by hyphens."""
    return bool(_ID.fullmatch(text))


def _items(text: str) -> Iterable[tuple[int, Any]]:
    """Each item of a JSON list with the line it begins on, before the next is read."""
    decoder, at = json.JSONDecoder(), _after_space(text, 0)
    if text[at : at + 1] != "[":
        raise json.JSONDecodeError("it must be a list of works, [ … ]", text, at)
    at = _after_space(text, at + 1)
    while text[at : at + 1] != "]":
        item, end = decoder.raw_decode(text, at)
        yield text.count("\n", 0, at) + 1, item
        at = _after_space(text, end)
        if text[at : at + 1] == ",":
            at = _after_space(text, at + 1)
        elif text[at : at + 1] != "]":
            raise json.JSONDecodeError("a comma or the end of the list is missing", text, at)
    if text[at + 1 :].strip():
        raise json.JSONDecodeError("something stands after the list", text, at + 1)


def _after_space(text: str, at: int) -> int:
    while text[at : at + 1].isspace():
        at += 1
    return at


def _faults(item: object) -> Iterable[tuple[str, str]]:
    """What is wrong with one item: sentences with their severity."""
    if not isinstance(item, dict):
        yield "a work must be a mapping of names, { … }", "error"
        return
    label = item.get("id", "a work")
    for name in ("id", "type", "title"):
        if not isinstance(item.get(name), str) or not item[name].strip():
            yield f"{label} needs '{name}', a text", "error"
    if item.get("type") not in TYPES and isinstance(item.get("type"), str):
        yield f"'{item['type']}' of {label} is no type of CSL; 'document' fits anything", "error"
    for name in item:
        if name not in KEPT:
            yield f"'{name}' of {label} is left out; a source here has no place for it", "warning"
        elif not _fits(name, item[name]):
            yield f"'{name}' of {label} is not what CSL-JSON has there; {_shape(name)}", "error"


def _fits(name: str, value: object) -> bool:
    if name in NAMES:
        return isinstance(value, list) and all(_is_name(each) for each in value)
    if name in DATES:
        return isinstance(value, Mapping) and _is_date(value)
    if name == "custom":
        return isinstance(value, Mapping)
    return isinstance(value, str | int)


def _shape(name: str) -> str:
    if name in NAMES:
        return 'write [{"family": "…", "given": "…"}] or [{"literal": "…"}]'
    if name in DATES:
        return 'write {"date-parts": [[2026, 3, 1]]}'
    return "write a text"


def _is_name(value: object) -> bool:
    return (
        isinstance(value, Mapping)
        and bool(value.get("family") or value.get("literal"))
        and all(isinstance(part, str) for part in value.values())
    )


def _is_date(value: Mapping[str, Any]) -> bool:
    parts = value.get("date-parts")
    if parts is None:
        return isinstance(value.get("literal") or value.get("raw"), str)
    try:
        return 1 <= len(parts) <= 2 and all(
            1 <= len(each) <= 3 and all(str(int(part)) for part in each) for each in parts
        )
    except (TypeError, ValueError):
        return False


def _dated(value: Any) -> Any:
    """A date with its parts as numbers; one that does not fit stands as it is."""
    if not isinstance(value, Mapping) or not _is_date(value) or "date-parts" not in value:
        return value
    return {**value, "date-parts": [[int(part) for part in each] for each in value["date-parts"]]}
