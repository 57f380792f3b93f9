"""What no file of the repository may name, and that every package is pinned."""

from __future__ import annotations

import re
import subprocess
import tomllib

from tests.source_tree import ROOT

# A folder of somebody's machine, or a host that packages come from: neither belongs in a file.
FOREIGN = re.compile(
    r"(?<![\w.)-])/(?:home|root|Users|work|tmp|opt)/"
    r"|\b[A-Z]:\\\\?\w"
    r"|\b(?:pypi[.]org|python[h]osted|registry[.]npmjs|deb[.]debian)"
)


def test_a_foreign_path_is_seen() -> None:
    assert FOREIGN.search(f"open('{'/'.join(('', 'home', 'someone', 'cell.csv'))}')")
    assert FOREIGN.search(r"C:\cells")
    assert FOREIGN.search("https://" + ".".join(("pypi", "org")))
    assert not FOREIGN.search("content/work/page.md, and/or, [a](../tmp/x.md), U:I")


def test_no_file_names_a_machine() -> None:
    listed = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    names = [name for name in listed.stdout.split("\0") if name and (ROOT / name).is_file()]
    assert names
    found = [
        f"{name}:{number}"
        for name in names
        if name != "tests/test_repository.py"
        for number, line in enumerate((ROOT / name).read_text("utf-8", "replace").splitlines(), 1)
        if FOREIGN.search(line)
    ]
    assert not found


def pins(name: str) -> dict[str, str]:
    """Package to version of a requirements file; any other kind of line fails."""
    lines = (ROOT / name).read_text("utf-8").splitlines()
    wanted = [line for line in lines if line and not line.startswith(("#", "-r "))]
    found = [re.fullmatch(r"([a-z0-9-]+)==([\w.]+)", line) for line in wanted]
    assert all(found), f"{name}: a pin reads name==version and nothing else"
    return {match[1]: match[2] for match in found if match}


def test_every_package_asked_for_is_pinned() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    named = re.compile(r"[a-z0-9-]+")
    for asked, file in (
        (project["project"]["dependencies"], "requirements.txt"),
        (project["dependency-groups"]["test"], "requirements-test.txt"),
    ):
        names = {match[0] for want in asked if (match := named.match(want))}
        assert names <= set(pins(file))


def test_no_package_is_pinned_twice() -> None:
    assert not set(pins("requirements.txt")) & set(pins("requirements-test.txt"))
