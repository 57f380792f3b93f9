"""Works to and from BibTeX and CSL-JSON, and into the site's own list of sources."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from calc.book import sources
from calc.book.csl import Work, csl_json, read_csl_json, work_of
from calc.book.fields import Findings
from calc.book.from_bibtex import read_works
from calc.book.import_sources import as_sources, site_id, taken
from calc.book.to_bibtex import bibtex

FILE = "library.bib"

WORKS: list[Work] = [
    {
        "id": "lind-2024",
        "type": "article-journal",
        "title": "Ånga & el: 50 % of a {ferry}",
        "author": [
            {"family": "van der Lind", "given": "A. B."},
            {"family": "Öberg", "suffix": "Jr", "given": "C."},
            {"literal": "Harbour and Quay Board"},
        ],
        "container-title": "Journal of Invented Ferries",
        "volume": "12",
        "issue": "3",
        "page": "101-112",
        "DOI": "10.0000/a_b%c",
        "issued": {"date-parts": [[2024, 3, 1]]},
        "custom": {"kind": "published", "mark": "seen"},
    },
    {
        "id": "quay-log",
        "type": "dataset",
        "title": "Quay log",
        "URL": "https://example.org/a_b~c",
        "issued": {"date-parts": [[2023]]},
        "accessed": {"date-parts": [[2024, 5]]},
        "custom": {"kind": "measured", "mark": "copy"},
    },
    {
        "id": "handbook-chapter",
        "type": "chapter",
        "title": "Cells",
        "container-title": "A Handbook",
        "publisher": "A Press",
        "number": "7",
    },
]


def test_bibtex_and_back() -> None:
    assert read_works(bibtex(WORKS), FILE) == (WORKS, [])


def test_csl_json_and_back() -> None:
    assert read_csl_json(csl_json(WORKS), FILE) == (WORKS, [])


def test_a_source_of_the_site_goes_out_and_comes_back(tmp_path: Path) -> None:
    path = tmp_path / "sources.yml"
    path.write_text("# Sources\n" + as_sources(WORKS), encoding="utf-8")
    findings = Findings("site_data/sources.yml")
    found = sources.read_sources(path, "sources.yml", findings)
    assert findings.problems == []
    assert [work_of(found[work["id"]]) for work in WORKS[:2]] == WORKS[:2]
    chapter = found["handbook-chapter"]
    assert (chapter.kind, chapter.mark) == ("published", "memory")


NAMES = [
    # as in BibTeX, as in CSL. The rules, and the last two names, are those of O. Patashnik,
    # "BibTeXing" (1988), section 4; from memory, to be confirmed.
    ("Lind, A. B.", {"family": "Lind", "given": "A. B."}),
    ("A. B. Lind", {"family": "Lind", "given": "A. B."}),
    ("Lind", {"family": "Lind"}),
    ("{Harbour and Quay Board}", {"literal": "Harbour and Quay Board"}),
    ("others", {"literal": "others"}),
    ("van Lind, Jr, A.", {"family": "van Lind", "suffix": "Jr", "given": "A."}),
    ("Ludwig van Beethoven", {"family": "van Beethoven", "given": "Ludwig"}),
    (
        r"Charles Louis Xavier Joseph de la Vall{\'e}e Poussin",
        {"family": "de la Vallée Poussin", "given": "Charles Louis Xavier Joseph"},
    ),
]


@pytest.mark.parametrize(("latex", "name"), NAMES)
def test_names(latex: str, name: dict[str, str]) -> None:
    (work,), problems = read_works(f"@book{{k, title = {{T}}, author = {{{latex}}}}}", FILE)
    assert problems == []
    assert work["author"] == [name]


FIELDS = [
    # a field in BibTeX, a name of CSL-JSON and its value
    ("year = 1986, month = jul, day = 4", "issued", {"date-parts": [[1986, 7, 4]]}),
    ("year = {1986}, month = {July}", "issued", {"date-parts": [[1986, 7]]}),
    ("date = {2024-03}", "issued", {"date-parts": [[2024, 3]]}),
    ("doi = {https://doi.org/10.1/x}", "DOI", "10.1/x"),
    ("pages = {3--7}", "page", "3-7"),
    ("number = 2", "issue", "2"),
    ("journaltitle = {J. A.}", "container-title", "J. A."),
]


@pytest.mark.parametrize(("field", "name", "value"), FIELDS)
def test_fields(field: str, name: str, value: object) -> None:
    (work,), problems = read_works(f"@article{{k, title = {{T}}, {field}}}", FILE)
    assert problems == []
    assert work[name] == value


FAULTY = [
    # BibTeX, line, what is said
    ("@paper{k,\n title = {T}}", 1, "'@paper' is no kind of work"),
    ("\n@book{k, author = {A}}", 2, "'k' needs a title"),
    ("@book{k,\n title = {\\foo T}}", 2, "in the field 'title', '\\foo'"),
    ("@book{k, title = {T},\n year = {soon}}", 2, "'soon' is no date"),
    ("@book{k, title = {T},\n author = {A and }}", 2, "a name that is empty"),
    ("@book{k, title = {T},\n author = {a, b, c, d}}", 2, "is no name"),
    ("@book{k, title = {T\n", 1, "does not close"),
]


@pytest.mark.parametrize(("text", "line", "said"), FAULTY)
def test_a_faulty_entry_is_left_out_and_placed(text: str, line: int, said: str) -> None:
    works, problems = read_works(text, FILE)
    assert works == []
    assert [(each.file, each.line, each.severity) for each in problems] == [(FILE, line, "error")]
    assert said in problems[0].message


def test_a_field_without_a_place_is_said_and_the_work_kept() -> None:
    works, problems = read_works("@book{k, title = {T},\n shelf = {3}}", FILE)
    assert [work["id"] for work in works] == ["k"]
    assert [(each.line, each.severity) for each in problems] == [(2, "warning")]
    assert "'shelf'" in problems[0].message


def test_all_faults_are_said_at_once() -> None:
    text = "@paper{a, title = {T}}\n@book{b}\n@book{c, title = T}\n@book{d, title = {T}}"
    works, problems = read_works(text, FILE)
    assert [work["id"] for work in works] == ["d"]
    assert [each.line for each in problems] == [1, 2, 3]


FAULTY_JSON = [
    # CSL-JSON, line, what is said
    ("", 1, "it must be a list"),
    ('{"id": "a"}', 1, "it must be a list"),
    ('[\n{"id": "a",}]', 2, "not readable"),
    ("[\n3]", 2, "a work must be a mapping"),
    ('[\n\n{"id": "a", "type": "book"}]', 3, "a needs 'title'"),
    ('[{"id": "a", "type": "tome", "title": "T"}]', 1, "'tome' of a is no type"),
    ('[{"id": "a", "type": "book", "title": "T", "issued": "2024"}]', 1, "date-parts"),
    ('[{"id": "a", "type": "book", "title": "T", "author": ["A"]}]', 1, "'author' of a"),
    ('[{"id": "a", "type": "book", "title": "T", "volume": [1]}]', 1, "'volume' of a"),
]


@pytest.mark.parametrize(("text", "line", "said"), FAULTY_JSON)
def test_faulty_csl_json(text: str, line: int, said: str) -> None:
    works, problems = read_csl_json(text, FILE)
    assert works == []
    assert {each.line for each in problems} == {line}
    assert said in problems[0].message


def test_good_works_beside_a_faulty_one_are_kept() -> None:
    good: list[Work] = [{"id": "a", "type": "book", "title": "T"}]
    text = json.dumps([*good, {"id": "b", "type": "book"}])
    works, problems = read_csl_json(text, FILE)
    assert works == good and len(problems) == 1


def test_what_a_source_has_no_place_for_is_left_out_with_a_warning() -> None:
    text = '[{"id": "a", "type": "book", "title": "T", "shelf": "3"}]'
    works, problems = read_csl_json(text, FILE)
    assert works == [{"id": "a", "type": "book", "title": "T"}]
    assert [each.severity for each in problems] == ["warning"]


def test_two_works_of_one_id_are_refused() -> None:
    works: list[Work] = [
        {"id": key, "type": "book", "title": "T"} for key in ("Lind2024", "lind-2024", "known")
    ]
    problems = taken(works, ["known"], FILE)
    assert ["'lind-2024'" in problems[0].message, "'known'" in problems[1].message] == [True, True]


@pytest.mark.parametrize(
    ("key", "name"),
    [
        ("Obrovac:2014_a", "obrovac-2014-a"),
        ("DBLP:conf/x/Y", "dblp-conf-x-y"),
        ("já", "ja"),
        ("??", "a-work"),
    ],
)
def test_a_citation_key_becomes_an_id(key: str, name: str) -> None:
    assert site_id(key) == name
