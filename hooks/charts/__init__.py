"""Charts and tables: `chart_html` and `table_html` for a block, `data_files` for all of them,
and `Readings` of a whole that they share, so that each block is read once.

`chart` holds the kinds, each a module that reads a block, draws it, tells it and lists its
numbers; `style` and `svg` are the house style; `rows` is what the kinds with labels share.
"""

from hooks.charts.chart import chart_html
from hooks.charts.files import data_files
from hooks.charts.readings import Readings
from hooks.charts.tables import table_html

__all__ = ["Readings", "chart_html", "data_files", "table_html"]
