"""Spelling by Aspell with its dictionary of British English in -ise, and the words of the trade."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Iterable, Iterator
from functools import lru_cache
from pathlib import Path

from tests.language.passages import CODE, Passage

DICTIONARY = "en_GB-ise"
TRADE = Path(__file__).with_name("words.txt")

_WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*")

_INNER_CAPITAL = re.compile(r"[a-z][A-Z]")


def dictionary_is_here() -> bool:
    """Whether Aspell and its British dictionary are on this machine."""
    try:
        listed = subprocess.run(["aspell", "dicts"], capture_output=True, text=True, check=True)
    except (OSError, subprocess.CalledProcessError):
        return False
    return DICTIONARY in listed.stdout.split()


@lru_cache(maxsize=1)
def trade_words() -> frozenset[str]:
    """The words of the list; what stands behind # is a remark."""
    lines = (line.partition("#")[0].strip() for line in TRADE.read_text("utf-8").splitlines())
    return frozenset(filter(None, lines))


def words(text: str) -> Iterator[tuple[int, str]]:
    """(offset, word) of a text: not single letters, endings of files, formulas and identifiers."""
    for found in _WORD.finditer(text):
        before, behind = text[: found.start()][-1:], text[found.end() : found.end() + 1]
        joined = before.isdigit() or behind.isdigit() or (before == "." and len(found.group()) < 5)
        if len(found.group()) > 1 and not joined and not _INNER_CAPITAL.search(found.group()):
            yield found.start(), found.group().replace("’", "'").removesuffix("'s")


def misspelt(passages: Iterable[Passage]) -> list[str]:
    """`file:line: word` of every word that neither the dictionary nor the list knows."""
    places: dict[str, list[str]] = {}
    for passage in passages:
        for offset, word in words(passage.text):
            places.setdefault(word, []).append(passage.place(offset))
    unknown = not_in_dictionary(places) - {CODE}
    return [
        f"{place}: {word}"
        for word in sorted(unknown, key=str.casefold)
        if not known_to_the_trade(word)
        for place in dict.fromkeys(places[word])
    ]


def known_to_the_trade(word: str) -> bool:
    """Whether the list has the word: as it stands, or in lower case at the start of a sentence."""
    listed = trade_words()
    return word in listed or word[:1].lower() + word[1:] in listed


def not_in_dictionary(asked: Iterable[str]) -> set[str]:
    """Those of the words that Aspell does not accept."""
    listed = subprocess.run(
        ["aspell", "list", f"--master={DICTIONARY}", "--encoding=utf-8", "--ignore=0"],
        input="\n".join(asked),
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=True,
    )
    return set(listed.stdout.split())
