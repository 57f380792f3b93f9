"""A thousand pages: the engine's seconds and peak memory, and the whole build against a plain one.

The plain build gets the same pages as they were rendered, and a hook that only pastes the finished
HTML in; what is left between the two is the cost of recomputing and of drawing the workings.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.bench.thousand_pages import write_site
from tests.helpers import ROOT

_ENGINE = """
import resource, time
from pathlib import Path
from calc.book.ordered import plan
from calc.book.read import read_book
from calc.engine.compute import compute
from calc.engine.procedures import signatures
from calc.judge.judge import judge
marks = [time.perf_counter()]
book = read_book(Path("content"), Path("site_data")); marks.append(time.perf_counter())
planned = plan(book, signatures()); marks.append(time.perf_counter())
computed = compute(book, planned); marks.append(time.perf_counter())
judgement = judge(book, planned, computed); marks.append(time.perf_counter())
read, planning, engine, judging = (b - a for a, b in zip(marks, marks[1:]))
peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
print(f"read {read:.2f} s, plan {planning:.2f} s, engine {engine:.2f} s, judge {judging:.2f} s;"
      f" peak {peak:.0f} MB; {len(judgement.figures)} figures,"
      f" {sum(figure.agrees is True for figure in judgement.figures)} agree")
"""
_PASTE = """
import json
from pathlib import Path
PAGES = json.loads(Path("rendered.json").read_text(encoding="utf-8"))
def on_page_content(html, page, config, files):
    return PAGES.get(page.file.src_uri, html)
"""


def run() -> None:
    """Prints what was measured."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        write_site(folder)
        _python(["-c", _ENGINE], folder)
        (folder / "whole.yml").write_text(_settings(ROOT / "hooks" / "site.py"), encoding="utf-8")
        whole = _seconds(folder, "whole.yml")
        _write_plain(folder)
        plain = _seconds(folder, "plain.yml")
        print(f"whole build {whole:.1f} s, plain build {plain:.1f} s: {whole / plain:.2f} times")


def _settings(hook: Path) -> str:
    own = (ROOT / "mkdocs.yml").read_text(encoding="utf-8")
    above, _, rest = own.partition("\nwatch:")
    kept = above + "\nmarkdown_extensions:" + rest.partition("\nmarkdown_extensions:")[2]
    return kept.replace("hooks/site.py", str(hook))


def _write_plain(folder: Path) -> None:
    """The pages of the whole build as finished HTML, and settings that only paste it in."""
    code = """
import json
from pathlib import Path
import markdown
from hooks.press import Press
press = Press.of(Path("content"), Path("site_data"))
rendered = {}
for page in press.whole.book.pages:
    text = press.markdown(page.path)
    extensions = ["abbr", "admonition", "attr_list", "def_list", "md_in_html", "tables"]
    html = markdown.markdown(text, extensions=extensions)
    rendered[page.path] = press.content(page.path, html, lambda path: path)
Path("rendered.json").write_text(json.dumps(rendered), encoding="utf-8")
"""
    _python(["-c", code], folder)
    (folder / "paste.py").write_text(_PASTE, encoding="utf-8")
    (folder / "plain.yml").write_text(_settings(folder / "paste.py"), encoding="utf-8")


def _seconds(folder: Path, settings: str) -> float:
    started = time.perf_counter()
    _python(["-m", "mkdocs", "build", "-q", "-f", settings, "-d", str(folder / "site")], folder)
    return time.perf_counter() - started


def _python(arguments: list[str], folder: Path) -> None:
    environment = os.environ | {"PYTHONPATH": str(ROOT), "NO_MKDOCS_2_WARNING": "1"}
    subprocess.run([sys.executable, *arguments], cwd=folder, env=environment, check=True)
