"""Works from elsewhere as entries of the site's own list of sources."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterable

import yaml

from calc.book.csl import Work, good_id
from calc.problems import Problem


def site_id(key: str) -> str:
    """A citation key as an id of the site: lower-case words and numbers joined by hyphens.

    >>> site_id("Gödel1931a"), site_id("kept-as-it-is")
    ('godel-1931-a', 'kept-as-it-is')
    """
    if good_id(key):
        return key
    letters = unicodedata.normalize("NFKD", key).encode("ascii", "ignore").decode()
    return "-".join(re.findall(r"[a-z]+|[0-9]+", letters.lower())) or "a-work"


def taken(works: Iterable[Work], known: Collection[str], file: str) -> list[Problem]:
    """Errors for works whose id the site, or another of the works, already has."""
    seen = set(known)
    problems = []
    for work in works:
        name = site_id(work["id"])
        if name in seen:
            message = f"the source '{name}' is there already; give '{work['id']}' another key"
            problems.append(Problem(file, 1, "double-id", message))
        seen.add(name)
    return problems


def as_sources(works: Iterable[Work], kind: str = "published", mark: str = "memory") -> str:
    """Works as entries to add to the end of the site's list of sources.

    A work that comes with its own kind and mark keeps them. Otherwise it gets these: a citation
    alone does not show that the text was at hand, so nothing is imported as seen.
    Returns: YAML text, an empty line before each entry; nothing when there are no works.
    """
    return "".join("\n" + _source_text(work, kind, mark) for work in works)


def _source_text(work: Work, kind: str, mark: str) -> str:
    own = work.get("custom", {})
    head = {
        "id": site_id(work["id"]),
        "type": work["type"],
        "kind": str(own.get("kind", kind)),
        "mark": str(own.get("mark", mark)),
    }
    rest = {name: work[name] for name in work if name not in head and name != "custom"}
    return yaml.safe_dump([head | rest], sort_keys=False, allow_unicode=True, width=100)
