"""A process that kills itself before a chosen line, so that no test has to hit a moment."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Iterator, Sequence
from itertools import count
from pathlib import Path
from types import CodeType, FrameType
from typing import Any

ROOT = Path(__file__).resolve().parents[1]


def die_before(line: int, code: CodeType) -> None:
    """Has this process killed before the n-th line that runs inside a function from now on."""
    left = line

    def at_line(frame: FrameType, event: str, argument: Any) -> Any:
        nonlocal left
        left -= event == "line"
        if not left:
            os.kill(os.getpid(), signal.SIGKILL)
        return at_line

    sys.settrace(lambda frame, event, argument: at_line if frame.f_code is code else None)


def killed_at_each_line(script: str, words: Sequence[str]) -> Iterator[bool]:
    """Runs a script for line 1, 2 ... until it finishes, and says each time whether it was killed.

    The script finds the line as its first word, and gives it to `die_before`.
    """
    for line in count(1):
        command = [sys.executable, "-c", script, str(line), *words]
        code = subprocess.run(command, cwd=ROOT, stdout=subprocess.DEVNULL).returncode
        assert code in (0, -signal.SIGKILL)
        yield code != 0
        if code == 0:
            return
