"""The seam to charts, tables and explore panels."""

from __future__ import annotations

from calc.book.model import Showing
from hooks.charts import Readings, chart_html, table_html
from hooks.explore import explore_html


def showing_html(showing: Showing, readings: Readings) -> str:
    """A chart, a table or an explore panel as HTML."""
    if showing.kind == "explore":
        return explore_html(showing, readings.whole)
    return (table_html if showing.kind == "table" else chart_html)(showing, readings)
