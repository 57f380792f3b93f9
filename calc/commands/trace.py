"""`trace`: a result taken apart, down to its sources."""

from __future__ import annotations

import argparse

from calc.commands.folders import add_folders, refuse, whole_of
from calc.problems import Wrong
from calc.tell.trace import trace


def add(parser: argparse.ArgumentParser) -> None:
    """Adds the words that trace takes."""
    parser.add_argument("id", metavar="id.name", help="a result, an input or a claim")
    add_folders(parser)


def run(asked: argparse.Namespace) -> int:
    """Prints the tree; 2 when nothing is called so."""
    try:
        for line in trace(asked.id, whole_of(asked)):
            print(line)
    except Wrong as error:
        return refuse(error)
    return 0
