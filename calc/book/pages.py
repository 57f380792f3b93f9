"""Pages: front matter, blocks and figures of one Markdown file."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from pathlib import Path

from calc.book.calcs import read_calc, read_method
from calc.book.evidence import (
    read_claim,
    read_correction,
    read_estimates,
    read_forecast,
    read_question,
)
from calc.book.fields import Fields, Findings, is_day
from calc.book.files import read_text
from calc.book.headlines import note_loose
from calc.book.model import Block, Page
from calc.book.showings import read_showing
from calc.notation.blocks import Fence, fences, front_matter, ids_in, read_yaml
from calc.notation.loose import loose_figures
from calc.notation.prose import figures, unread_figures
from calc.problems import Wrong, nearest

READERS: Mapping[str, Callable[[Fields], Block | None]] = {
    "calc": read_calc,
    "method": read_method,
    "claim": read_claim,
    "estimates": read_estimates,
    "forecast": read_forecast,
    "question": read_question,
    "correction": read_correction,
    "chart": lambda fields: read_showing("chart", fields),
    "table": lambda fields: read_showing("table", fields),
    "explore": lambda fields: read_showing("explore", fields),
}
"""Kinds of blocks, and what reads each."""

_CALLED = {"estimates": "a block of estimates", "explore": "an explore panel"}
CAUTIONS = ("opening", "heating", "charging", "transporting")
"""What a page may touch that can hurt somebody."""
_HEADING = re.compile(r"^#\s+(.+?)\s*#*\s*$", re.M)
_QUOTED_BLOCK = re.compile(
    rf"^(?:[ ]*>|\t)[> \t]*(?:```|~~~)[`~]*\s*yaml\s+({'|'.join(READERS)})\b", re.M
)
_LINK = re.compile(r"\[([^\]\[]*)\]\([^)]*\)")


def read_page(path: Path, rel: str, findings: Findings) -> tuple[Page, list[Block]] | None:
    """A page with its blocks, or None when the file cannot be read."""
    text = read_text(path, findings)
    if text is None:
        return None
    front, body = front_matter(text)
    meta = _meta(front, findings)
    blocks: list[Block] = []
    places: list[tuple[int, int, str]] = []
    for fence in fences(text):
        block = _read_block(fence, findings)
        if _is_ours(fence):
            places.append((fence.start, fence.end, block.id if block else ""))
        if block:
            blocks.append(block)
    for quoted in _QUOTED_BLOCK.finditer(text):
        line = text.count("\n", 0, quoted.start()) + 1
        message = f"a {quoted[1]} block in a quotation is shown as text; begin its lines without"
        findings.say(line, "block", f"{message} the > or tab")
    for link in unread_figures(text):
        message = f"the link '{link.text}' cannot be read; write it like [270 Wh/kg](calc:id.name)"
        findings.say(link.line, "reference", message)
    heading = _HEADING.search(text, body)
    title = str(meta.get("title") or (_LINK.sub(r"\1", heading[1]) if heading else path.stem))
    page = Page(
        findings.file,
        rel,
        text,
        body,
        title,
        meta,
        figures(text),
        loose_figures(text),
        tuple(places),
    )
    return page, blocks


def _meta(front: str, findings: Findings) -> Mapping[str, object]:
    if not front.strip():
        return {}
    try:
        data = read_yaml(front, 2)
    except Wrong as error:
        findings.wrong(error, 2)
        return {}
    tree = data.tree
    if not isinstance(tree, dict):
        message = "what stands between the lines of --- is a mapping: title: and so on"
        findings.say(2, "yaml", message)
        return {}
    fields = Fields(data, (), findings, "the front matter")
    note_loose(fields)
    for caution in fields.texts("cautions"):
        if caution not in CAUTIONS:
            hint = nearest(caution, CAUTIONS) or f"; known are {', '.join(CAUTIONS)}"
            findings.say(2, "block", f"no caution is called '{caution}'{hint}")
    if (day := tree.get("review_by")) and not is_day(str(day)):
        findings.say(1, "block", f"review_by '{day}' is no day; write it like 2026-06-30")
        return {name: value for name, value in tree.items() if name != "review_by"}
    return tree


def _is_ours(fence: Fence) -> bool:
    """Whether a fence is a block of the notation, and no sample with a title or the like."""
    return bool(fence.kind) and not re.search(r"[={]", fence.kind)


def _read_block(fence: Fence, findings: Findings) -> Block | None:
    if not fence.closed:
        what = f"{fence.kind} block" if _is_ours(fence) else "code"
        message = f"the {what} is never closed; end it with a line of {fence.ticks} alone"
        findings.say(fence.line, "block", f"{message}, indented as here")
    if not _is_ours(fence):
        _note_misspelt(fence, findings)
        return None
    found = _read(fence, findings) if fence.closed else None
    if found is None:
        findings.lost |= ids_in(fence.text)
    return found


def _read(fence: Fence, findings: Findings) -> Block | None:
    reader = READERS.get(fence.kind)
    if reader is None:
        hint = nearest(fence.kind, READERS) or f"; known are {', '.join(READERS)}"
        findings.say(fence.line, "block", f"no block is called 'yaml {fence.kind}'{hint}")
        return None
    try:
        data = read_yaml(fence.text, fence.line + 1)
    except Wrong as error:
        findings.wrong(error, fence.line + 1)
        return None
    if not data.tree:
        findings.say(
            fence.line,
            "block",
            f"the {fence.kind} block is empty; give it an id and what it declares, or take it out",
        )
        return None
    if not isinstance(data.tree, dict):
        findings.say(
            fence.line,
            "block",
            f"a {fence.kind} block is a mapping: id:, title: and so on, a line each",
        )
        return None
    fields = Fields(data, (), findings, _CALLED.get(fence.kind, f"a {fence.kind}"))
    if fence.kind != "claim":  # the title of a claim is the wording of somebody else
        note_loose(fields)
    return reader(fields)


def _meant(info: str) -> str:
    """The kind of block that an info string spells in a way of its own, such as `yaml-claim`."""
    for word in re.findall(r"[a-z]+", re.sub(r"\"[^\"]*\"|'[^']*'", "", info.lower())):
        bare = re.sub(r"^ya?ml", "", word)
        for kind in (bare, bare.removesuffix("s"), f"{bare}s"):
            if kind in READERS:
                return kind
    return ""


def _note_misspelt(fence: Fence, findings: Findings) -> None:
    """A fence that was meant as a block: ```calc, or ```yml calc; or one that opens no code."""
    words = fence.info.split()
    if kind := _meant(fence.info):
        message = f"'{fence.info}' is read as code; write ```yaml {kind} to declare a {kind}"
        findings.say(fence.line, "block", message)
    elif len(words) > 1 and not re.search(r"[={]", fence.info):
        message = f"'{fence.info}' opens no code: what follows is shown as text; write one word"
        findings.say(fence.line, "block", message)
