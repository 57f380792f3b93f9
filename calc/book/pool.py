"""What a block of estimates offers to the rest of the site: its means and its statistics."""

from __future__ import annotations

from collections.abc import Mapping

from calc.book.model import Estimates
from calc.book.plan import Pooled
from calc.notation.dimensions import Kind, Series
from calc.notation.units import Dimension, Unit, unit
from calc.problems import Wrong

COMBINED = "combined"
DISAGREEMENT = "disagreement"
"""The root for what the estimates' disagreement adds to the uncertainty of the combined value."""

MEANS = (COMBINED, "weighted", "scaled", "dersimonian_laird", "paule_mandel")
STATISTICS: Mapping[str, str] = {
    "chi_squared": "1",
    "chi_squared_probability": "%",
    "birge_ratio": "1",
}
"""Plain numbers about estimates, each with the unit that it is shown in."""


def pooled(estimates: Estimates, members: tuple[str, ...], unknown: Unit) -> list[Pooled]:
    """A node for each field, the combined value first.

    Parameters: members, the ids of the estimates that are no bounds; unknown, the unit that
    stands until that of the members is known.
    Raises: Wrong when they cannot be set side by side.
    """
    _named_well(estimates)
    if len(members) < 2:
        raise Wrong(
            "estimates",
            "at least two estimates with values of their own are needed, a bound counts for none;"
            f" got {len(members)}, so add one",
        )
    shown = unit(estimates.unit) if estimates.unit else unknown
    units = dict.fromkeys(MEANS, shown) | {name: unit(text) for name, text in STATISTICS.items()}
    return [
        Pooled(f"{estimates.id}.{name}", estimates.id, name, members, scale, estimates.place)
        for name, scale in units.items()
    ]


def pooled_kind(node: Pooled, kinds: Mapping[str, Kind]) -> Dimension:
    """The kind that all members have. Raises: Wrong when they differ, or one is a log."""
    first = kinds[node.members[0]]
    for member in node.members:
        kind = kinds[member]
        if isinstance(kind, Series) or isinstance(first, Series):
            raise Wrong("estimates", f"{member} is a column of a log; take one value from it first")
        if kind != first:
            raise Wrong(
                "dimension",
                f"{member} is {kind}, but {node.members[0]} is {first}; estimates of one block"
                " are of one quantity",
            )
    assert not isinstance(first, Series)
    return first


def _named_well(estimates: Estimates) -> None:
    for each in estimates.values:
        if each.input.name in (*MEANS, *STATISTICS, DISAGREEMENT):
            raise Wrong(
                "double-id",
                f"'{each.input.name}' is what a result of estimates is called; give the estimate"
                " another name",
            )
