"""Each number that a procedure takes may be drawn while the others are not."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

import numpy as np

from calc.book.ordered import plan
from calc.book.plan import Plan, Run
from calc.cell.catalogue import PROCEDURES
from calc.engine.evaluate import evaluate, values_of
from calc.engine.procedures import signatures
from calc.notation.formula import names_in
from calc.notation.units import Dimension
from tests.helpers import site_book

# What sets the size of a step or picks a part of a log is a choice and never drawn.
CHOICES = frozenset("time_step averaging number cycle bandwidth".split())


@cache
def runs() -> Mapping[str, tuple[Plan, Run]]:
    """One run of the site for each procedure that the site runs as a step."""
    planned = plan(site_book(), signatures())
    found = {node.procedure: node for node in planned.nodes.values() if isinstance(node, Run)}
    return {name: (planned, node) for name, node in sorted(found.items())}


def arguments(planned: Plan, run: Run) -> dict[str, Any]:
    """The arguments of a run at the nominal values of the site's inputs."""
    trees = {name: each for name, each in run.arguments.items() if not isinstance(each, str)}
    needs = dict.fromkeys(id for tree in trees.values() for id in names_in(tree))
    found = values_of(needs, {}, planned, site_book().logs)
    return {
        name: each if isinstance(each, str) else evaluate(trees[name], found)
        for name, each in run.arguments.items()
    }


def fields(result: Any) -> dict[str, Any]:
    """What a procedure gave, by field."""
    return result._asdict() if hasattr(result, "_asdict") else {"": result}


def test_each_number_may_be_drawn_alone() -> None:
    for name, (planned, run) in runs().items():
        given = arguments(planned, run)
        call = PROCEDURES[name].function
        plain = fields(call(**given))
        for parameter, kind in planned.procedures[name].takes.items():
            if isinstance(kind, Dimension) and parameter not in CHOICES:
                drawn = fields(call(**{**given, parameter: np.full(3, given[parameter])}))
                for field, value in plain.items():
                    together = np.broadcast_to(np.asarray(drawn[field], dtype=float), 3)
                    same = np.full(3, float(value))
                    message = f"{name}: {field} when {parameter} is drawn"
                    np.testing.assert_allclose(together, same, 1e-9, 1e-12, err_msg=message)
    assert len(runs()) >= 15
