"""A figure in prose: a button that opens its working, which needs no script.

The cards stand at the end of the page, one for each value that the page states, and are printed
as endnotes.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from calc.book.model import Input
from calc.engine.results import AND, Result
from calc.judge.verdicts import JudgedFigure
from calc.notation.prose import GIVEN
from hooks.atlas import Atlas
from hooks.claims import claim_body, day
from hooks.formulas import Formulas
from hooks.markup import link, tag, text
from hooks.others import other_units
from hooks.sources import badge, origin
from hooks.values import input_value, named
from hooks.wording import interval_words, percent, prose, sentence, spoken, typed, value_text

_MOST_INPUTS = 6
_MOST_PLACES = 6


@dataclass
class Cards:
    """The cards of one page, numbered in the order in which their figures are met."""

    atlas: Atlas
    path: str
    numbers: dict[str, int] = field(default_factory=dict)

    def button(self, judged: JudgedFigure) -> str:
        """What stands in the prose for a figure."""
        shown = prose(judged.shown or judged.figure.text)
        if judged.figure.scheme == GIVEN:
            return text(shown)
        if judged.agrees is None and not self._known(judged.of):
            return tag(
                "span",
                text(shown or "?"),
                class_="wc-figure wc-figure--lost",
                title="This figure could not be recomputed",
            )
        number = self.numbers.setdefault(self._key(judged.of), len(self.numbers) + 1)
        kind = "quote" if self._is_claim(judged.of) else "calc"
        drifted = " wc-figure--drift" if judged.agrees is False else ""
        return tag(
            "button", text(shown), type="button", popovertarget=f"card-{number}",
            class_=f"wc-figure wc-figure--{kind}{drifted}", data_note=str(number),
        )  # fmt: skip

    def html(self) -> str:
        """All cards of the page."""
        if not self.numbers:
            return ""
        cards = (self._card(id, number) for id, number in self.numbers.items())
        head = tag("p", "Workings of the figures", class_="wc-notes-title")
        # The theme's search leaves out all of an element only when no other of its name is inside.
        return tag("section", head + "".join(cards), class_="wc-notes", data_search_exclude=True)

    def _key(self, of: str) -> str:
        return of if of in self.atlas.whole.computation.solved else self.atlas.target(of)

    def _known(self, of: str) -> bool:
        return bool(
            self.atlas.result(of) or of in self.atlas.whole.computation.solved or self._is_claim(of)
        )

    def _is_claim(self, of: str) -> bool:
        return of in self.atlas.whole.book.claims

    def _card(self, id: str, number: int) -> str:
        if self._is_claim(id):
            title, body = self._quoted(id)
        elif id in self.atlas.whole.computation.solved:
            title, body = self._solved(id)
        else:
            title, body = self._computed(id)
        close = tag("button", "Close", type="button", popovertarget=f"card-{number}",
                    popovertargetaction="hide", class_="wc-close")  # fmt: skip
        mark = tag("span", str(number), class_="wc-note-number", aria_hidden="true")
        head = tag("div", f"{mark}{title}{close}", class_="wc-card-head")
        return tag(
            "div", head + body, popover="auto", id=f"card-{number}", class_="wc-card",
            role="dialog", aria_label=f"Working of {self.atlas.name(id)}",
        )  # fmt: skip

    def _computed(self, id: str) -> tuple[str, str]:
        result = self.atlas.result(id)
        assert result is not None
        title = tag("span", named(id, self.atlas), class_="wc-card-title")
        parts = [
            tag("p", tag("strong", text(value_text(result))), class_="wc-card-value"),
            tag("p", text(interval_words(result))),
            _bent(result),
            other_units(result),
            Formulas(self.atlas).both(id),
            self._from(id, result),
            self._weakest(id),
            self._places(id),
            self._foot(id),
        ]
        return title, "".join(parts)

    def _from(self, id: str, result: Result) -> str:
        """What a value rests on: its own source, or its inputs by the doubt that they bring."""
        root = self.atlas.root(id)
        if root is not None and root.input is not None:
            return self._own_source(root.id, root.input)
        ordered = sorted(
            result.inputs.items(), key=lambda item: (-result.share_of(item[0])[0], item[1])
        )
        lines = [
            self._input(root_id, *result.share_of(name)) for name, root_id in ordered[:_MOST_INPUTS]
        ]
        if len(ordered) > _MOST_INPUTS:
            lines.append(tag("li", f"and {len(ordered) - _MOST_INPUTS} more, in its working"))
        label = tag("p", "From", class_="wc-label")
        return f"{label}{tag('ul', ''.join(lines), class_='wc-from')}" if lines else ""

    def _own_source(self, id: str, item: Input) -> str:
        links = self.atlas.evidence(id)
        kind = badge(links[0].kind) if links else ""
        typed_as = (
            tag("p", f"Entered as {text(typed(item.quantity.text))}.") if item.quantity else ""
        )
        return f"{typed_as}<p>{kind} {origin(item, self.atlas)}</p>"

    def _input(self, id: str, share: float, others: tuple[str, ...]) -> str:
        name = self.atlas.link_to(id, text(self.atlas.name(id)))
        links = self.atlas.evidence(id)
        kind = badge(links[0].kind) if links else ""
        along = f", with {AND.join(map(spoken, others))}" if others else ""
        said = f"{percent(share)} of the variance{along}"
        part = tag("small", text(said)) if share else ""
        return tag("li", f"{name} {input_value(id, self.atlas)} {kind} {part}")

    def _weakest(self, id: str) -> str:
        links = self.atlas.evidence(id)
        if len(links) < 2:
            return ""
        weakest = links[0]
        alike = sum(1 for each in links if each.kind == weakest.kind)
        others = f", and {alike - 1} more like it" if alike > 1 else ""
        name = self.atlas.link_to(weakest.root, text(self.atlas.name(weakest.root)))
        return tag("p", f"Weakest link: {badge(weakest.kind)} {name}{others}.")

    def _places(self, id: str) -> str:
        """Other pages that state the value, and workings that take it up."""
        pages: dict[str, str] = {}
        for judged in self.atlas.stated.get(id, ()):
            path = self.atlas.paths.get(judged.place.file, "")
            if path and path != self.path:
                pages[path] = self.atlas.page_link(path)
        blocks = self.atlas.resting.get(id, ())
        links = [*pages.values(), *(self._block_link(block) for block in blocks)]
        if not links:
            return ""
        more = f" and {len(links) - _MOST_PLACES} more" if len(links) > _MOST_PLACES else ""
        return tag("p", f"Also used in: {'; '.join(links[:_MOST_PLACES])}{more}.")

    def _block_link(self, block: str) -> str:
        title = text(self.atlas.block_title(block))
        home = self.atlas.homes.get(block)
        return link(title, home, block) if home else title

    def _foot(self, id: str) -> str:
        file = self.atlas.pages[self.path].file
        since = self.atlas.published.get((file, id))
        published = tag("span", f"Published since {day(since.isoformat())}.") if since else ""
        where = self.atlas.where(id)
        label = "See where it is recorded" if self.atlas.root(id) else "See the whole working"
        more = f'<a href="{text(where)}">{label}</a>' if where else ""
        return tag("p", f"{published} {more}".strip(), class_="wc-card-foot")

    def _solved(self, id: str) -> tuple[str, str]:
        solved = self.atlas.whole.computation.solved[id]
        title = tag("span", text(sentence(solved.name.replace("_", " "))), class_="wc-card-title")
        block = id.partition(".")[0]
        said = f"What it would have to be, all else as stated; found in {self._block_link(block)}."
        return title, tag("p", said) + self._foot(id)

    def _quoted(self, id: str) -> tuple[str, str]:
        claim = self.atlas.whole.book.claims[id]
        title = tag("span", f'"{text(claim.says.text)}"', class_="wc-card-title")
        return title, claim_body(claim, self.atlas) + self._claim_foot(id)

    def _claim_foot(self, id: str) -> str:
        more = link("See the claim where it is tested", self.atlas.homes.get(id, ""), id)
        return tag("p", more, class_="wc-card-foot")


def _bent(result: Result) -> str:
    if not result.bent:
        return ""
    said = "The distribution is lopsided: its mean differs from the value computed from the inputs."
    return tag("p", tag("small", said))
