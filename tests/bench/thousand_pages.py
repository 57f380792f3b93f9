"""A thousand pages with ten figures, a calc of six inputs and five steps each.

Every figure is stated as the engine recomputes it, so that the site is clean.
"""

from __future__ import annotations

import random
from pathlib import Path

from calc.whole import work_through

PAGES = 1000
_STEPS = (
    ("energy", "charge * voltage in Wh"),
    ("specific_energy", "energy / mass in Wh/kg"),
    ("energy_density", "energy / volume in Wh/L"),
    ("loss", "current ** 2 * resistance in W"),
    ("share", "loss / (current * voltage) in %"),
)


def write_site(folder: Path, pages: int = PAGES) -> None:
    """Writes content/ and site_data/ below a folder; pages point at one another in a chain."""
    chance = random.Random(20260101)
    content, data = folder / "content", folder / "site_data"
    content.mkdir(parents=True)
    data.mkdir()
    (data / "sources.yml").write_text("- {id: bench, kind: measured, title: A bench record}\n")
    for at in range(pages):
        (content / f"page-{at:04}.md").write_text(_page(at, chance), encoding="utf-8")
    state_figures(content, data)


def _page(at: int, chance: random.Random) -> str:
    mass = f"{{from: cell-{at - 1:04}.mass}}" if at % 10 else _value(chance, 0.9, 1.1, "kg")
    inputs = {
        "charge": _value(chance, 50, 100, "A h"),
        "voltage": _value(chance, 3.2, 3.8, "V"),
        "mass": mass,
        "volume": _value(chance, 0.3, 0.6, "L"),
        "current": _value(chance, 30, 90, "A"),
        "resistance": _value(chance, 0.6, 1.4, "mohm"),
    }
    figures = [f"It comes to [](calc:cell-{at:04}.{name})." for name, _ in _STEPS]
    figures += [f"That is about [](calc:cell-{at:04}.{name}) again." for name, _ in _STEPS]
    lines = [f"# Cell {at}", "", "A cell, described at some length for the sake of a page.", ""]
    lines += ["```yaml calc", f"id: cell-{at:04}", f"title: Cell {at}", "inputs:"]
    lines += [f"  {name}: {text}" for name, text in inputs.items()]
    lines += ["steps:", *(f"  {name}: {formula}" for name, formula in _STEPS), "```", ""]
    return "\n".join([*lines, *(f"{figure}\n" for figure in figures)])


def _value(chance: random.Random, low: float, high: float, unit: str) -> str:
    value = chance.uniform(low, high)
    return f"{{value: {value:.4g} ± {value / 100:.2g} {unit}, source: bench}}"


def state_figures(content: Path, data: Path) -> None:
    """Fills every empty figure with what the engine recomputes for it."""
    whole = work_through(content, data)
    by_file: dict[str, list[tuple[int, str]]] = {}
    for judged in whole.judgement.figures:
        at = judged.figure.start + 1
        by_file.setdefault(judged.place.file, []).append((at, judged.shown))
    for page in whole.book.pages:
        text = page.text
        for at, shown in sorted(by_file.get(page.file, []), reverse=True):
            text = text[:at] + shown + text[at:]
        (content / page.path).write_text(text, encoding="utf-8")
