"""Texts of figures with a number moved, so that what they state is wrong."""

from __future__ import annotations

import math
from collections.abc import Iterator
from decimal import Decimal

from calc.notation.rounding import rounded, written
from calc.notation.statement import AT_LEAST, Statement, parse_statement


def text_mutants(said: Statement, half: float, value: float = math.nan) -> Iterator[str]:
    """The text with each of its numbers moved by one in its last digit, up and down.

    The last digit that binds, that is: not the zeros after "about". Where a tolerance is given it
    is the least step that must lead out of it. It is one step more where the new number would bind
    less than the old ("about 90" to "about 100"), and where the value lies just between the two
    numbers, so that both agree.
    Parameters: half, how far the value may lie from the first number; value, the recomputed one.
    """
    for at in range(len(said.digits)):
        place = said.place(at)
        wide = at == 0 and half > 0.51 * float(place)
        steps = math.ceil(4 * half / float(place)) if wide else 1
        for sign in (1, -1):
            text = _stepped(said, at, sign * steps)
            moved = parse_statement(text)
            between = at == 0 and abs(moved.numbers[0] - value) < half * (1 + 1e-6)
            again = moved.place(at) > place or between
            yield _stepped(said, at, sign * (steps + 1)) if again else text


def limit_mutant(said: Statement, value: float) -> str:
    """A limit moved to where most of the result is not; `value` is the nominal one."""
    beyond = 2 if said.form == AT_LEAST else -2
    return _stepped(said, 0, round((value - said.numbers[0]) / float(said.place())) + beyond)


def _stepped(said: Statement, at: int, steps: int) -> str:
    """One number moved by so many units of its binding digit, to the digits that it had."""
    power = said.power(at)
    mantissas = [said.mantissa(each) for each in range(len(said.digits))]
    value = written(mantissas[at])
    own = Decimal(1).scaleb(int(value.as_tuple().exponent))
    moved = value + steps * said.place(at).scaleb(-power)
    mantissas[at] = rounded(moved, own)
    return said.restated(*mantissas)
