"""A process killed while it writes leaves the old text or the new one, whole."""

from __future__ import annotations

import signal
import subprocess
import sys
from pathlib import Path

import pytest

from calc.judge.replace_file import replace_file
from tests.killed import killed_at_each_line

OLD, NEW = "old\n" * 1000, "new\n" * 200_000

KILLED = """
import sys
from pathlib import Path
from calc.judge.replace_file import replace_file
from tests.killed import die_before

die_before(int(sys.argv[1]), replace_file.__code__)
replace_file(Path(sys.argv[2]), "new\\n" * 200_000)
"""

# The system ends the process, or refuses to write on, once its file has so many bytes.
STOPPED = """
import resource, signal, sys
from pathlib import Path
from calc.judge.replace_file import replace_file

path, size, way = sys.argv[1:]
signal.signal(signal.SIGXFSZ, signal.SIG_DFL if way == "killed" else signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
resource.setrlimit(resource.RLIMIT_FSIZE, (int(size), int(size)))
try:
    replace_file(Path(path), "new\\n" * 200_000)
except OSError:
    sys.exit(3)
"""


def test_the_whole_content_is_replaced(tmp_path: Path) -> None:
    path = tmp_path / "ledger.json"
    replace_file(path, NEW)
    replace_file(path, "Å\n")
    assert path.read_bytes() == b"\xc3\x85\n"
    assert [each.name for each in tmp_path.iterdir()] == ["ledger.json"]


def test_killed_before_every_line_in_turn(tmp_path: Path) -> None:
    path = tmp_path / "ledger.json"
    path.write_text(OLD, encoding="utf-8")
    seen = []
    for _ in killed_at_each_line(KILLED, [str(path)]):
        seen.append(path.read_text(encoding="utf-8"))
        path.write_text(OLD, encoding="utf-8")
    assert set(seen) == {OLD, NEW}
    assert len(seen) > 5, "the process was not killed inside the function"
    assert seen == sorted(seen, reverse=True), "once new, it must not be old again"
    assert seen[0] == OLD and seen[-1] == NEW


@pytest.mark.parametrize("way", ["killed", "refused"])
@pytest.mark.parametrize("size", [0, 1, 4096, 500_000, len(NEW) - 1, len(NEW)])
def test_stopped_after_so_many_bytes(tmp_path: Path, size: int, way: str) -> None:
    path = tmp_path / "ledger.json"
    path.write_text(OLD, encoding="utf-8")
    command = [sys.executable, "-c", STOPPED, str(path), str(size), way]
    code = subprocess.run(command).returncode
    if size < len(NEW):
        assert code == (-signal.SIGXFSZ if way == "killed" else 3)
        assert path.read_text(encoding="utf-8") == OLD
        assert path.with_name(".ledger.json.new").stat().st_size == size
    else:
        assert code == 0 and path.read_text(encoding="utf-8") == NEW
    replace_file(path, NEW)  # what was left behind is in nobody's way
    assert path.read_text(encoding="utf-8") == NEW
    assert [each.name for each in tmp_path.iterdir()] == ["ledger.json"]


def test_a_folder_that_is_not_there_is_said(tmp_path: Path) -> None:
    with pytest.raises(OSError, match="No such file"):
        replace_file(tmp_path / "nowhere" / "ledger.json", NEW)
