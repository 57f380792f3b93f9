"""Pages as the press makes them from small books: figures, workings, cards, evidence, problems."""

from __future__ import annotations

import re
from collections import Counter
from html.parser import HTMLParser
from pathlib import Path

import pytest

from hooks.press import Press
from tests.helpers import calc_page, write_book

VOID = frozenset("area base br col embed hr img input link meta source track wbr".split())
PAGE = calc_page({"mass": "1.2 ± 0.1 kg", "energy": "300 ± 6 Wh"}, {"s": "energy / mass in Wh/kg"})
CLAIM = """
```yaml claim
id: maker
source: bench
says: at least 100 Wh/kg
of: trial.s
verdict: holds
```
"""


class Shape(HTMLParser):
    """Ids, texts by element, and whether every element is closed where it should be."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.ids: Counter[str] = Counter()
        self.astray: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Notes an element that opens; a block inside a paragraph is astray."""
        self.ids.update(value for name, value in attrs if name == "id" and value)
        if "p" in self.open and tag in ("div", "p", "ul", "ol", "dl", "table", "section"):
            self.astray.append(f"{tag} in p")
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        """Notes an element that closes."""
        if not self.open or self.open.pop() != tag:
            self.astray.append(f"/{tag}")


def press(folder: Path, *pages: str, live: bool = False) -> Press:
    """The press of a small book with pages one.md, two.md."""
    names = ("one.md", "two.md", "three.md")
    write_book(folder, dict(zip(names, pages, strict=False)))
    return Press.of(folder / "content", folder / "site_data", live)


def shown(made: Press, path: str = "one.md") -> str:
    """A page as it would be after Markdown: holes filled, cards at its end."""
    text = made.markdown(path)
    assert text is not None
    return made.content(path, text, lambda where: where)


def plain(html: str) -> str:
    """The text of a page, spaces of any width as one."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html))


def test_a_figure_becomes_a_button_that_opens_its_card(tmp_path: Path) -> None:
    page = PAGE.replace("1.2 ± 0.1 kg", "1.2 kg")  # 250 Wh/kg, as uncertain as the energy: 2 %
    html = shown(press(tmp_path, page + "\nIt holds [250 Wh/kg](calc:trial.s).\n"))
    button = re.search(r'<button[^>]*popovertarget="(card-\d+)"[^>]*>250 Wh/kg</button>', html)
    assert button
    card = re.search(rf'<div[^>]*popover="auto"[^>]*id="{button[1]}".*?$', html, re.S)
    assert card
    said = plain(card[0])
    between = "Between 245.1 and 254.9 Wh/kg"
    for expected in ("250.0 ± 5.0 Wh/kg", between, "300 ± 6 Wh", "measured"):
        assert expected in said.replace("\u00a0", " "), expected


def test_a_figure_stated_twice_has_one_card(tmp_path: Path) -> None:
    twice = "\n[250 Wh/kg](calc:trial.s), and again [about 250 Wh/kg](calc:trial.s).\n"
    html = shown(press(tmp_path, PAGE + twice))
    assert html.count('popovertarget="card-1"') == 3  # two in prose, and the one that closes it
    assert html.count('id="card-1"') == 1


def test_an_empty_figure_is_filled(tmp_path: Path) -> None:
    html = shown(press(tmp_path, PAGE + "\nIt holds [](calc:trial.s).\n"))
    assert re.search(r"<button[^>]*>250[^<]*Wh/kg</button>", html)


def test_a_given_number_is_plain_text(tmp_path: Path) -> None:
    html = shown(press(tmp_path, "# One\n\nA [12 V](given:name-of-the-system) system.\n"))
    assert "A 12 V system." in html


def test_front_matter_and_blocks_are_gone(tmp_path: Path) -> None:
    html = shown(press(tmp_path, "---\ntitle: One\n---\n" + PAGE))
    assert "---" not in html
    assert "```" not in html


def test_a_working_shows_inputs_steps_numbers_and_shares(tmp_path: Path) -> None:
    html = shown(press(tmp_path, PAGE))
    said = plain(html).replace("\u00a0", " ")
    for expected in ("1.2 ± 0.1 kg", "A bench record", "measured", "2 inputs and 1 step",
                     "What the uncertainty of s comes from", "300 Wh"):  # fmt: skip
        assert expected in said, expected
    assert 'id="trial"' in html
    assert 'id="trial.s"' in html
    widths = [float(found) for found in re.findall(r'style="width:([\d.]+)%"', html)]
    assert sum(widths) == pytest.approx(100, abs=1)


def test_an_exact_input_says_that_no_uncertainty_is_given(tmp_path: Path) -> None:
    html = shown(press(tmp_path, calc_page({"mass": "1.2 kg"}, {"double": "2 * mass in kg"})))
    assert "no uncertainty given" in html


def test_an_assumption_shows_its_reason(tmp_path: Path) -> None:
    page = PAGE.replace(
        '"1.2 ± 0.1 kg", source: bench', "1.2 kg, source: assumption, because: guessed"
    )
    html = plain(shown(press(tmp_path, page)))
    assert re.search("assumption +guessed", html)


def test_a_method_page_shows_symbols_checks_and_uses(tmp_path: Path) -> None:
    method = """
    # Halves

    ```yaml method
    id: halves
    title: Halves
    answers: How much is half?
    inputs:
      whole: {unit: kg, about: all of it, symbol: m_0, typical: 1 to 2 kg}
    steps:
      part: {formula: whole / 2 in kg, about: half of it, symbol: m}
    valid: [whole > 0]
    checks:
      - {given: {whole: 3 kg}, gives: {part: 1.5 kg}, source: exact, independent: a half is a half}
    ```
    """
    use = calc_page({"whole": "4 ± 1 kg"}, {"h": "{use: halves}"})
    html = shown(press(tmp_path, method, use))
    said = plain(html).replace("\u00a0", " ")
    for expected in ("How much is half?", "all of it", "1 to 2 kg", "1 of 1 agree",
                     "a half is a half", "agrees", "## Where it is used", "Trial"):  # fmt: skip
        assert expected in said, expected
    assert "<msub><mi>m</mi><mn>0</mn></msub>" in html


def test_a_claim_shows_who_said_it_and_its_verdict(tmp_path: Path) -> None:
    html = shown(press(tmp_path, PAGE + CLAIM + "\nSaid: [at least 100 Wh/kg](quote:maker).\n"))
    assert 'class="wc-verdict wc-verdict--holds">holds<' in html
    said = plain(html).replace("\u00a0", " ")
    assert "at least 100 Wh/kg" in said
    assert "true with a probability of more than 99 %" in said
    assert re.search(r'class="wc-figure wc-figure--quote"[^>]*>at least 100 Wh/kg</button>', html)


def test_a_claim_that_fails_is_told_by_word(tmp_path: Path) -> None:
    html = shown(
        press(tmp_path, PAGE + CLAIM.replace("100", "900").replace("holds", "does not hold"))
    )
    assert 'class="wc-verdict wc-verdict--fails">does not hold<' in html


def test_markup_in_a_writers_text_stays_text(tmp_path: Path) -> None:
    page = PAGE.replace("title: Trial", "title: 'A <b>bold</b> & quoted \"title\"'")
    html = shown(press(tmp_path, page))
    assert "<b>bold" not in html
    assert "&lt;b&gt;bold&lt;/b&gt; &amp; quoted &quot;title&quot;" in html


def test_cautions_name_the_danger_and_defer(tmp_path: Path) -> None:
    html = shown(press(tmp_path, "---\ntitle: One\ncautions: [opening, charging]\n---\n# One\n"))
    said = plain(html)
    assert "Opening a cell" in said
    assert "Charging a cell" in said
    assert "Heating a cell" not in said
    assert "Local codes" in said
    assert "licensed practice" in said


def test_a_drifted_figure_is_marked(tmp_path: Path) -> None:
    html = shown(press(tmp_path, PAGE + "\nIt holds [260 Wh/kg](calc:trial.s).\n"))
    assert "wc-figure--drift" in html


def test_a_writer_who_looks_on_sees_the_problems_of_the_page(tmp_path: Path) -> None:
    broken = PAGE + "\nIt holds [260 Wh/kg](calc:trial.s).\n"
    other = "# Two\n\n[1 Wh/kg](calc:trial.t)\n"
    html = plain(shown(press(tmp_path, broken, other, live=True)))
    assert "One thing to mend" in html
    assert "one.md:14 &#x27;260 Wh/kg&#x27; is stated" in html
    assert "trial.t" not in html
    assert "to mend" not in plain(shown(press(tmp_path, broken, other)))


def test_a_block_that_cannot_be_read_leaves_the_rest_standing(tmp_path: Path) -> None:
    page = PAGE + "\n```yaml calc\nid: [\n```\n\nIt holds [250 Wh/kg](calc:trial.s).\n"
    html = shown(press(tmp_path, page))
    assert "could not be read" in html
    assert ">250 Wh/kg</button>" in html


def test_a_block_that_cannot_be_shown_is_a_problem_at_its_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = press(tmp_path, PAGE)

    def fails(self: Press, id: str) -> str:
        raise ValueError("no ink")

    monkeypatch.setattr(Press, "block_html", fails)
    assert "could not be read or shown" in shown(made)
    (problem,) = made.new_faults()
    assert (problem.line, "no ink" in problem.message) == (3, True)
    assert not made.new_faults()


def test_a_term_is_explained_at_its_first_use_and_nowhere_else(tmp_path: Path) -> None:
    glossary = "# Glossary\n\nTurnaround\n:   The stop *between* two trips.\n"
    page = "<h2>Turnaround</h2><p>A turnaround, the next turnaround, <code>turnaround</code>.</p>"
    write_book(tmp_path, {"glossary.md": glossary, "one.md": "# One\n"})
    made = Press.of(tmp_path / "content", tmp_path / "site_data")
    made.markdown("one.md")
    html = made.content("one.md", page, lambda where: where)
    assert html.count('class="wc-term"') == 1
    assert re.search(r"<p>A (<span[^>]*>)?<button", html)
    assert "The stop between two trips." in html


def test_pages_are_made_of_sheets_and_sources(tmp_path: Path) -> None:
    sheet = """
    id: thing
    title: Thing
    kind: cell
    about: A thing.
    inputs:
      mass: {value: 1.2 ± 0.1 kg, source: bench, about: as weighed}
    """
    page = "# One\n\nIt weighs [1.2 kg](calc:thing.mass).\n"
    write_book(tmp_path, {"one.md": page}, {"thing.yml": sheet})
    made = Press.of(tmp_path / "content", tmp_path / "site_data")
    facts = plain(made.generated["facts/thing.md"]).replace("\u00a0", " ")
    assert "1.2 ± 0.1 kg" in facts
    assert "as weighed" in facts
    assert "A bench record" in plain(made.generated["evidence/sources/index.md"])
    assert "Values taken from it" in made.generated["evidence/sources/bench.md"]
    assert "index.md" in made.generated


def test_a_page_that_somebody_wrote_is_never_generated(tmp_path: Path) -> None:
    write_book(tmp_path, {"index.md": "# Mine\n", "evidence/claims.md": "# Mine too\n"})
    made = Press.of(tmp_path / "content", tmp_path / "site_data")
    assert not {"index.md", "evidence/claims.md"} & made.generated.keys()


def test_all_parts_are_closed_and_named_once(tmp_path: Path) -> None:
    html = shown(press(tmp_path, PAGE + CLAIM + "\n<p>It holds [250 Wh/kg](calc:trial.s).</p>\n"))
    shape = Shape()
    shape.feed(html)
    assert not shape.astray
    assert not shape.open
    assert not [id for id, count in shape.ids.items() if count > 1]


def test_the_same_book_is_drawn_the_same(tmp_path: Path) -> None:
    pages = (PAGE + CLAIM, "# Two\n\n[250 Wh/kg](calc:trial.s)\n")
    first, second = press(tmp_path, *pages), press(tmp_path, *pages)
    assert shown(first) == shown(second)
    assert first.generated == second.generated
    assert first.data() == second.data()


def test_a_rise_is_no_temperature_in_other_units(tmp_path: Path) -> None:
    page = calc_page({"a": "30 degC", "b": "25 degC"}, {"rise": "a - b in K"})
    html = shown(press(tmp_path, page + "\n[5 K](calc:trial.rise)\n"))
    assert "Rise" in html and "−268" not in html
