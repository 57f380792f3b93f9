"""`new`: a page or a sheet to begin with, which builds as it stands."""

from __future__ import annotations

import argparse
import re
from pathlib import Path, PurePosixPath

from calc.book.read import read_book
from calc.commands.folders import add_folders, refuse
from calc.judge.replace_file import replace_file

_NAME = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")

_PAGE = """\
---
title: {title}
description: One plain line that says what this page answers.
---

# {title}

State the answer first, in a sentence that holds its numbers: ten of them weigh
[20 ± 2 g](calc:{id}.total).

```yaml calc
id: {id}
title: {title}
inputs:
  one: {{value: 2.0 ± 0.2 g, source: assumption, because: "a number to begin with; put your own"}}
  count: {{value: 10, source: assumption, because: "a number to begin with; put your own"}}
steps:
  total: one * count in g
```

## What is not known

Say what would change the answer, and how one would find out.
"""

_SHEET = """\
# What this sheet holds, in which units, from which source and under which licence.
id: {id}
title: {title}
kind: cell
about: One plain line that says what this is.
inputs:
  mass: {{value: 20 ± 2 g, source: assumption, because: "a number to begin with; put your own"}}
"""


def add(parser: argparse.ArgumentParser) -> None:
    """Adds the words that new takes."""
    parser.add_argument("what", choices=("page", "sheet"), help="what to begin")
    parser.add_argument("name", help="its name, in lower case with hyphens; folders may precede it")
    add_folders(parser)


def run(asked: argparse.Namespace) -> int:
    """Writes the file; 2 when the name is no good, or taken."""
    name = PurePosixPath(asked.name)
    if name.is_absolute() or not all(_NAME.fullmatch(part) for part in name.parts):
        return refuse(f"'{asked.name}' is no name; write it like questions/how-heavy-is-it")
    template, root, ending = (
        (_PAGE, asked.content, ".md") if asked.what == "page" else (_SHEET, asked.data, ".yml")
    )
    path = Path(root) / f"{name}{ending}"
    if path.exists():
        return refuse(f"{path} is there already; choose another name, or edit it")
    if name.name in _taken(asked):
        return refuse(f"the id '{name.name}' is taken; choose another name")
    path.parent.mkdir(parents=True, exist_ok=True)
    title = name.name.replace("-", " ").capitalize()
    replace_file(path, template.format(id=name.name, title=title))
    print(f"{path} is begun; change what it says, and run check")
    return 0


def _taken(asked: argparse.Namespace) -> set[str]:
    book = read_book(asked.content, asked.data)
    shelves = (
        book.sheets, book.calcs, book.methods, book.claims, book.estimates, book.forecasts,
        book.questions, book.corrections, book.showings,
    )  # fmt: skip
    return {id for shelf in shelves for id in shelf}
