"""What readers and writers of this site read, taken out of its files with its lines.

Markdown is stripped to the words on the page; of YAML the texts alone are kept, not the keys,
formulas and ids; of Python and JavaScript the strings that hold a phrase.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from html import unescape

from calc.notation.blocks import Data, fences, front_matter, read_yaml
from calc.notation.visible import blanked
from tests.source_tree import ROOT, modules

SPOKEN = frozenset(
    "title about because asks settles says answers alt reason why description independent note"
    " x_label was now licence edition".split()
)
"""Keys of blocks and sheets whose value is shown to a reader."""
LABELLED = frozenset({"of", "rows", "columns"})
"""Keys of charts and tables below which the names are shown to a reader."""
CODE = "code"
"""Stands for what is code or a formula in a sentence, so that the sentence stays whole."""
FILLED = "0"
"""Stands for what a message puts in; no letter, so that `0's` and `figure0` are read as words."""

_CODE_SPAN = re.compile(r"(?P<ticks>`+)(?!`).+?(?<!`)(?P=ticks)(?!`)", re.S)
_LINK = re.compile(r"!?\[(?P<text>[^\]\[]*)\](?:\([^)\n]*\)|\[[^\]\n]*\])")
_MARKUP = re.compile(
    r"<!--.*?-->|</?[A-Za-z][^>]*>|\{[:#.][^}\n]*\}|https?://[^\s)>]+"
    r"|^\[[^\]]+\]:[^\n]*$|(?<!\w)[*_]{1,3}(?=\S)|(?<=\S)[*_]{1,3}(?!\w)",
    re.S | re.M,
)
_START = re.compile(r"^ *(?:#{1,6} |[-*+] |\d+\. |> ?|\|)* *", re.M)
_PARAGRAPH = re.compile(r"[^\n]*\S[^\n]*(?:\n(?! *(?:#|[-*+:] |\d+\. |\|))[^\n]*\S[^\n]*)*")
"""Lines up to an empty one; a heading, an item, a definition and a row of a table begin anew."""
_DEFINED = re.compile(r"^ *: {2,}", re.M)
_PHRASE = re.compile(r"[A-Za-zé’']{2,}[,;:.]? [A-Za-zé’'(]{1,}")
_MACHINE = re.compile(r"^wc-|^\w+ (?:article-|container-)|\|\w")
"""Classes of a style sheet, words of a format, patterns: strings that nobody reads."""
_REMARK = re.compile(r"/\*.*?\*/|(?<!:)//[^\n]*", re.S)
_SCRIPT_STRING = re.compile(r"\"(?:[^\"\\\n]|\\.)*\"|'(?:[^'\\\n]|\\.)*'|`(?:[^`\\]|\\.)*`")


@dataclass(frozen=True)
class Passage:
    """A paragraph, a heading, a cell of a table or one text of a block, as it is read.

    `line` is where it starts; a line break inside it is one in the file.
    """

    path: str
    line: int
    text: str
    heading: bool = False

    def place(self, offset: int = 0) -> str:
        """File and line of a character of the text."""
        return f"{self.path}:{self.line + self.text.count(chr(10), 0, offset)}"


def all_passages() -> Iterator[Passage]:
    """Everything written here for people, in the order of the files."""
    for path in pages():
        yield from of_page(path, (ROOT / path).read_text("utf-8"))
    for path in sheets():
        yield from of_yaml(path, read_yaml((ROOT / path).read_text("utf-8")))
    for module in modules("calc", "hooks"):
        yield from of_python(module.path, module.tree)
    for script in sorted((ROOT / "content/assets").glob("*.js")):
        yield from of_script(script.relative_to(ROOT).as_posix(), script.read_text("utf-8"))


def pages() -> list[str]:
    """Every page of the site, and what stands at the top of the repository."""
    inside = sorted(path.relative_to(ROOT).as_posix() for path in ROOT.glob("content/**/*.md"))
    return [*inside, "README.md", "DEVELOPERS.md", "CHANGELOG.md"]


def sheets() -> list[str]:
    """Every YAML file of facts."""
    return sorted(path.relative_to(ROOT).as_posix() for path in ROOT.glob("site_data/**/*.yml"))


def of_page(path: str, text: str) -> Iterator[Passage]:
    """Front matter, blocks and prose of one page."""
    front, _ = front_matter(text)
    if front:
        yield from of_yaml(path, read_yaml(front, 2))
    for fence in fences(text):
        if fence.kind:
            yield from of_yaml(path, read_yaml(fence.text, fence.line + 1))
    yield from of_markdown(path, blanked(text))


def of_yaml(path: str, data: Data) -> Iterator[Passage]:
    """The texts of a block or a sheet."""
    yield from _texts(path, data, data.tree, ())


def _texts(path: str, data: Data, tree: object, at: tuple[str | int, ...]) -> Iterator[Passage]:
    if isinstance(tree, dict):
        source = "kind" in tree and "type" in tree  # its title is somebody else's words
        for key, value in tree.items():
            here = (*at, key)
            if at and at[-1] in LABELLED:
                yield Passage(path, data.line(*here), plain(key))
            if isinstance(value, str) and key in SPOKEN and not (source and key == "title"):
                heading = key == "title" and not at
                yield Passage(path, data.line(*here), plain(value), heading)
            yield from _texts(path, data, value, here)
    elif isinstance(tree, list):
        for index, value in enumerate(tree):
            yield from _texts(path, data, value, (*at, index))


def of_markdown(path: str, text: str) -> Iterator[Passage]:
    """Paragraphs, headings, list items and cells of tables."""
    line, at = 1, 0
    for found in _PARAGRAPH.finditer(text):
        line += text.count("\n", at, found.start())
        at = found.start()
        block = found.group()
        if block.startswith("    ") and not path.startswith("content/"):
            continue  # an example of code
        heading = bool(re.match(r" *#{1,6} ", block))
        for cell in re.split(r"(?<!\\)\|", block) if block.lstrip().startswith("|") else [block]:
            if re.search(r"\w", said := plain(_START.sub("", cell))):
                yield Passage(path, line, said, heading)


def plain(text: str) -> str:
    """The words of a line of Markdown: links as their text, code as one word."""
    text = _CODE_SPAN.sub(lambda found: "\n" * found.group().count("\n") + CODE, text)
    text = _LINK.sub(lambda found: found["text"] or "so much", text)
    return unescape(_DEFINED.sub("", _MARKUP.sub("", text))).strip(" ")


def of_python(path: str, tree: ast.AST) -> Iterator[Passage]:
    """Strings of a module that hold a phrase, and are neither docstrings nor patterns."""
    silent = set(_silent(tree))
    for node in ast.walk(tree):
        if id(node) in silent:
            continue
        if isinstance(node, ast.JoinedStr):
            silent.update(id(part) for part in node.values)
            yield from _string(path, node.lineno, "".join(map(_part, node.values)))
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield from _string(path, node.lineno, node.value)


def _silent(tree: ast.AST) -> Iterator[int]:
    """Docstrings, the patterns given to re, and lists of words that are split at once."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            yield id(node.value)
        if isinstance(node, ast.Call) and ast.unparse(node.func).startswith("re."):
            yield from (id(part) for given in node.args for part in ast.walk(given))
        if isinstance(node, ast.Attribute) and node.attr == "split":
            yield id(node.value)


def _part(node: ast.expr) -> str:
    return str(node.value) if isinstance(node, ast.Constant) else FILLED


def _string(path: str, line: int, text: str) -> Iterator[Passage]:
    said = unescape(re.sub(r"(?:\s*<[^>]*>\s*)+", " ", text))
    if _PHRASE.search(said) and not _MACHINE.search(text):
        yield Passage(path, line, said)


def of_script(path: str, text: str) -> Iterator[Passage]:
    """Strings of a script that hold a phrase."""
    bare = _REMARK.sub(lambda found: "\n" * found.group().count("\n"), text)
    for found in _SCRIPT_STRING.finditer(bare):
        said = re.sub(r"\$\{[^}]*\}", FILLED, found.group()[1:-1])
        yield from _string(path, bare.count("\n", 0, found.start()) + 1, said)
