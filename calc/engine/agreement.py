"""Whether several estimates can all be right, said in words from the numbers alone."""

from __future__ import annotations

from collections.abc import Mapping

from calc.engine.reconcile import Pair, Reconciliation
from calc.notation.rounding import digit_place, rounded

_COUNTS = ("two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_TOO_CLOSE = (
    "They agree more closely than that leads one to expect: their uncertainties may be stated "
    "too wide, or they may not be independent."
)
SUSPICIOUSLY_CLOSE = 0.95
"""Probability of chi-squared above which estimates agree better than they ought to."""


def can_they_all_be_right(found: Reconciliation, titles: Mapping[str, str] | None = None) -> str:
    """The answer to "Can they all be right?", in one to three plain sentences.

    Parameters: found, the estimates set side by side; titles, what to call each in print (left
    out, their names stand).
    Returns: text without mark-up. It begins with "Yes", "Just about" (their scatter as a whole
    can be chance, yet one pair stands apart) or "No".
    Source: the site's own wording; the limits are those of `reconcile` and `Pair.agrees`.

    >>> from calc.engine.reconcile import reconcile
    >>> print(can_they_all_be_right(reconcile(["bench", "maker"], [10, 30], [4, 5])))
    No. The two estimates scatter 3.1 times as widely as their uncertainties allow; chance alone
    would do that in 0.2 % of cases. Furthest apart are bench and maker, whose difference is 1.6
    times its expanded uncertainty.
    """
    titles = titles or {}
    widest = max(found.pairs, key=lambda pair: abs(pair.normalised_error))
    if not found.consistent:
        return f"No. {_scatter(found)} {_furthest(widest, titles)}"
    if not widest.agrees:
        return f"Just about. {_allowed(found)} {_furthest(widest, titles)}"
    if found.chi_squared_probability > SUSPICIOUSLY_CLOSE:
        return f"Yes. {_allowed(found)} {_TOO_CLOSE}"
    return f"Yes. {_allowed(found)}"


def probability_text(probability: float) -> str:
    """A probability as a percentage, with no more digits than a reader can use.

    Parameters: probability, from 0 to 1. Returns: text in %, open-ended near the ends.

    >>> [probability_text(p) for p in (0.5513, 0.0321, 0.0018, 0.0004, 0.9991)]
    ['55 %', '3 %', '0.2 %', 'less than 0.1 %', 'more than 99 %']
    """
    if probability < 0.001:
        return "less than 0.1 %"
    if probability > 0.99:
        return "more than 99 %"
    digits = 1 if probability < 0.1 else 2
    return f"{_digits(100 * probability, digits)} %"


def _scatter(found: Reconciliation) -> str:
    return (
        f"The {_count(found)} estimates scatter {_digits(found.birge_ratio, 2)} times as widely "
        f"as their uncertainties allow; chance alone would do that in {_chance(found)} of cases."
    )


def _allowed(found: Reconciliation) -> str:
    return (
        f"The {_count(found)} estimates scatter within what their uncertainties allow; chance "
        f"alone would spread them as far in {_chance(found)} of cases."
    )


def _furthest(pair: Pair, titles: Mapping[str, str]) -> str:
    a, b = titles.get(pair.a, pair.a), titles.get(pair.b, pair.b)
    size = _digits(abs(pair.normalised_error), 2)
    return (
        f"Furthest apart are {a} and {b}, whose difference is {size} times its expanded "
        "uncertainty."
    )


def _count(found: Reconciliation) -> str:
    number = len(found.names)
    return _COUNTS[number - 2] if number <= 10 else str(number)


def _chance(found: Reconciliation) -> str:
    return probability_text(found.chi_squared_probability)


def _digits(number: float, digits: int) -> str:
    return rounded(number, digit_place(number, digits))
