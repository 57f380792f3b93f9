"""Numbers and units as a reader sees them."""

from __future__ import annotations

import re
from decimal import Decimal

from calc.notation.rounding import digit_place, rounded, significant_place
from calc.notation.units import Unit, price_year_shown
from hooks.wording import counted, unit_text, without_year

_EXACT_DIGITS = 4


def unit_shown(scale: Unit) -> str:
    """A unit as a reader sees it, without its price year; "" for a plain number."""
    return without_year(unit_text(scale))


def price_year(scale: Unit) -> str:
    """`2024 prices` for money of one year, or ""."""
    found = re.search(r"\((\d{4} prices)\)", price_year_shown(scale.text))
    return found[1] if found else ""


def heading(quantity: str, scale: Unit) -> str:
    """Quantity / unit, as on an axis or above a column.

    >>> from calc.notation.units import unit
    >>> heading("specific energy", unit("Wh/kg"))
    'specific energy / (Wh/kg)'
    """
    shown = unit_shown(scale)
    if not shown:
        return quantity
    joined = f"{quantity} / ({shown})" if re.search(r"[/ ]", shown) else f"{quantity} / {shown}"
    return f"{joined}, {year}" if (year := price_year(scale)) else joined


def labelled(written: str, scale: Unit) -> str:
    """A label of the writer's as on an axis: with its unit, unless it says that itself."""
    return written if " / " in written else heading(written, scale)


def digits(value: float, place: Decimal) -> str:
    """A number rounded to a place, with a real minus and thin spaces between thousands."""
    return rounded(value, place, grouped=True).replace("-", "\u2212")


def plain_digits(value: float, significant: int = _EXACT_DIGITS) -> str:
    """A number that carries no uncertainty, without trailing zeros."""
    place = digit_place(value, significant)
    short = Decimal(rounded(value, place)).normalize()
    exponent = max(place, Decimal(1).scaleb(int(short.as_tuple().exponent)))
    return digits(value, min(exponent, Decimal(1)))


def with_spread(value: float, standard: float) -> str:
    """A value with its expanded uncertainty, k = 2, both to what the uncertainty supports."""
    if standard <= 0:
        return plain_digits(value)
    place = significant_place(standard)
    return f"{digits(value, place)} ± {digits(2 * standard, place)}"


def with_unit(number: str, scale: Unit) -> str:
    """A number's text with its unit after a no-break space."""
    shown = counted(unit_shown(scale), number)
    return f"{number}\u00a0{shown}" if shown else number


def listed(texts: list[str]) -> str:
    """Texts joined as in a sentence.

    >>> listed(["a", "b", "c"])
    'a, b and c'
    """
    return " and ".join(filter(None, (", ".join(texts[:-1]), texts[-1]))) if texts else ""


def tidy(value: float, significant: int = 7) -> float:
    """A number rounded before it is drawn, so that the last bits of a float move no picture."""
    return float(f"{value:.{significant}g}")
