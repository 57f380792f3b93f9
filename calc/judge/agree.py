"""Does a statement agree with a result: one rule for each form of the agreement table."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from calc.engine.results import Result
from calc.notation.quantity import Exact, Quantity, parse_quantity
from calc.notation.rounding import digit_place, rounded, significant_place
from calc.notation.statement import (
    AT_LEAST,
    AT_MOST,
    EXACTLY,
    NEARLY,
    PLUS_MINUS,
    RANGE,
    Statement,
    parse_statement,
)
from calc.notation.units import PLAIN, Unit, price_year_shown, shown_as
from calc.problems import Wrong

SURE = 0.95
"""A hedged statement agrees when it is true with this probability."""

WIDEST = 0.1
"""The widest tolerance, as a share of the stated number."""

_FINEST = 9  # digits more than those that stood there, to find some that agree
_SLACK = 1e-9  # of half a unit: what binary fractions lose, and no more


@dataclass(frozen=True)
class Agreement:
    """Whether a text agrees, the recomputed value, and the text that would agree."""

    agrees: bool
    recomputed: str
    would_agree: str


def agreement(said: Statement, result: Result, title: str = "") -> Agreement:
    """A statement against a result.

    Parameters: title, a tolerance in words ("within 5 %") that stands in for the digits' own.
    Raises: Wrong when the units are not of one kind, or the tolerance cannot be read or is too
    wide.
    """
    scale = unit_like(said, result)
    within = _titled(title) or said.within
    if within and said.form in (AT_LEAST, AT_MOST):
        message = f"'{said.text}' is true or not; take away the tolerance 'within {within}'"
        raise Wrong("statement", message)
    _narrow_enough(said, within, scale)
    agrees = _holds(said, result, scale, within)
    text = said.text if agrees else _would_agree(said, result, scale, within)
    return Agreement(agrees, _with_unit(_recomputed(said, result, scale), scale), text)


def _titled(title: str) -> str:
    if title and not title.startswith("within "):
        raise Wrong(
            "statement",
            f"the title of a figure's link is its tolerance, such as \"within 5 %\", not '{title}'",
        )
    return title.removeprefix("within").strip()


def _narrow_enough(said: Statement, within: str, scale: Unit) -> None:
    """Raises: Wrong when a tolerance would let nearly anything agree."""
    stated = abs(said.numbers[0])
    if within and stated and tolerance(said, 0, within, scale) > stated * WIDEST * (1 + _SLACK):
        raise Wrong(
            "statement",
            f"the tolerance 'within {within}' is more than a tenth of '{said.text}'; state the"
            " number more closely, or say it with 'about' or as a range",
        )


def _holds(said: Statement, result: Result, scale: Unit, within: str) -> bool:
    if said.form in (AT_LEAST, AT_MOST):
        limit = result.unit.from_base(scale.to_base(said.numbers[0]))
        region = (limit, math.inf) if said.form == AT_LEAST else (-math.inf, limit)
        return result.probability_within(*region) >= SURE - _SLACK
    wanted = _wanted(said, result, scale)
    if said.form == NEARLY and abs(wanted[0]) > abs(said.numbers[0]):
        return False
    return all(
        abs(number - value)
        <= tolerance(said, at, within, scale) * (1 + _SLACK) + 1e-12 * abs(value)
        for at, (number, value) in enumerate(zip(said.numbers, wanted, strict=True))
    )


def _would_agree(said: Statement, result: Result, scale: Unit, within: str) -> str:
    """The same wording with the fewest digits that agree, from those that stood there on."""
    if said.form == NEARLY:  # it may lie above, where no number of digits helps
        return _would_agree(said.said_about(), result, scale, within)
    text = said.text
    for finer in range(_FINEST):
        text = said.restated(*_mantissas(said, result, scale, finer))
        try:
            if _holds(parse_statement(text), result, scale, within):
                return text
        except Wrong:  # a wording that cannot carry the number, such as a dash before a minus
            break
    form = " to " if said.form == RANGE else " \u00b1 "
    hedge = said.form + " " if said.form not in (RANGE, PLUS_MINUS, EXACTLY) else ""
    return _with_unit(hedge + form.join(_mantissas(said, result, scale, 0)), scale)


def _recomputed(said: Statement, result: Result, scale: Unit) -> str:
    if said.form in (AT_LEAST, AT_MOST):
        side = "above" if said.form == AT_LEAST else "below"
        return f"95 % of it lies {side} {_precise(_end(said, result, scale), result, scale)}"
    join = " to " if said.form == RANGE else " \u00b1 "
    return join.join(_precise(value, result, scale) for value in _wanted(said, result, scale))


def _end(said: Statement, result: Result, scale: Unit) -> float:
    """The value that 95 % of a result lies above, or below, in `scale`."""
    probability = 1 - SURE if said.form == AT_LEAST else SURE
    return in_unit(result, result.quantile(probability), scale)


def _mantissas(said: Statement, result: Result, scale: Unit, finer: int) -> list[str]:
    """The numbers that would agree, to the digits that stood there and `finer` more."""
    if said.form not in (AT_LEAST, AT_MOST):
        wanted = enumerate(_wanted(said, result, scale))
        return [_spelled(said, at, Decimal(repr(value)), finer) for at, value in wanted]
    place = said.place().scaleb(-finer)
    rounding = ROUND_FLOOR if said.form == AT_LEAST else ROUND_CEILING
    edge = Decimal(repr(_end(said, result, scale))) / place
    return [_spelled(said, 0, edge.to_integral_value(rounding) * place, finer)]


def unit_like(said: Statement, result: Result) -> Unit:
    """The unit that a result is stated in. Raises: Wrong when it is of another kind."""
    scale = shown_as(result.unit.dimension, said.unit)
    if scale is not None and scale.offset and result.unit.text.startswith("delta_"):
        return replace(scale, offset=0.0)  # "5 °C warmer" is a difference
    if scale is not None:
        return scale
    name = result.id.partition(".")[2] or result.id
    if said.unit.dimension == PLAIN and said.noun in ("", "times"):
        raise Wrong(
            "unit",
            f"'{said.text}' has no unit; {name} is in '{result.unit.text}', so write one after the"
            " number",
        )
    written = said.noun or price_year_shown(said.unit.text)
    raise Wrong(
        "dimension",
        f"'{said.text}' is in '{written}', but {name} is in"
        f" '{price_year_shown(result.unit.text)}'; state it in a unit of that kind",
    )


def in_unit(result: Result, value: float, scale: Unit) -> float:
    """A value in a result's own unit, in another unit of its kind."""
    return scale.from_base(result.unit.to_base(value))


def _wanted(said: Statement, result: Result, scale: Unit) -> list[float]:
    if said.form == RANGE:
        return [in_unit(result, end, scale) for end in result.interval]
    value = in_unit(result, result.value, scale)
    if said.form == PLUS_MINUS:
        expanded = 2 * result.standard_uncertainty * result.unit.factor / scale.factor
        return [value, expanded]
    return [value]


def tolerance(said: Statement, at: int, within: str, scale: Unit) -> float:
    """How far a value may lie from a stated number, in `scale`: half its last digit, or `within`.

    A tolerance in % is a share of the stated number, even where that is in % itself.
    Raises: Wrong when the tolerance is of another kind than the number.
    """
    if not within:
        return float(said.place(at)) / 2
    allowed = _allowed(within)
    if allowed.unit.text == "%":
        return abs(said.numbers[at]) * allowed.value / 100
    if allowed.unit.dimension != scale.dimension:
        raise Wrong("unit", f"the tolerance '{within}' is not of the kind of '{scale.text}'")
    return allowed.value * allowed.unit.factor / scale.factor


def _allowed(within: str) -> Quantity:
    try:
        found = parse_quantity(within.removeprefix("within").strip())
    except Wrong:
        found = None
    if found is None or not isinstance(found.spread, Exact) or found.value < 0:
        message = f"'{within}' is no tolerance; write it like 'within 5 %' or 'within 2 Wh/kg'"
        raise Wrong("statement", message)
    return found


def _spelled(said: Statement, at: int, value: Decimal, finer: int) -> str:
    """A number in the digits, grouping and multiplier of the text that stood there."""
    power = said.power(at)
    place = Decimal(1).scaleb(said.place(at).adjusted() - power - finer)
    return rounded(value.scaleb(-power), place, grouped=" " in said.mantissa(at))


def _precise(value: float, result: Result, scale: Unit) -> str:
    """A recomputed value with two digits more than its uncertainty supports."""
    width = result.standard_uncertainty * result.unit.factor / scale.factor
    place = significant_place(width).scaleb(-1) if width else digit_place(value, 6)
    return rounded(value, place)


def _with_unit(text: str, scale: Unit) -> str:
    return f"{text} {price_year_shown(scale.text)}".rstrip() if scale.text != "1" else text


def filled(result: Result) -> str:
    """What an empty figure shows: the value rounded to what its uncertainty supports."""
    if result.uncertain:
        place = significant_place(result.standard_uncertainty)
    else:
        place = digit_place(result.value, 4)
        trimmed = Decimal(rounded(result.value, place)).normalize()
        place = max(place, Decimal(1).scaleb(int(trimmed.as_tuple().exponent)))
        place = min(place, Decimal(1))
    return _with_unit(rounded(result.value, place, grouped=True), result.unit)
