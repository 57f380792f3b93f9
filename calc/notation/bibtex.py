"""BibTeX as text: entries with their fields and lines, read strictly and written plainly."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from calc.problems import Wrong

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_WORD = re.compile(r"[^\s\"#%'(),={}]+")
_ENTRY = re.compile(r"@[ \t]*([A-Za-z]+)")
_NEXT = re.compile(r"^[ \t]*@", re.MULTILINE)
_CLOSING = {"{": "}", "(": ")"}


@dataclass(frozen=True)
class Entry:
    """One entry: its kind and field names in lower case, its values as raw LaTeX.

    `line` is where it begins, counted from 1; `lines` that of each field.
    """

    kind: str
    key: str
    fields: Mapping[str, str]
    line: int = 1
    lines: Mapping[str, int] = field(default_factory=dict)


def read_bibtex(text: str) -> tuple[tuple[Entry, ...], tuple[Wrong, ...]]:
    """All entries of a BibTeX text, and all that is wrong with the others.

    Text between entries is a comment, as BibTeX has it. After a fault, reading goes on at the
    next line that begins with @.
    Returns: entries in their order; faults of kind "source", `offset` the lines above each.

    >>> read_bibtex("@book{k, title = {A}}")[0][0].fields["title"]
    'A'
    """
    reader = _Reader(text, {month: str(at) for at, month in enumerate(_MONTHS, start=1)})
    found: dict[str, Entry] = {}
    faults = []
    while start := reader.next_entry():
        try:
            entry = reader.entry(start)
            if entry and entry.key in found:
                reader.fail(f"the key '{entry.key}' stands twice; give one another name", start)
            if entry:
                found[entry.key] = entry
        except Wrong as fault:
            faults.append(fault)
            reader.skip_from(start)
    return tuple(found.values()), tuple(faults)


def write_bibtex(entries: Iterable[Entry]) -> str:
    """The entries as BibTeX, a field a line, in the order given.

    >>> print(write_bibtex([Entry("book", "k", {"title": "A"})]), end="")
    @book{k,
      title = {A},
    }
    """
    return "\n".join(_written(entry) for entry in entries)


def _written(entry: Entry) -> str:
    rows = "".join(f"  {name} = {{{value}}},\n" for name, value in entry.fields.items())
    return f"@{entry.kind}{{{entry.key},\n{rows}}}\n"


@dataclass
class _Reader:
    """A place in the text, and the words that @string has defined so far."""

    text: str
    words: dict[str, str]
    at: int = 0

    def next_entry(self) -> re.Match[str] | None:
        found = _ENTRY.search(self.text, self.at)
        if found:
            self.at = found.end()
        return found

    def skip_from(self, start: re.Match[str]) -> None:
        following = _NEXT.search(self.text, start.end())
        self.at = following.start() if following else len(self.text)

    def entry(self, start: re.Match[str]) -> Entry | None:
        kind = start[1].lower()
        if kind == "comment":
            return None
        opened = self.at_space_then("{(", f"'@{start[1]}' must be followed by '{{'")
        closing = _CLOSING[opened]
        if kind == "preamble":
            self.value()
            self.inside(start)
            self.at_space_then(closing, "only one value may stand in a '@preamble'")
            return None
        if kind == "string":
            self.words.update(self.fields(closing, start)[0])
            return None
        key = self.word(f"an entry needs a key, as in '@{start[1]}{{a-key,'")
        if self.peek() != closing:
            self.at_space_then(",", f"a comma must follow the key '{key}'")
        fields, lines = self.fields(closing, start)
        return Entry(kind, key, fields, self.line(start.start()), lines)

    def fields(self, closing: str, start: re.Match[str]) -> tuple[dict[str, str], dict[str, int]]:
        fields: dict[str, str] = {}
        lines: dict[str, int] = {}
        while self.inside(start) != closing:
            name = self.word("a field name, such as 'title', is expected here").lower()
            if name in fields:
                self.fail(f"the field '{name}' stands twice in one entry; keep one")
            lines[name] = self.line(self.at)
            self.at_space_then("=", f"'=' must follow the field name '{name}'")
            fields[name] = self.value()
            if self.inside(start) != closing:
                self.at_space_then(",", f"a comma must follow the value of '{name}'")
        self.at += 1
        return fields, lines

    def value(self) -> str:
        parts = [self.part()]
        while self.peek() == "#":
            self.at += 1
            parts.append(self.part())
        return " ".join("".join(parts).split())

    def part(self) -> str:
        opening = self.peek()
        if opening == "{":
            return self.delimited("}")
        if opening == '"':
            return self.delimited('"')
        word = self.word("a value in braces or quotes is expected here")
        if word.isdigit():
            return word
        if word.lower() not in self.words:
            self.fail(f"'{word}' is neither in braces nor defined by @string; put it in braces")
        return self.words[word.lower()]

    def delimited(self, closing: str) -> str:
        """The text up to a closing sign outside any inner braces; escaped braces count not."""
        opened, depth = self.at, 0
        self.at += 1
        while self.at < len(self.text):
            sign = self.text[self.at]
            if sign == closing and depth == 0:
                self.at += 1
                return self.text[opened + 1 : self.at - 1]
            if sign == "}" and depth == 0:
                self.fail("a '}' closes what nothing opened")
            depth += {"{": 1, "}": -1}.get(sign, 0)
            self.at += 2 if sign == "\\" else 1
        self.at = opened
        return self.fail(f"the '{self.text[opened]}' of this line does not close")

    def word(self, message: str) -> str:
        self.peek()
        found = _WORD.match(self.text, self.at)
        if not found:
            return self.fail(message)
        self.at = found.end()
        return found.group()

    def inside(self, start: re.Match[str]) -> str:
        """The next sign of an entry, which must not end before it closes."""
        return self.peek() or self.fail(f"the '@{start[1]}' of this line does not close", start)

    def peek(self) -> str:
        while self.text[self.at : self.at + 1].isspace():
            self.at += 1
        return self.text[self.at : self.at + 1]

    def at_space_then(self, signs: str, message: str, start: re.Match[str] | None = None) -> str:
        sign = self.peek()
        if not sign or sign not in signs:
            self.fail(message, start)
        self.at += 1
        return sign

    def line(self, at: int) -> int:
        return self.text.count("\n", 0, at) + 1

    def fail(self, message: str, start: re.Match[str] | None = None) -> str:
        raise Wrong("source", message, offset=self.line(start.start() if start else self.at) - 1)
