"""What is wrong, shown on the page while its writer is looking on."""

from __future__ import annotations

from collections.abc import Sequence

from calc.problems import Problem
from hooks.markup import tag, text


def panel_html(problems: Sequence[Problem]) -> str:
    """Problems in order of their places, or "" when there are none."""
    if not problems:
        return ""
    lines = "".join(
        tag("li", f"{tag('b', f'{text(each.file)}:{each.line}')} {text(each.message)}")
        for each in sorted(problems)
    )
    count = "One thing" if len(problems) == 1 else f"{len(problems)} things"
    head = tag("p", f"{count} to mend", class_="wc-problems-title")
    return tag(
        "section", f"{head}<ol>{lines}</ol>", class_="wc-problems", aria_label="To mend",
        data_search_exclude=True,
    )  # fmt: skip
