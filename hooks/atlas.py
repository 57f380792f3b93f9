"""Where everything is and what it is called: indexes of a whole, made once for a build.

An id is that of a value (`heron.mass`), a block (`heron-energy`), a sheet or a source.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from calc.book.model import Input, Page, Step
from calc.book.plan import Alias, Applied, Root
from calc.engine.results import Result
from calc.judge.evidence import Link, evidence
from calc.judge.ledger import FIGURES
from calc.judge.verdicts import JudgedCheck, JudgedFigure
from calc.whole import Whole
from hooks.markup import anchored, link, text
from hooks.signs import Leaf, symbol, words
from hooks.wording import sentence, spoken

_ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*(?:\.[a-z_][a-z0-9_]*)+")

FACTS = "facts"
"""The folder of the pages made of sheets."""

SOURCES = "evidence/sources"
"""The folder of the pages made of sources."""


@dataclass(frozen=True)
class Atlas:
    """A whole with what is needed to find one's way about it.

    `formulas` keeps those that were set already, by the id of their value.
    """

    whole: Whole
    formulas: dict[str, str] = field(default_factory=dict, compare=False, repr=False)

    @cached_property
    def pages(self) -> Mapping[str, Page]:
        """Pages by their path below the content folder."""
        return {page.path: page for page in self.whole.book.pages}

    @cached_property
    def paths(self) -> Mapping[str, str]:
        """The path of each page by the file that messages name."""
        return {page.file: page.path for page in self.whole.book.pages}

    @cached_property
    def homes(self) -> Mapping[str, str]:
        """The path of the page on which each block, sheet or source is shown."""
        homes = {id: f"{SOURCES}/{id}.md" for id in self.whole.book.sources}
        homes |= {id: f"{FACTS}/{id}.md" for id in self.whole.book.sheets}
        for page in self.whole.book.pages:
            homes |= {id: page.path for _, _, id in page.fences if id}
        return homes

    @cached_property
    def figures(self) -> Mapping[tuple[str, int], JudgedFigure]:
        """Judged figures by the file and the offset at which they stand."""
        return {
            (judged.place.file, judged.figure.start): judged
            for judged in self.whole.judgement.figures
        }

    @cached_property
    def checks(self) -> Mapping[str, tuple[JudgedCheck, ...]]:
        """Judged checks by method."""
        found: dict[str, list[JudgedCheck]] = defaultdict(list)
        for judged in self.whole.judgement.checks:
            found[judged.method].append(judged)
        return {method: tuple(rows) for method, rows in found.items()}

    @cached_property
    def applied(self) -> Mapping[str, Applied]:
        """Where methods are used, by the prefix of their results; their own checks left out."""
        return {each.prefix: each for each in self.whole.plan.applied if "#" not in each.block}

    @cached_property
    def uses_of_methods(self) -> Mapping[str, tuple[Applied, ...]]:
        """Where each method is used, by method."""
        found: dict[str, list[Applied]] = defaultdict(list)
        for each in self.applied.values():
            found[each.method].append(each)
        return {method: tuple(uses) for method, uses in found.items()}

    @cached_property
    def declared(self) -> Mapping[str, Input | Step]:
        """The input or step that declares each id, in sheets, calcs, estimates and methods."""
        book = self.whole.book
        found: dict[str, Input | Step] = {}
        for sheet in book.sheets.values():
            found |= {f"{sheet.id}.{item.name}": item for item in sheet.inputs}
        for calc in book.calcs.values():
            found |= {f"{calc.id}.{item.name}": item for item in calc.inputs}
            found |= {f"{calc.id}.{step.name}": step for step in calc.steps}
        for estimates in book.estimates.values():
            found |= {f"{estimates.id}.{item.input.name}": item.input for item in estimates.values}
        for each in self.applied.values():
            method = book.methods[each.method]
            found |= {f"{each.prefix}.{step.name}": step for step in method.steps}
        return found

    @cached_property
    def stated(self) -> Mapping[str, tuple[JudgedFigure, ...]]:
        """Figures in prose by the id of the value or claim that they state."""
        found: dict[str, list[JudgedFigure]] = defaultdict(list)
        for judged in self.whole.judgement.figures:
            if judged.figure.scheme != "given":
                found[self.target(judged.of)].append(judged)
        return {id: tuple(figures) for id, figures in found.items()}

    @cached_property
    def resting(self) -> Mapping[str, tuple[str, ...]]:
        """The blocks that take each value as an input or in a formula, by its id."""
        found: dict[str, dict[str, None]] = defaultdict(dict)
        for id, needs in self.whole.plan.needs.items():
            block = self.whole.plan.nodes[id].block
            for need in needs:
                own = self.whole.plan.nodes[need].block == block
                if not own and "#" not in block:
                    found[self.target(need)][block] = None
        return {id: tuple(blocks) for id, blocks in found.items()}

    @cached_property
    def published(self) -> Mapping[tuple[str, str], date]:
        """The day on which each figure was first published, by its page's file and its id."""
        found: dict[tuple[str, str], date] = {}
        for entry in self.whole.ledger.entries:
            if entry.section == FIGURES:
                key = (entry.page, self.target(entry.of))
                found[key] = min(entry.published, found.get(key, entry.published))
        return found

    @cached_property
    def drawn(self) -> frozenset[str]:
        """The ids of values that a chart, table or panel names."""
        fields = (str(each.fields) for each in self.whole.book.showings.values())
        named = (id for written in fields for id in _ID.findall(written))
        return frozenset(self.target(id) for id in named)

    def target(self, id: str) -> str:
        """The id that an id stands for once aliases are followed."""
        return self.whole.plan.target(id) if id in self.whole.plan.nodes else id

    def result(self, id: str) -> Result | None:
        """The result of an id, or None when it was not computed."""
        return self.whole.computation.results.get(self.target(id))

    def root(self, id: str) -> Root | None:
        """The input that an id is, aliases followed, or None."""
        node = self.whole.plan.nodes.get(self.target(id))
        return node if isinstance(node, Root) else None

    def evidence(self, id: str) -> tuple[Link, ...]:
        """Every input that a value rests on, weakest first."""
        return evidence(id, self.whole.book, self.whole.plan)

    def block(self, id: str) -> str:
        """The block that an id belongs to."""
        node = self.whole.plan.nodes.get(id)
        return node.block if node else id.partition(".")[0]

    def block_title(self, block: str) -> str:
        """What a block, sheet, method, claim or source is called."""
        book = self.whole.book
        for shelf in (book.calcs, book.sheets, book.methods, book.estimates, book.showings):
            if block in shelf:
                return str(shelf[block].title)
        if block in book.sources:
            return book.sources[block].title
        if block in book.claims:
            return book.claims[block].title or book.claims[block].says.text
        return spoken(block)

    def name(self, id: str) -> str:
        """The name of a value within its block, as words."""
        return spoken(id.partition(".")[2] or id).replace("solve: ", "")

    def about(self, id: str) -> str:
        """What a value is, in the writer's words, or its name."""
        for each in (id, self.target(id)):
            found = self.declared.get(each)
            if found and found.about:
                return found.about
        return self.name(id)

    def symbol_of(self, id: str) -> Leaf | None:
        """The symbol declared for a value, or for what it stands for."""
        node = self.whole.plan.nodes.get(id)
        found = self.declared.get(id)
        if found and found.symbol:
            return symbol(found.symbol)
        if isinstance(node, Alias):
            return self.symbol_of(node.of)
        return None

    def sign_of(self, id: str, name: str) -> Leaf:
        """What stands for a value in a formula: its symbol, or its local name as words."""
        return self.symbol_of(id) or words(name)

    def where(self, id: str) -> str:
        """The address of the place where a value or block is shown, or "" when nowhere."""
        known = id if id in self.homes else self.block(id)
        if known not in self.homes:
            return ""
        home = self.homes[known]
        lone = known in self.whole.book.sources and id == known
        return anchored(home, "" if lone else id)

    def link_to(self, id: str, content: str = "") -> str:
        """A link to where a value or block is shown, around HTML; the HTML alone when nowhere."""
        content = content or text(sentence(self.name(id)))
        where = self.where(id)
        return f'<a href="{text(where)}">{content}</a>' if where else content

    def page_link(self, path: str) -> str:
        """A link to a page by its path, with its title."""
        page = self.pages.get(path)
        return link(text(page.title), path) if page else text(path)
