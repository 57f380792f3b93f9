"""Stated texts that drifted, and the same page with the texts that would agree."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from calc.book.model import Page
from calc.judge.ledger import FIGURES, Ledger, same_text
from calc.judge.verdicts import JudgedFigure


@dataclass(frozen=True)
class Restated:
    """One figure that drifted: what it says, what would agree, and when it was published, if it
    was."""

    figure: JudgedFigure
    was: str
    now: str
    published: str = ""


def drifted(figures: Iterable[JudgedFigure], ledger: Ledger) -> tuple[Restated, ...]:
    """Every figure that does not agree and has a text that would, in the order of the pages."""
    published = {
        (entry.subject, same_text(entry.text)): entry.published.isoformat()
        for entry in ledger.entries
        if entry.section == FIGURES
    }
    return tuple(
        Restated(
            each,
            each.figure.text,
            each.would_agree,
            published.get((f"{each.page}#{each.of}", same_text(each.figure.text)), ""),
        )
        for each in figures
        if each.agrees is False and each.would_agree
    )


def rewritten(page: Page, changes: Iterable[Restated]) -> str:
    """The text of a page with some of its figures stated anew; nothing else of it moves."""
    text = page.text
    for each in sorted(changes, key=lambda each: -each.figure.figure.start):
        figure = each.figure.figure
        address = text[figure.start : figure.end].partition("](")[2]
        text = f"{text[: figure.start]}[{each.now}]({address}{text[figure.end :]}"
    return text


def correction_block(each: Restated, day: str) -> str:
    """The block that a page needs when a published figure of it changes."""
    id = each.figure.of.replace(".", "-").replace("_", "-")
    return (
        f"```yaml correction\nid: {id}-{day}\ndate: {day}\nfigure: {each.figure.of}\n"
        f'was: {each.was}\nnow: {each.now}\nreason: ""\n```'
    )
