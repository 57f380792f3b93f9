"""Does a statement agree with a result: one rule for each form of the agreement table."""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from calc.book.evidence import CHANGE, compared
from calc.engine.results import Result
from calc.notation.quantity import MULTIPLIERS, parse_quantity
from calc.notation.rounding import digit_place, rounded, significant_place
from calc.notation.statement import (
    AT_LEAST,
    AT_MOST,
    PLUS_MINUS,
    RANGE,
    Statement,
)
from calc.notation.units import PLAIN, Unit, price_year_shown, shown_as
from calc.problems import Wrong

SURE = 0.95
"""A hedged statement agrees when it is true with this probability."""

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
    Raises: Wrong when the units are not of one kind, or the tolerance cannot be read.
    """
    scale = unit_like(said, result)
    within = title or said.within
    if said.form in (AT_LEAST, AT_MOST):
        return _one_sided(said, result, scale)
    wanted = _wanted(said, result, scale)
    slack = [tolerance(said, at, within, scale) for at in range(len(wanted))]
    agrees = all(
        abs(number - value) <= half * (1 + _SLACK) + 1e-12 * abs(value)
        for number, value, half in zip(said.numbers, wanted, slack, strict=True)
    )
    texts = [_digits(said, at, value) for at, value in enumerate(wanted)]
    full = " to ".join if said.form == RANGE else " ± ".join
    recomputed = full([_precise(value, result, scale) for value in wanted])
    return Agreement(agrees, _with_unit(recomputed, scale), said.restated(*texts))


def unit_like(said: Statement, result: Result) -> Unit:
    """The unit that a result is stated in. Raises: Wrong when it is of another kind."""
    scale = shown_as(result.unit.dimension, said.unit)
    if scale is not None:
        return scale
    name = result.id.partition(".")[2] or result.id
    if said.unit.dimension == PLAIN and said.noun in ("", "times"):
        raise Wrong(
            "unit",
            f"'{said.text}' has no unit; {name} is in '{result.unit.text}', so write one after the"
            " number",
        )
    written = said.noun or said.unit.text
    raise Wrong(
        "dimension",
        f"'{said.text}' is in '{written}', but {name} is in '{result.unit.text}'; state it in a"
        " unit of that kind",
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
    allowed = parse_quantity(within.removeprefix("within").strip())
    if allowed.unit.text == "%":
        return abs(said.numbers[at]) * allowed.value / 100
    if allowed.unit.dimension != scale.dimension:
        raise Wrong("unit", f"the tolerance '{within}' is not of the kind of '{scale.text}'")
    return allowed.value * allowed.unit.factor / scale.factor


def _one_sided(said: Statement, result: Result, scale: Unit) -> Agreement:
    limit = said.numbers[0]
    in_own = result.unit.from_base(scale.to_base(limit))
    rising = said.form == AT_LEAST
    region = (in_own, math.inf) if rising else (-math.inf, in_own)
    probability = result.probability_within(*region)
    end = in_unit(result, result.quantile(1 - SURE if rising else SURE), scale)
    place = said.place()
    edge = (Decimal(repr(end)) / place).to_integral_value(ROUND_FLOOR if rising else ROUND_CEILING)
    words = f"95 % of it lies {'above' if rising else 'below'} "
    text = _with_unit(words + _precise(end, result, scale), scale)
    return Agreement(probability >= SURE, text, said.restated(_spelled(said, 0, edge * place)))


def _digits(said: Statement, at: int, value: float) -> str:
    return _spelled(said, at, Decimal(rounded(value, said.place(at)).replace("\u202f", "")))


def _spelled(said: Statement, at: int, value: Decimal) -> str:
    """A number in the digits, grouping and multiplier of the text that stood there."""
    written, _, word = said.digits[at].rpartition(" ")
    power = MULTIPLIERS.get(word, 0)
    scaled = value.scaleb(-power)
    place = Decimal(1).scaleb(min(int(said.place(at).adjusted()) - power, 99))
    text = rounded(scaled, place)
    grouped = " " in (written if power else said.digits[at])
    return rounded(scaled, place, grouped=True) if grouped else text


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


def same_statement(text: str, record: Statement) -> bool:
    """Whether a quoted text says what is on record: the same hedge, numbers and unit."""
    said = compared(text, record.noun == CHANGE)
    if said.form != record.form or said.unit.dimension != record.unit.dimension:
        return False
    return all(
        math.isclose(said.unit.to_base(a), record.unit.to_base(b), rel_tol=1e-9)
        for a, b in zip(said.numbers, record.numbers, strict=True)
    )
