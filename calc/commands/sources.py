"""`sources`: works brought in from a BibTeX or CSL-JSON file, and given out as either."""

from __future__ import annotations

import argparse
from pathlib import Path

from calc.book.csl import read_csl_json
from calc.book.fields import Findings
from calc.book.from_bibtex import read_works
from calc.book.import_sources import as_sources, taken
from calc.book.model import Source
from calc.book.sources import read_sources
from calc.commands.folders import complain, refuse
from calc.judge.replace_file import replace_file
from calc.problems import exit_code
from calc.tell.citations import as_bibtex, as_csl, described


def add(parser: argparse.ArgumentParser) -> None:
    """Adds the words that sources takes."""
    ways = parser.add_subparsers(required=True, dest="way", metavar="WAY")
    bring = ways.add_parser("import", help="add the works of a BibTeX or CSL-JSON file")
    bring.add_argument("file", type=Path, metavar="FILE")
    give = ways.add_parser("export", help="print all sources, or write them to a file")
    form = give.add_mutually_exclusive_group(required=True)
    form.add_argument("--csl", action="store_true", help="as CSL-JSON")
    form.add_argument("--bibtex", action="store_true", help="as BibTeX")
    give.add_argument("--to", type=Path, metavar="FILE", help="write to FILE")
    for each in (bring, give):
        each.add_argument("--data", type=Path, default=Path("site_data"), help="folder of facts")


def run(asked: argparse.Namespace) -> int:
    """Imports or exports; problems are said with file and line, and then nothing is changed."""
    findings = Findings(f"{asked.data.resolve().name}/sources.yml")
    known = read_sources(asked.data / "sources.yml", findings.file, findings)
    complain(findings.problems)
    if code := exit_code(findings.problems):
        return code
    if asked.way == "import":
        return _bring(asked, known)
    return _give(asked, known)


def _bring(asked: argparse.Namespace, known: dict[str, Source]) -> int:
    try:
        text = asked.file.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        return refuse(f"{asked.file} cannot be read: {getattr(error, 'strerror', 'not UTF-8')}")
    read = read_csl_json if text.lstrip().startswith("[") else read_works
    works, problems = read(text, asked.file.name)
    problems += taken(works, known, asked.file.name)
    if not works and not problems:
        return refuse(f"{asked.file} holds no work in BibTeX or CSL-JSON; nothing was added")
    complain(problems)
    if code := exit_code(problems):
        print("nothing was added; mend the file first")
        return code
    path = asked.data / "sources.yml"
    before = path.read_text(encoding="utf-8") if path.exists() else ""
    replace_file(path, before.rstrip("\n") + "\n" * bool(before) + as_sources(works))
    print(f"{len(works)} sources added to {path}; each is marked memory until its text was read")
    return 0


def _give(asked: argparse.Namespace, known: dict[str, Source]) -> int:
    text = as_csl(known.values()) if asked.csl else as_bibtex(known.values())
    if asked.to:
        replace_file(asked.to, text)
        print(f"{len(described(known.values()))} sources written to {asked.to}")
    else:
        print(text, end="")
    return 0
