"""Molar mass of a compound from its formula."""

import re
from collections import Counter
from fractions import Fraction

from calc.cell.procedure import Procedure

__all__ = ["ELEMENTS", "PROCEDURES", "atoms", "molar_mass"]

ELEMENTS = {
    "H": "hydrogen",
    "Li": "lithium",
    "C": "carbon",
    "N": "nitrogen",
    "O": "oxygen",
    "F": "fluorine",
    "Na": "sodium",
    "Al": "aluminium",
    "Si": "silicon",
    "P": "phosphorus",
    "S": "sulfur",
    "Ti": "titanium",
    "V": "vanadium",
    "Mn": "manganese",
    "Fe": "iron",
    "Co": "cobalt",
    "Ni": "nickel",
    "Cu": "copper",
}

_TOKEN = re.compile(r"([A-Z][a-z]?|[()])(\d+/\d+|\d+\.\d+|\d+)?")


def atoms(formula: str) -> dict[str, float]:
    """Count the atoms of each element in one formula unit.

    Parameters: formula [text], as in LiFePO4, Ca(OH)2, LiNi1/3Mn1/3Co1/3O2.
    Returns: atoms by element symbol [1].
    Raises: ValueError when the text is no formula.
    Source: exact.

    >>> atoms("LiNi0.5Mn0.5(PO4)2")
    {'Li': 1.0, 'Ni': 0.5, 'Mn': 0.5, 'P': 2.0, 'O': 8.0}
    """
    open_groups: list[Counter[str]] = [Counter()]
    for symbol, count in _tokens(formula):
        if symbol == "(":
            open_groups.append(Counter())
        elif symbol == ")":
            _close_group(open_groups, count, formula)
        else:
            _add(open_groups[-1], {symbol: Fraction(1)}, count)
    if len(open_groups) != 1:
        raise ValueError(f"'{formula}' opens a bracket that it does not close")
    return {symbol: float(count) for symbol, count in open_groups[0].items()}


def _tokens(formula: str) -> list[tuple[str, Fraction]]:
    text = formula.replace(" ", "")
    if not text or _TOKEN.sub("", text):
        raise ValueError(f"'{formula}' is no chemical formula; write it like LiFePO4")
    return [(symbol, Fraction(count or 1)) for symbol, count in _TOKEN.findall(text)]


def _close_group(open_groups: list[Counter[str]], count: Fraction, formula: str) -> None:
    if len(open_groups) == 1:
        raise ValueError(f"'{formula}' closes a bracket that it did not open")
    group = open_groups.pop()
    _add(open_groups[-1], group, count)


def _add(group: Counter[str], more: dict[str, Fraction] | Counter[str], times: Fraction) -> None:
    # Fractions keep thirds whole until the last moment.
    for symbol, count in more.items():
        group[symbol] += count * times  # type: ignore[assignment]


def molar_mass(formula: str, **weights: float) -> float:
    """Molar mass of a compound, from its formula and the atomic weights.

    Parameters: formula [text]; weights [kg/mol] by element name in lower case.
    Returns: molar mass [kg/mol].
    Raises: ValueError when the text is no formula or an element has no weight.
    Source: exact; the sum of the weights of the atoms.

    >>> round(molar_mass("Li2O", lithium=6.94e-3, oxygen=15.999e-3), 9)
    0.029879
    """
    counts = atoms(formula)
    missing = [symbol for symbol in counts if ELEMENTS.get(symbol) not in weights]
    if missing:
        raise ValueError(f"no atomic weight is given for {', '.join(missing)} in '{formula}'")
    return sum(count * weights[ELEMENTS[symbol]] for symbol, count in counts.items())


PROCEDURES: dict[str, Procedure] = {
    "molar_mass": Procedure(
        function=molar_mass,
        takes={"formula": "text"} | dict.fromkeys(ELEMENTS.values(), "kg/mol"),
        gives={"": "kg/mol"},
    ),
}
