"""The numbers behind all charts and tables, as CSV files."""

from __future__ import annotations

from calc.book.model import Showing
from calc.problems import Wrong
from calc.whole import Whole
from hooks.charts import tables
from hooks.charts.chart import KINDS, csv_path
from hooks.charts.data import Data, csv_text
from hooks.charts.values import NotShown


def data_files(whole: Whole) -> dict[str, str]:
    """CSV texts by their path below the site's data; what cannot be shown is left out."""
    files = {}
    for showing in whole.book.showings.values():
        if (found := _data(showing, whole)) is not None:
            files[csv_path(showing)] = csv_text(found)
    return files


def _data(showing: Showing, whole: Whole) -> Data | None:
    try:
        if showing.kind == "table":
            return tables.data(tables.read(showing, whole))
        kind = KINDS.get(showing.kind)
        return kind.data(kind.read(showing, whole)) if kind else None
    except (NotShown, Wrong):
        return None
