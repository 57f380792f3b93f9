"""What a reader has to fetch."""

from __future__ import annotations

import gzip
from pathlib import Path

PAGE, SCRIPTS = 150_000, 20_000
"""The most that the HTML of one page, and all scripts of ours, may weigh when compressed [byte]."""


def weight(path: Path) -> int:
    """Bytes of a file as gzip sends it."""
    return len(gzip.compress(path.read_bytes(), mtime=0))


def test_the_longest_page_is_light(built_site: Path) -> None:
    weights = {path: weight(path) for path in built_site.rglob("*.html")}
    heaviest = max(weights, key=lambda path: weights[path])
    assert weights[heaviest] < PAGE, heaviest.relative_to(built_site)


def test_our_scripts_are_light(built_site: Path) -> None:
    scripts = list((built_site / "assets").glob("*.js"))
    assert scripts
    assert sum(map(weight, scripts)) < SCRIPTS
