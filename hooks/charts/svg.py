"""From a figure to SVG that stands in a page: small, following its colours, with ids of its own."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable
from functools import lru_cache
from io import StringIO
from pathlib import Path

import matplotlib
from matplotlib.figure import Figure

from hooks.charts.style import INK, SETTINGS, VARIABLES
from hooks.markup import text as escaped

_CACHE = Path(__file__).resolve().parents[2] / ".cache" / "charts"
_TEXT = re.compile(r"<text ([^>]*)>", re.S)
_UNUSED = re.compile(r"<metadata>.*?</metadata>|<!--.*?-->|<style[^>]*>.*?</style>", re.S)
_LONG_NUMBER = re.compile(r"-?\d+\.\d{3,}")


def inline_svg(
    name: str, title: str, description: str, content: str, draw: Callable[[], Figure]
) -> str:
    """The SVG of a picture, from the cache when the same content was drawn before.

    Parameters: name, unique on the page; content, everything that the drawing depends on; draw,
    called only when the cache has nothing.
    """
    path = _CACHE / f"{_key(content)}.svg"
    drawn = path.read_text("utf-8") if path.is_file() else _kept(path, draw)
    return _named(drawn, name, title, description)


def _key(content: str) -> str:
    """A hash of the content, of the code that draws, and of matplotlib's version."""
    text = "\n".join((matplotlib.__version__, _code(), content))
    return hashlib.sha256(text.encode()).hexdigest()[:32]


@lru_cache(maxsize=1)
def _code() -> str:
    """The code that decides what a picture looks like, down to its numbers."""
    here, root = Path(__file__).parent, Path(__file__).parents[2]
    others = ("hooks/wording.py", "calc/notation/rounding.py", "calc/notation/units.py")
    files = (*sorted(here.glob("*.py")), *(root / name for name in others))
    return "".join(file.read_text("utf-8") for file in files)


def _kept(path: Path, draw: Callable[[], Figure]) -> str:
    text = drawn(draw)
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_suffix(f".{hashlib.sha256(text.encode()).hexdigest()[:8]}")
    part.write_text(text, "utf-8")
    part.replace(path)
    return text


def drawn(draw: Callable[[], Figure]) -> str:
    """A figure drawn in the house style, as the inside of an SVG element and its view box."""
    out = StringIO()
    with matplotlib.rc_context(SETTINGS):
        draw().savefig(out, format="svg", metadata={"Date": None})
    return _small(out.getvalue())


def _small(text: str) -> str:
    box = re.search(r'viewBox="([^"]+)"', text)
    body = _UNUSED.sub("", text)
    body = body[body.index(">", body.index("<svg")) + 1 : body.rindex("</svg>")]
    body = body.replace("xlink:href", "href")
    body = re.sub(r"(<defs>\s*</defs>)", "", body)
    body = _without_idle_ids(body)
    pieces = re.split(r"(<text.*?</text>)", body, flags=re.S)
    pieces = [_type(piece) if piece.startswith("<text") else _short(piece) for piece in pieces]
    body = re.sub(r"\s*\n\s*", "\n", "".join(pieces)).strip()
    for sentinel, variable in VARIABLES.items():
        body = body.replace(sentinel, f"var({variable})")
    assert box is not None
    return f"{box[1]}\n{body}"


def _without_idle_ids(body: str) -> str:
    used = set(re.findall(r'(?:url\(#|href="#)([\w-]+)', body))
    return re.sub(r' id="([^"]+)"', lambda id: id[0] if id[1] in used else "", body)


def _short(piece: str) -> str:
    body = _LONG_NUMBER.sub(lambda number: f"{float(number[0]):.2f}".rstrip("0").rstrip("."), piece)
    return re.sub(r' d="([^"]*)"', lambda path: f' d="{" ".join(path[1].split())}"', body)


def _type(text: str) -> str:
    """A text without its family, which is the page's, and without turns by nothing."""
    return _TEXT.sub(lambda tag: f"<text {_short(_plain(tag[1]))}>", text)


def _plain(attributes: str) -> str:
    body = re.sub(r"font-family: [^;\"]*;? ?|(?<=[\"; ])font-weight: normal;? ?", "", attributes)
    body = re.sub(rf"fill: {INK};? ?", "", body)
    body = re.sub(r' ?transform="rotate\(-?0 [^"]*"', "", body)
    return re.sub(r"\s+", " ", body).replace('; "', '"').strip()


def _named(text: str, name: str, title: str, description: str) -> str:
    box, _, body = text.partition("\n")
    body = re.sub(r' id="([\w-]+)"', rf' id="{name}-\1"', body)
    body = re.sub(r'(url\(#|href="#)([\w-]+)', rf"\1{name}-\2", body)
    return (
        f'<svg class="chart__picture" viewBox="{box}" role="img" aria-labelledby="{name}-title"'
        f' aria-describedby="{name}-desc" data-search-exclude>\n'
        f'<title id="{name}-title">{escaped(title)}</title>\n'
        f'<desc id="{name}-desc">{escaped(description)}</desc>\n{body}\n</svg>'
    )
