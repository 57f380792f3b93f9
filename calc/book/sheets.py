"""Sheets: YAML files that hold the inputs of one subject each.

A sheet without an id goes by the name of its file.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from calc.book.fields import Fields, Findings
from calc.book.files import read_data
from calc.book.inputs import read_inputs
from calc.book.model import Place, Sheet

NOT_SHEETS = ("sources.yml", "settings.yml")


def read_sheets(root: Path, label: str) -> Iterator[tuple[Sheet | None, Findings]]:
    """Every sheet below a folder, in the order of their paths, with what is wrong in it."""
    paths = sorted((*root.rglob("*.yml"), *root.rglob("*.yaml")))
    for path in paths:
        rel = path.relative_to(root).as_posix()
        if rel not in NOT_SHEETS:
            findings = Findings(f"{label}/{rel}")
            yield _read_sheet(path, findings), findings


def _read_sheet(path: Path, findings: Findings) -> Sheet | None:
    data = read_data(path, findings)
    if data is None:
        return None
    if not isinstance(data.tree, dict):
        findings.say(1, "yaml", "a sheet is a mapping with id, title and inputs")
        return None
    fields = Fields(data, (), findings, "a sheet")
    fields.only(("id", "title", "kind", "about", "inputs"))
    inputs = read_inputs(fields)
    return Sheet(
        fields.identifier() if "id" in fields.tree else path.stem,
        fields.text("title"),
        fields.text("kind"),
        fields.text("about"),
        Place(findings.file, 1),
        inputs,
        fields.lost("inputs", inputs),
    )
