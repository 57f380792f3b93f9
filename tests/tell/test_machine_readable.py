"""Linked data, CSV metadata, the feed and the citations, held to the vocabularies they speak."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from rdflib import Graph
from rdflib.namespace import CSVW, RDF, SDO

from calc.tell.citations import as_bibtex, as_csl
from calc.tell.csvw import csvw
from calc.tell.feed import feed
from calc.tell.linked import CONTEXT, dataset, page_data
from calc.whole import Whole
from tests.helpers import work

VOCABULARY = "https://schema.org/"
NEWER = {"observationAbout"}
"""Terms that schema.org took up after the edition of its vocabulary that rdflib 7.6.0 carries
(schema.org, Observation; from memory, to be confirmed)."""

# Which terms belong to which type: schema.org's own pages of the types, terms that a type has
# from the types above it included (from memory, to be confirmed); rdflib's copy of the
# vocabulary holds the terms, not where they belong.
THING = {"name", "description", "url", "identifier"}
WORK = THING | {
    "author", "citation", "correction", "dateModified", "datePublished", "text", "about", "comment",
}  # fmt: skip
BELONGS = {
    "Thing": THING,
    "Property": THING,
    "Person": THING | {"familyName", "givenName"},
    "Organization": THING,
    "CreativeWork": WORK,
    "WebPage": WORK,
    "Comment": WORK,
    "CorrectionComment": WORK,
    "Claim": WORK | {"appearance", "firstAppearance"},
    "Dataset": WORK | {"variableMeasured", "distribution"},
    "DataDownload": WORK | {"contentUrl", "encodingFormat"},
    "PropertyValue": THING | {"value", "unitText", "minValue", "maxValue"},
    "QuantitativeValue": THING | {"value", "unitText", "minValue", "maxValue"},
    "Observation": THING | {
        "observationAbout", "measuredProperty", "value", "minValue", "maxValue", "unitText",
        "marginOfError", "measurementTechnique", "additionalProperty",
    },
}  # fmt: skip

PAGE = """\
---
description: What the trial holds.
---

# Trial

It holds [273 Wh](calc:trial.energy), from [74.8 A h](calc:trial.charge).

```yaml calc
id: trial
title: Trial
inputs:
  charge: {value: 74.8 ± 0.4 A h, source: bench}
  voltage: {value: 3.655 V, source: book}
steps:
  energy: charge * voltage in Wh
```

```yaml claim
id: maker
source: book
says: at least 250 Wh
of: trial.energy
verdict: holds
```

```yaml correction
id: older
date: 2026-03-01
figure: trial.energy
was: 275 Wh
now: 274 Wh
reason: The voltage was read again & again.
```

```yaml correction
id: newer
date: 2026-04-01
figure: trial.energy
was: 274 Wh
now: 273 Wh
reason: So was the charge.
```
"""
SOURCES = """\
- {id: bench, kind: measured, title: A bench record}
- id: book
  type: book
  kind: published
  title: Cells <and> "packs"
  author: [{family: Doe, given: J.}, {literal: An institute}]
  issued: {date-parts: [["2020", "4"]]}
  DOI: 10.1000/1
"""


@pytest.fixture
def whole(tmp_path: Path) -> Whole:
    found = work(tmp_path, {"trial.md": PAGE}, {"sources.yml": SOURCES})
    assert not found.problems
    return found


def graph(data: dict[str, Any]) -> Graph:
    """The statements of linked data; the context is put in by hand, as no test may fetch it."""
    assert data["@context"] == CONTEXT
    local = {**data, "@context": {"@vocab": VOCABULARY}}
    return Graph().parse(data=json.dumps(local), format="json-ld")


def both(whole: Whole) -> list[dict[str, Any]]:
    page = page_data(whole.book.pages[0], whole, "https://example.org/trial/")
    files = {"data/results.json": "application/json"}
    return [page, dataset(whole, "Results", "All of them.", "https://example.org/", files)]


@pytest.mark.filterwarnings("ignore:ConjunctiveGraph is deprecated")  # within rdflib itself
def test_linked_data_speaks_only_the_vocabulary(whole: Whole) -> None:
    for data in both(whole):
        for _, predicate, value in graph(data):
            term = value if predicate == RDF.type else predicate
            if term != RDF.type and str(term).startswith(VOCABULARY):
                name = str(term).removeprefix(VOCABULARY)
                assert name in SDO or name in NEWER, name


def test_every_term_belongs_to_its_type(whole: Whole) -> None:
    def walk(node: Any) -> None:
        if isinstance(node, list):
            for each in node:
                walk(each)
        elif isinstance(node, dict):
            if "@type" in node:
                own = {name for name in node if not name.startswith("@")}
                assert own <= BELONGS[node["@type"]], (node["@type"], own)
            for each in node.values():
                walk(each)

    for data in both(whole):
        walk(data)


def test_what_a_page_says_of_itself(whole: Whole) -> None:
    page, charge, *_ = page_data(whole.book.pages[0], whole, "https://example.org/trial/")["@graph"]
    assert page["dateModified"] == "2026-04-01"
    assert [each["datePublished"] for each in page["correction"]] == ["2026-04-01", "2026-03-01"]
    book = next(each for each in page["citation"] if each["name"] == 'Cells <and> "packs"')
    assert book["datePublished"] == "2020-04"
    assert book["identifier"] == "https://doi.org/10.1000/1"
    assert [each["@type"] for each in book["author"]] == ["Person", "Organization"]
    assert charge["name"] == "trial.energy"


def test_an_observation_carries_its_uncertainty(whole: Whole) -> None:
    found = page_data(whole.book.pages[0], whole, "https://example.org/trial/")["@graph"]
    energy = next(each for each in found if each.get("name") == "trial.energy")
    assert energy["value"] == pytest.approx(273.394)
    assert energy["unitText"] == "Wh"
    assert energy["marginOfError"]["value"] == pytest.approx(0.4 * 3.655)
    assert energy["minValue"] < energy["value"] < energy["maxValue"]
    claim = next(each for each in found if each["@type"] == "Claim")
    assert claim["text"] == "at least 250 Wh"
    assert "holds" in claim["comment"]["text"]


def test_csv_metadata_speaks_only_its_vocabulary() -> None:
    found = csvw("a.csv", "Cells", ["Cell", "Mass / kg", "mass / g", "u of mass / kg"], {0})
    columns = found["tableSchema"]["columns"]
    assert [each["name"] for each in columns] == ["cell", "mass", "mass_2", "u_of_mass"]
    assert [each["datatype"] for each in columns] == ["string", "number", "number", "number"]
    assert columns[1]["schema:unitText"] == "kg"
    # `columns` and `titles` are the names that the metadata vocabulary's JSON has for csvw:column
    # and csvw:title (W3C, Metadata Vocabulary for Tabular Data, 2015; from memory, to be
    # confirmed).
    spelled = {"columns": "column", "titles": "title"}
    own = {*found, *found["tableSchema"], *(name for each in columns for name in each)}
    for name in own - {"@context", "dc:title", "schema:unitText"}:
        assert spelled.get(name, name) in CSVW, name


ATOM = "{http://www.w3.org/2005/Atom}"


def test_the_feed_is_atom(whole: Whole) -> None:
    """What RFC 4287, 4.1.1 and 4.1.2, asks of a feed and of an entry (from memory)."""
    text = feed(
        whole.book.corrections.values(),
        "Trial & error",
        "https://example.org/corrections.xml",
        lambda file: f"https://example.org/{file}",
    )
    root = ElementTree.fromstring(text)
    assert root.tag == f"{ATOM}feed"
    for name in ("title", "id", "updated", "author"):
        assert len(root.findall(ATOM + name)) == 1
    assert root.findtext(f"{ATOM}updated") == "2026-04-01T00:00:00Z"
    entries = root.findall(f"{ATOM}entry")
    assert [each.findtext(f"{ATOM}updated") for each in entries] == [
        "2026-04-01T00:00:00Z",
        "2026-03-01T00:00:00Z",
    ]
    for each in entries:
        for name in ("title", "id", "updated", "summary", "link"):
            assert len(each.findall(ATOM + name)) == 1
    assert "again & again" in (entries[1].findtext(f"{ATOM}summary") or "")
    assert len({each.findtext(f"{ATOM}id") for each in entries}) == 2


def test_a_feed_of_nothing_is_still_a_feed() -> None:
    text = feed([], "Trial", "https://example.org/f.xml", str)
    assert ElementTree.fromstring(text).findtext(f"{ATOM}updated") == "1970-01-01T00:00:00Z"


def test_citations_leave_out_what_is_no_work(whole: Whole) -> None:
    works = json.loads(as_csl(whole.book.sources.values()))
    assert [each["id"] for each in works] == ["bench", "book"]
    assert as_bibtex(whole.book.sources.values()).count("@") == 2
