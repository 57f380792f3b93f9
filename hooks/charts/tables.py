"""Tables: a row a subject, a column a result, and differences that mean nothing marked as such."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from calc.book.model import Showing
from calc.judge.shown import alike, named, shown
from calc.whole import Whole
from hooks.blocks import block_head
from hooks.charts.apart import Pairs, alike_pairs
from hooks.charts.chart import csv_address
from hooks.charts.data import Cell, Data
from hooks.charts.readings import Readings
from hooks.charts.values import NotShown, Value, targets_of, value_of
from hooks.charts.words import heading, listed
from hooks.markup import tag, text


@dataclass(frozen=True)
class Column:
    """A heading, and the value of each row; None where one could not be computed."""

    heading: str
    values: tuple[Value | None, ...]
    alike: Pairs

    def like(self, at: int) -> tuple[int, ...]:
        """The rows that this one cannot be told apart from."""
        others = (pair for pair in self.alike if at in pair)
        return tuple(sorted(sum(pair) - at for pair in others))

    def ordered(self, places: Sequence[int]) -> Column:
        """The same with its rows in another order."""
        now = {before: at for at, before in enumerate(places)}
        moved = ((now[one], now[other]) for one, other in self.alike)
        pairs = frozenset((min(pair), max(pair)) for pair in moved)
        return Column(self.heading, tuple(self.values[at] for at in places), pairs)


@dataclass(frozen=True)
class Table:
    """Rows in the order shown, and columns; `order` says how they are sorted."""

    rows: tuple[str, ...]
    columns: tuple[Column, ...]
    order: str


def read(showing: Showing, whole: Whole) -> Table:
    """The values of a block. Raises: NotShown."""
    rows, names = named(showing, "rows"), named(showing, "columns")
    columns = [_column(label, pattern, rows.values(), whole) for label, pattern in names.items()]
    sort, _, way = (part.strip() for part in str(showing.fields.get("sort", "")).partition(","))
    places = list(range(len(rows)))
    order = ""
    if sort in names:
        keyed = columns[list(names).index(sort)].values
        rising = way == "rising"
        places.sort(key=lambda at: _rank(keyed[at], rising))
        order = f"Sorted by {sort.lower()}, {'smallest' if rising else 'largest'} first."
    labels = list(rows)
    in_order = tuple(column.ordered(places) for column in columns)
    return Table(tuple(labels[at] for at in places), in_order, order)


def _rank(value: Value | None, rising: bool) -> tuple[bool, float]:
    number = value.number if value else 0.0
    return (value is None, number if rising else -number)


def _column(label: str, pattern: str, rows: Iterable[str], whole: Whole) -> Column:
    targets = targets_of(whole)
    items = alike(tuple(shown(label, pattern.replace("{row}", row), targets) for row in rows))
    values: list[Value | None] = []
    for item in items:
        try:
            values.append(value_of(item, whole))
        except NotShown:
            values.append(None)
    scale = next((value.unit for value in values if value), items[0].unit)
    return Column(heading(label, scale), tuple(values), alike_pairs(values, whole))


def table_html(showing: Showing, readings: Readings) -> str:
    """A table block, or in its place a line that says it has to wait."""
    head = block_head("Table", showing.id, showing.title)
    found = readings.of(showing, read)
    if found is None:
        inner = head + tag("p", "Not shown: something it rests on could not be computed.")
        return tag("section", inner, class_="wc-block", id=showing.id)
    address = csv_address(showing, readings.whole)
    return "\n".join(
        (
            f'<section class="wc-block compare" id="{text(showing.id)}"'
            f' aria-label="{text(showing.title)}">',
            head,
            _table(found, showing.title),
            tag("p", text(_note(showing, found)), class_="chart__note"),
            f'<p class="compare__file"><a href="{text(address)}" download>Download as CSV</a></p>',
            "</section>",
        )
    )


def _table(found: Table, title: str) -> str:
    cells = "".join(
        f'<th role="columnheader" scope="col">{text(column.heading)}</th>'
        for column in found.columns
    )
    head = f'<tr role="row"><td role="cell"></td>{cells}</tr>'
    body = "\n".join(_row(found, at) for at in range(len(found.rows)))
    return (
        f'<table class="compare__table" role="table" aria-label="{text(title)}">\n'
        f'<thead role="rowgroup">{head}</thead>\n'
        f'<tbody role="rowgroup">\n{body}\n</tbody>\n</table>'
    )


def _row(found: Table, at: int) -> str:
    cells = "".join(_cell(column, at, found.rows) for column in found.columns)
    name = text(found.rows[at])
    return f'<tr role="row"><th role="rowheader" scope="row">{name}</th>{cells}</tr>'


def _cell(column: Column, at: int, rows: tuple[str, ...]) -> str:
    value = column.values[at]
    said = f'<span class="compare__number">{text(_text(value))}</span>'
    like = column.like(at)
    if like:
        names = "all others" if len(like) == len(rows) - 1 > 1 else listed([rows[i] for i in like])
        said += f' <span class="compare__like">≈ {text(names)}</span>'
    mark = ' class="compare__alike"' if like else ""
    label = text(column.heading)
    inner = f'<span class="compare__value">{said}</span>'
    number = f' data-number="{value.number!r}"' if value else ""
    return f'<td role="cell" data-label="{label}"{number}{mark}>{inner}</td>'


def _text(value: Value | None) -> str:
    """A value that breaks before its uncertainty, if anywhere."""
    return value.text.replace("± ", "±\u00a0") if value else "not computed"


def _note(showing: Showing, found: Table) -> str:
    values = [value for column in found.columns for value in column.values if value]
    parts = [str(showing.fields.get("note", "")), found.order]
    if any(value.standard for value in values):
        parts.append("After ±: the expanded uncertainty, k = 2.")
    if any(not value.standard for value in values):
        parts.append("Without ±: no uncertainty given.")
    if any(column.like(at) for column in found.columns for at in range(len(found.rows))):
        parts.append("≈: not to be told apart; the 95 % interval of the difference holds nought.")
    return " ".join(filter(None, parts))


def data(found: Table) -> Data:
    """The numbers behind it."""
    heads: list[str] = [""]
    columns: list[list[Cell]] = [list(found.rows)]
    for column in found.columns:
        heads += [column.heading, f"{column.heading}, 95 % from", f"{column.heading}, 95 % to"]
        columns.append([value.number if value else None for value in column.values])
        columns.append([value.low if value else None for value in column.values])
        columns.append([value.high if value else None for value in column.values])
    return Data(tuple(heads), tuple(zip(*columns, strict=True)))
