"""One mistake in an otherwise good book, and the place that its message must name."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

MARK = "◄"
MASS = "mass: {value: 1.2 ± 0.1 kg, source: bench}"
VOLT = "volt: {value: 3.66 ± 0.02 V, source: bench}"
SHOW = "x: mass in kg"
SOURCES = "- {id: bench, kind: measured, title: A bench record}\n"


@dataclass(frozen=True)
class Broken:
    """One mistake: its kind, a phrase of the message with its mend, and the files that hold it.

    `files` maps a path below the folder to its text; a page named alone stands in content/.
    """

    name: str
    kind: str
    phrase: str
    files: Mapping[str, str | bytes] = field(default_factory=dict)

    def place(self) -> tuple[str, int]:
        """The file and line that the arrow marks."""
        for file, text in self.files.items():
            rows = text.splitlines() if isinstance(text, str) else text.split(b"\n")
            for row, line in enumerate(rows, start=1):
                if (MARK if isinstance(line, str) else MARK.encode()) in line:
                    return file, row
        raise AssertionError(f"no line of '{self.name}' is marked")

    def written(self) -> dict[str, bytes]:
        """The files as they are written, without the mark, with a source called bench."""
        as_bytes = {
            file: text.encode() if isinstance(text, str) else text
            for file, text in self.files.items()
        }
        plain = {file: text.replace(MARK.encode(), b"") for file, text in as_bytes.items()}
        return {"site_data/sources.yml": SOURCES.encode(), **plain}


def page(name: str, kind: str, phrase: str, text: str, file: str = "") -> Broken:
    """A mistake in one page."""
    file = file or f"content/{name.replace(' ', '-')}.md"
    return Broken(name, kind, phrase, {file: text})


def block(body: str, kind: str = "calc", prose: str = "") -> str:
    """A page with one block."""
    return f"# Trial\n\n```yaml {kind}\n{body.strip()}\n```\n{prose}"


def calc(inputs: str, steps: str, more: str = "", prose: str = "") -> str:
    """A page with a calc called `trial`, a line for each input and step."""
    parts = ["id: trial", "inputs:", *lines(inputs), "steps:", *lines(steps), more]
    return block("\n".join(part for part in parts if part), prose=prose)


def lines(text: str) -> list[str]:
    """The lines of a text, each indented by two."""
    return [f"  {line.strip()}" for line in text.strip().splitlines()]
