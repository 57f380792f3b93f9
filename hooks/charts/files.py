"""The numbers behind all charts and tables, as CSV files."""

from __future__ import annotations

from calc.book.model import Showing
from hooks.charts import tables
from hooks.charts.chart import KINDS, csv_path
from hooks.charts.data import Data, csv_text
from hooks.charts.readings import Readings


def data_files(readings: Readings) -> dict[str, str]:
    """CSV texts by their path below the site's data; what cannot be shown is left out."""
    files = {}
    for showing in readings.whole.book.showings.values():
        if (found := _data(showing, readings)) is not None:
            files[csv_path(showing)] = csv_text(found)
    return files


def _data(showing: Showing, readings: Readings) -> Data | None:
    if showing.kind == "table":
        table = readings.of(showing, tables.read)
        return None if table is None else tables.data(table)
    kind = KINDS.get(showing.kind)
    found = readings.of(showing, kind.read) if kind else None
    return None if kind is None or found is None else kind.data(found)
