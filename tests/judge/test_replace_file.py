"""A process killed while it writes leaves the old text or the new one, whole."""

from __future__ import annotations

import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from calc.judge.replace_file import replace_file

OLD, NEW = "old\n" * 1000, "new\n" * 200_000

# Kills its own process before the n-th line that runs inside replace_file; 0 lets it finish.
KILLED_AT = """
import os, signal, sys
from pathlib import Path
from calc.judge.replace_file import replace_file

left = int(sys.argv[2])

def at_line(frame, event, argument):
    global left
    if event == "line":
        left -= 1
        if left == 0:
            os.kill(os.getpid(), signal.SIGKILL)
    return at_line

def at_call(frame, event, argument):
    return at_line if frame.f_code is replace_file.__code__ else None

sys.settrace(at_call)
replace_file(Path(sys.argv[1]), "new\\n" * 200_000)
"""

# Writes one whole text and another in turn until it is killed.
WITHOUT_END = """
import sys
from pathlib import Path
from calc.judge.replace_file import replace_file

while True:
    replace_file(Path(sys.argv[1]), "new\\n" * 200_000)
    replace_file(Path(sys.argv[1]), "old\\n" * 1000)
    print(flush=True)
"""


def test_the_whole_content_is_replaced(tmp_path: Path) -> None:
    path = tmp_path / "ledger.json"
    replace_file(path, NEW)
    replace_file(path, "Å\n")
    assert path.read_bytes() == b"\xc3\x85\n"
    assert [each.name for each in tmp_path.iterdir()] == ["ledger.json"]


def test_killed_before_every_line_in_turn(tmp_path: Path) -> None:
    path = tmp_path / "ledger.json"
    seen = []
    for line in range(1, 100):
        path.write_text(OLD, encoding="utf-8")
        code = subprocess.run([sys.executable, "-c", KILLED_AT, path, str(line)]).returncode
        seen.append(path.read_text(encoding="utf-8"))
        assert seen[-1] in (OLD, NEW)
        if code == 0:
            break
        assert code == -signal.SIGKILL
    assert len(seen) > 5, "the process was not killed inside the function"
    assert seen == sorted(seen, reverse=True), "once new, it must not be old again"
    assert seen[0] == OLD and seen[-1] == NEW


@pytest.mark.parametrize("moment", range(8))
def test_killed_at_any_moment(tmp_path: Path, moment: int) -> None:
    path = tmp_path / "ledger.json"
    path.write_text(OLD, encoding="utf-8")
    command = [sys.executable, "-c", WITHOUT_END, str(path)]
    with subprocess.Popen(command, stdout=subprocess.PIPE) as writer:
        assert writer.stdout is not None
        writer.stdout.readline()
        time.sleep(0.0037 * moment)
        writer.kill()
    assert path.read_text(encoding="utf-8") in (OLD, NEW)
    replace_file(path, NEW)
    assert path.read_text(encoding="utf-8") == NEW


def test_a_folder_that_is_not_there_is_said(tmp_path: Path) -> None:
    with pytest.raises(OSError, match="No such file"):
        replace_file(tmp_path / "nowhere" / "ledger.json", NEW)
