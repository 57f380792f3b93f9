"""The ways of writing a number with its unit are many; after this there is one.

Ranges say `to`, powers of ten are an exponent, brackets around a number and its uncertainty
are gone.
"""

from __future__ import annotations

import re

from calc.notation.plain import plain
from calc.problems import Wrong

MULTIPLIERS = {"thousand": 3, "million": 6, "billion": 9, "trillion": 12}
"""Words after a number, and the power of ten that each stands for."""

_WHOLE = r"(?:\d{1,3}(?: \d{3})+(?!\d)|\d+)?"
_FRACTION = r"(?:(?<=\d)\.\d{3}(?: \d{3})*(?: \d{1,3})(?![\d/])|(?<=\d)\.\d*|\.\d+)?"
NUMBER = rf"[-+]?{_WHOLE}{_FRACTION}(?:[eE][-+]?\d+)?(?<=[\d.])(?![eE][-+]?\d|\d)"
"""A number as a writer types it, with spaces between groups of three (after `plain`)."""

_DASH_RANGE = re.compile(
    "(?<=[0-9])\\s*[\u2013-]\\s*(?=[0-9])|(?<=\\S)\\s*\u2013\\s*(?=[0-9.\u2212-])"
)
_POWER = re.compile(r"\s*\*\s*10(?:\*\*|\^)([-+]?\d+)")
_BRACKETED = re.compile(r"\((?P<inside>[^()]*\d[^()]*)\)(?P<power>e[-+]?\d+)?(?P<unit>\s*\S.*)?$")
_PAIR = re.compile(r"\u00b1|\+/-|\bto\b|\band\b")
_LONE_NUMBER = re.compile(rf"(?<![\w.]){NUMBER}")


def one_spelling(text: str) -> str:
    """The text with plain signs, `to` between the ends of a range, and exponents.

    Raises: Wrong (kind "quantity") when a comma stands inside a number.

    >>> one_spelling("(2 +/- 1) * 10**-3 m"), one_spelling("50-58 um")
    ('2e-3 +/- 1e-3 m', '50 to 58 um')
    """
    signs = plain(_DASH_RANGE.sub(" to ", text))
    body = re.sub(r"\s+", " ", _with_exponents(signs)).strip()
    if comma := re.search(r"\d,\d", body):
        raise Wrong(
            "quantity",
            f"a comma inside the number of '{text}' (at '{comma.group()}'); write a point for"
            " decimals and spaces between thousands",
        )
    found = _BRACKETED.match(body)
    if found and _PAIR.search(found["inside"]):
        return _raised(found["inside"], found["power"] or "") + (found["unit"] or "")
    return body


def _with_exponents(text: str) -> str:
    """`3.2 * 10**5 m` as `3.2e5 m`; a power written once, at the end, holds for both numbers."""
    powers = _POWER.findall(text)
    body = _POWER.sub(r"e\1", text)
    pair = None if body.lstrip().startswith("(") else _PAIR.search(body)
    if len(powers) == 1 and pair and f"e{powers[0]}" in body[pair.end() :]:
        return _raised(body[: pair.start()], f"e{powers[0]}") + body[pair.start() :]
    return body


def _raised(text: str, power: str) -> str:
    return _LONE_NUMBER.sub(lambda found: f"{found.group()}{power}", text)
