"""Loose figures: numbers that nothing stands behind, in whatever dress, and what is none."""

from __future__ import annotations

from pathlib import Path

import pytest

from calc.notation.loose import loose_figures
from calc.notation.numbered import EVERYDAY
from calc.notation.units import measures

INNOCENT = Path(__file__).with_name("innocent.md")
"""A page of awkward sentences that state no figure."""

LOOSE = [
    "270 Wh/kg", "270Wh/kg", "270 Wh kg⁻¹", "4.9 mAh/cm²", "1.2 USD/kWh", "25 %", "25%",
    "25 per cent", "50 percentage points", "3 times", "3×", "10-fold", "a factor of 3",
    "40 minutes", "40-minute", "10 years", "8 hours", "3 h", "10s", "1.8 million tonnes",
    "250 000 km", "250\u202f000 km", "250,000 km", "1,5 V", "1.5e6 km", "−20 °C", "~5 %",
    "30 degrees", "5 kΩ", "5 mΩ", "5 µm", "5 um", "50–58 µm", "50 to 58 um", "10-20 %",
    "24 to 36 months", "5 EUR", "$5", "€ 5", "USD 5", "5 dollars", "12 nautical miles", "5 kn",
    "18 MW h", "5 W/m²", "3 m s⁻¹", "5 l", "0 V", "2C",
    "2 × 10³ W", "5 × 10⁻³ V", "10³ W", "10^3 W", ".5 V", "½ V", "1½ h", "1/3 h", "3x", "4·2 V",
    "5 dm3", "5 yr", "5 hp", "5 atm", "5 hertz", "5 Celsius", "5 cubic metres", "5k€", "¥5",
    "5 bn USD", "5 hundred kg", "12 US dollars", "JPY 500", "60 rpm", "20 dB", "5 kWp", "5°",
    "5 °C", "5 kilowatt-hours", "12 MΩ", "3 inches", "5 psi", "5 mmol", "2 Torr",
    "four times", "Ten per cent", "three tenths", "twenty-five percent", "tenfold", "six-fold",
    "two hundred times", "fifteen percentage points", "a factor of three", "5 Watts",
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
    "<!-- 4.2 V -->", "https://a.example/5V", "[5 V]: a.md 'A title'",
    "a `span\nof 5 V` ends", "<span data-x=\"5 V\"></span>", "[5 V]: a.md",
    "---\ntitle: 4.2 V\n---\n",
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
    ("A factor of three", "A factor of three"),
    ("## A 4.2 V cell", "4.2 V"),
    ("- It weighs 999\n  kg", "999 kg"),
    ("> It weighs 999\n> kg", "999 kg"),
    ("999  kg", "999 kg"),
    ("<b>999</b> kg", "999 kg"),
    ("3.5 **V**", "3.5 V"),
    ("_3.5_ V", "3.5 V"),
    ("999[^1] kg", "999 kg"),
    ("[999](a.md) kg", "999 kg"),
    ("5 [kg](given:unit)", "5 kg"),
    ("999 <!-- of it --> kg", "999 kg"),
    ("[^1]: It weighs 999 kg.", "999 kg"),
    ("[Note]: It weighs 999 kg.", "999 kg"),
    ("[a](It weighs 999 kg)", "999 kg"),
    ("a ` b\n\n999 kg\n\nc ` d", "999 kg"),
    ("- a ` b\n- 999 kg\n- c ` d", "999 kg"),
    ("\\`999 kg\\`", "999 kg"),
    ("`<!--` 999 kg `-->`", "999 kg"),
    ('[text](a.md "5 V")', "5 V"),
    ("<img src='a.svg' alt='999 kg'>", "999 kg"),
    ('word\n{: title="999 kg"}', "999 kg"),
    ("| Mass / kg |\n| --- |\n| 999 |", "999 kg"),
    ("| part | mass (kg) |\n| --- | ---: |\n| all | **999** |\n| b | [9 kg](calc:a.b) |", "999 kg"),
    ("|| Mass / kg | Count |\n|---|---|---|\n|| 999 | 12 |", "999 kg"),
    ("> | Mass / kg |\n> | --- |\n> | 999 |", "999 kg"),
    ("cell | Wh/kg\n--- | ---\na | 5 to 6", "5 to 6 Wh/kg"),
    ("| Year | Share in % |\n| --- | --- |\n| 2024 | 12 |", "12 %"),
]


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


def test_a_page_of_innocent_sentences_has_no_loose_figure() -> None:
    assert not loose_figures(INNOCENT.read_text(encoding="utf-8"))


def test_only_words_that_would_be_units_are_held_to_be_everyday() -> None:
    assert sorted(word for word in EVERYDAY if not measures(word)) == []


def test_lines_are_counted_from_the_top_of_the_page() -> None:
    page = "---\ntitle: x\n---\n\n```yaml calc\nid: a\n```\n\nIt has 5 V,\nand 6 V.\n"
    assert [(each.text, each.line) for each in loose_figures(page)] == [("5 V", 9), ("6 V", 10)]
