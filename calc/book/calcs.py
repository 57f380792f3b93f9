"""Calcs and methods: from a block's fields to whole values."""

from __future__ import annotations

import re
from collections.abc import Mapping, Set

from calc.book.fields import Fields
from calc.book.inputs import MARKS, read_correlations, read_inputs, read_parameters
from calc.book.model import Calc, Check, Limit, Method, Place, Solve, Step
from calc.notation.formula import parse_formula
from calc.notation.quantity import Quantity, Rectangular, parse_quantity
from calc.notation.statement import parse_statement
from calc.problems import Explained, Wrong

_CALC_KEYS = ("id", "title", "about", "inputs", "steps", "use", "correlated", "solve", "interval")
_METHOD_KEYS = ("id", "title", "answers", "inputs", "uses", "steps", "valid", "checks")
_CHECK_KEYS = (
    "given",
    "gives",
    "source",
    "mark",
    "within",
    "why",
    "rounded",
    "independent",
)
_NAMED_LIMIT = re.compile(r"(?P<name>[a-z][a-z0-9_.]*)\s*(?P<sign><=|>=|<|>)\s*(?P<end>.+)$")
_BETWEEN = re.compile(r"(?P<name>[a-z][a-z0-9_.]*)\s+(?P<range>between\s+.+\s+and\s+.+)$")


def read_calc(fields: Fields) -> Calc:
    """A calc block; what cannot be read in it is noted and left out."""
    fields.only(_CALC_KEYS)
    inputs = read_inputs(fields)
    interval = fields.text("interval", "symmetric")
    if interval not in ("symmetric", "shortest"):
        fields.say("block", f"interval is symmetric or shortest, not '{interval}'", "interval")
    steps = read_steps(fields)
    use = fields.text("use")
    if not steps and not use and not fields.tree.get("steps") and not fields.misspelt("steps"):
        fields.say("block", "a calc needs steps: or use: with the id of a method")
    return Calc(
        fields.identifier(),
        fields.text("title"),
        Place(fields.findings.file, fields.line()),
        inputs,
        steps,
        use,
        read_correlations(fields),
        _read_solve(fields),
        interval,
        fields.text("about"),
        fields.lost("inputs", inputs) + fields.lost("steps", steps),
    )


def read_steps(fields: Fields) -> tuple[Step, ...]:
    """The steps of a calc or method, in order."""
    found: list[Step] = []
    for name in fields.names("steps"):
        try:
            found.append(_read_step(fields, name))
        except Wrong as error:
            fields.findings.wrong(error, fields.line("steps", name))
        except Explained:
            continue
    return tuple(found)


def _read_step(fields: Fields, name: str) -> Step:
    place = Place(fields.findings.file, fields.line("steps", name))
    written = fields.tree["steps"][name]
    if isinstance(written, str):
        return Step(name, place, parse_formula(written))
    here = fields.sub("steps", name, what=f"step '{name}'")
    here.only(("formula", "use", "procedure", "with", "about", "symbol"))
    ways = [word for word in ("formula", "use", "procedure") if here.tree.get(word)]
    if len(ways) != 1:
        if any(map(here.misspelt, ("formula", "use", "procedure"))):
            raise Explained
        raise Wrong("block", f"step '{name}' needs one of formula, use or procedure")
    formula = parse_formula(here.text("formula")) if ways[0] == "formula" else None
    return Step(
        name,
        place,
        formula,
        here.text("use"),
        here.text("procedure"),
        here.mapping("with"),
        here.text("about"),
        here.text("symbol"),
    )


def _read_solve(fields: Fields) -> tuple[Solve, ...]:
    found: list[Solve] = []
    for unknown in fields.names("solve"):
        here = fields.sub("solve", unknown, what=f"solve '{unknown}'")
        here.only(("so_that", "between"))
        wish = here.needed("so_that", "so_that: result = 280 Wh/kg")
        result, sign, target = wish.replace("==", "=").partition("=")
        if not sign:
            if wish:
                here.say("block", "so_that is written 'result = 280 Wh/kg'", "so_that")
            continue
        between_text = here.needed("between", "between: 0 % to 100 %, the range to look in")
        if not between_text:
            continue
        try:
            aim = parse_quantity(target.strip())
            between = _range(between_text)
        except Wrong as error:
            here.findings.wrong(error, here.line())
            continue
        place = Place(here.findings.file, here.line())
        found.append(Solve(unknown, result.strip(), aim, between, place))
    return tuple(found)


def _range(text: str) -> Quantity:
    found = parse_quantity(text)
    if not isinstance(found.spread, Rectangular):
        raise Wrong("quantity", f"a range such as '0 % to 100 %' is expected, got '{text}'")
    return found


def ends_of(text: str) -> tuple[Quantity, Quantity]:
    """The two ends of a range, each a quantity. Raises: Wrong when the text is no range."""
    found = _range(text)
    assert isinstance(found.spread, Rectangular)
    low, high = found.spread.low, found.spread.high
    return Quantity(text, low, found.unit), Quantity(text, high, found.unit)


def read_method(fields: Fields) -> Method:
    """A method block; what cannot be read in it is noted and left out."""
    fields.only(_METHOD_KEYS)
    parameters, uses = read_parameters(fields), fields.mapping("uses")
    taken = {item.name for item in parameters} | uses.keys()
    steps = tuple(step for step in read_steps(fields) if _has_own_name(step, taken, fields))
    if not fields.tree.get("steps") and not fields.misspelt("steps"):
        fields.say("block", "a method needs steps: with its formulas")
    if not fields.tree.get("checks") and not fields.misspelt("checks"):
        message = "nothing holds this method to the outside world; add checks:"
        fields.findings.say(fields.line(), "block", message, "warning")
    return Method(
        fields.identifier(),
        fields.text("title"),
        Place(fields.findings.file, fields.line()),
        parameters,
        uses,
        steps,
        _read_limits(fields),
        _read_checks(fields),
        fields.text("answers"),
        fields.lost("inputs", parameters) + fields.lost("steps", steps),
    )


def _has_own_name(step: Step, taken: Set[str], fields: Fields) -> bool:
    if step.name not in taken:
        return True
    message = f"'{step.name}' is an input and a step; give the step another name"
    fields.say("double-id", message, "steps", step.name)
    return False


def _read_limits(fields: Fields) -> tuple[Limit, ...]:
    found: list[Limit] = []
    for at, text in enumerate(fields.texts("valid")):
        place = Place(fields.findings.file, fields.line("valid", at))
        try:
            found.append(_limit(text, place))
        except Wrong as error:
            fields.findings.wrong(error, place.line)
    return tuple(found)


def _limit(text: str, place: Place) -> Limit:
    if between := _BETWEEN.match(text):
        low, high = ends_of(between["range"])
        return Limit(text, place, name=between["name"], low=low, high=high)
    named = _NAMED_LIMIT.match(text)
    if named and re.match(r"[-+]?[\d.]+(?:[eE][-+]?\d+)?\s*[^\d\s*/+().-]", named["end"]):
        end, above = parse_quantity(named["end"]), named["sign"].startswith(">")
        return Limit(
            text,
            place,
            name=named["name"],
            low=end if above else None,
            high=None if above else end,
            strict="=" not in named["sign"],
        )
    return Limit(text, place, formula=parse_formula(text))


def _read_checks(fields: Fields) -> tuple[Check, ...]:
    found: list[Check] = []
    for at in fields.items("checks"):
        here = fields.sub("checks", at, what="a check")
        here.only(_CHECK_KEYS)
        try:
            found.append(_read_check(here))
        except Explained:
            continue
        except Wrong as error:
            here.findings.wrong(error, here.line())
    return tuple(found)


def _read_check(here: Fields) -> Check:
    given, columns = _read_given(here)
    gives = here.mapping("gives")
    for text in gives.values():
        parse_statement(text)
    mark = here.text("mark")
    _check_complete(here, gives, mark)
    return Check(
        given,
        gives,
        here.text("source"),
        mark,
        Place(here.findings.file, here.line()),
        here.text("within"),
        here.text("why"),
        here.text("rounded") == "true",
        here.text("independent"),
        columns,
    )


def _check_complete(here: Fields, gives: Mapping[str, str], mark: str) -> None:
    """Nothing, when a check has all that it needs. Raises: Wrong."""
    if not gives:
        raise Wrong("block", "a check needs gives: with at least one expected value")
    if not here.text("source"):
        raise Wrong("source", "a check needs a source")
    if here.text("within") and not here.text("why"):
        raise Wrong("block", "a check with within: needs why:")
    if mark and mark not in MARKS:
        raise Wrong("block", f"'{mark}' is no mark; known are {', '.join(MARKS)}")


def _read_given(here: Fields) -> tuple[dict[str, Quantity], dict[str, tuple[str, str]]]:
    """What a check gives: quantities, and columns of logs, by input."""
    texts = here.tree.get("given") or {}
    if not isinstance(texts, dict):
        raise Wrong("block", "'given' of a check is a mapping: {input: quantity, …}")
    columns = {
        name: _column(here.sub("given", name, what=f"input '{name}'"))
        for name, text in texts.items()
        if isinstance(text, dict)
    }
    given = {name: parse_quantity(str(text)) for name, text in texts.items() if name not in columns}
    return given, columns


def _column(here: Fields) -> tuple[str, str]:
    here.only(("log", "column"))
    log, column = here.needed("log", "log: name.csv"), here.needed("column", "column: voltage")
    if not (log and column):
        raise Explained
    return log, column
