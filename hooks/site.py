"""The build events of MkDocs, each handing on to the press; no other file knows MkDocs."""

from __future__ import annotations

import importlib
import logging
import re
import sys
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page
from mkdocs.utils import get_relative_url

ROOT = Path(__file__).resolve().parent.parent
if str(ROOT) not in sys.path:
    sys.path.insert(0, str(ROOT))

if TYPE_CHECKING:
    from hooks.press import Press

# Only loggers below mkdocs count for --strict.
LOG = logging.getLogger("mkdocs.hooks.worked_cells")


class _Build:
    """What one build carries from event to event; the events have nothing else in common."""

    live = False
    press: Press | None = None
    halted = ""
    files: Files | None = None
    seen: dict[str, float]

    def __init__(self) -> None:
        self.seen = {}


_BOOSTS = {"questions": 4, "cells": 3, "materials": 3, "glossary.md": 2, "evidence": 0.5}
"""How much sooner than a method the pages of a folder are found, where the words are the same."""

BUILD = _Build()


def on_startup(command: str, dirty: bool) -> None:
    """Notes whether a writer is looking on; MkDocs has put the path back, so it is set again."""
    BUILD.live = command == "serve"
    if str(ROOT) not in sys.path:
        sys.path.insert(0, str(ROOT))


def on_config(config: MkDocsConfig) -> MkDocsConfig:
    """Works through both folders, with the code as it is now."""
    _forget_changed_code()
    BUILD.press, BUILD.halted = None, ""
    content = Path(config.docs_dir)
    try:
        press = importlib.import_module("hooks.press")
        data = content.parent / "site_data"
        url = config.site_url or ""
        BUILD.press = press.Press.of(_short(content), _short(data), BUILD.live, url)
    except Exception as error:  # a fault of our own: said in one line, and serve lives on
        BUILD.halted = f"{type(error).__name__}: {error}"
        LOG.error("the figures cannot be recomputed: %s", BUILD.halted)
        LOG.debug("", exc_info=True)
    if BUILD.press is not None:
        _report(BUILD.press)
    _add_assets(config)
    return config


def _add_assets(config: MkDocsConfig) -> None:
    """Every style and script of ours; the settings need not list them."""
    assets = Path(config.docs_dir) / "assets"
    styles = [f"assets/{path.name}" for path in sorted(assets.glob("*.css"))]
    scripts = [f"assets/{path.name}" for path in sorted(assets.glob("*.js"))]
    config.extra_css += [name for name in styles if name not in config.extra_css]
    known = [str(script) for script in config.extra_javascript]
    config.extra_javascript += [name for name in scripts if name not in known]


def _short(folder: Path) -> Path:
    """A folder as messages should name it."""
    here = Path.cwd()
    return folder.relative_to(here) if folder.is_relative_to(here) else folder


def _report(press: Press) -> None:
    for problem in press.whole.problems:
        (LOG.warning if problem.severity == "error" else LOG.info)("%s", problem)


def _forget_changed_code() -> None:
    """Drops our modules when a file of theirs has changed, so that an edit counts."""
    now = {
        str(path): path.stat().st_mtime
        for folder in ("calc", "hooks")
        for path in (ROOT / folder).rglob("*.py")
    }
    if BUILD.seen and BUILD.seen != now:
        ours = [name for name in sys.modules if name.split(".")[0] in ("calc", "hooks")]
        for name in ours:
            del sys.modules[name]
    BUILD.seen = now


def on_files(files: Files, config: MkDocsConfig) -> Files:
    """Adds the generated pages, and lays out the navigation over all of them."""
    BUILD.files = files
    if BUILD.press is None:
        return files
    _warn_unread(files, BUILD.press)
    for path in BUILD.press.generated:
        files.append(File.generated(config, path, content=BUILD.press.generated_markdown(path)))
    if not config.nav:
        config.nav = BUILD.press.navigation(file.src_uri for file in files.documentation_pages())
    return files


def _warn_unread(files: Files, press: Press) -> None:
    """A page that MkDocs publishes and nothing here has read would state what it likes."""
    for file in files.documentation_pages():
        if file.src_uri not in press.atlas.pages and not press.problems(file.src_uri):
            LOG.warning(
                "%s: this page is published, and no figure of it is checked; name it *.md, in the"
                " folder itself and not behind a link",
                file.src_uri,
            )


def on_page_read_source(page: Page, config: MkDocsConfig) -> str | None:
    """Stands in for a page that is no readable text, which MkDocs would trip over."""
    try:
        _ = page.file.content_string
    except UnicodeDecodeError:
        said = BUILD.press.unreadable(page.file.src_uri) if BUILD.press else ""
        return f"# {page.file.name}\n\n{said}\n"
    return None


def _halted() -> str:
    """Shown on every page when nothing could be worked through; it leans on no code of ours."""
    said = f"<p><b>Nothing could be recomputed</b></p><p>{escape(BUILD.halted)}</p>"
    return f'<section class="wc-problems" data-search-exclude>{said}</section>'


def on_page_markdown(markdown: str, page: Page, config: MkDocsConfig, files: Files) -> str:
    """Puts buttons for figures and holes for blocks in place of what the writer typed."""
    if BUILD.press is None:
        return f"{_halted()}\n\n{markdown}" if BUILD.live else markdown
    if page.file.src_uri == "index.md":
        page.meta.setdefault("hide", ["navigation", "toc"])
    page.meta.setdefault("search", {"boost": _BOOSTS.get(page.file.src_uri.split("/")[0], 1)})
    shown = BUILD.press.markdown(page.file.src_uri)
    _warn(BUILD.press)
    return shown or markdown


def _warn(press: Press) -> None:
    for problem in press.new_faults():
        LOG.warning("%s", problem)


def on_page_content(html: str, page: Page, config: MkDocsConfig, files: Files) -> str:
    """Fills the holes and adds the cards."""
    if BUILD.press is None:
        return html
    path = page.file.src_uri
    shown = BUILD.press.content(path, html, lambda where: _address(where, page, files))
    return shown + BUILD.press.linked(path, page.canonical_url or "")


def _address(path: str, page: Page, files: Files) -> str:
    file = files.get_file_from_path(path)
    if file is None and path.endswith(".md"):
        LOG.warning("%s: no page is called '%s'", page.file.src_uri, path)
    return str(get_relative_url(file.url if file else path, page.url))


def on_post_page(output: str, page: Page, config: MkDocsConfig) -> str:
    """Names what the theme leaves without a name for those who listen to a page."""
    named = output.replace(
        'data-md-component="search" role="dialog"',
        'data-md-component="search" role="dialog" aria-label="Search"',
    )
    titled = re.sub(
        r'<label class="md-nav__title" for="(__nav_[\d_]+)"',
        r'<label class="md-nav__title" for="\1" id="\1_title"',
        named,
    )
    return re.sub(r'aria-labelledby="(__nav_[\d_]+)_label"', r'aria-labelledby="\1_title"', titled)


def on_post_build(config: MkDocsConfig) -> None:
    """Writes the published data."""
    if BUILD.press is None:
        return
    for path, text in sorted(BUILD.press.data().items()):
        place = Path(config.site_dir) / "data" / path
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(text.encode("utf-8"))
    _warn(BUILD.press)
