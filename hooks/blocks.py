"""What every block of a page begins with."""

from __future__ import annotations

from hooks.markup import tag, text


def block_head(kind: str, id: str, title: str) -> str:
    """The head of a block: what it is, its title, and a link to its own address."""
    name = tag("span", text(kind), class_="wc-kicker", data_search_exclude=True)
    own = tag(
        "a", "#", href=f"#{id}", class_="wc-own", aria_label=f"Link to: {title}", data_copy=True,
        data_search_exclude=True,
    )  # fmt: skip
    return tag("div", f"{name}{tag('span', text(title), class_='wc-title')}{own}", class_="wc-head")
