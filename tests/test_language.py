"""The words of the site: spelled, built and set as its house writes, and fit for a lay reader."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from calc.notation.blocks import read_yaml
from tests.language import grade, grammar, spelling
from tests.language.house import against_the_house
from tests.language.passages import Passage, all_passages, of_markdown, of_page, of_yaml
from tests.source_tree import ROOT

HARDEST = 10.0
"""Years of school that the answer at the head of a question page may ask for."""

QUESTIONS = sorted(path.name for path in ROOT.glob("content/questions/*.md"))


@pytest.fixture(scope="module")
def passages() -> list[Passage]:
    """All that is written here for people."""
    return list(all_passages())


@pytest.fixture(scope="module")
def dictionary() -> None:
    """What a test of spelling needs; it is skipped only where none is found, and fails in CI."""
    if spelling.dictionary_is_here():
        return
    missing = "no dictionary of British English: install the packages aspell and aspell-en"
    if os.environ.get("CI"):
        pytest.fail(missing)
    pytest.skip(missing)


def test_every_kind_of_text_is_read(passages: list[Passage]) -> None:
    paths = {passage.path for passage in passages}
    assert {"README.md", "content/glossary.md", "site_data/cells/heron.yml"} <= paths
    assert {"hooks/cautions.py", "calc/book/inputs.py", "content/assets/explore.js"} <= paths
    assert {f"content/questions/{name}" for name in QUESTIONS} <= paths


def test_a_text_is_read_with_its_line() -> None:
    page = (
        "---\ntitle: A page\n---\n\n# A *page*\n\nOne [2 V](calc:x.y) `code`\nline. <b>Bold</b>\n"
    )
    block = "\n```yaml calc\nid: x\ninputs:\n  a: {value: 1 V, because: for want of better}\n```\n"
    read = [(each.place(), each.text) for each in of_page("p.md", page + block)]
    assert read == [
        ("p.md:2", "A page"),
        ("p.md:13", "for want of better"),
        ("p.md:5", "A page"),
        ("p.md:7", "One 2 V code\nline. Bold"),
    ]


def test_the_title_of_a_work_is_somebody_elses() -> None:
    work = "- {id: a, type: book, kind: published, title: Aging color, note: ours}"
    assert [each.text for each in of_yaml("s.yml", read_yaml(work))] == ["ours"]


def test_a_misspelt_word_is_found(dictionary: None) -> None:
    text = "The colour of aluminium.\nA seperate Heron organizes its coulombic efficency.\n"
    found = spelling.misspelt(of_markdown("p.md", text))
    assert found == ["p.md:2: efficency", "p.md:2: organizes", "p.md:2: seperate"]


def test_spelling(dictionary: None, passages: list[Passage]) -> None:
    assert not spelling.misspelt(passages), f"mend it, or see {spelling.TRADE.name}"


def test_no_word_is_listed_in_vain(dictionary: None) -> None:
    assert spelling.trade_words() == spelling.not_in_dictionary(spelling.trade_words())


def test_a_mistake_of_grammar_is_found(tmp_path: Path) -> None:
    text = "# Cells\n\nThe cell have been a old one. It could of been new.\n"
    found = list(grammar.mistakes(of_markdown("p.md", text), tmp_path))
    assert any("p.md:3" in each and "a old" in each for each in found)
    assert any("could of" in each for each in found)


@pytest.mark.slow
def test_grammar(passages: list[Passage], tmp_path: Path) -> None:
    written = [each for each in passages if not each.path.endswith((".py", ".js"))]
    found = list(grammar.mistakes(written, tmp_path))
    assert not found, f"mend it, or see {grammar.ACCEPTED.name}"


@pytest.mark.parametrize(
    "text",
    [
        "It holds 5 Wh, or 5Wh.",
        "Two  spaces.",
        "How grand!",
        "The maker’s word.",
        "An aging cell.",
        "Five percent of it.",
        "In a kilowatt hour.",
        "A word word twice.",
        "# Where Heat Goes",
        "# The Last of its Kind",
    ],
)
def test_what_the_house_does_not_write_is_found(text: str) -> None:
    assert list(against_the_house(of_markdown("p.md", text)))


@pytest.mark.parametrize(
    "text",
    ["# Where Heron's heat goes", "# Cells: Three of them", "It has 5 Wh at 20 °C, a 21700."],
)
def test_what_the_house_writes_is_let_pass(text: str) -> None:
    assert not list(against_the_house(of_markdown("p.md", text)))


def test_one_way_of_writing(passages: list[Passage]) -> None:
    assert not list(against_the_house(passages))


@pytest.mark.parametrize(
    ("word", "count"),
    [
        ("the", 1),
        ("charge", 1),
        ("lasted", 2),
        ("weighed", 1),
        ("prices", 2),
        ("battery", 3),
        ("voltage", 2),
        ("graphite", 2),
        ("silicon", 3),
        ("measurement", 3),
        ("uncertainty", 4),
        ("material", 4),
        ("area", 3),
        ("kilowatt-hour", 4),
    ],
)
def test_syllables(word: str, count: int) -> None:
    # Counted by ear; over all words of the question pages the counter agrees with a pronouncing
    # dictionary of English in 99 of 100.
    assert grade.syllables(word) == count


def test_long_words_and_sentences_raise_the_grade() -> None:
    short = "The cell is full. It can run the ship."
    long = "The electrochemical accumulator is completely replenished and capable of propulsion."
    assert grade.grade(short) < 1 < HARDEST < grade.grade(long)


def test_an_opening_is_the_answer_with_its_figures_as_a_word() -> None:
    page = "---\ntitle: T\n---\n\n# Is it?\n\nYes: [5 V](calc:x.y).\n\nMore.\n\n## Why\n\nSo.\n"
    assert grade.opening(page) == "Yes: number."


@pytest.mark.parametrize("name", QUESTIONS)
def test_the_answer_suits_a_lay_reader(name: str) -> None:
    answer = grade.opening((ROOT / "content/questions" / name).read_text("utf-8"))
    assert grade.grade(answer) <= HARDEST, answer
