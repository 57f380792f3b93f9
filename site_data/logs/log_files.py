"""Logs as files: what every one of them says of itself, their digits, and the meters' noise."""

from __future__ import annotations

import zlib
from collections.abc import Mapping
from pathlib import Path

import numpy as np
from cell_models import Bench


def write(
    folder: Path,
    name: str,
    about: str,
    columns: Mapping[str, tuple[np.ndarray, int]],
    kind: str = "Invented data",
) -> None:
    """One log: a line that says what it is, headings quantity / unit, values with their digits."""
    rows = zip(*(np.asarray(values) for values, _ in columns.values()), strict=True)
    digits = [places for _, places in columns.values()]
    lines = [f"# {kind}: {about}", ",".join(columns)]
    for row in rows:
        # Adding zero turns a rounded minus nought into nought.
        cells = (
            f"{round(float(value), n) + 0.0:.{n}f}" for value, n in zip(row, digits, strict=True)
        )
        lines.append(",".join(cells))
    (folder / name).write_text("\n".join(lines) + "\n", encoding="utf-8")


def chance(name: str) -> np.random.Generator:
    """The random numbers of one log, set by its name so that no other log moves them."""
    return np.random.default_rng(zlib.crc32(name.encode()))


def record(folder: Path, name: str, about: str, bench: Bench, every: float, scale: float) -> None:
    """A bench's record, sampled and read by meters with noise; `scale` is their largest current."""
    write(folder, name, about, read_by_meters(name, bench, every, scale))


def read_by_meters(
    name: str, bench: Bench, every: float, scale: float
) -> dict[str, tuple[np.ndarray, int]]:
    """The columns of a bench's record, with the noise of its meters, and their digits."""
    random = chance(name)
    table = bench.sampled(every)
    return {
        "time / s": (table["time"], 1 if every < 1 else 0),
        "voltage / V": (table["voltage"] + random.normal(0, 3e-4, len(table["time"])), 4),
        "current / A": (
            np.where(table["current"] == 0, 0.0, table["current"])
            + random.normal(0, 1e-4 * scale, len(table["time"])),
            4 if scale < 10 else 3,
        ),
        "temperature / degC": (
            table["temperature"] + random.normal(0, 0.05, len(table["time"])),
            2,
        ),
    }
