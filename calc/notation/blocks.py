"""Fenced YAML blocks: strict reading that keeps every scalar as text, with its line.

YAML guesses types and lets the last of two keys win; here nothing is guessed, nothing is lost.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

import yaml

from calc.problems import Wrong

Path = tuple[str | int, ...]

_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_DEEPEST = 30  # an alias that holds itself would be read for ever
_FENCE = re.compile(r"^(?P<indent> *)(?P<ticks>`{3,}|~{3,})\s*(?P<info>[^`]*)$")
_FRONT = re.compile(r"\A---[ \t]*\n(.*?\n)(?:---|\.\.\.)[ \t]*(?:\n|\Z)", re.S)


@dataclass(frozen=True)
class Data:
    """What a YAML text holds: mappings, lists and texts, and the line of every part.

    `tree` is nested dict, list and str; `lines` maps a path to its line in the file.
    """

    tree: Any
    lines: Mapping[Path, int]

    def line(self, *path: str | int) -> int:
        """The line of a part, or of the nearest part around it that exists."""
        while path and path not in self.lines:
            path = path[:-1]
        return self.lines.get(path, 1)


@dataclass(frozen=True)
class Fence:
    """A fenced block of a page: its kind (the word after `yaml`), text and place.

    `line` is the line of the opening fence; `start` and `end` are offsets in the page's text.
    A fence may stand inside a list; `text` is without the indent that it has there. `info` is
    all that follows the opening ticks.
    """

    kind: str
    text: str
    line: int
    start: int
    end: int
    info: str = ""
    ticks: str = "```"
    closed: bool = True


@dataclass
class _Reader:
    first_line: int
    lines: dict[Path, int] = field(default_factory=dict)

    def read(self, node: yaml.Node, path: Path) -> Any:
        if len(path) > _DEEPEST:
            raise Wrong("yaml", "this holds itself, or is nested too deeply", node.start_mark.line)
        self.lines.setdefault(path, self.first_line + node.start_mark.line)
        if isinstance(node, yaml.MappingNode):
            return self._mapping(node, path)
        if isinstance(node, yaml.SequenceNode):
            return [self.read(item, (*path, at)) for at, item in enumerate(node.value)]
        return _scalar(node)

    def _mapping(self, node: yaml.MappingNode, path: Path) -> dict[str, Any]:
        found: dict[str, Any] = {}
        for key_node, value_node in node.value:
            key, row = str(key_node.value), key_node.start_mark.line
            if not isinstance(key_node, yaml.ScalarNode):
                raise Wrong("yaml", "a key must be a plain word", row)
            if key in found:
                raise Wrong("yaml", f"'{key}' stands twice in one block; keep one of them", row)
            if node.flow_style and _looks_cut(key, value_node):
                raise Wrong(
                    "yaml",
                    f"'{key}' has no value: inside {{…}} a comma ends what stands before it; put a"
                    ' text with a comma in quotes, as in {value: "50 to 58 um, likely 55 um"}',
                    row,
                )
            self.lines[(*path, key)] = self.first_line + row
            found[key] = self.read(value_node, (*path, key))
        return found


def _scalar(node: yaml.Node) -> str:
    plain_null = _unquoted(node) and node.value in ("~", "null")
    return "" if plain_null else str(node.value)


def _looks_cut(key: str, value: yaml.Node) -> bool:
    empty = _unquoted(value) and value.value == ""
    return empty and (" " in key or key[:1].isdigit())


def _unquoted(node: yaml.Node) -> bool:
    return isinstance(node, yaml.ScalarNode) and not node.style


def read_yaml(text: str, first_line: int = 1) -> Data:
    """Nested dicts, lists and texts of one YAML document, with lines counted from `first_line`.

    Raises: Wrong (kind "yaml"), whose offset is the row within the text.
    """
    if tab := _tab(text):
        raise Wrong("yaml", "a tab stands at the start of the line; indent with spaces", tab - 1)
    try:
        node = yaml.compose(text, Loader=_LOADER)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        row = min(mark.line, max(0, len(text.splitlines()) - 1)) if mark else 0
        raise Wrong("yaml", f"this is not readable YAML: {_said(error)}", row) from None
    except yaml.YAMLError as error:
        raise Wrong("yaml", f"this is not readable YAML: {error}".splitlines()[0]) from None
    reader = _Reader(first_line)
    tree = reader.read(node, ()) if node is not None else None
    return Data(tree, reader.lines)


def _tab(text: str) -> int:
    for row, line in enumerate(text.splitlines(), start=1):
        if re.match(r" *\t\s*\S", line):
            return row
    return 0


_MENDS = {
    "mapping values are not allowed": "; a text that holds ': ' needs quotes",
    "expected key": "; look at the indents here and a line above, and for a space after ':'",
    "expected ',' or": "; close the brace, and put a text with ': ', ' #' or a comma in quotes",
    "block end": "; look at the indent of this line and the one above",
}
"""What is usually behind a complaint of the reader of YAML."""


def _said(error: yaml.MarkedYAMLError) -> str:
    said = error.problem or error.context or "unknown trouble"
    return said + next((mend for found, mend in _MENDS.items() if found in said), "")


def ids_in(text: str) -> frozenset[str]:
    """The ids that a text declares, as far as can be told when it cannot be read."""
    return frozenset(re.findall(r"(?:^|[{,-])[ \t]*id:[ \t]*[\"']?([\w-]+)", text, re.M))


def front_matter(text: str) -> tuple[str, int]:
    """The YAML between `---` lines at the top of a page, and the offset where the body starts."""
    found = _FRONT.match(text)
    return (found[1], found.end()) if found else ("", 0)


def fences(text: str) -> Iterator[Fence]:
    """Every fenced block of a page, in order.

    A block left open ends with the page, or where a line stands further out than the block.
    """
    opened: re.Match[str] | None = None
    start = offset = first = 0
    inside: list[str] = []
    for row, line in enumerate(text.splitlines(keepends=True), start=1):
        if opened is not None and _stands_out(line, opened):
            yield replace(_fence(opened, inside, first, start, offset), closed=False)
            opened = None
        found = _FENCE.match(line.rstrip("\r\n"))
        if opened is None and found:
            opened, start, first, inside = found, offset, row, []
        elif opened is not None and found and _closes(found, opened):
            yield _fence(opened, inside, first, start, offset + len(line))
            opened = None
        elif opened is not None:
            inside.append(line)
        offset += len(line)
    if opened is not None:
        yield replace(_fence(opened, inside, first, start, offset), closed=False)


def _stands_out(line: str, opened: re.Match[str]) -> bool:
    return bool(line.strip()) and not line.startswith(opened["indent"])


def _closes(found: re.Match[str], opened: re.Match[str]) -> bool:
    """Whether a line ends the block: the same ticks at the same place, as Markdown reads it."""
    same = (found["indent"], found["ticks"]) == (opened["indent"], opened["ticks"])
    return same and not found["info"].strip()


def _fence(opened: re.Match[str], inside: list[str], line: int, start: int, end: int) -> Fence:
    words = opened["info"].split()
    kind = words[1] if len(words) > 1 and words[0] == "yaml" else ""
    indent = re.compile(f"^ {{0,{len(opened['indent'])}}}")
    text = "".join(indent.sub("", row) for row in inside)
    return Fence(kind, text, line, start, end, opened["info"].strip(), opened["ticks"])
