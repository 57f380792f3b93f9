"""Dimensions: what a formula gives, found from its tree, and what cannot be joined."""

from __future__ import annotations

import pytest

from calc.notation.dimensions import Scope, Series, Signature, dimension_of
from calc.notation.formula import parse_formula
from calc.notation.units import unit
from calc.problems import Wrong

SCOPE = Scope(
    {
        "charge": unit("A h").dimension,
        "voltage": unit("V").dimension,
        "mass": unit("kg").dimension,
        "area": unit("cm^2").dimension,
        "share": unit("%").dimension,
        "warm": unit("degC").dimension,
        "rise": unit("delta_degC").dimension,
        "price": unit("USD_2024").dimension,
        "old_price": unit("USD_2020").dimension,
        "index": unit("USD_2024/USD_2020").dimension,
        "current": Series(unit("A").dimension),
    },
    {
        "coulombs": Signature({"current": Series(unit("A").dimension)}, {"": unit("A h")}),
        "both": Signature({"x": unit("V").dimension}, {"low": unit("V"), "high": unit("V")}),
        "cost": Signature({"x": unit("USD").dimension}, {"": unit("USD")}),
        "worded": Signature({"word": None}, {"": unit("V")}),
    },
)
GIVES = [
    ("charge * voltage", "Wh"),
    ("charge * voltage / mass", "Wh/kg"),
    ("(charge + charge) / area", "mAh/cm^2"),
    ("share * mass + mass", "kg"),
    ("1 - share", "1"),
    ("2 * 3", "1"),
    ("area ** 0.5", "m"),
    ("area ** (1 / 2)", "m"),
    ("area ** -1", "1/m^2"),
    ("area ** 0", "1"),
    ("share ** share", "1"),
    ("2 ** share", "1"),
    ("sqrt(area)", "m"),
    ("exp(share) + log(share)", "1"),
    ("max(mass, 0)", "kg"),
    ("mass + 0", "kg"),
    ("mass > 0", "1"),
    ("where(mass > 0, mass, 0)", "kg"),
    ("abs(-mass)", "kg"),
    ("mean(mass, mass, 0)", "kg"),
    ("warm - warm + rise", "K"),
    ("price / charge / voltage", "USD_2024/kWh"),
    ("old_price * index + price", "USD_2024"),
    ("coulombs(current) * voltage", "Wh"),
    ("cost(price)", "USD"),
]
REFUSED = [
    ("charge + mass", "dimension", "'+' is given 'A h' and 'kg'; they must be alike"),
    ("mass - 1", "dimension", "'-' is given 'kg' and a plain number"),
    ("max(mass, area)", "dimension", "max is given 'kg' and 'm^2'"),
    ("mass > area", "dimension", "'>' is given"),
    ("mass == 1", "dimension", "'==' is given"),
    ("exp(mass)", "dimension", "exp() takes a plain number, got 'kg'"),
    ("mass ** share", "dimension", "needs the exponent written as a number"),
    ("mass ** mass", "dimension", "an exponent is a plain number"),
    ("2 ** mass", "dimension", "an exponent is a plain number"),
    ("where(mass, 1, 2)", "dimension", "the condition of where"),
    ("where(share, mass, area)", "dimension", "where is given"),
    ("price + old_price", "dimension", "USD_2024"),
    ("log(share, 2)", "formula", "log() takes 1 argument, got 2"),
    ("max()", "formula", "max() takes at least 1 argument, got 0"),
    ("ln(share)", "formula", "it is written log here"),
    ("squrt(mass)", "formula", "did you mean sqrt?"),
    ("open(share)", "formula", "no function is called 'open'"),
    ("current * voltage", "formula", "only a procedure can take it"),
    ("coulombs(charge)", "formula", "must be a column of a log"),
    ("coulombs()", "formula", "takes current; got 0"),
    ("both(voltage)", "formula", "make it a step of its own"),
    ("worded(voltage)", "formula", "is a word"),
    ("cost(mass)", "dimension", "x of cost is"),
    ("volage * 2", "reference", "did you mean voltage?"),
]


@pytest.mark.parametrize(("text", "scale"), GIVES)
def test_a_formula_has_this_dimension(text: str, scale: str) -> None:
    assert dimension_of(parse_formula(text).tree, SCOPE) == unit(scale).dimension


@pytest.mark.parametrize(("text", "kind", "phrase"), REFUSED)
def test_what_does_not_fit_is_refused(text: str, kind: str, phrase: str) -> None:
    with pytest.raises(Wrong) as refused:
        dimension_of(parse_formula(text).tree, SCOPE)
    assert refused.value.kind == kind
    assert phrase in refused.value.message
