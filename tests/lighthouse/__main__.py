"""Lighthouse, on its mobile setting, over the built site: one page of each important kind.

Accessibility and best practices have to be perfect. Performance hangs on the machine that measures
it, so it is told and not judged.
"""

from __future__ import annotations

import gzip
import json
import os
import shutil
import subprocess
import sys
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from typing import Any

HERE = Path(__file__).resolve().parent
SITE = HERE.parents[1] / "site"
PAGES = ("/", "/questions/which-cell/", "/methods/cells/pouch-budget/")
JUDGED = ("accessibility", "best-practices")
TOLD = ("performance",)
CHROMIUM_FLAGS = (
    "--headless --no-sandbox --disable-gpu --disable-background-networking"
    " --disable-component-update --disable-sync"
)


class Compressing(SimpleHTTPRequestHandler):
    """Serves texts compressed, as hosts of static sites do."""

    protocol_version = "HTTP/1.1"

    def do_GET(self) -> None:
        """Answer with a file, compressed where it is a text."""
        path = Path(self.translate_path(self.path))
        path = path / "index.html" if path.is_dir() else path
        if not path.is_file():
            self.send_error(404)
            return
        body, kind = path.read_bytes(), self.guess_type(path)
        self.send_response(200)
        if kind.startswith("text/") or kind.endswith(("javascript", "json", "xml")):
            body = gzip.compress(body, mtime=0)
            self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Type", f"{kind}; charset=utf-8")
        self.send_header("Content-Length", str(len(body)))
        self.send_header("Cache-Control", "max-age=31536000")
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""


def report(address: str) -> dict[str, Any]:
    """What Lighthouse finds on one page."""
    command = [
        "node", str(HERE / "node_modules/lighthouse/cli/index.js"), address,
        f"--only-categories={','.join((*TOLD, *JUDGED))}", f"--chrome-flags={CHROMIUM_FLAGS}",
        "--output=json", "--quiet", "--no-enable-error-reporting",
    ]  # fmt: skip
    chromium = shutil.which("chromium") or shutil.which("chromium-browser") or ""
    done = subprocess.run(command, capture_output=True, env={**os.environ, "CHROME_PATH": chromium})
    if done.returncode:
        sys.exit(f"Lighthouse failed on {address}:\n{done.stderr.decode()}")
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def scores(found: dict[str, Any]) -> dict[str, int]:
    """Scores from 0 to 100 by category."""
    return {name: round(100 * found["categories"][name]["score"]) for name in (*TOLD, *JUDGED)}


def faults(found: dict[str, Any]) -> list[str]:
    """The audits that keep a judged category from being perfect."""
    return [
        f"{audit['id']}: {audit['title']}"
        for name in JUDGED
        for audit in (found["audits"][ref["id"]] for ref in found["categories"][name]["auditRefs"])
        if audit["score"] is not None and audit["score"] < 1
    ]


def main() -> int:
    """Measures each page and tells; 1 when a judged category is not perfect."""
    failed = False
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(Compressing, directory=SITE)) as server:
        Thread(target=server.serve_forever, daemon=True).start()
        for page in PAGES:
            found = report(f"http://127.0.0.1:{server.server_port}{page}")
            reached = scores(found)
            print(page, *(f"{name} {score}" for name, score in reached.items()), sep="  ")
            if any(reached[name] < 100 for name in JUDGED):
                failed = True
                print(*faults(found), sep="\n")
        server.shutdown()
    return int(failed)


if __name__ == "__main__":
    sys.exit(main())
