"""Reading the fields of a block: what is there, what is missing, what is misspelt."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from typing import Any, Protocol

from calc.notation.blocks import Data, Path
from calc.problems import Problem, Wrong, nearest

_ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_NAME = re.compile(r"[a-z][a-z0-9]*(?:_[a-z0-9]+)*_?")


class Named(Protocol):
    """What stands under a name: an input, a step."""

    @property
    def name(self) -> str:
        """The name."""


@dataclass
class Findings:
    """The problems found while one file is read.

    `lost` are ids of blocks that are there and could not be read: what names them has no fault of
    its own. `unknown_keys` are those that have no meaning, by the block's path.
    """

    file: str
    problems: list[Problem] = field(default_factory=list)
    lost: set[str] = field(default_factory=set)
    unknown_keys: dict[Path, list[str]] = field(default_factory=dict)

    def say(self, line: int, kind: str, message: str, severity: str = "error") -> None:
        """Notes one problem of this file."""
        self.problems.append(Problem(self.file, line, kind, message, severity))

    def wrong(self, error: Wrong, line: int) -> None:
        """Notes what a parser raised, with its place."""
        self.problems.append(error.at(self.file, line))


@dataclass(frozen=True)
class Fields:
    """One mapping of a block, with its place; every reader notes what is wrong and goes on."""

    data: Data
    path: Path
    findings: Findings
    what: str

    @property
    def tree(self) -> dict[str, Any]:
        """The mapping itself; empty when something else stands there."""
        node = self.data.tree
        for part in self.path:
            node = _inside(node, part)
        return node if isinstance(node, dict) else {}

    def line(self, *path: str | int) -> int:
        """The line of a part of the mapping."""
        return self.data.line(*self.path, *path)

    def say(self, kind: str, message: str, *path: str | int) -> None:
        """Notes a problem at a part of the mapping."""
        self.findings.say(self.line(*path), kind, message)

    def only(self, known: Iterable[str]) -> None:
        """Notes every key that has no meaning here."""
        names = list(known)
        for key in self.tree:
            if key not in names:
                self.findings.unknown_keys.setdefault(self._whole_path, []).append(key)
                hint = nearest(key, names) or f"; known are {', '.join(names)}"
                self.say("block", f"'{key}' has no meaning in {self.what}{hint}", key)

    @property
    def _whole_path(self) -> Path:
        return (self.data.line(), *self.path)

    def misspelt(self, key: str) -> bool:
        """Whether a key that is missing was perhaps meant by one that has no meaning."""
        return bool(nearest(key, self.findings.unknown_keys.get(self._whole_path, ())))

    def lacks(self, key: str) -> bool:
        """Whether a key is missing, and no other spelling of it was noted already."""
        return key not in self.tree and not self.misspelt(key)

    def text(self, key: str, default: str = "") -> str:
        """A text field, or the default when it is absent."""
        value = self.tree.get(key, default)
        if isinstance(value, str):
            return value.strip()
        self.say("block", f"'{key}' of {self.what} must be a text", key)
        return default

    def needed(self, key: str, example: str) -> str:
        """A text field that must be there."""
        value = self.text(key)
        if not value and (self.lacks(key) or self.tree.get(key) == ""):
            self.say("block", f"{self.what} needs '{key}'; write {example}", key)
        return value

    def date(self, key: str, needed: bool = True) -> str:
        """A day such as 2026-06-30, as its text; "" when it is absent."""
        value = self.needed(key, f"{key}: 2026-06-30") if needed else self.text(key)
        if value and not is_day(value):
            self.say("block", f"'{value}' is no day; write it like 2026-06-30", key)
            return ""
        return value

    def identifier(self) -> str:
        """The block's id: lower-case words joined by hyphens."""
        value = self.needed("id", "id: a-name-of-its-own, in lower case with hyphens")
        if value and not _ID.fullmatch(value):
            self.say(
                "block",
                f"'{value}' is no id; write lower-case words joined by hyphens, such as"
                f" '{_as_id(value)}'",
                "id",
            )
        return value

    def sub(self, *path: str | int, what: str = "") -> Fields:
        """The fields of a mapping inside this one."""
        return Fields(self.data, (*self.path, *path), self.findings, what or self.what)

    def names(self, key: str) -> list[str]:
        """The keys of a mapping inside this one, each a good name."""
        value = self.tree.get(key, {})
        if value == "":
            return []
        if not isinstance(value, dict):
            self.say("block", f"'{key}' of {self.what} must be a mapping of names", key)
            return []
        return [name for name in value if self._good_name(name, key)]

    def lost(self, key: str, read: Iterable[Named]) -> tuple[str, ...]:
        """Names of a mapping that stand there and could not be read."""
        value, found = self.tree.get(key), {item.name for item in read}
        return tuple(name for name in value if name not in found) if isinstance(value, dict) else ()

    def _good_name(self, name: str, key: str) -> bool:
        if _NAME.fullmatch(name):
            return True
        self.say(
            "block",
            f"'{name}' is no name; write lower-case words joined by underscores, such as"
            f" '{_as_id(name).replace('-', '_')}'",
            key,
            name,
        )
        return False

    def texts(self, key: str) -> list[str]:
        """A list of texts; one text alone counts as a list of one."""
        value = self.tree.get(key, [])
        if isinstance(value, str):
            return [value] if value else []
        if isinstance(value, list) and all(isinstance(item, str) for item in value):
            return [str(item) for item in value]
        self.say("block", f"'{key}' of {self.what} must be a list of texts", key)
        return []

    def mapping(self, key: str) -> dict[str, str]:
        """A mapping of texts to texts."""
        value = self.tree.get(key, {})
        if isinstance(value, dict) and all(isinstance(item, str) for item in value.values()):
            return {name: str(item) for name, item in value.items()}
        if value:
            self.say("block", f"'{key}' of {self.what} must be a mapping of texts", key)
        return {}

    def items(self, key: str) -> list[int]:
        """The positions of a list of mappings."""
        value = self.tree.get(key) or []
        if isinstance(value, list) and all(isinstance(item, dict) for item in value):
            return list(range(len(value)))
        self.say("block", f"'{key}' of {self.what} must be a list of mappings", key)
        return []


def _inside(node: Any, part: str | int) -> Any:
    if isinstance(node, list) and isinstance(part, int):
        return node[part]
    return node.get(part, {}) if isinstance(node, dict) else {}


def is_day(text: str) -> bool:
    """Whether a text is a day of the calendar, written like 2026-06-30."""
    try:
        return len(text) == 10 and bool(date.fromisoformat(text))
    except ValueError:
        return False


def _as_id(text: str) -> str:
    return "-".join(re.findall(r"[a-z0-9]+", text.lower())) or "a-name"
