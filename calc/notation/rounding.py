"""Digits: which ones a text states, and which ones a number deserves.

A written number is a decimal and is rounded as one, from its text; a computed number is rounded
once, from its unrounded value. Nothing here passes through binary formatting.
"""

from __future__ import annotations

import re
from decimal import ROUND_HALF_UP, Decimal, localcontext

_NARROW_SPACE = "\u202f"
_SPACES = re.compile("[ \u00a0\u2009\u202f]")
_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?")
_PLAIN_FROM = -5  # smaller numbers than 1e-5 are written with an exponent
_PLAIN_TO = 15  # and so are those of more digits than a float can hold
_DIGITS = 400  # decimal precision; enough for any float's span


def written(text: str) -> Decimal:
    """The decimal that a text writes, with its trailing zeros.

    Parameters: text, digits with an optional sign (the typographic minus too), spaces of any
    width between them, an optional decimal point and exponent.
    Returns: the number, dimensionless or in the unit that follows it in its own text.
    Raises: ValueError when the text is anything but one number.

    >>> written("400 000"), written("3.70")
    (Decimal('400000'), Decimal('3.70'))
    """
    bare = _SPACES.sub("", text).replace("\u2212", "-")
    if not _NUMBER.fullmatch(bare):
        raise ValueError(f"a number is expected, such as '3.70' or '1.2e-3', got {text!r}")
    return Decimal(bare)


def last_digit(text: str) -> Decimal:
    """One unit of the last digit that a text states; a whole number states all its digits.

    Returns: a power of ten, in the number's own unit.
    Raises: ValueError when the text is not one number.
    Source: ISO 80000-1:2009, 7.3.4.

    >>> last_digit("3.70"), last_digit("270"), last_digit("2.5e3")
    (Decimal('0.01'), Decimal('1'), Decimal('1E+2'))
    """
    return _power_of_ten(_exponent(written(text)))


def last_nonzero_digit(text: str) -> Decimal:
    """One unit of the last digit that is not zero, for texts such as "about 270".

    Zero has no such digit, and counts its last one.
    Returns: a power of ten, in the number's own unit.
    Raises: ValueError when the text is not one number.
    Source: the site's own rule; no standard gives a number to "about".

    >>> [f"{last_nonzero_digit(text):f}" for text in ("270", "400 000", "1000", "0.30")]
    ['10', '100000', '1000', '0.1']
    """
    number = written(text)
    return _power_of_ten(_exponent(number.normalize() if number else number))


def round_half_up(value: float | Decimal | str, place: Decimal) -> Decimal:
    """A number rounded once to a place, a tie going away from zero.

    Parameters: value, a float (rounded as the shortest decimal that names it), a Decimal, or the
    written text; place, a power of ten in the same unit.
    Returns: the rounded number, rounded to the power of ten of place.
    Raises: ValueError when value is not finite or not a number.
    Source: ISO 80000-1:2009, annex B, rule B (from memory, to be confirmed).

    >>> round_half_up(12.254, Decimal("0.1")), round_half_up("12.35", Decimal("0.1"))
    (Decimal('12.3'), Decimal('12.4'))
    """
    with localcontext(prec=_DIGITS):
        # only an exponent counts in quantize: Decimal(10) and Decimal("1E+1") must mean the same
        number = _decimal(value).quantize(_power_of_ten(place.adjusted()), rounding=ROUND_HALF_UP)
    return number if number else abs(number)


def digit_place(value: float | Decimal | str, digits: int) -> Decimal:
    """The place of a number's last digit when it is to have so many significant digits.

    Returns: a power of ten, in the number's own unit; for zero, that of a number below 10.
    Raises: ValueError when value is not finite or digits is below 1.
    Source: exact.

    >>> digit_place(1234.5, 3), digit_place(0.0999, 2)
    (Decimal('1E+1'), Decimal('0.001'))
    """
    if digits < 1:
        raise ValueError(f"at least one significant digit is needed, got {digits}")
    number = _decimal(value)
    return _power_of_ten((number.adjusted() if number else 0) + 1 - digits)


def significant_place(uncertainty: float | Decimal | str) -> Decimal:
    """The place to which an uncertainty, and the value beside it, are rounded.

    The uncertainty's three leading digits decide: 100 to 354 keep two digits, 355 to 949 keep
    one, and 950 to 999 become 1000 and keep two.
    Returns: a power of ten, in the uncertainty's own unit.
    Raises: ValueError when uncertainty is not finite and above zero.
    Source: Particle Data Group, Review of Particle Physics 2010, introduction, 5.3.

    >>> significant_place(0.119), significant_place(0.367), significant_place(0.0962)
    (Decimal('0.01'), Decimal('0.1'), Decimal('0.01'))
    """
    number = _decimal(uncertainty)
    if number <= 0:
        raise ValueError(f"an uncertainty above zero is expected, got {uncertainty}")
    leading = number.scaleb(-number.adjusted())
    two_digits = leading < Decimal("3.55")
    return _power_of_ten(number.adjusted() - (1 if two_digits else 0))


def stated(value: float, uncertainty: float) -> tuple[str, str]:
    """A value and its uncertainty as texts, both to the place the uncertainty supports.

    Parameters: value and uncertainty, in one unit.
    Returns: (value text, uncertainty text) in that unit, trailing zeros kept.
    Raises: ValueError when either is not finite, or uncertainty is not above zero.
    Source: Particle Data Group, Review of Particle Physics 2010, introduction, 5.3.

    >>> stated(0.827, 0.119), stated(0.827, 0.367)
    (('0.83', '0.12'), ('0.8', '0.4'))
    """
    place = significant_place(uncertainty)
    return rounded(value, place), rounded(uncertainty, place)


def rounded(value: float | Decimal | str, place: Decimal, *, grouped: bool = False) -> str:
    """The text of a number rounded to a place, with its trailing zeros.

    Parameters: value and place, a power of ten, in one unit; grouped, whether a narrow no-break
    space parts the thousands of five digits or more.
    Returns: plain ASCII digits (but for that space); below 1e-5 and above 15 digits with an
    exponent. A negative number that rounds to zero loses its sign.
    Raises: ValueError when value is not finite or not a number.
    Source: exact.

    >>> rounded(3.7, Decimal("0.01")), rounded(-0.004, Decimal("0.01")), rounded(273.6, Decimal(10))
    ('3.70', '0.00', '270')
    """
    number = round_half_up(value, place)
    if number and not _PLAIN_FROM <= number.adjusted() < _PLAIN_TO:
        return _with_exponent(number)
    text = f"{number:f}"
    return _grouped(text) if grouped else text


def _decimal(value: float | Decimal | str) -> Decimal:
    """The decimal meant: a text as written, a float as the shortest text that names it."""
    if isinstance(value, str):
        return written(value)
    number = value if isinstance(value, Decimal) else Decimal(repr(float(value)))
    if not number.is_finite():
        raise ValueError(f"a finite number is expected, got {value}")
    return number


def _exponent(number: Decimal) -> int:
    exponent = number.as_tuple().exponent
    assert isinstance(exponent, int)  # only finite numbers come here
    return exponent


def _power_of_ten(exponent: int) -> Decimal:
    return Decimal((0, (1,), exponent))


def _with_exponent(number: Decimal) -> str:
    power = number.adjusted()
    return f"{number.scaleb(-power):f}e{power}"


def _grouped(text: str) -> str:
    whole, point, fraction = text.lstrip("-").partition(".")
    if len(whole) > 4:
        whole = f"{int(whole):,}".replace(",", _NARROW_SPACE)
    return ("-" if text.startswith("-") else "") + whole + point + fraction
