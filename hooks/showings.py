"""The seam to charts, tables and explore panels."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from calc.book.model import Showing
from calc.whole import Whole
from hooks.charts import chart_html, table_html
from hooks.explore import explore_html

_MAKERS: Mapping[str, Callable[[Showing, Whole], str]] = {
    "table": table_html,
    "explore": explore_html,
}
"""What makes a block that is no chart; charts have a kind each."""


def showing_html(showing: Showing, whole: Whole) -> str:
    """A chart, a table or an explore panel as HTML."""
    return _MAKERS.get(showing.kind, chart_html)(showing, whole)
