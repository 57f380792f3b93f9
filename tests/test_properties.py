"""What must hold for any book: quantities, units, draws, the order and the names of pages."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Mapping
from functools import reduce
from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as some

from calc.book.model import Book
from calc.engine.draws import DRAWS
from calc.engine.evaluate import evaluate
from calc.notation.dimensions import Scope, dimension_of
from calc.notation.formula import Call, Name, Negative, Node, Number, Operation
from calc.notation.quantity import (
    Exact,
    Normal,
    Quantity,
    Rectangular,
    Spread,
    Triangular,
    parse_quantity,
)
from calc.notation.units import unit
from calc.problems import Wrong
from calc.report import results
from calc.whole import work_through
from tests.helpers import ROOT, calc_page, work, write_book

UNITS = [
    "V", "mV", "A h", "mAh/g", "mAh/cm^2", "Wh/kg", "Wh/L", "ohm cm^2", "um", "g/cm^3", "degC",
    "delta_degC", "K", "%", "ppm", "", "1/h", "J/(mol K)", "USD/kWh (2024 prices)", "kn", "t",
]  # fmt: skip
NUMBERS = some.floats(-1e9, 1e9).map(lambda value: float(f"{value:.9f}"))
WIDTHS = some.floats(1e-6, 1e6).map(lambda value: float(f"{value:.6g}"))


def spreads(value: float, width: float) -> list[Spread]:
    """Every kind of spread around a value."""
    low, high = value - width, value + width
    return [Exact(), Normal(width), Rectangular(low, high), Triangular(low, value, high)]


@given(NUMBERS, WIDTHS, some.sampled_from(UNITS), some.integers(0, 3))
def test_a_quantity_written_out_and_read_back_is_the_same(
    value: float, width: float, scale: str, kind: int
) -> None:
    spread = spreads(value, width)[kind]
    quantity = Quantity("", value, unit(scale), spread)
    low = value if isinstance(spread, Exact | Normal) else value - width
    assume(not (quantity.unit.offset and quantity.unit.to_base(low) < 0))
    assume(not isinstance(spread, Rectangular) or spread.low < value < spread.high)
    again = parse_quantity(quantity.written())
    assert again.value == pytest.approx(value, rel=1e-12, abs=1e-12 * width)
    assert (again.unit, again.spread) == (quantity.unit, spread)


@given(NUMBERS, some.sampled_from(UNITS), some.sampled_from(UNITS))
def test_converting_there_and_back_changes_nothing(value: float, one: str, other: str) -> None:
    here, there = unit(one), unit(other)
    assume(here.dimension == there.dimension)
    back = here.from_base(there.to_base(there.from_base(here.to_base(value))))
    assert back == pytest.approx(value, rel=1e-12, abs=1e-12 * abs(here.offset / here.factor) or 0)


@given(some.sampled_from(UNITS), WIDTHS, NUMBERS)
def test_a_width_converts_as_the_difference_of_two_values(
    scale: str, width: float, value: float
) -> None:
    found = unit(scale)
    difference = found.to_base(value + width) - found.to_base(value)
    noise = 1e-12 * found.factor * (abs(value) + width) + 1e-12 * abs(found.offset)
    assert abs(difference - found.width_to_base(width)) <= noise


LEAVES: some.SearchStrategy[Node] = some.sampled_from(
    [Name("a"), Name("b"), Name("c"), Number("2"), Number("0.5"), Number("3")]
)


def _grown(inner: some.SearchStrategy[Node]) -> some.SearchStrategy[Node]:
    one = some.sampled_from("sqrt exp log sin cos tanh abs floor round".split())
    many = some.sampled_from("min max sum mean".split())
    some_items = some.lists(inner, min_size=1, max_size=3)
    return some.one_of(
        some.builds(Operation, some.sampled_from(["+", "-", "*", "/", "**"]), inner, inner),
        some.builds(Negative, inner),
        some.builds(lambda name, item: Call(name, (item,)), one, inner),
        some.builds(lambda name, items: Call(name, tuple(items)), many, some_items),
        some.builds(lambda a, b, c: Call("where", (a, b, c)), inner, inner, inner),
    )


@given(some.recursive(LEAVES, _grown, max_leaves=10), some.randoms(use_true_random=False))
def test_draws_together_are_draws_one_by_one(tree: Node, chance: random.Random) -> None:
    draws = {name: np.array([chance.uniform(-2, 3) for _ in range(25)]) for name in "abc"}
    with np.errstate(all="ignore"):
        together = np.broadcast_to(np.asarray(evaluate(tree, draws), dtype=float), 25)
        apart = [
            float(evaluate(tree, {name: np.float64(row[at]) for name, row in draws.items()}))
            for at in range(25)
        ]
    np.testing.assert_allclose(together, apart, rtol=1e-12, atol=1e-300, equal_nan=True)


@given(some.recursive(LEAVES, _grown, max_leaves=10))
def test_what_is_given_a_dimension_scales_with_its_units(tree: Node) -> None:
    """Measuring in units of another size must not change what a formula says."""
    kinds = {"a": unit("V").dimension, "b": unit("V").dimension, "c": unit("1").dimension}
    try:
        found = dimension_of(tree, Scope(kinds, {}))
    except Wrong:
        return
    power = dict(found.powers).get("length", 0) / 2  # the volt's own power of length is 2
    at = {"a": 1.7, "b": 0.6, "c": 1.2}
    larger = {"a": 17.0, "b": 6.0, "c": 1.2}
    with np.errstate(all="ignore"):
        here, there = (float(evaluate(tree, values)) for values in (at, larger))
    assume(math.isfinite(here) and math.isfinite(there))
    assert there == pytest.approx(here * 10**power, rel=1e-9, abs=1e-12)


def numbers(content: Path, data: Path) -> Mapping[str, object]:
    """What a book computes, without the places of it."""
    found = results(work_through(content, data))["calcs"]
    return {id: {key: calc[key] for key in ("results", "solve")} for id, calc in found.items()}


@pytest.mark.slow
def test_renaming_and_reordering_pages_changes_no_number(tmp_path: Path) -> None:
    parts = ROOT / "content", ROOT / "site_data"
    before = numbers(*parts)
    moved = tmp_path / "other"
    pages = sorted(parts[0].rglob("*.md"))
    for number, page in enumerate(reversed(pages)):
        target = moved / f"{number:03}" / f"p{len(page.name)}-{number}.md"
        target.parent.mkdir(parents=True)
        target.write_text(page.read_text(encoding="utf-8"), encoding="utf-8")
    assert len(before) > 20
    assert numbers(moved, parts[1]) == before


def test_reordering_inputs_steps_and_blocks_changes_no_number(tmp_path: Path) -> None:
    inputs = {"charge": "137 ± 0.6 A h", "voltage": "3.6 to 3.7 V", "mass": "1.20(2) kg"}
    steps = {"energy": "charge * voltage in Wh", "specific": "energy / mass in Wh/kg"}
    one = work(tmp_path / "one", {"a.md": calc_page(inputs, steps)})
    turned, back = (dict(reversed(part.items())) for part in (inputs, steps))
    two = work(tmp_path / "two", {"a.md": calc_page(turned, back)})
    assert not one.problems and not two.problems
    assert results(one)["calcs"]["trial"]["results"] == results(two)["calcs"]["trial"]["results"]


def test_an_input_added_elsewhere_moves_no_other_result(tmp_path: Path) -> None:
    page = calc_page({"a": "5 ± 1 V", "b": "2 to 3 A"}, {"x": "a * b in W"})
    other = calc_page({"c": "5 ± 1 V"}, {"y": "c * 2"}).replace("id: trial", "id: another")
    alone = work(tmp_path / "one", {"m.md": page})
    third = other.replace("id: another", "id: third")
    beside = work(tmp_path / "two", {"a.md": other, "m.md": page, "z.md": third})
    one, two = (results(whole)["calcs"]["trial"]["results"] for whole in (alone, beside))
    assert one == two


# Formulas that bend little over their inputs' spread, with their first-order law of propagation.
NEARLY_LINEAR = [
    {"a": (10, 0.05), "b": (3, 0.02)},
    {"a": (100, 1.0), "b": (-20, 0.3)},
    {"a": (2.5, 0.01), "b": (7, 0.05)},
]
LAWS: dict[str, Callable[[float, float], tuple[float, float]]] = {
    "a + b": lambda a, b: (1, 1),
    "a - 2 * b": lambda a, b: (1, -2),
    "a * b": lambda a, b: (b, a),
    "a / b": lambda a, b: (1 / b, -a / b**2),
    "a ** 2 + b": lambda a, b: (2 * a, 1),
    "sqrt(abs(a)) * b": lambda a, b: (b / (2 * math.sqrt(a)), math.sqrt(a)),
    "exp(b / 10) * a": lambda a, b: (math.exp(b / 10), a * math.exp(b / 10) / 10),
    "log(a ** 2) - b": lambda a, b: (2 / a, -1),
}


@pytest.mark.parametrize("at", NEARLY_LINEAR, ids=str)
@pytest.mark.parametrize("formula", sorted(LAWS))
def test_sampled_uncertainty_follows_the_first_order_law(
    tmp_path: Path, formula: str, at: Mapping[str, tuple[float, float]]
) -> None:
    given = {name: f"{value} ± {u} (k=1)" for name, (value, u) in at.items()}
    whole = work(tmp_path, {"a.md": calc_page(given, {"y": formula})})
    assert not whole.problems
    (a, ua), (b, ub) = at["a"], at["b"]
    slopes = LAWS[formula](a, b)
    law = math.hypot(slopes[0] * ua, slopes[1] * ub)
    found = whole.computation.results["trial.y"]
    four_errors = 4 * law / math.sqrt(2 * DRAWS)  # the standard error of a standard deviation
    assert abs(found.standard_uncertainty - law) <= four_errors
    total = reduce(lambda sum, share: sum + share, found.shares.values())
    assert total == pytest.approx(1, abs=0.01)
    assert found.shares["a"] == pytest.approx((slopes[0] * ua / law) ** 2, abs=4 / math.sqrt(DRAWS))


def test_a_shared_input_neither_cancels_nor_doubles(tmp_path: Path) -> None:
    sheet = "id: s\ninputs:\n  gain: {value: 1.00 ± 0.02, source: bench}\n"
    block = "```yaml calc\nid: {}\ninputs:\n  gain: {{from: s.gain}}\nsteps:\n  v: {}\n```\n"
    pages = {
        f"{id}.md": block.format(id, formula)
        for id, formula in (("one", "gain * 3"), ("two", "gain * 5"))
    }
    pages["both.md"] = (
        "```yaml calc\nid: both\ninputs:\n  one: {from: one.v}\n  two: {from: two.v}\n"
        "steps:\n  sum: one + two\n  rest: two - one * 5 / 3\n```\n"
    )
    found = work(tmp_path, pages, {"s.yml": sheet}).computation.results
    assert found["both.sum"].standard_uncertainty == pytest.approx(0.08, rel=1e-9)
    assert found["both.rest"].standard_uncertainty == pytest.approx(0, abs=1e-12)


def test_a_book_is_the_same_wherever_its_folders_lie(tmp_path: Path) -> None:
    page = calc_page({"a": "5 ± 1 V"}, {"x": "a * 2"})
    books: list[Book] = []
    for place in ("here", "some where/else"):
        write_book(tmp_path / place, {"a.md": page})
        folder = tmp_path / place
        books.append(work_through(folder / "content", folder / "site_data").book)
    assert books[0] == books[1]
