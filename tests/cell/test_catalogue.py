"""Every procedure that formulas may call: what it declares is what its function takes."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from typing import Any, get_args, get_type_hints

import pytest

from calc.cell.catalogue import MODULES, PROCEDURES
from calc.notation.units import unit
from tests.helpers import site_book


def _scale(text: str) -> float:
    return unit(text.removeprefix("series ")).factor


def _parameters(function: Callable[..., Any], declared: set[str]) -> set[str]:
    """What a function takes; of one that takes any name, what is declared."""
    found = inspect.signature(function).parameters
    for item in found.values():
        if item.kind is item.VAR_KEYWORD:
            kind = get_args(get_type_hints(function)[item.name])
            return (found.keys() - {item.name}) | (
                get_type_hints(kind[0]).keys() if kind else declared
            )
    return set(found)


@pytest.mark.parametrize("name", sorted(PROCEDURES))
def test_declared_units_are_base_units_of_what_the_function_takes(name: str) -> None:
    row = PROCEDURES[name]
    assert set(row.takes) == _parameters(row.function, set(row.takes))
    assert all(_scale(text) == 1.0 for text in row.takes.values() if text != "text")
    assert all(_scale(text) == 1.0 for text in row.gives.values())


@pytest.mark.parametrize("name", sorted(PROCEDURES))
def test_a_procedure_has_a_worked_example(name: str) -> None:
    assert ">>>" in (PROCEDURES[name].function.__doc__ or ""), f"{name} shows no example"


def test_no_procedure_is_lost_in_the_merge() -> None:
    assert len(PROCEDURES) == sum(len(module.PROCEDURES) for module in MODULES)


EXACT = {
    # by the definitions of the SI since 2019; CODATA 2018
    "faraday": ("96485.33212 C/mol", 1.602176634e-19 * 6.02214076e23),
    "gas_constant": ("8.314462618 J/(mol K)", 1.380649e-23 * 6.02214076e23),
    "avogadro": ("6.02214076e23 1/mol", 6.02214076e23),
}


@pytest.mark.parametrize("name", EXACT)
def test_constants_never_change(name: str) -> None:
    """As printed, and to those digits the product of the constants that define the units."""
    written, product = EXACT[name]
    held = {item.name: item for item in site_book().sheets["constants"].inputs}[name]
    assert held.quantity is not None
    assert held.quantity.text == written
    assert held.quantity.base == pytest.approx(product, rel=1e-10)
