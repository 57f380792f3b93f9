"""The order of sections and pages, and what sections are called."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import PurePosixPath
from typing import Any

from calc.book.model import Page
from hooks.atlas import Atlas

TITLES = {
    "questions": "Questions",
    "cells": "Cells",
    "materials": "Materials",
    "methods": "Methods",
    "evidence": "Evidence",
    "facts": "Facts",
    "guide": "Guide",
    "sources": "Sources",
}
"""Names of sections by folder, in the order of the tabs."""

_EVIDENCE = ("claims", "open-questions", "forecasts", "corrections", "data")


def in_order(pages: Iterable[Page]) -> list[Page]:
    """Pages by their `order`, then by title."""
    return sorted(pages, key=lambda each: (_rank(each.meta.get("order")), each.title, each.path))


def _rank(order: object) -> float:
    try:
        return float(str(order))
    except ValueError:
        return float("inf")


def navigation(atlas: Atlas, paths: Iterable[str]) -> list[Any]:
    """The site's navigation as MkDocs reads it, over the paths of all pages."""
    listed = sorted(set(paths))
    top: list[Any] = [{"Home": path} for path in ("index.md",) if path in listed]
    folders = {PurePosixPath(path).parts[0] for path in listed if "/" in path}
    ordered = [*(name for name in TITLES if name in folders), *sorted(folders - TITLES.keys())]
    top += [{_title(folder): _section(folder, listed, atlas)} for folder in ordered]
    loose = [path for path in listed if "/" not in path and path != "index.md"]
    return top + loose


def _title(folder: str) -> str:
    name = PurePosixPath(folder).name
    return TITLES.get(name, name.replace("-", " ").capitalize())


def _section(folder: str, paths: list[str], atlas: Atlas) -> list[Any]:
    own = [path for path in paths if str(PurePosixPath(path).parent) == folder]
    below = sorted({_child(path, folder) for path in paths if _is_deeper(path, folder)})
    index = [path for path in own if path.endswith("/index.md")]
    rest = [path for path in own if path not in index]
    rest.sort(key=lambda path: _place(path, atlas.pages))
    return [*index, *rest, *({_title(each): _section(each, paths, atlas)} for each in below)]


def _place(path: str, pages: Mapping[str, Page]) -> tuple[float, str, str]:
    page, name = pages.get(path), PurePosixPath(path).stem
    if page is None:
        return (_EVIDENCE.index(name) if name in _EVIDENCE else 99.0, name, path)
    return (_rank(page.meta.get("order")), page.title, path)


def _is_deeper(path: str, folder: str) -> bool:
    return path.startswith(f"{folder}/") and str(PurePosixPath(path).parent) != folder


def _child(path: str, folder: str) -> str:
    depth = len(PurePosixPath(folder).parts) + 1
    return "/".join(PurePosixPath(path).parts[:depth])
