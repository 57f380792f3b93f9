"""Same inputs, same bytes: the published data and the whole site, made twice in other folders."""

from __future__ import annotations

import filecmp
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.helpers import ROOT, write_book
from tests.test_check_command import METHOD, PAGE, SHEET, check

PARTS = ("calc", "content", "hooks", "site_data", "mkdocs.yml")
"""What a build of the site is made from."""


def test_the_published_data_do_not_hang_on_where_the_folders_lie(tmp_path: Path) -> None:
    texts = []
    for place in ("here", "some where else/and ürther"):
        folder = tmp_path / place
        write_book(folder, {"trial.md": PAGE, "halves.md": METHOD}, {"cell.yml": SHEET})
        check(folder, "--json", str(folder / "out.json"))
        texts.append((folder / "out.json").read_bytes())
    assert len(texts[0]) > 1000
    assert texts[0] == texts[1]


def test_the_published_data_do_not_hang_on_the_order_of_sets(tmp_path: Path) -> None:
    write_book(tmp_path, {"trial.md": PAGE, "halves.md": METHOD}, {"cell.yml": SHEET})
    texts = []
    for seed in ("1", "2"):
        command = [sys.executable, "-m", "calc", "check", "--json", str(tmp_path / f"{seed}.json")]
        command += ["--content", str(tmp_path / "content"), "--data", str(tmp_path / "site_data")]
        environment = {**os.environ, "PYTHONHASHSEED": seed}
        subprocess.run(command, cwd=ROOT, env=environment, capture_output=True)
        texts.append((tmp_path / f"{seed}.json").read_bytes())
    assert texts[0] == texts[1]


@pytest.mark.slow
def test_the_whole_site_built_twice_is_the_same_byte_for_byte(tmp_path: Path) -> None:
    source = tmp_path / "as it was"
    source.mkdir()
    for part in PARTS:
        take = shutil.copytree if (ROOT / part).is_dir() else shutil.copy
        take(ROOT / part, source / part)
    sites = [
        built(source, tmp_path / "one", seed="1"),
        built(source, tmp_path / "another" / "place", seed="2"),
    ]
    files = [sorted(p.relative_to(site) for p in site.rglob("*") if p.is_file()) for site in sites]
    assert files[0] == files[1]
    assert Path("data/results.json") in files[0]
    names = [str(each) for each in files[0]]
    same, other, unread = filecmp.cmpfiles(sites[0], sites[1], names, shallow=False)
    assert (other, unread) == ([], [])
    assert len(same) == len(names) > 100


def built(source: Path, folder: Path, seed: str) -> Path:
    """The site built from a copy of its parts in a folder of its own."""
    shutil.copytree(source, folder)
    environment = {
        **os.environ,
        "SOURCE_DATE_EPOCH": "1767225600",
        "PYTHONHASHSEED": seed,
        "NO_MKDOCS_2_WARNING": "1",
    }
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--site-dir", "site"]
    run = subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True)
    assert not run.returncode, run.stderr[-3000:]
    return folder / "site"
