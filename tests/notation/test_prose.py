"""Prose: figures that are bound, and numbers that nothing stands behind."""

from __future__ import annotations

import pytest

from calc.notation.prose import figures, loose_figures, unread_figures

LOOSE = [
    "270 Wh/kg", "270Wh/kg", "270 Wh kg⁻¹", "4.9 mAh/cm²", "1.2 USD/kWh", "25 %", "25%",
    "25 per cent", "50 percentage points", "3 times", "3×", "10-fold", "a factor of 3",
    "40 minutes", "40-minute", "10 years", "8 hours", "3 h", "10s", "1.8 million tonnes",
    "250 000 km", "250\u202f000 km", "250,000 km", "1,5 V", "1.5e6 km", "−20 °C", "~5 %",
    "30 degrees", "5 kΩ", "5 mΩ", "5 µm", "5 um", "50–58 µm", "50 to 58 um", "10-20 %",
    "24 to 36 months", "5 EUR", "$5", "€ 5", "USD 5", "5 dollars", "12 nautical miles", "5 kn",
    "18 MW h", "5 W/m²", "3 m s⁻¹", "5 l", "0 V", "2C",
]  # fmt: skip
NOT_LOOSE = [
    "in 2024", "12 March 2026", "2026-03-12", "from 2015 to 2020", "the 1990s", "12 layers",
    "three layers", "1 000 cycles", "page 12", "section 3.2", "NMC811", "LiFePO4",
    "LiNi0.8Mn0.1Co0.1O2", "a 21700 cell", "18650 cells", "1st", "2nd", "3rd", "5th", "21st",
    "the 12th cell", "v1.2", "a ratio of 3 to 1", "1:3", "1/3", "x = 3", "5 × 5", "nine minutes",
    "ISO 80000-1", "IEC 62660-1:2018", "pH 7", "5 a day", "7 in 10", "C/2", "twice",
]  # fmt: skip
HIDDEN = [
    "`4.2 V`", "``4.2 ` V``", "```\n4.2 V\n```", "- a\n\n    ```\n    4.2 V\n    ```",
    "<!-- 4.2 V -->", "https://a.example/5V", "[text](a.md \"5 V\")",
    "<span data-x=\"5 V\"></span>", "[^1]: 4.2 V", "[5 V]: a.md", "---\ntitle: 4.2 V\n---\n",
    "[4.2 V](given:limit)", "[4.2 V](calc:a.b)", "[about 4.2 V](quote:a \"within 5 %\")",
    "## [4.2 V](given:limit)",
]  # fmt: skip
SHOWN = [
    ("# A 4.2 V cell", "4.2 V"),
    ("| limit | 4.2 V |\n| --- | --- |\n", "4.2 V"),
    ("**270** Wh/kg", "270 Wh/kg"),
    ("**270 Wh/kg**", "270 Wh/kg"),
    ("270&nbsp;Wh/kg", "270 Wh/kg"),
    ("[4.2 V](other.md)", "4.2 V"),
    ("![4.2 V](picture.svg)", "4.2 V"),
    ("<span>5 V</span>", "5 V"),
    ("2 × 75.6 µm", "75.6 µm"),
    ("(270 Wh/kg).", "270 Wh/kg"),
    ("Wh, 270\nWh/kg", "270 Wh/kg"),
]
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
]
UNREAD = [
    "[a](calc: b)", "[a] (calc:b)", "[a](<calc:b>)", "[a](Calc:b)", "[a [b] c](calc:x)",
    "[a][e]\n\n[e]: calc:b", "[a](calc:b", "[a](calc:b (within 5 %))",
]  # fmt: skip


@pytest.mark.parametrize("text", LOOSE)
def test_a_number_with_a_unit_is_loose(text: str) -> None:
    assert [each.text for each in loose_figures(f"There are {text} of it.")] == [
        text.replace("\u202f", " ")
    ]


@pytest.mark.parametrize("text", NOT_LOOSE)
def test_years_dates_counts_and_names_are_not_loose(text: str) -> None:
    assert not loose_figures(f"There are {text}, and so on.")


@pytest.mark.parametrize("text", HIDDEN)
def test_code_addresses_and_bound_figures_are_not_loose(text: str) -> None:
    assert not loose_figures(text)


@pytest.mark.parametrize(("text", "loose"), SHOWN)
def test_no_dress_hides_a_loose_figure(text: str, loose: str) -> None:
    assert [each.text for each in loose_figures(text)] == [loose]


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


def test_lines_are_counted_from_the_top_of_the_page() -> None:
    page = "---\ntitle: x\n---\n\n```yaml calc\nid: a\n```\n\nIt has 5 V,\nand 6 V.\n"
    assert [(each.text, each.line) for each in loose_figures(page)] == [("5 V", 9), ("6 V", 10)]
