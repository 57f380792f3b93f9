"""A calc's working: results, inputs with their sources, steps, and what the doubt comes from."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from calc.book.model import Calc, Input, Step
from hooks.atlas import Atlas
from hooks.blocks import block_head
from hooks.formulas import Formulas
from hooks.markup import link, table, tag, text
from hooks.values import input_origin, input_value, named, results_list, shares_html
from hooks.wording import digits, prose, sentence, spoken, typed, with_unit

_SHOWN_AT_ONCE, _SHOWN_AT_MOST = 4, 8
"""Results above the fold of a working: last ones, and all with those stated or drawn."""


def working_html(calc: Calc, atlas: Atlas) -> str:
    """The whole working of a calc."""
    return _Working(calc, atlas, Formulas(atlas)).html()


@dataclass(frozen=True)
class _Working:
    calc: Calc
    atlas: Atlas
    formulas: Formulas

    def html(self) -> str:
        parts = [
            block_head("Working", self.calc.id, self.calc.title),
            tag("p", text(self.calc.about), class_="wc-about") if self.calc.about else "",
            results_list(self.ends(), self.atlas),
            self._solved(),
            # The search would be twice as heavy with every step in it, and find no page more.
            tag(
                "details",
                self._fold(),
                class_="wc-fold",
                data_short=self._is_short(),
                data_search_exclude=True,
            ),
        ]
        return tag(
            "section", "".join(parts), class_="wc-block wc-working", id=self.calc.id,
            aria_label=f"Working: {self.calc.title}",
        )  # fmt: skip

    def _fold(self) -> str:
        inputs, steps = len(self.calc.inputs), len(self._step_items)
        said = f"{_count(inputs, 'input')} and {_count(steps, 'step')}"
        return "".join(
            (
                tag("summary", f"How it is worked out: {said}"),
                self._inputs(),
                tag("ol", "".join(self._step_items), class_="wc-steps"),
                self._shares(),
                self._resting(),
            )
        )

    def _resting(self) -> str:
        """Other workings that take up a result of this one."""
        blocks = {
            block: None
            for id in self.result_ids()
            for block in self.atlas.resting.get(id, ())
            if block in self.atlas.homes
        }
        links = [
            link(text(self.atlas.block_title(block)), self.atlas.homes[block], block)
            for block in blocks
        ]
        return tag("p", f"What rests on this: {'; '.join(links)}.") if links else ""

    def _is_short(self) -> bool:
        return len(self.calc.inputs) + len(self._step_items) <= 8

    def result_ids(self) -> tuple[str, ...]:
        return self.atlas.whole.plan.results.get(self.calc.id, ())

    def ends(self) -> list[str]:
        """The results a reader looks for: those stated or drawn, and those no step takes on."""
        plan = self.atlas.whole.plan
        known = [id for id in self.result_ids() if self.atlas.result(id)]
        taken = {need for id in known for need in plan.needs[id]}
        wanted = [id for id in known if id in self.atlas.stated or id in self.atlas.drawn]
        last = [id for id in known if id not in taken]
        own = [id for id in last if id.count(".") == 1] or last
        chosen = {*wanted[:_SHOWN_AT_MOST], *own[-_SHOWN_AT_ONCE:]}
        return [id for id in known if id in chosen][:_SHOWN_AT_MOST]

    def _solved(self) -> str:
        solved = self.atlas.whole.computation.solved
        lines = []
        for wish in self.calc.solve:
            found = solved.get(f"{self.calc.id}.solve.{wish.unknown}")
            if found is None:
                continue
            name = text(spoken(wish.unknown))
            if found.values:
                listed = " or ".join(
                    tag("strong", text(with_unit(digits(value, 4), found.unit)))
                    for value in found.values
                )
                answer = f"the {name} would have to be {listed}"
            else:
                answer = f"the {name}: {text(found.none)}"
            goal = f"For {text(spoken(wish.result))} = {text(typed(wish.target.text))}, "
            looked = f" (looked for in {text(typed(wish.between.text))})"
            lines.append(
                tag("li", goal + answer + looked, id=f"{self.calc.id}.solve.{wish.unknown}")
            )
        return tag("ul", "".join(lines), class_="wc-solved") if lines else ""

    def _inputs(self) -> str:
        if not self.calc.inputs:
            return ""
        head = ("Input", "Value", "Where it comes from")
        lines = (self._input(item) for item in self.calc.inputs)
        return table(head, lines, f"Inputs of {self.calc.title}", "wc-inputs")

    def _input(self, item: Input) -> tuple[str, str, str]:
        id = f"{self.calc.id}.{item.name}"
        target = self.atlas.target(id)
        name = tag("span", named(id, self.atlas, target if target != id else ""), id=id)
        return name, input_value(id, self.atlas), input_origin(id, self.atlas)

    @cached_property
    def _step_items(self) -> list[str]:
        items = [self._step(step, f"{self.calc.id}.{step.name}") for step in self.calc.steps]
        if self.calc.use:
            method = self.atlas.whole.book.methods.get(self.calc.use)
            items += [
                self._step(step, f"{self.calc.id}.{step.name}")
                for step in (method.steps if method else ())
            ]
        return items

    def _step(self, step: Step, id: str) -> str:
        about = f": {text(prose(step.about))}" if step.about else ""
        name = tag("b", text(sentence(spoken(step.name))))
        parts = [tag("p", name + about, class_="wc-step")]
        if step.formula is not None:
            parts.append(self.formulas.both(id))
        else:
            parts += [self._way(step, id), results_list(self._below(id), self.atlas, own=id)]
        return tag("li", "".join(parts), id=id)

    def _way(self, step: Step, id: str) -> str:
        if step.use:
            given = self.formulas.given(step, id)
            method = self.method_link(step.use)
            return tag(
                "p", f"By the method {method}{', with ' if given else ''}{given}.", class_="wc-run"
            )
        below = self._below(id)
        return self.formulas.procedure(below[0]) if below else ""

    def method_link(self, id: str) -> str:
        home = self.atlas.homes.get(id)
        title = text(self.atlas.block_title(id))
        return link(title, home) if home else title

    def _below(self, id: str) -> list[str]:
        """Results of a step that has several; those of methods within it stay on their page."""
        return [
            each
            for each in self.result_ids()
            if each == id or (each.startswith(f"{id}.") and each.count(".") == id.count(".") + 1)
        ]

    def _shares(self) -> str:
        results = [self.atlas.result(id) for id in self.ends()]
        pictures = [
            shares_html(result, self.atlas)
            for result in results
            if result and len(result.shares) > 1
        ]
        return tag("div", "".join(pictures[:4]), class_="wc-pictures") if pictures else ""


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}{'' if number == 1 else 's'}"
