"""A method of the site at a thousand places at once, for what must hold at every one of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

from calc.book.model import Check, Place
from calc.book.ordered import plan
from calc.engine.evaluate import values_of
from calc.engine.procedures import signatures
from calc.notation.quantity import parse_quantity
from tests.helpers import site_book

Values = dict[str, NDArray[np.float64]]
PLACES = 1000


def scattered(
    method_id: str, middle: Mapping[str, str], spread: float = 0.2
) -> tuple[Values, Values]:
    """Inputs scattered about a middle, and every step there; all in SI base units, shape (1000,).

    Each input is the middle times 1 - spread to 1 + spread, by a stream of its own that never
    changes. A middle of nothing, or of a whole count that must stay whole, is left as it is.
    """
    prefix = f"{method_id}#1."
    quantities = {name: parse_quantity(text) for name, text in middle.items()}
    book = site_book()
    check = Check(quantities, {}, "exact", "exact", Place("tests", 1))
    methods = {item: replace(book.methods[item], checks=()) for item in book.methods}
    methods[method_id] = replace(book.methods[method_id], checks=(check,))
    planned = plan(
        replace(book, methods=methods, calcs={}, estimates={}, problems=()), signatures()
    )
    assert not planned.problems, planned.problems
    given = {
        name: quantity.base * (1 + spread * _stream(f"{method_id}.{name}"))
        for name, quantity in quantities.items()
    }
    targets = [id for id in planned.nodes if id.startswith(prefix) and "!" not in id]
    roots = {prefix + name: values for name, values in given.items()}
    found = values_of(targets, roots, planned, book.logs)
    shape = (PLACES,)
    return given, {
        id.removeprefix(prefix): np.broadcast_to(np.asarray(found[id], dtype=float), shape)
        for id in targets
    }


def _stream(name: str) -> NDArray[np.float64]:
    return np.random.default_rng(crc32(name.encode())).uniform(-1, 1, PLACES)
