"""What is wrong with a page, shown on the page while its writer is looking on."""

from __future__ import annotations

from collections.abc import Sequence

from calc.problems import Problem
from hooks.markup import tag, text


def panel_html(problems: Sequence[Problem]) -> str:
    """The problems of one page, in order of their lines, or "" when there are none."""
    if not problems:
        return ""
    lines = "".join(
        tag("li", f"{tag('b', f'Line {each.line}')} {text(each.message)}")
        for each in sorted(problems, key=lambda each: each.line)
    )
    count = "One thing" if len(problems) == 1 else f"{len(problems)} things"
    head = tag("p", f"{count} to mend in {text(problems[0].file)}", class_="wc-problems-title")
    return tag(
        "section", f"{head}<ol>{lines}</ol>", class_="wc-problems", aria_label="To mend",
        data_search_exclude=True,
    )  # fmt: skip


def halted_html(reason: str) -> str:
    """Shown on every page when nothing could be worked through at all."""
    head = tag("p", "Nothing could be recomputed", class_="wc-problems-title")
    return tag("section", f"{head}<p>{text(reason)}</p>", class_="wc-problems",
               aria_label="To mend", data_search_exclude=True)  # fmt: skip
