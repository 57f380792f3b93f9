"""Settings of a site: `settings.yml`, read strictly; every setting has a usual value."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from calc.book.fields import Fields, Findings
from calc.book.files import read_data
from calc.notation.quantity import parse_quantity
from calc.notation.units import PLAIN
from calc.problems import Wrong

SETTINGS_FILE = "settings.yml"


@dataclass(frozen=True)
class Settings:
    """Limits that a site may set for itself, all of them fractions from 0 to 1.

    A claim `holds_from` this probability and `fails_up_to` that one. `shared_source` is the part
    of the smaller variance that two estimates from one source have in common. Estimates scatter
    too widely when chance does so with less than `significance`.
    """

    holds_from: float = 0.95
    fails_up_to: float = 0.05
    shared_source: float = 0.5
    significance: float = 0.05


def read_settings(path: Path, findings: Findings) -> Settings:
    """The settings of a file; the usual ones when there is none, or where one cannot be read."""
    data = read_data(path, findings) if path.exists() else None
    if data is None or data.tree in (None, ""):
        return Settings()
    if not isinstance(data.tree, dict):
        findings.say(1, "yaml", "settings are a mapping, such as holds_from: 95 %")
        return Settings()
    fields = Fields(data, (), findings, "the settings")
    usual = Settings()
    fields.only(vars(usual))
    found = Settings(**{name: _share(fields, name, value) for name, value in vars(usual).items()})
    if not 0 <= found.fails_up_to < found.holds_from <= 1:
        fields.say("block", "fails_up_to must lie below holds_from, so that some room is undecided")
        return usual
    return found


def _share(fields: Fields, name: str, usual: float) -> float:
    text = fields.text(name)
    if not text:
        return usual
    try:
        quantity = parse_quantity(text)
    except Wrong as error:
        fields.findings.wrong(error, fields.line(name))
        return usual
    if quantity.unit.dimension != PLAIN or not 0 <= quantity.base < 1 + (name == "holds_from"):
        fields.say("block", f"'{name}' is a share such as {100 * usual:g} %, not '{text}'", name)
        return usual
    return quantity.base
