"""What tests share: the site as really built and served, a real browser, steady examples."""

from __future__ import annotations

import fcntl
import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread

import hypothesis
import pytest
from playwright.sync_api import Browser, Page, Route, sync_playwright

from tests.source_tree import LONG, ROOT, long_modules

# The same examples on every run, whatever the hour and the speed of the machine.
hypothesis.settings.register_profile("steady", derandomize=True, deadline=None, database=None)
hypothesis.settings.load_profile("steady")

CHROMIUM_FLAGS = [
    "--no-sandbox",  # the tests may run as root
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-gpu",
    "--disable-quic",
    "--disable-sync",
    "--no-first-run",
]


class QuietHandler(SimpleHTTPRequestHandler):
    """Serves files and keeps its log to itself."""

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """What tests counted, and the modules worth splitting; hints, never failures."""
    ended = (
        report for name in ("passed", "failed") for report in terminalreporter.getreports(name)
    )
    for report in ended:
        for name, text in report.user_properties:
            if name == "tally" and report.when == "call":
                terminalreporter.write_line(f"Counted: {text}")
    if long := long_modules():
        named = ", ".join(f"{module.path} {module.lines}" for module in long)
        terminalreporter.write_line(f"Modules of {LONG} lines or more: {named}")


@pytest.fixture
def tally(record_property: Callable[[str, object], None]) -> Callable[[str], None]:
    """Says what a test counted, at once (with -s) and in the summary of the run."""

    def say(text: str) -> None:
        print(text)
        record_property("tally", text)

    return say


@pytest.fixture(scope="session")
def root() -> Path:
    """The folder of the repository."""
    return ROOT


@pytest.fixture(scope="session")
def built_site(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Path:
    """The folder of the whole site, built strictly, once for all workers."""
    shared = tmp_path_factory.getbasetemp()
    shared = shared if worker_id == "master" else shared.parent
    site = shared / "site"
    with (shared / "site.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not site.exists():
            build_site(site)
    return site


def build_site(site: Path) -> None:
    """Build into a folder; when the build fails, fail with what it said and leave no folder."""
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--site-dir", str(site)]
    environment = {"SOURCE_DATE_EPOCH": "1767225600", **os.environ}
    built = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True)
    if built.returncode:
        shutil.rmtree(site, ignore_errors=True)
        pytest.fail(f"the site does not build:\n{built.stdout}{built.stderr}", pytrace=False)


@pytest.fixture(scope="session")
def site_address(built_site: Path) -> Iterator[str]:
    """Where the built site is served, without a slash at the end."""
    handler = partial(QuietHandler, directory=str(built_site))
    with ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """The machine's own Chromium; a test that needs it is skipped only where none is found."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        missing = "no Chromium on this machine: install the package chromium"
        if os.environ.get("CI"):
            pytest.fail(missing)
        pytest.skip(missing)
    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(executable_path=chromium, args=CHROMIUM_FLAGS)
        yield launched
        launched.close()


@pytest.fixture
def page(browser: Browser, site_address: str) -> Iterator[Page]:
    """A fresh page at the site, where `page.goto("/")` is its front page.

    A request to anywhere else is refused and fails the test, and so does an error in a script.
    """
    context = browser.new_context(base_url=site_address)
    astray: list[str] = []

    def guard(route: Route) -> None:
        address = route.request.url
        if address.startswith((site_address + "/", "data:", "blob:")):
            route.continue_()
        else:
            astray.append(address)
            route.abort()

    context.route("**/*", guard)
    opened = context.new_page()
    opened.on("pageerror", lambda error: astray.append(str(error)))
    yield opened
    context.close()
    assert not astray
