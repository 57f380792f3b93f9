"""The generated parts of a method's page: formulas, symbols, range, checks, where it is used."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calc.book.model import Limit, Method, Step
from calc.judge.verdicts import JudgedCheck
from calc.notation.formula import parse_formula
from calc.notation.units import Unit
from hooks.atlas import Atlas
from hooks.blocks import block_head
from hooks.formulas import formula_line, method_naming
from hooks.markup import link, table, tag, text
from hooks.mathml import Naming, equation, typeset
from hooks.signs import symbol
from hooks.sources import mark_text, source_link
from hooks.wording import NO_BREAK, prose, sentence, spoken, typed, unit_text


def method_html(method: Method, atlas: Atlas) -> str:
    """What stands where the block stood: the question, the formulas, the symbols, the range."""
    made = _MethodPage(method, atlas, method_naming(method, atlas))
    parts = [
        block_head("What it answers", method.id, method.answers or method.title),
        tag("ol", "".join(made.step(step) for step in method.steps), class_="wc-steps"),
        made.symbols(),
        made.valid(),
    ]
    return tag(
        "section", "".join(parts), class_="wc-block wc-method", id=method.id,
        aria_label=f"Method: {method.title}",
    )  # fmt: skip


@dataclass(frozen=True)
class _MethodPage:
    method: Method
    atlas: Atlas
    naming: Naming

    def step(self, step: Step) -> str:
        about = f": {text(prose(step.about))}" if step.about else ""
        name = tag("b", text(sentence(spoken(step.name))))
        head = tag("p", name + about, class_="wc-step")
        return tag("li", head + self._way(step), id=f"{self.method.id}.{step.name}")

    def _way(self, step: Step) -> str:
        if step.formula is not None:
            formula = equation(self.naming(step.name).markup, step.formula.tree, self.naming)
            line = tag("span", formula, data_search_exclude=True)
            unit = unit_text(step.formula.unit)
            shown = tag("span", f"in {text(unit)}", class_="wc-in") if unit else ""
            return formula_line(f"{line} {shown}".strip())
        given = "; ".join(
            f"{text(spoken(name))} = {self._given(written)}" for name, written in step.given.items()
        )
        tail = f", with {given}." if given else "."
        if step.use:
            home = self.atlas.homes.get(step.use, "")
            title = text(self.atlas.block_title(step.use))
            way = f"By the method {link(title, home) if home else title}"
        else:
            way = f"By the procedure {tag('em', text(spoken(step.procedure)))}"
        return tag("p", way + tail, class_="wc-run")

    def _given(self, written: str) -> str:
        try:
            return typeset(parse_formula(written).tree, self.naming)
        except ValueError:
            return text(written)

    def symbols(self) -> str:
        """The table of symbols: inputs with unit and usual range, then constants."""
        lines = [
            (
                self._sign(item.symbol, item.name),
                text(prose(item.about or spoken(item.name))),
                _unit(item.unit, item.series),
                text(typed(item.typical)) or "–",
            )
            for item in self.method.parameters
        ]
        lines += [self._constant(name, id) for name, id in self.method.uses.items()]
        head = ("Symbol", "Meaning", "Unit", "Usually")
        return table(head, lines, f"Symbols of {self.method.title}", "wc-symbols")

    def _sign(self, written: str, name: str) -> str:
        said = text(spoken(name))
        return f"<math>{symbol(written).markup}</math> <small>{said}</small>" if written else said

    def _constant(self, name: str, id: str) -> tuple[str, str, str, str]:
        declared = self.atlas.declared.get(id)
        root = self.atlas.root(id)
        about = self.atlas.link_to(id, text(prose(self.atlas.about(id))))
        value = text(typed(root.quantity.digits or f"{root.quantity.value:.6g}")) if root else "–"
        unit = _unit(root.unit, False) if root else "–"
        return self._sign(declared.symbol if declared else "", name), about, unit, value

    def valid(self) -> str:
        """Where the method may be used."""
        if not self.method.valid:
            return ""
        listed = "; ".join(self._limit(limit) for limit in self.method.valid)
        return tag("p", f"{tag('b', 'Valid for')} {listed}.", class_="wc-valid")

    def _limit(self, limit: Limit) -> str:
        if limit.formula is not None:
            return typeset(limit.formula.tree, self.naming)
        name = f"<math>{self.naming(limit.name).markup}</math>"
        above = "above" if limit.strict else "at or above"
        below = "below" if limit.strict else "at or below"
        if limit.low and limit.high:
            return f"{name} from {text(typed(limit.low.text))} to {text(typed(limit.high.text))}"
        if limit.low:
            return f"{name} {above} {text(typed(limit.low.text))}"
        return f"{name} {below} {text(typed(limit.high.text))}" if limit.high else name


def _unit(unit: Unit, series: bool) -> str:
    shown = unit_text(unit) or "–"
    return text(f"{shown}, a column of a log" if series else shown)


def checks_html(method: Method, atlas: Atlas) -> str:
    """The checks against the outside world, each with its source and how well that is known."""
    rows = atlas.checks.get(method.id, ())
    if not rows:
        return tag("p", "No check of this method is on record.")
    head = ("Given", "Expected, and computed", "Source")
    lines = [_check(found, atlas) for found in _by_check(rows)]
    held = sum(row.agrees for row in rows)
    said = f"{held} of {len(rows)} agree. They are run again whenever the site is built."
    listed = table(head, lines, f"Checks of {method.title}", "wc-checks")
    return tag("p", said) + tag("div", listed, data_search_exclude=True)


def _by_check(rows: Sequence[JudgedCheck]) -> list[list[JudgedCheck]]:
    """The expected values of each check together."""
    found: dict[int, list[JudgedCheck]] = {}
    for row in rows:
        found.setdefault(id(row.check), []).append(row)
    return list(found.values())


def _check(rows: Sequence[JudgedCheck], atlas: Atlas) -> tuple[str, str, str]:
    given = "; ".join(
        f"{text(spoken(name))}{NO_BREAK}={NO_BREAK}{text(typed(value))}"
        for name, value in rows[0].given.items()
    )
    expected = "".join(tag("li", _expected(row)) for row in rows)
    return given, tag("ul", expected, class_="wc-plain"), _check_source(rows[0], atlas)


def _expected(row: JudgedCheck) -> str:
    slug, said = ("holds", "agrees") if row.agrees else ("fails", "differs")
    outcome = tag("span", said, class_=f"wc-verdict wc-verdict--{slug}")
    computed = tag("small", f"computed {text(typed(row.computed))}")
    return f"{text(spoken(row.name))} {tag('b', text(typed(row.expected)))} {outcome} {computed}"


def _check_source(row: JudgedCheck, atlas: Atlas) -> str:
    check = row.check
    pieces = [source_link(row.source, atlas)]
    if row.mark != row.source:
        pieces.append(mark_text(row.mark))
    if check.independent:
        pieces.append(tag("small", text(prose(check.independent))))
    if check.within:
        pieces.append(tag("small", text(f"within {typed(check.within)}: {check.why}")))
    if check.rounded:
        pieces.append(tag("small", "given values known to their last digit"))
    return " ".join(piece for piece in pieces if piece)


def uses_html(method: Method, atlas: Atlas) -> str:
    """The workings that use a method, and the methods that build on it."""
    found: dict[str, str] = {}
    for each in atlas.uses_of_methods.get(method.id, ()):
        home = atlas.homes.get(each.block, "")
        if home:
            found[each.block] = link(text(atlas.block_title(each.block)), home, each.block)
    for other in atlas.whole.book.methods.values():
        if any(step.use == method.id for step in other.steps):
            found[other.id] = link(text(other.title), atlas.homes.get(other.id, ""))
    if not found:
        return tag("p", "No working of the site uses it yet.")
    return tag("ul", "".join(tag("li", item) for item in found.values()))
