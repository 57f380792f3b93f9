"""The seam to charts, tables and explore panels."""

from __future__ import annotations

import importlib
from collections.abc import Mapping
from types import ModuleType

from calc.book.model import Showing
from calc.whole import Whole


def showing_html(showing: Showing, whole: Whole) -> str:
    """A chart, a table or an explore panel as HTML, or "" when nothing draws it."""
    module, maker = {
        "table": ("hooks.charts", "table_html"),
        "explore": ("hooks.explore", "explore_html"),
    }.get(showing.kind, ("hooks.charts", "chart_html"))
    found = _module(module)
    make = getattr(found, maker, None)
    return str(make(showing, whole)) if make else ""


def data_files(whole: Whole) -> Mapping[str, str]:
    """The data behind charts: paths below data/ and their texts."""
    found = _module("hooks.charts")
    make = getattr(found, "data_files", None)
    return dict(make(whole)) if make else {}


def _module(name: str) -> ModuleType | None:
    try:
        return importlib.import_module(name)
    except ModuleNotFoundError:
        return None
