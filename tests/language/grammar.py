"""Grammar by Harper, a checker that runs here and calls nobody, set to British English."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from tests.language.passages import Passage

ACCEPTED = Path(__file__).with_name("accepted.txt")

NOT_OURS = {
    "SpellCheck": "Aspell spells, with the words of the trade",
    "SentenceCapitalization": "labels and remarks of a block begin small",
    "OxfordComma": "the house writes a list without it",
    "MassNouns": "a coating, a rating and a loading are things of the trade",
    "SplitWords": "takes titanate and teardown apart",
    "CompoundNouns": "per cent and data sheet are British",
    "DisjointPrefixes": "current over charge is a fraction",
    "ExpandMinimum": "min is the minute",
    "ExpandTimeShorthands": "ms and min are units",
    "ItsContraction": "takes the possessive for a verb",
    "OrthographicConsistency": "mA is the unit",
    "UnclosedQuotes": "a docstring is shown in the developers' guide",
    "CondenseAllThe": "all of the interval is meant",
    "DayOneNames": "one day after another is nobody's name",
    "Spaces": "a rule of our own looks for them",
}
"""Rules that are left out, each with the reason."""

_AMPERE = re.compile(r"(?<=\d) A(?= |/|$)")
"""Its sign would be read as an article."""


def accepted() -> set[tuple[str, str]]:
    """(rule, words) that the checker gets wrong, from the list beside this module."""
    rows = (line.partition("#")[0].strip() for line in ACCEPTED.read_text("utf-8").splitlines())
    return {(rule, said.strip()) for rule, _, said in (row.partition(":") for row in rows if row)}


def mistakes(passages: Iterable[Passage], folder: Path) -> Iterator[str]:
    """`file:line: words: what is wrong with them (rule)` for all that the checker objects to."""
    read = list(passages)
    texts = [_AMPERE.sub(" amperes", " ".join(passage.text.split())) for passage in read]
    known = accepted()
    for lint in lints("\n\n".join(texts), folder):
        at = (lint["line"] - 1) // 2
        around = said_around(texts[at], lint["column"] - 1, len(lint["matched_text"]))
        if not any(rule == lint["rule"] and said in around for rule, said in known):
            yield f"{read[at].place()}: {around}: {lint['message']} ({lint['rule']})"


def said_around(text: str, start: int, length: int) -> str:
    """What was found, with a few words before and behind it."""
    before = text[:start].split(" ")[-4:]
    after = text[start + length :].split(" ")[:4]
    return " ".join(before) + text[start : start + length] + " ".join(after)


def lints(text: str, folder: Path) -> list[dict[str, Any]]:
    """What Harper says of a text, as it says it."""
    file = folder / "prose.txt"
    file.write_text(text, "utf-8")
    command = [sys.executable, "-m", "harper", "lint", "--quiet", "--format", "json"]
    command += ["--dialect", "british", "--ignore", ",".join(NOT_OURS), str(file)]
    ran = subprocess.run(command, capture_output=True, text=True, encoding="utf-8")
    return [lint for read in json.loads(ran.stdout) for lint in read["lints"]]
