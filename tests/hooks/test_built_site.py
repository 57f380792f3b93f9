"""The built site as files: ids, weight, and that nothing is fetched from elsewhere."""

from __future__ import annotations

import gzip
import json
import re
from collections import Counter
from pathlib import Path

import pytest

PAGE_LIMIT, SCRIPT_LIMIT = 150_000, 20_000
"""Bytes, compressed: the longest page, and all scripts of our own."""

_ID = re.compile(r'<[a-z][^>]*?\sid="([^"]+)"')
_FETCHED = re.compile(
    r'<(?:script|img|link|iframe|source|video|audio)\b[^>]*?(?:src|href)="([^"]+)"'
)


@pytest.fixture(scope="module")
def pages(built_site: Path) -> dict[str, str]:
    """Every page of the site by its path."""
    return {
        file.relative_to(built_site).as_posix(): file.read_text("utf-8")
        for file in sorted(built_site.rglob("*.html"))
    }


def test_no_id_stands_twice_on_a_page(pages: dict[str, str]) -> None:
    twice = {
        path: [id for id, count in Counter(_ID.findall(html)).items() if count > 1]
        for path, html in pages.items()
    }
    assert not {path: ids for path, ids in twice.items() if ids}


def test_every_button_opens_something_that_is_there(pages: dict[str, str]) -> None:
    lost = {
        path: sorted(set(re.findall(r'popovertarget="([^"]+)"', html)) - set(_ID.findall(html)))
        for path, html in pages.items()
    }
    assert not {path: ids for path, ids in lost.items() if ids}
    assert sum(html.count("popovertarget") for html in pages.values()) > 500


def test_nothing_is_fetched_from_elsewhere(pages: dict[str, str]) -> None:
    fetched = {address for html in pages.values() for address in _FETCHED.findall(html)}
    assert fetched
    assert not {address for address in fetched if re.match(r"(?:https?:)?//", address)}


def test_no_figure_is_left_as_its_writer_typed_it(pages: dict[str, str]) -> None:
    left = [path for path, html in pages.items() if re.search(r'href="(?:calc|quote|given):', html)]
    assert not left
    assert not [path for path, html in pages.items() if "wc-hole-" in html or '"page:' in html]


def test_no_page_is_heavy(pages: dict[str, str]) -> None:
    weights = {path: len(gzip.compress(html.encode())) for path, html in pages.items()}
    heavy = {path: weight for path, weight in weights.items() if weight > PAGE_LIMIT}
    assert not heavy


def test_our_scripts_are_light(built_site: Path) -> None:
    scripts = sorted((built_site / "assets").glob("*.js"))
    assert scripts
    assert sum(len(gzip.compress(file.read_bytes())) for file in scripts) < SCRIPT_LIMIT


def test_the_published_data_is_there(built_site: Path) -> None:
    data = json.loads((built_site / "data" / "results.json").read_text("utf-8"))
    assert {"calcs", "figures", "checks", "problems"} <= data.keys()
    assert all(figure["agrees"] is not False for figure in data["figures"])


def test_cards_are_kept_out_of_the_search(built_site: Path) -> None:
    index = json.loads((built_site / "search" / "search_index.json").read_text("utf-8"))
    texts = [section["text"] for section in index["docs"]]
    assert any("watt-hours per kilogram" in said for said in texts)
    assert any("LiFePO4" in said for said in texts)
    assert not any("Weakest link:" in said for said in texts)
    assert not any("@graph" in said for said in texts)


def test_pages_carry_linked_data(pages: dict[str, str]) -> None:
    found = re.search(
        r'<script type="application/ld\+json">(.*?)</script>',
        pages["questions/energy-per-kilogram/index.html"],
    )
    assert found
    kinds = Counter(part["@type"] for part in json.loads(found[1])["@graph"])
    assert kinds["WebPage"] == 1
    assert kinds["Observation"] > 5
    assert kinds["Claim"] > 2


def test_what_can_be_downloaded_is_there(built_site: Path, pages: dict[str, str]) -> None:
    for name in ("results.json", "sources.json", "sources.bib", "corrections.xml"):
        assert f'href="../../data/{name}"' in pages["evidence/data/index.html"]
        assert (built_site / "data" / name).stat().st_size > 100
    csvs = list((built_site / "data").rglob("*.csv"))
    assert csvs
    assert all(file.with_name(file.name + "-metadata.json").exists() for file in csvs)
