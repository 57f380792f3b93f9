"""BibTeX text: what reads, what is refused and where, and what is written."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.notation.bibtex import Entry, read_bibtex, write_bibtex
from calc.notation.latex_letters import from_latex, to_latex
from calc.problems import Wrong

WELL_FORMED = """\
Anything between entries is a comment.
@string{jes = "Journal of the " # {Electrochemical Society}}
@comment{left alone}
@Article{ferry-2024,
  Author = {Lind, A. and {The Harbour Board}},
  title  = "A {\\"O}resund {F}erry",
  journal = jes # {, Letters},
  year   = 2024,
  month  = mar
}

@misc(other, title = {In {parentheses (too)}})
@preamble{"\\newcommand{}{}"}
"""


def test_what_bibtex_allows() -> None:
    entries, faults = read_bibtex(WELL_FORMED)
    assert faults == ()
    assert [(entry.kind, entry.key, entry.line) for entry in entries] == [
        ("article", "ferry-2024", 4),
        ("misc", "other", 12),
    ]
    assert entries[0].fields == {
        "author": "Lind, A. and {The Harbour Board}",
        "title": 'A {\\"O}resund {F}erry',
        "journal": "Journal of the Electrochemical Society, Letters",
        "year": "2024",
        "month": "3",
    }
    assert entries[0].lines["journal"] == 7
    assert entries[1].fields["title"] == "In {parentheses (too)}"


REFUSED = [
    # text, line of the fault, what is said
    ("\n@article{k, title = {A}", 2, "does not close"),
    ("@article{k,\n  title = {A\n}", 1, "does not close"),
    ("@article{k,\n  title = {A", 2, "the '{' of this line does not close"),
    ('@article{k,\n  title = "A', 2, "the '\"' of this line does not close"),
    ('@preamble{"a" "b"}', 1, "only one value"),
    ("@article{k,\n  title {A}\n}", 2, "'=' must follow the field name 'title'"),
    ("@article{k,\n  title = {A}\n  year = 2024}", 3, "a comma must follow the value of 'title'"),
    ("@article{k,\n  year = someday}", 2, "'someday' is neither in braces nor defined"),
    ("@article{k, year = 1, year = 2}", 1, "'year' stands twice"),
    ("@article{k}\n@book{k}", 2, "'k' stands twice"),
    ("@article{, title = {A}}", 1, "an entry needs a key"),
    ("@article k", 1, "must be followed by '{'"),
    ('@article{k, title = "A } B"}', 1, "closes what nothing opened"),
    ("@article{k title}", 1, "a comma must follow the key"),
    ("@article{k, title = }", 1, "a value in braces"),
]


@pytest.mark.parametrize(("text", "line", "said"), REFUSED)
def test_a_fault_is_placed(text: str, line: int, said: str) -> None:
    _, faults = read_bibtex(text)
    assert [fault.offset + 1 for fault in faults] == [line]
    assert said in faults[0].message


def test_reading_goes_on_after_a_fault() -> None:
    text = "@book{a, title {A}}\n@book{b, title = {B}}\n@book{c, title = {C}\n@book{d}"
    entries, faults = read_bibtex(text)
    assert [entry.key for entry in entries] == ["b", "d"]
    assert [fault.offset for fault in faults] == [0, 3]


LETTERS = [
    # LaTeX, text
    (r"{\'e}t{\'e}", "été"),
    (r"\'{E}cole", "École"),
    (r"Erd{\H o}s", "Erdős"),
    (r"Dvo{\v{r}}{\'a}k", "Dvořák"),
    (r"Nordstr\"om", "Nordström"),
    (r"na{\"\i}ve", "naïve"),
    (r"\AA ngstr\"om", "Ångström"),
    (r"\ss", "ß"),
    (r"Fran\c{c}ois", "François"),
    (r"1--2 --- 3", "1–2 — 3"),
    (r"50\,\%".replace(r"\,", "~"), "50 %"),
    (r"{LiFePO$_4$}".replace("$_4$", r"\_4"), "LiFePO_4"),
]


@pytest.mark.parametrize(("latex", "text"), LETTERS)
def test_letters(latex: str, text: str) -> None:
    assert from_latex(latex) == text


def test_a_command_that_is_no_letter_is_refused() -> None:
    with pytest.raises(Wrong, match="emph"):
        from_latex(r"\emph{in vitro}")


PLAIN = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]) | st.just(" "))


@given(PLAIN)
def test_a_text_written_as_latex_reads_back(text: str) -> None:
    bare = " ".join(text.split())
    if "--" in bare or "–" in bare or "—" in bare:
        return  # LaTeX has one spelling for two hyphens and a dash
    (entry,), faults = read_bibtex(write_bibtex([Entry("misc", "k", {"note": to_latex(bare)})]))
    assert faults == ()
    assert from_latex(entry.fields["note"]) == bare
