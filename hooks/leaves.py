"""The form of a generated page."""

from __future__ import annotations


def page(title: str, description: str, *parts: str, heading: str = "") -> str:
    """A generated page's Markdown; `heading` is what it is called above its own text."""
    said = description.replace('"', "'")
    front = f'---\ntitle: "{title}"\ndescription: "{said}"\n---\n\n'
    head = f"# {heading or title}\n\n{description}\n"
    return front + head + "".join(f"\n{part}\n" for part in parts if part)


def raw(html: str) -> str:
    """HTML kept away from Markdown."""
    return f"<<<\n{html}\n>>>" if html else ""
