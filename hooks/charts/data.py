"""What stands behind a picture: a small table for the page, and the whole of it as CSV."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from io import StringIO

from hooks.charts.words import plain_digits
from hooks.markup import text

Cell = str | float | None
_MOST_ROWS = 24
"""Rows that a page shows; the CSV has all of them."""


@dataclass(frozen=True)
class Data:
    """Columns headed quantity / unit, and rows of texts, numbers or nothing."""

    headings: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


def csv_text(data: Data) -> str:
    """The data as CSV, numbers to ten digits."""
    out = StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(data.headings)
    writer.writerows([_bare(cell) for cell in row] for row in data.rows)
    return out.getvalue()


def _bare(cell: Cell) -> str:
    if cell is None:
        return ""
    return f"{cell:.10g}" if isinstance(cell, float) else cell


def details_html(data: Data, title: str, address: str) -> str:
    """The data folded below its picture, with the link to its CSV.

    Parameters: address, of the CSV, relative to the page.
    """
    head = "".join(map(_heading, data.headings))
    shown, step = data.rows, 1
    if len(shown) > _MOST_ROWS:
        step = -(-len(shown) // _MOST_ROWS)
        shown = tuple(row for at, row in enumerate(shown) if at % step == 0)
    body = "\n".join(f"<tr>{''.join(map(_cell, row))}</tr>" for row in shown)
    left_out = f" One row in {step} is shown here." if step > 1 else ""
    return (
        '<details class="chart__data wc-fold" data-search-exclude>\n'
        f'<summary>The numbers<span class="chart__of"> of "{text(title)}"</span></summary>\n'
        '<div class="chart__scroll" tabindex="0" role="region"'
        f' aria-label="Numbers of &quot;{text(title)}&quot;">\n'
        f'<table class="chart__table">\n<thead><tr>{head}</tr></thead>\n'
        f"<tbody>\n{body}\n</tbody>\n</table>\n</div>\n"
        f'<p><a href="{text(address)}" download>Download as CSV</a>.{left_out}</p>\n</details>'
    )


def _heading(head: str) -> str:
    """A heading; the corner above a column of names is no heading, for it says nothing."""
    return f'<th scope="col">{text(head)}</th>' if head else "<td></td>"


def _cell(cell: Cell) -> str:
    if isinstance(cell, str):
        return f"<td>{text(cell)}</td>"
    return f'<td class="number">{plain_digits(cell, 6) if cell is not None else ""}</td>'
