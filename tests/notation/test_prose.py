"""Figures: numbers in prose that are bound, and links that were meant to bind one."""

from __future__ import annotations

import pytest

from calc.notation.prose import figures, unread_figures

# page; (text, scheme, target, title, line)
FIGURES = [
    ("[270 Wh/kg](calc:a.b)", ("270 Wh/kg", "calc", "a.b", "", 1)),
    ("[](calc:b)", ("", "calc", "b", "", 1)),
    ("\n\n[5 V](quote:x)", ("5 V", "quote", "x", "", 3)),
    ('[about 5 V](calc:a.b "within 5 %")', ("about 5 V", "calc", "a.b", "within 5 %", 1)),
    ("[about 5 V](calc:a.b 'within 5 %')", ("about 5 V", "calc", "a.b", "within 5 %", 1)),
    ("[270\nWh/kg](calc:a.b)", ("270 Wh/kg", "calc", "a.b", "", 1)),
    ("# A [12 V](given:name) cell", ("12 V", "given", "name", "", 1)),
    ("| a | [5 V](calc:a.b) |", ("5 V", "calc", "a.b", "", 1)),
    ("**[5 V](calc:a.b)**", ("5 V", "calc", "a.b", "", 1)),
    ("[**5 V**](calc:a.b)", ("**5 V**", "calc", "a.b", "", 1)),
    ("```\n[1 V](calc:no)\n```\n[5 V](calc:a.b)", ("5 V", "calc", "a.b", "", 4)),
    ("`[1 V](calc:no)` [5 V](calc:a.b)", ("5 V", "calc", "a.b", "", 1)),
    ("A stray ` here.\n\n[5 V](calc:a.b)\n\nAnd ` there.", ("5 V", "calc", "a.b", "", 3)),
    ("- a ` b\n- [5 V](calc:a.b)\n- c ` d", ("5 V", "calc", "a.b", "", 2)),
    ("\\`[5 V](calc:a.b)\\`", ("5 V", "calc", "a.b", "", 1)),
    ("Write `<!--`.\n\n[5 V](calc:a.b)\n\nEnd with `-->`.", ("5 V", "calc", "a.b", "", 3)),
]
UNREAD = [
    "[a](calc: b)", "[a] (calc:b)", "[a](<calc:b>)", "[a](Calc:b)", "[a [b] c](calc:x)",
    "[a][e]\n\n[e]: calc:b", "[a](calc:b", "[a](calc:b (within 5 %))",
]  # fmt: skip


@pytest.mark.parametrize(("page", "expected"), FIGURES)
def test_a_figure_is_read(page: str, expected: tuple[str, str, str, str, int]) -> None:
    (found,) = figures(page)
    assert (found.text, found.scheme, found.target, found.title, found.line) == expected
    assert page[found.start] == "[" and page[found.end - 1] == ")"
    assert not unread_figures(page)


@pytest.mark.parametrize("page", UNREAD)
def test_a_figure_that_cannot_be_read_is_not_passed_over(page: str) -> None:
    assert not figures(page)
    assert len(unread_figures(page)) == 1
