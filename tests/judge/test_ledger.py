"""The published ledger: a whole life, what counts as a change, and being killed while writing."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from calc.book.model import Correction, Place
from calc.judge.ledger import (
    FIGURES,
    FORECASTS,
    VERDICTS,
    WITHDRAWN,
    Ledger,
    Stated,
    as_json,
    read_ledger,
    updated,
)
from calc.judge.publish import compare, publish
from calc.problems import Problem, Wrong

PAGE, OTHER = "content/heron.md", "content/gannet.md"
FIRST, SECOND, THIRD = date(2026, 3, 1), date(2026, 4, 1), date(2026, 5, 1)


def figure(text: str, line: int = 10, of: str = "heron-energy.energy", file: str = PAGE) -> Stated:
    return Stated(FIGURES, file, line, of, text)


def verdict(text: str, line: int = 30, file: str = PAGE) -> Stated:
    return Stated(VERDICTS, file, line, "maker-energy", text)


def correction(
    was: str,
    now: str,
    day: date = SECOND,
    file: str = PAGE,
    of: str = "heron-energy.energy",
) -> Correction:
    return Correction("mended", day.isoformat(), of, was, now, "a new log", Place(file, 50))


def frozen(*stated: Stated, day: date = FIRST) -> Ledger:
    return updated(Ledger(), stated, day)


def changed(
    ledger: Ledger,
    stated: list[Stated],
    corrections: list[Correction] | None = None,
    pages: tuple[str, ...] = (PAGE, OTHER),
) -> list[Problem]:
    return compare(ledger, stated, corrections or [], pages)


def test_a_whole_life(tmp_path: Path) -> None:
    path = tmp_path / "published.json"
    before = [figure("270 Wh/kg"), verdict("does not hold")]
    after = [figure("281 Wh/kg", line=12), verdict("holds", line=33)]
    energy = correction("270 Wh/kg", "281 Wh/kg")
    claim = correction("does not hold", "holds", of="maker-energy")

    assert publish(path, before, [], [PAGE], FIRST) == []
    first = path.read_bytes()
    problems = publish(path, after, [], [PAGE], SECOND)
    assert [(p.file, p.line, p.kind) for p in problems] == [
        (PAGE, 12, "published"),
        (PAGE, 33, "published"),
    ]
    assert "'270 Wh/kg' was published on 2026-03-01 for heron-energy.energy" in problems[0].message
    assert "now says '281 Wh/kg'" in problems[0].message
    assert "was: 270 Wh/kg, now: 281 Wh/kg" in problems[0].message
    assert path.read_bytes() == first

    assert len(publish(path, after, [energy], [PAGE], SECOND)) == 1
    assert publish(path, after, [energy, claim], [PAGE], SECOND) == []
    assert {entry.published for entry in read_ledger(path).entries} == {SECOND}
    second = path.read_bytes()
    assert publish(path, after, [energy, claim], [PAGE], THIRD) == []
    assert path.read_bytes() == second


def test_a_ledger_reads_back_as_it_was_written(tmp_path: Path) -> None:
    path = tmp_path / "published.json"
    rows = [
        *(figure(f"{number} Wh/kg") for number in range(100, 112)),
        figure("9.2 \u00d7 10\u2076 Wh", of="gannet.energy", file=OTHER),
        verdict("holds"),
        Stated(FORECASTS, PAGE, 40, "sodium-price.probability", "70 %"),
    ]
    ledger = frozen(*rows)
    path.write_text(as_json(ledger), encoding="utf-8")
    assert as_json(read_ledger(path)) == as_json(ledger)
    assert changed(read_ledger(path), rows) == []
    assert f'"{PAGE}#heron-energy.energy#12"' in as_json(ledger)


def test_no_ledger_yet_holds_nothing_against_anyone(tmp_path: Path) -> None:
    assert read_ledger(tmp_path / "published.json") == Ledger()
    assert changed(Ledger(), [figure("270 Wh/kg")]) == []


UNCHANGED = [
    ("moved lines", [figure("270 Wh/kg", line=99), figure("about 270 Wh/kg", line=3)]),
    ("one added above", [figure("271 Wh/kg"), figure("270 Wh/kg"), figure("about 270 Wh/kg")]),
    ("another result", [figure("270 Wh/kg"), figure("about 270 Wh/kg"), figure("1", of="x.y")]),
    ("thin spaces", [figure("270\u2009Wh/kg"), figure("about\n270\u00a0Wh/kg")]),
]


@pytest.mark.parametrize(("case", "now"), UNCHANGED, ids=[case for case, _ in UNCHANGED])
def test_what_needs_no_correction(case: str, now: list[Stated]) -> None:
    assert changed(frozen(figure("270 Wh/kg"), figure("about 270 Wh/kg")), now) == []


CHANGED: list[tuple[str, list[Stated], list[Correction]]] = [
    ("another text", [figure("271 Wh/kg")], []),
    ("a hedge added", [figure("about 270 Wh/kg")], []),
    ("a digit added", [figure("270.0 Wh/kg")], []),
    ("gone", [], []),
    ("moved to another page", [figure("270 Wh/kg", file=OTHER)], []),
    ("bound to another result", [figure("270 Wh/kg", of="heron-energy.net")], []),
    ("too old a correction", [figure("9 Wh/kg")], [correction("270 Wh/kg", "9 Wh/kg", date.min)]),
    (
        "a correction on another page",
        [figure("9 Wh/kg")],
        [correction("270 Wh/kg", "9 Wh/kg", file=OTHER)],
    ),
    (
        "a correction of another result",
        [figure("9 Wh/kg")],
        [correction("270 Wh/kg", "9 Wh/kg", of="heron-energy.net")],
    ),
    ("a correction to another text", [figure("9 Wh/kg")], [correction("270 Wh/kg", "8 Wh/kg")]),
    ("a correction backwards", [figure("9 Wh/kg")], [correction("9 Wh/kg", "270 Wh/kg")]),
    ("gone, corrected to a text", [], [correction("270 Wh/kg", "9 Wh/kg")]),
]


@pytest.mark.parametrize(
    ("case", "now", "corrections"), CHANGED, ids=[case for case, _, _ in CHANGED]
)
def test_what_fails_without_the_right_correction(
    case: str, now: list[Stated], corrections: list[Correction]
) -> None:
    problems = changed(frozen(figure("270 Wh/kg")), now, corrections)
    assert [problem.kind for problem in problems] == ["published"]
    assert problems[0].file == PAGE


CORRECTED: list[tuple[str, list[Stated], list[Correction]]] = [
    ("in one step", [figure("9 Wh/kg")], [correction("270 Wh/kg", "9 Wh/kg")]),
    (
        "in two steps",
        [figure("9 Wh/kg")],
        [correction("8 Wh/kg", "9 Wh/kg"), correction("270 Wh/kg", "8 Wh/kg")],
    ),
    (
        "there and back and on, without going round for ever",
        [figure("9 Wh/kg")],
        [
            correction("270 Wh/kg", "8 Wh/kg"),
            correction("8 Wh/kg", "270 Wh/kg"),
            correction("8 Wh/kg", "9 Wh/kg"),
        ],
    ),
    ("on the day of publication", [figure("9")], [correction("270 Wh/kg", "9", FIRST)]),
    ("withdrawn", [], [correction("270 Wh/kg", WITHDRAWN)]),
    (
        "with another added above it",
        [figure("7 Wh/kg", line=1), figure("9 Wh/kg")],
        [correction("270 Wh/kg", "9 Wh/kg")],
    ),
]


@pytest.mark.parametrize(
    ("case", "now", "corrections"), CORRECTED, ids=[case for case, _, _ in CORRECTED]
)
def test_what_a_correction_covers(
    case: str, now: list[Stated], corrections: list[Correction]
) -> None:
    assert changed(frozen(figure("270 Wh/kg")), now, corrections) == []


def test_a_page_that_is_gone_is_corrected_from_another() -> None:
    ledger = frozen(figure("270 Wh/kg"))
    record = [correction("270 Wh/kg", WITHDRAWN, file=OTHER)]
    assert changed(ledger, [], record, pages=(OTHER,)) == []
    assert changed(ledger, [], record, pages=(OTHER, PAGE)) != []


def test_one_of_two_equal_figures_gone_is_noticed() -> None:
    ledger = frozen(figure("270 Wh/kg"), figure("270 Wh/kg", line=20))
    problems = changed(ledger, [figure("270 Wh/kg")])
    assert [problem.line for problem in problems] == [1]
    assert f"now: {WITHDRAWN}" in problems[0].message


def test_a_verdict_belongs_to_its_claim_wherever_it_moves() -> None:
    ledger = frozen(verdict("holds"))
    assert changed(ledger, [verdict("holds", file=OTHER)]) == []
    moved = changed(ledger, [verdict("undecided", file=OTHER)])
    assert [(problem.file, problem.line) for problem in moved] == [(OTHER, 30)]
    mend = correction("holds", "undecided", of="maker-energy", file=OTHER)
    assert changed(ledger, [verdict("undecided", file=OTHER)], [mend]) == []
    assert [problem.file for problem in changed(ledger, [])] == ["site_data/published.json"]


def test_a_text_keeps_the_day_it_was_first_published() -> None:
    first = frozen(figure("270 Wh/kg"))
    second = updated(first, [figure("270 Wh/kg", line=5), figure("3 V", of="heron.v")], SECOND)
    assert {entry.of: entry.published for entry in second.entries} == {
        "heron-energy.energy": FIRST,
        "heron.v": SECOND,
    }


@pytest.mark.parametrize(
    ("text", "said", "line"),
    [
        ('{\n"figures": {', "not JSON", 2),
        ("[]", "lacks a part", 1),
        ('{"figures": {"a#b#1": {"text": "1"}}}', "lacks a part", 1),
        ('{"figures": {"a#b#1": {"text": "1", "published": "May"}}}', "lacks a part", 1),
    ],
)
def test_a_spoilt_ledger_is_not_taken_for_an_empty_one(
    tmp_path: Path, text: str, said: str, line: int
) -> None:
    path = tmp_path / "published.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(Wrong, match=said) as refusal:
        publish(path, [], [], [], FIRST)
    assert refusal.value.at("site_data/published.json", 1).line == line
    assert path.read_text(encoding="utf-8") == text


def test_a_figure_that_waits_for_its_value_is_not_gone() -> None:
    ledger = frozen(figure("270 Wh/kg"), figure("3.7 V", of="heron-energy.voltage"))
    for named in ("heron-energy.energy", "energy"):
        left = ledger.without([(PAGE, named)])
        assert [entry.text for entry in left.entries] == ["3.7 V"]
    assert ledger.without([(OTHER, "heron-energy.energy")]) == ledger
