"""Pages that MkDocs would publish and that nothing has read are said, as the real build says."""

from __future__ import annotations

import logging
from pathlib import Path

import pytest
from mkdocs.config import load_config
from mkdocs.structure.files import get_files

from tests.broken import MASS, SHOW, calc
from tests.helpers import ROOT, write_book


def warned(folder: Path, log: pytest.LogCaptureFixture) -> list[str]:
    """What the build says of a folder's pages before it shows any of them."""
    config = load_config(str(ROOT / "mkdocs.yml"), docs_dir=str(folder / "content"))
    with log.at_level(logging.WARNING, logger="mkdocs.hooks.worked_cells"):
        config = config.plugins.run_event("config", config)
        config.plugins.run_event("files", get_files(config), config=config)
    return [each.getMessage() for each in log.records if "is published" in each.getMessage()]


def test_a_page_that_is_not_read_is_a_warning(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    write_book(tmp_path, {"index.md": calc(MASS, SHOW)}, {})
    (tmp_path / "content" / "no-text.md").write_bytes(b"# \xff")  # which is said by itself
    (tmp_path / "content" / "other.markdown").write_text("# Other\n\nIt weighs 999 kg.\n")
    away = tmp_path / "away"
    away.mkdir()
    (away / "far.md").write_text("# Far\n\nIt weighs 999 kg.\n")
    (tmp_path / "content" / "linked").symlink_to(away, target_is_directory=True)
    assert sorted(message.partition(":")[0] for message in warned(tmp_path, caplog)) == [
        "linked/far.md",
        "other.markdown",
    ]


def test_the_site_has_no_page_that_is_not_read(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    write_book(tmp_path, {"index.md": calc(MASS, SHOW), "a/b.md": "# B\n"}, {})
    assert warned(tmp_path, caplog) == []
