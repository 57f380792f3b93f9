"""The form of a generated page."""

from __future__ import annotations


def page(title: str, description: str, *parts: str) -> str:
    """A generated page's Markdown."""
    said = description.replace('"', "'")
    front = f'---\ntitle: "{title}"\ndescription: "{said}"\n---\n\n# {title}\n\n{description}\n'
    return front + "".join(f"\n{part}\n" for part in parts if part)


def raw(html: str) -> str:
    """HTML kept away from Markdown."""
    return f"<<<\n{html}\n>>>" if html else ""
