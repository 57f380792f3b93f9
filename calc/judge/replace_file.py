"""Writing a file so that whoever reads it finds the old text or the new, never a part."""

from __future__ import annotations

import os
from pathlib import Path


def replace_file(path: Path, text: str) -> None:
    """Put text in place of a file's whole content, in one step.

    The text goes to a neighbour first and is on the disk before it takes the name over, so a
    process killed at any point leaves a whole file. The neighbour's name is fixed: what a killed
    process left behind is overwritten by the next.
    Raises: OSError when the folder cannot be written to; the old file then stands.
    """
    neighbour = path.with_name(f".{path.name}.new")
    with neighbour.open("w", encoding="utf-8", newline="\n") as file:
        file.write(text)
        file.flush()
        os.fsync(file.fileno())
    os.replace(neighbour, path)
    folder = os.open(path.parent, os.O_RDONLY)
    try:
        os.fsync(folder)  # the new name itself must outlive a power cut
    finally:
        os.close(folder)
