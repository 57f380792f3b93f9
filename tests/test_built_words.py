"""The built site: every link leads somewhere, every picture has a text, all words are set alike."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

from tests.language.built import BuiltPage, dead_links, leaving, read_site
from tests.source_tree import ROOT

JOINED = re.compile(
    r"(?<![\w.-])\d[\d.,]*(?:[kMGmµ]?(?:Wh|Ah|W|V|A|Hz|Ω|J|Pa)|kg|mg|mm|cm|km|µm|°C|%|USD)(?![\w-])"
)
"""A number with its unit stuck to it."""


@pytest.fixture(scope="module")
def pages(built_site: Path) -> dict[Path, BuiltPage]:
    """Every page of the built site."""
    return read_site(built_site)


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A site of two pages with one of each mistake."""
    (tmp_path / "b").mkdir()
    (tmp_path / "index.html").write_text(
        '<h1 id="top">One</h1><a href="b/">b</a> <a href="b/#here">b</a> <a href="c/">c</a>\n'
        '<a href="b/#gone">b</a> <a href="#top">top</a> <a href="https://example.org/x">out</a>\n'
        '<img src="b/index.html"> <img src="b/" alt="A cell"> <svg role="img"></svg>\n'
        "<p>It holds 5Wh. <code>6Wh</code> The maker’s 'word'.</p>\n",
        encoding="utf-8",
    )
    (tmp_path / "b/index.html").write_text('<p id="here"><a href="../#top">up</a></p>', "utf-8")
    return tmp_path


def test_links_that_lead_nowhere_are_found(small: Path) -> None:
    assert list(dead_links(small, read_site(small))) == [
        "index.html:1: c/: no such page",
        "index.html:2: b/#gone: no such anchor",
    ]


def test_links_that_leave_are_found(small: Path) -> None:
    assert [link.address for _, link in leaving(read_site(small))] == ["https://example.org/x"]


def test_pictures_without_a_text_are_found(small: Path) -> None:
    assert len(read_site(small)[small.resolve() / "index.html"].nameless) == 2


def test_how_words_are_set_is_read(small: Path) -> None:
    page = read_site(small)[small.resolve() / "index.html"]
    assert joined_units(page) == ["4: 5Wh"]
    assert quotation_marks(page) == {"straight", "curly"}


def joined_units(page: BuiltPage) -> list[str]:
    """`line: number` for every number that its unit touches."""
    return [f"{line}: {found}" for line, said in page.words for found in JOINED.findall(said)]


def quotation_marks(page: BuiltPage) -> set[str]:
    """Which kinds of quotation marks and apostrophes a page has."""
    said = "".join(words for _, words in page.words)
    kinds = {"straight": r"['\"]", "curly": r"[‘’“”]"}
    return {kind for kind, signs in kinds.items() if re.search(signs, said)}


def test_every_link_leads_somewhere(built_site: Path, pages: dict[Path, BuiltPage]) -> None:
    assert len(pages) > 100
    assert not list(dead_links(built_site, pages))


def test_nothing_leads_out_but_to_sources(pages: dict[Path, BuiltPage]) -> None:
    sources = yaml.safe_load((ROOT / "site_data/sources.yml").read_text("utf-8"))
    known = {f"https://doi.org/{each['DOI']}" for each in sources if "DOI" in each}
    known |= {each["URL"] for each in sources if "URL" in each}
    assert not [f"{page}: {link}" for page, link in leaving(pages) if link.address not in known]


def test_every_picture_has_a_text(pages: dict[Path, BuiltPage]) -> None:
    assert not [f"{path}: {said}" for path, page in pages.items() for said in page.nameless]


def test_numbers_stand_apart_from_their_units(pages: dict[Path, BuiltPage]) -> None:
    assert not [f"{path}:{said}" for path, page in pages.items() for said in joined_units(page)]


def test_one_kind_of_quotation_mark(pages: dict[Path, BuiltPage]) -> None:
    assert not [str(path) for path, page in pages.items() if len(quotation_marks(page)) > 1]
