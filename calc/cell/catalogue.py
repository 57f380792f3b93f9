"""Every procedure that a formula may call, by name."""

from collections.abc import Mapping
from types import ModuleType

from calc.cell import (
    balance_fit,
    charge_limits,
    charge_simulation,
    charge_window,
    curves,
    differential,
    fade_fit,
    formula_mass,
    integrate_log,
    life,
    log_checks,
    purity,
    rainflow,
    resistance_steps,
    state_of_charge,
    winding,
)
from calc.cell.procedure import Procedure

__all__ = ["MODULES", "PROCEDURES"]

MODULES: tuple[ModuleType, ...] = (
    formula_mass,
    purity,
    winding,
    curves,
    log_checks,
    integrate_log,
    resistance_steps,
    differential,
    state_of_charge,
    balance_fit,
    fade_fit,
    charge_limits,
    charge_simulation,
    charge_window,
    rainflow,
    life,
)


def _merged(modules: tuple[ModuleType, ...]) -> dict[str, Procedure]:
    """Return the procedures of all modules; raise ValueError when two share a name."""
    merged: dict[str, Procedure] = {}
    for module in modules:
        twice = merged.keys() & module.PROCEDURES.keys()
        if twice:
            raise ValueError(f"{module.__name__} declares {sorted(twice)} a second time")
        merged.update(module.PROCEDURES)
    return merged


PROCEDURES: Mapping[str, Procedure] = _merged(MODULES)
