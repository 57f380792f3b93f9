"""Files from disk to text, with one clear problem when that fails."""

from __future__ import annotations

from pathlib import Path

from calc.book.fields import Findings
from calc.notation.blocks import Data, ids_in, read_yaml
from calc.problems import Wrong


def read_text(path: Path, findings: Findings) -> str | None:
    """The text of a file with plain line ends, or None when it cannot be read as UTF-8."""
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = path.read_bytes().count(b"\n", 0, error.start) + 1
        findings.say(
            line, "file", "this line is not UTF-8 text; save the file in the encoding UTF-8"
        )
        findings.lost |= ids_in(path.read_bytes().decode("utf-8", "replace"))
        return None
    except OSError as error:
        findings.say(1, "file", f"the file cannot be read: {error.strerror}")
        return None
    return text.replace("\r\n", "\n").replace("\r", "\n")


def read_data(path: Path, findings: Findings) -> Data | None:
    """The data of a YAML file, or None when it cannot be read."""
    text = read_text(path, findings)
    if text is None:
        return None
    try:
        return read_yaml(text)
    except Wrong as error:
        findings.wrong(error, 1)
        findings.lost |= ids_in(text)
        return None
