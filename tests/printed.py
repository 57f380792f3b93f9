"""The one tolerance rule of the tests: a printed number binds to half its last printed digit."""

from __future__ import annotations

import math
import re
from decimal import Decimal, localcontext

_SPACES = " \u00a0\u2009\u202f"  # ordinary, no-break, thin, narrow no-break
_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?")


def as_decimal(printed: str) -> Decimal:
    """Read a printed number from its text, so that its trailing zeros survive.

    Parameters: printed, the number as a source prints it; thin or ordinary spaces may group its
    digits, the minus may be the typographic one, and an exponent may follow (`1.2e-3`).
    Returns: the number [in the source's own unit] with its last printed digit as its exponent.
    Raises: ValueError when the text is anything but one finite number.
    Source: exact.

    >>> as_decimal("3.70")
    Decimal('3.70')
    """
    bare = printed.strip().replace("−", "-")
    for space in _SPACES:
        bare = bare.replace(space, "")
    if not _NUMBER.fullmatch(bare):
        raise ValueError(
            f"a printed number is expected, such as '3.70' or '1.2e-3', got {printed!r}"
        )
    return Decimal(bare)


def half_last_digit(printed: str) -> Decimal:
    """Half a unit of the last printed digit, in the printed number's own unit.

    Raises: ValueError as `as_decimal` does.
    Source: exact; ISO 80000-1:2009, 7.3.4 (401 008 means 401 007.5 to 401 008.5).

    >>> half_last_digit("3.70"), half_last_digit("270")
    (Decimal('0.005'), Decimal('0.5'))
    """
    exponent = as_decimal(printed).as_tuple().exponent
    assert isinstance(exponent, int)  # as_decimal lets no infinity through
    return Decimal((0, (5,), exponent - 1))


def agrees(printed: str, computed: float) -> bool:
    """Whether a computed number would be printed as the source printed it.

    Parameters: printed, the source's text; computed, our number in the same unit.
    Returns: True when computed lies within half a unit of the last printed digit, ends included;
    a whole number counts all its digits; infinity and not-a-number agree with nothing.
    Raises: ValueError when printed is not one number.
    Source: exact; the comparison is made in decimal, without rounding of its own.

    >>> agrees("262", 261.6), agrees("262.0", 261.6), agrees("−1.2e-3", -0.00124)
    (True, False, True)
    """
    expected = as_decimal(printed)
    if not math.isfinite(computed):
        return False
    with localcontext(prec=1100):  # enough for any float written out in full
        return abs(Decimal(float(computed)) - expected) <= half_last_digit(printed)
