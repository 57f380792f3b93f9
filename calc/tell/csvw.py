"""What a CSV file holds, in the terms of CSV on the Web: a column each, with its unit.

CSV on the Web has no term for a unit or an uncertainty: the unit is told with schema.org's
unitText, and an uncertainty has a column of its own.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from typing import Any

CONTEXT = "http://www.w3.org/ns/csvw"


def csvw(
    file: str, title: str, headings: Sequence[str], texts: Collection[int] = ()
) -> dict[str, Any]:
    """Metadata of one CSV file.

    Parameters: file, its address relative to the metadata; title, in plain words; headings, as
    they stand in its first line, `quantity / unit`; texts, the positions of columns of text, the
    others being numbers.
    """
    names = _names(headings)
    return {
        "@context": CONTEXT,
        "url": file,
        "dc:title": title,
        "tableSchema": {
            "columns": [
                _column(name, heading, at in texts)
                for at, (name, heading) in enumerate(zip(names, headings, strict=True))
            ]
        },
    }


def _column(name: str, heading: str, is_text: bool) -> dict[str, Any]:
    column = {"name": name, "titles": heading, "datatype": "string" if is_text else "number"}
    unit = heading.partition(" / ")[2]
    return column | ({"schema:unitText": unit.strip()} if unit else {})


def _names(headings: Sequence[str]) -> list[str]:
    """A name for each column that may stand in an address: words joined by underscores, unique."""
    found: list[str] = []
    for heading in headings:
        words = re.findall(r"[a-z0-9]+", heading.partition(" / ")[0].lower())
        name = stem = "_".join(words) or "column"
        number = 1
        while name in found:
            number += 1
            name = f"{stem}_{number}"
        found.append(name)
    return found
