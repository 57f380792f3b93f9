"""Claims, estimates, forecasts, questions and corrections: from fields to whole values."""

from __future__ import annotations

import re

from calc.book.fields import Fields
from calc.book.inputs import INPUT_KEYS, read_correlations, read_input
from calc.book.model import (
    Claim,
    Correction,
    Estimate,
    Estimates,
    Forecast,
    Input,
    Place,
    Question,
)
from calc.notation.quantity import Exact, parse_quantity
from calc.notation.statement import (
    AT_LEAST,
    AT_MOST,
    LOOSELY,
    PLUS_MINUS,
    RANGE,
    Statement,
    parse_statement,
)
from calc.problems import Wrong

HOLDS, DOES_NOT_HOLD, UNDECIDED = "holds", "does not hold", "undecided"
VERDICTS = (HOLDS, DOES_NOT_HOLD, UNDECIDED)
CHANGE = "change"
"""The noun of a statement that compares: 20 % more, ten minutes less."""
AGREEMENTS = ("consistent", "inconsistent")

_COMPARED = re.compile(
    r"\s+(?P<way>more|less|higher|lower|greater|smaller|longer|shorter|cheaper|dearer|heavier|lighter|"
    r"better|worse)(?:\s+than\b.*?)?(?=$|,?\s+within\b)"
)
_FALLING = frozenset("less lower smaller shorter cheaper lighter worse".split())


def read_claim(fields: Fields) -> Claim | None:
    """A claim block, or None when its statement cannot be read."""
    fields.only(("id", "title", "source", "says", "of", "than", "verdict"))
    verdict = fields.needed("verdict", f"verdict: one of {', '.join(VERDICTS)}")
    if verdict and verdict not in VERDICTS:
        fields.say("block", f"verdict is one of {', '.join(VERDICTS)}, not '{verdict}'", "verdict")
    than, said = fields.text("than"), fields.needed("says", "says: at least 280 Wh/kg")
    if not said or verdict not in VERDICTS:
        return None
    try:
        says = compared(said, bool(than))
    except Wrong as error:
        fields.findings.wrong(error, fields.line("says"))
        return None
    if says.form in LOOSELY and not says.within:
        fields.say(
            "block",
            f"'{says.form}' in a claim needs its tolerance; write '{says.text} within 10 %'",
            "says",
        )
        return None
    return Claim(
        fields.identifier(),
        fields.needed("source", "source: an id of sources.yml"),
        says,
        fields.needed("of", "of: id.name of the result that is meant"),
        than,
        verdict,
        Place(fields.findings.file, fields.line()),
        fields.text("title"),
    )


def way_compared(text: str) -> str:
    """The word by which a text compares: `more` of "20 % more than Gannet"; "" when it does not."""
    found = _COMPARED.search(text)
    return found["way"] if found else ""


def compared(text: str, relative: bool) -> Statement:
    """A claim's statement; "20 % less" than another result is a change of -20 %.

    Raises: Wrong when it is no statement.
    """
    found = _COMPARED.search(text) if relative else None
    if not found:
        return parse_statement(text)
    said = parse_statement(text[: found.start()] + text[found.end() :])
    if found["way"] not in _FALLING:
        return Statement(text, said.form, said.digits, said.unit, CHANGE, said.within)
    turned = {AT_LEAST: AT_MOST, AT_MOST: AT_LEAST}.get(said.form, said.form)
    digits = tuple(f"-{number}" for number in said.digits)
    if said.form == RANGE:
        digits = digits[::-1]
    elif said.form == PLUS_MINUS:
        digits = (digits[0], said.digits[1])
    return Statement(text, turned, digits, said.unit, CHANGE, said.within)


def read_estimates(fields: Fields) -> Estimates:
    """An estimates block; one-sided values are kept as bounds."""
    fields.only(("id", "title", "unit", "values", "verdict", "correlated"))
    found = [_estimate(fields, name) for name in fields.names("values")]
    verdict = fields.text("verdict")
    if verdict not in ("", *AGREEMENTS):
        message = f"verdict of estimates is one of {', '.join(AGREEMENTS)}, not '{verdict}'"
        fields.say("block", message, "verdict")
        verdict = ""
    read = tuple(item for item in found if item is not None)
    return Estimates(
        fields.identifier(),
        fields.text("title"),
        Place(fields.findings.file, fields.line()),
        read,
        fields.text("unit"),
        verdict,
        read_correlations(fields),
        fields.lost("values", [each.input for each in read]),
    )


def _estimate(fields: Fields, name: str) -> Estimate | None:
    here = fields.sub("values", name, what=f"estimate '{name}'")
    text = here.text("value")
    if not re.match(r"(?:at least|at most|over|under|more than|less than|up to|[<>])", text):
        found = read_input(fields, "values", name)
        return Estimate(found) if found else None
    here.only(INPUT_KEYS)
    try:
        bound = parse_statement(text)
    except Wrong as error:
        fields.findings.wrong(error, here.line("value"))
        return None
    source = here.needed("source", "source: an id of sources.yml")
    place = Place(fields.findings.file, here.line())
    return Estimate(Input(name, place, source=source, about=here.text("about")), bound)


def read_forecast(fields: Fields) -> Forecast | None:
    """A forecast block, or None when its probability cannot be read."""
    fields.only(
        ("id", "title", "says", "of", "probability", "registered", "due", "settles", "outcome",
         "settled", "source")
    )  # fmt: skip
    stated = fields.needed("probability", "probability: 70 %")
    if not stated:
        return None
    try:
        probability = parse_quantity(stated)
    except Wrong as error:
        fields.findings.wrong(error, fields.line("probability"))
        return None
    if not 0 <= probability.base <= 1:
        fields.say("block", "a probability lies between 0 % and 100 %", "probability")
    if not isinstance(probability.spread, Exact):
        fields.say("block", "a forecast has one probability; write probability: 70 %",
                   "probability")  # fmt: skip
    if fields.text("outcome") not in ("", "true", "false"):
        fields.say("block", "outcome is true or false", "outcome")
    if fields.text("settled") and not fields.text("outcome"):
        fields.say("block", "a settled forecast says how it came out; add outcome: true, or false",
                   "settled")  # fmt: skip
    return Forecast(
        fields.identifier(),
        fields.needed("says", "says: what will be, in a sentence"),
        probability,
        fields.date("registered"),
        fields.date("due"),
        fields.needed("settles", "settles: what observation decides it"),
        Place(fields.findings.file, fields.line()),
        fields.text("of"),
        fields.text("outcome"),
        fields.date("settled", needed=bool(fields.text("outcome"))),
        fields.text("source"),
    )


def read_question(fields: Fields) -> Question:
    """A question block."""
    fields.only(("id", "title", "asks", "settles", "of", "review_by"))
    return Question(
        fields.identifier(),
        fields.needed("asks", "asks: what is not known"),
        fields.needed("settles", "settles: what measurement would settle it"),
        tuple(fields.texts("of")),
        fields.date("review_by"),
        Place(fields.findings.file, fields.line()),
    )


def read_correction(fields: Fields) -> Correction:
    """A correction block."""
    fields.only(("id", "date", "figure", "was", "now", "reason", "source"))
    return Correction(
        fields.identifier(),
        fields.date("date"),
        fields.needed("figure", "figure: id.name of the figure, or the id of the claim"),
        fields.needed("was", "was: the text as it was published"),
        fields.needed("now", "now: the text as it stands now"),
        fields.needed("reason", "reason: why it changed, in a sentence"),
        Place(fields.findings.file, fields.line()),
        fields.text("source"),
    )
