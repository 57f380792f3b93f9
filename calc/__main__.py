"""The commands: `python -m calc check` and its like."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence

from calc.commands import check, new, publish, restate, sources, trace, uses

VERBS = {
    "check": (check, "recompute everything, and say what does not agree"),
    "trace": (trace, "take a result apart, down to its sources"),
    "uses": (uses, "say what would move with a source or an input, and by how much"),
    "restate": (restate, "put what is recomputed in place of stated texts that drifted"),
    "publish": (publish, "freeze what the pages state, so that nothing changes in silence"),
    "new": (new, "begin a page or a sheet"),
    "sources": (sources, "bring sources in from BibTeX or CSL-JSON, or give them out"),
}
"""Every verb: the module that adds its words and runs it, and what it is for."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command and returns its exit code."""
    parser = argparse.ArgumentParser(prog="python -m calc", description=__doc__)
    verbs = parser.add_subparsers(required=True, metavar="VERB")
    for verb, (module, purpose) in VERBS.items():
        words = verbs.add_parser(verb, help=purpose, description=module.__doc__)
        module.add(words)
        words.set_defaults(run=module.run)
    asked = parser.parse_args(arguments)
    try:
        return int(asked.run(asked))
    except BrokenPipeError:  # whoever reads our lines, such as `head`, has seen enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0


if __name__ == "__main__":
    sys.exit(main())
