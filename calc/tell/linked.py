"""Pages and results as linked data, in the terms of schema.org.

Somebody's statement is a Claim, a recomputed result an Observation with its 95 % interval, a
correction a CorrectionComment, and all results of the site together a Dataset.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from calc.book.evidence import UNDECIDED
from calc.book.model import Claim, Correction, Page
from calc.engine.results import Result
from calc.engine.summary import COVERAGE
from calc.judge.corrections import newest_first
from calc.judge.verdicts import JudgedClaim
from calc.notation.prose import CALC
from calc.notation.units import price_year_shown
from calc.tell.numbers import number, unit_text
from calc.tell.trace import how
from calc.tell.works import Data, work, works_behind
from calc.whole import Whole

CONTEXT = "https://schema.org"


def page_data(page: Page, whole: Whole, address: str) -> Data:
    """A page with what it states: its results, the claims it tests, and its corrections.

    Parameters: address, where the page will stand.
    """
    results = _stated_results(page, whole)
    claims = [each for each in whole.book.claims.values() if each.place.file == page.file]
    corrections = newest_first(
        each for each in whole.book.corrections.values() if each.place.file == page.file
    )
    return {
        "@context": CONTEXT,
        "@graph": [
            _page(page, results, corrections, whole, address),
            *(_observation(id, result, whole, address) for id, result in results.items()),
            *(_claim(claim, whole, address) for claim in claims),
        ],
    }


def dataset(whole: Whole, name: str, about: str, address: str, files: Mapping[str, str]) -> Data:
    """All results of the site as one Dataset.

    Parameters: name and about, in plain words; address, where the site will stand, with a slash
    at its end; files, by address below it, each with its media type.
    """
    stated: dict[str, Result] = {}
    for page in whole.book.pages:
        stated |= _stated_results(page, whole)
    return {
        "@context": CONTEXT,
        "@type": "Dataset",
        "@id": f"{address}#results",
        "name": name,
        "description": about,
        "url": address,
        "variableMeasured": [_variable(id, result, whole) for id, result in sorted(stated.items())],
        "distribution": [
            {"@type": "DataDownload", "contentUrl": address + path, "encodingFormat": kind}
            for path, kind in sorted(files.items())
        ],
    }


def _page(
    page: Page,
    results: Mapping[str, Result],
    corrections: Sequence[Correction],
    whole: Whole,
    address: str,
) -> Data:
    data: Data = {"@type": "WebPage", "@id": address, "url": address, "name": page.title}
    if about := page.meta.get("description"):
        data["description"] = str(about)
    if works := list(works_behind(results, whole)):
        data["citation"] = works
    if corrections:
        data["correction"] = [_correction(each, address) for each in corrections]
        data["dateModified"] = corrections[0].date
    return data


def _stated_results(page: Page, whole: Whole) -> dict[str, Result]:
    """The results that a page's figures state, each once, in order."""
    found: dict[str, Result] = {}
    for figure in whole.judgement.figures:
        if figure.page == page.file and figure.figure.scheme == CALC:
            id = whole.plan.target(figure.of) if figure.of in whole.plan.nodes else figure.of
            if id in whole.computation.results:
                found[id] = whole.computation.results[id]
    return found


def _observation(id: str, result: Result, whole: Whole, address: str) -> Data:
    block, _, name = id.partition(".")
    unit = _unit(result)
    data: Data = {
        "@type": "Observation",
        "@id": f"{address}#{id}",
        "name": id,
        "observationAbout": {"@type": "Thing", "name": _title(block, whole)},
        "measuredProperty": {"@type": "Property", "name": _words(name)},
        "value": number(result.value),
        "unitText": unit,
    }
    if technique := how(whole.plan.nodes[id], whole):
        data["measurementTechnique"] = technique
    if result.uncertain:
        low, high = result.interval
        expanded = number(2 * result.standard_uncertainty)
        data |= {
            "minValue": number(low),
            "maxValue": number(high),
            "marginOfError": {"@type": "QuantitativeValue", "value": expanded, "unitText": unit},
            "additionalProperty": [
                _property("standard uncertainty", number(result.standard_uncertainty), unit),
                _property("coverage probability from minValue to maxValue", COVERAGE, "1"),
                _property("coverage factor of marginOfError", 2, "1"),
            ],
        }
    return data


def _property(name: str, value: float, unit: str) -> Data:
    return {"@type": "PropertyValue", "name": name, "value": value, "unitText": unit}


def _claim(claim: Claim, whole: Whole, address: str) -> Data:
    judged = whole.judgement.claims[claim.id]
    data: Data = {
        "@type": "Claim",
        "@id": f"{address}#{claim.id}",
        "name": claim.title or claim.says.text,
        "text": claim.says.text,
        "appearance": {"@type": "WebPage", "@id": address},
    }
    if claim.source in whole.book.sources:
        data["citation"] = work(whole.book.sources[claim.source])
        data["firstAppearance"] = data["citation"]
    if judged.of:
        data["about"] = {"@type": "Thing", "name": judged.of}
    if words := _verdict(judged):
        data["comment"] = {"@type": "Comment", "text": words}
    corrections = newest_first(
        each for each in whole.book.corrections.values() if each.figure == claim.id
    )
    if corrections:
        data["correction"] = [_correction(each, address) for each in corrections]
        data["dateModified"] = corrections[0].date
    return data


def _verdict(judged: JudgedClaim) -> str:
    if judged.verdict is None or judged.probability is None:
        return ""
    said = "is undecided" if judged.verdict == UNDECIDED else judged.verdict
    sure = f"{100 * judged.probability:.1f} %"
    return f"Recomputed here: it {said}; true with a probability of {sure}."


def _correction(each: Correction, address: str) -> Data:
    return {
        "@type": "CorrectionComment",
        "@id": f"{address}#{each.id}",
        "text": f"{each.figure} was {each.was}, now {each.now}: {each.reason}",
        "datePublished": each.date,
    }


def _variable(id: str, result: Result, whole: Whole) -> Data:
    block, _, name = id.partition(".")
    return {
        "@type": "PropertyValue",
        "name": id,
        "description": f"{_title(block, whole)}: {_words(name)}",
        "unitText": _unit(result),
    }


def _title(block: str, whole: Whole) -> str:
    shelves: tuple[Mapping[str, Any], ...] = (
        whole.book.calcs,
        whole.book.sheets,
        whole.book.estimates,
    )
    return next((shelf[block].title or block for shelf in shelves if block in shelf), block)


def _words(name: str) -> str:
    return name.replace("_", " ").replace(".", ", ")


def _unit(result: Result) -> str:
    return price_year_shown(unit_text(result.unit))
