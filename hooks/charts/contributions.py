"""Where an uncertainty comes from: the share of the variance that each input brings."""

from __future__ import annotations

from dataclasses import dataclass

from matplotlib.figure import Figure

from calc.book.model import Showing
from calc.judge.shown import all_shown
from calc.whole import Whole
from hooks.charts.data import Data
from hooks.charts.rows import Row, bar, lay_out
from hooks.charts.values import result_of, targets_of, value_of
from hooks.charts.words import tidy
from hooks.labels import input_label

_SMALL = 0.01
"""Inputs that bring less than this share are counted together."""
_MOST = 8
_JOINT = "interaction"


@dataclass(frozen=True)
class Contributions:
    """Shares by input, largest first; `joint` is what only several inputs together bring."""

    subject: str
    shares: tuple[tuple[str, float], ...]
    small: tuple[tuple[str, float], ...]
    joint: float
    totals: tuple[tuple[str, float], ...]


def read(showing: Showing, whole: Whole) -> Contributions:
    """The shares of a result. Raises: NotShown."""
    item = all_shown(showing, targets_of(whole))[0]
    found = result_of(item.id, whole)
    name = item.id.rpartition(".")[2].replace("_", " ")
    subject = f"{name}, {value_of(item, whole).full}"
    parts = sorted(found.shares.items(), key=lambda part: (-part[1], part[0]))
    told = [(input_label(key, whole), tidy(part, 4)) for key, part in parts if key != _JOINT]
    large = [part for part in told[:_MOST] if part[1] >= _SMALL]
    every = sorted(found.total_shares.items())
    totals = [(input_label(key, whole), tidy(part, 4)) for key, part in every]
    joint = tidy(found.shares.get(_JOINT, 0.0), 4)
    return Contributions(subject, tuple(large), tuple(told[len(large) :]), joint, tuple(totals))


def percent(part: float) -> str:
    """A share in per cent."""
    return f"{100 * part:.0f}\u00a0%" if part >= 0.095 else f"{100 * part:.1f}\u00a0%"


def _rows(found: Contributions) -> list[tuple[str, float, bool]]:
    rows = [(label, part, False) for label, part in found.shares]
    if found.joint >= _SMALL:
        rows.append(("only several of them together", found.joint, True))
    if found.small:
        count = len(found.small)
        label = f"{count} others together" if count > 1 else found.small[0][0]
        rows.append((label, tidy(sum(part for _, part in found.small), 4), count > 1))
    return rows


def draw(found: Contributions) -> Figure:
    """The picture."""
    rows = _rows(found)
    lines = lay_out([Row(label, percent(part)) for label, part, _ in rows], (0, 100),
                    "share of the variance / %")  # fmt: skip
    for at, (_, part, hatched) in enumerate(rows):
        bar(lines, at, 0.0, 100 * part, hatch=hatched)
    return lines.figure


def describe(found: Contributions) -> str:
    """The picture in words."""
    told = "; ".join(f"{label} {percent(part)}" for label, part, _ in _rows(found))
    return f"Shares that inputs have in the variance of {found.subject}: {told}."


def note(found: Contributions) -> str:
    """How to read it."""
    if not found.shares:
        return "Nothing that goes in carries an uncertainty."
    label, part = found.shares[0]
    alone = f" Without that of {label}, the uncertainty would be {_rest(part)} as wide."
    return f"Uncertainty of {found.subject}.{alone if part > 0.3 and not found.joint else ''}"


def _rest(part: float) -> str:
    return f"{100 * max(0.0, 1 - part) ** 0.5:.0f}\u00a0%"


def data(found: Contributions) -> Data:
    """The numbers behind it."""
    totals = dict(found.totals)
    heads: tuple[str, ...] = ("input", "share of the variance / %")
    pairs = [*found.shares, *found.small]
    if found.joint:
        pairs.append(("only several of them together", found.joint))
    if not totals:
        return Data(heads, tuple((label, 100 * part) for label, part in pairs))
    rows = tuple(
        (label, 100 * part, 100 * totals[label] if label in totals else None)
        for label, part in pairs
    )
    return Data((*heads, "with all it takes part in / %"), rows)
