"""Unfolding blocks into nodes: local names become full ids, methods are written out in place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import NoReturn

from calc.book.methods import all_given, limit_names, own_problems
from calc.book.model import (
    Book,
    Calc,
    Estimates,
    Input,
    Limit,
    Method,
    Parameter,
    Place,
    Sheet,
    Step,
)
from calc.book.names import Scope, resolved
from calc.book.plan import Alias, Applied, Column, Computed, Part, PlanNode, Pooled, Root, Run
from calc.book.pool import COMBINED, pooled
from calc.notation.dimensions import Signature
from calc.notation.formula import Name, Node, names_in, parse_formula
from calc.notation.units import PLAIN, Unit, unit
from calc.problems import Explained, Problem, Wrong, nearest

UNKNOWN_UNIT = Unit("", 1.0, 0.0, PLAIN)
"""Stands in a node until its dimension is known."""


@dataclass(frozen=True)
class Bound:
    """An input of a method where it is used, with the unit that the method declares."""

    id: str
    parameter: Parameter
    method: str
    place: Place
    prefix: str


@dataclass(frozen=True)
class RawGuard:
    """A limit of a method where it is used, with the ids of its names."""

    limit: Limit
    ids: Mapping[str, str]
    method: str
    block: str
    place: Place
    prefix: str


@dataclass
class Unfolded:
    """Nodes in the order in which they were met, not yet checked."""

    nodes: dict[str, PlanNode] = field(default_factory=dict)
    results: dict[str, list[str]] = field(default_factory=dict)
    names: dict[str, dict[str, str]] = field(default_factory=dict)
    bound: list[Bound] = field(default_factory=list)
    guards: list[RawGuard] = field(default_factory=list)
    applied: list[Applied] = field(default_factory=list)
    failed: set[str] = field(default_factory=set)
    misgiven: set[tuple[str, str]] = field(default_factory=set)
    problems: list[Problem] = field(default_factory=list)

    def say(self, place: Place, kind: str, message: str) -> None:
        """Notes one problem."""
        self.problems.append(Problem(place.file, place.line, kind, message))


def unfold(book: Book, procedures: Mapping[str, Signature]) -> Unfolded:
    """Every block of the book as nodes, with the checks of its methods as blocks of their own."""
    out = Unfolded(failed=set(book.lost))
    worker = _Unfolder(book, procedures, out)
    for sheet in book.sheets.values():
        worker.sheet(sheet)
    for calc in book.calcs.values():
        worker.calc(calc)
    for estimates in book.estimates.values():
        worker.estimates(estimates)
    for method in book.methods.values():
        worker.checks(method)
    return out


@dataclass(frozen=True)
class _Unfolder:
    book: Book
    procedures: Mapping[str, Signature]
    out: Unfolded

    def sheet(self, sheet: Sheet) -> None:
        self.out.names[sheet.id] = self._inputs(sheet.id, sheet.inputs, sheet.lost)
        self.out.results[sheet.id] = []

    def calc(self, calc: Calc) -> None:
        names = self._inputs(calc.id, calc.inputs, calc.lost)
        self.out.names[calc.id] = names
        self.out.results[calc.id] = []
        steps = tuple(step for step in calc.steps if step.name not in names)
        for step in calc.steps:
            if step not in steps:
                message = f"'{step.name}' is an input and a step; give the step another name"
                self.out.say(step.place, "double-id", message)
        names |= {step.name: f"{calc.id}.{step.name}" for step in steps}
        self._steps(steps, Scope(calc.id, calc.id, names), ())
        if calc.use:
            self._whole_method(calc, Scope(calc.id, calc.id, names))

    def estimates(self, estimates: Estimates) -> None:
        measured = tuple(each.input for each in estimates.values if each.bound is None)
        names = self._inputs(estimates.id, measured, estimates.lost)
        self.out.names[estimates.id] = names
        self.out.results[estimates.id] = [f"{estimates.id}.{COMBINED}"]
        if estimates.lost:
            self.out.failed.add(estimates.id)
            return
        try:
            found = pooled(estimates, tuple(names.values()), UNKNOWN_UNIT)
        except Wrong as error:
            self.out.failed.add(estimates.id)
            self.out.problems.append(error.at(estimates.place.file, estimates.place.line))
            return
        for node in found:
            names[node.field] = node.id
            self.out.nodes[node.id] = node

    def checks(self, method: Method) -> None:
        if method.lost:
            return
        self.out.problems += own_problems(method)
        for number, check in enumerate(method.checks, start=1):
            block = f"{method.id}#{number}"
            self.out.results[block] = []
            bindings: dict[str, str] = {}
            for name, quantity in check.given.items():
                bindings[name] = id = f"{block}.{name}"
                root = Root(id, block, quantity, quantity.unit, check.place)
                self.out.nodes[id] = root
            for name, (log, column) in check.columns.items():
                bindings[name] = id = f"{block}.{name}"
                self.out.nodes[id] = Column(id, block, log, column, UNKNOWN_UNIT, check.place)
            try:
                self._method(method, block, block, bindings, check.place, ())
            except Wrong as error:
                self.out.failed.add(block)
                self.out.problems.append(error.at(check.place.file, check.place.line))

    def _inputs(
        self, block: str, inputs: tuple[Input, ...], lost: tuple[str, ...] = ()
    ) -> dict[str, str]:
        names = {name: f"{block}.{name}" for name in lost}
        self.out.failed.update(names.values())
        for item in inputs:
            id = f"{block}.{item.name}"
            names[item.name] = id
            self.out.nodes[id] = _entered(id, block, item)
        return names

    def _steps(self, steps: tuple[Step, ...], scope: Scope, within: tuple[str, ...]) -> None:
        for step in steps:
            try:
                self._step(step, scope, within)
            except Explained:
                self.out.failed.add(f"{scope.prefix}.{step.name}")
            except Wrong as error:
                self.out.failed.add(f"{scope.prefix}.{step.name}")
                self.out.problems.append(error.at(step.place.file, step.place.line))

    def _step(self, step: Step, scope: Scope, within: tuple[str, ...]) -> None:
        id = f"{scope.prefix}.{step.name}"
        if step.formula:
            tree = resolved(step.formula.tree, scope)
            shown = unit(step.formula.unit) if step.formula.unit else UNKNOWN_UNIT
            self._result(Computed(id, scope.block, tree, shown, step.place))
        elif step.use:
            self._used(step, id, scope, within)
        else:
            self._run(step, id, scope)

    def _result(self, node: PlanNode) -> None:
        self.out.nodes[node.id] = node
        self.out.results[node.block].append(node.id)

    def _run(self, step: Step, id: str, scope: Scope) -> None:
        signature = self.procedures.get(step.procedure)
        if signature is None:
            hint = nearest(step.procedure, self.procedures)
            raise Wrong("reference", f"no procedure is called '{step.procedure}'{hint}")
        lacking = [name for name in signature.takes if name not in step.given]
        unasked = [name for name in step.given if name not in signature.takes]
        if lacking or unasked:
            raise Wrong(
                "formula",
                f"{step.procedure} takes {', '.join(signature.takes)};"
                + (f" missing: {', '.join(lacking)}" if lacking else "")
                + (f" not known: {', '.join(unasked)}" if unasked else ""),
            )
        wide = Scope(scope.prefix, scope.block, scope.names, globals_too=True)
        arguments: dict[str, Node | str] = {}
        for name, kind in signature.takes.items():
            text = step.given[name]
            arguments[name] = text if kind is None else resolved(parse_formula(text).tree, wide)
        run = f"{id}!"
        self.out.nodes[run] = Run(
            run, scope.block, step.procedure, arguments, step.place, UNKNOWN_UNIT
        )
        for name, shown in signature.gives.items():
            part = f"{id}.{name}" if name else id
            self._result(Part(part, scope.block, run, name, shown, step.place))

    def _used(self, step: Step, id: str, scope: Scope, within: tuple[str, ...]) -> None:
        method = self._find_method(step.use)
        wide = Scope(scope.prefix, scope.block, scope.names, globals_too=True)
        bindings: dict[str, str] = {}
        for name, text in step.given.items():
            tree = resolved(parse_formula(text).tree, wide)
            if isinstance(tree, Name):
                bindings[name] = tree.name
                continue
            bindings[name] = hidden = f"{id}.{name}"
            self.out.nodes[hidden] = Computed(
                hidden, scope.block, tree, UNKNOWN_UNIT, step.place, hidden=True
            )
        for parameter in method.parameters:
            if parameter.name not in bindings and parameter.name in scope.names:
                bindings[parameter.name] = scope.names[parameter.name]
        self._method(method, id, scope.block, bindings, step.place, within)

    def _whole_method(self, calc: Calc, scope: Scope) -> None:
        try:
            method = self._find_method(calc.use)
            wanted = {item.name for item in method.parameters}
            bindings = {name: id for name, id in scope.names.items() if name in wanted}
            self._method(method, calc.id, calc.id, bindings, calc.place, ())
        except Explained:
            self.out.failed.add(calc.id)
            return
        except Wrong as error:
            self.out.failed.add(calc.id)
            self.out.problems.append(error.at(calc.place.file, calc.place.line))
            return
        for step in method.steps:
            self.out.names[calc.id].setdefault(step.name, f"{calc.id}.{step.name}")

    def _find_method(self, id: str) -> Method:
        method = self.book.methods.get(id)
        if id in self.book.lost or (method and method.lost):
            raise Explained
        if method is None:
            raise Wrong("reference", f"no method is called '{id}'{nearest(id, self.book.methods)}")
        return method

    def _method(
        self,
        method: Method,
        prefix: str,
        block: str,
        bindings: Mapping[str, str],
        place: Place,
        within: tuple[str, ...],
    ) -> None:
        if method.id in within:
            self._uses_itself((*within[within.index(method.id) :], method.id))
        parameters = {item.name: item for item in method.parameters}
        all_given(method, parameters, bindings)
        names = dict(bindings) | dict(method.uses)
        names |= {step.name: f"{prefix}.{step.name}" for step in method.steps}
        self.out.bound += [
            Bound(id, parameters[name], method.id, place, prefix) for name, id in bindings.items()
        ]
        inside = Scope(prefix, block, names)
        self.out.applied.append(Applied(method.id, prefix, block, place))
        self._steps(method.steps, inside, (*within, method.id))
        self.out.guards += [
            RawGuard(limit, _limit_ids(limit, inside), method.id, block, place, prefix)
            for limit in method.valid
        ]

    def _uses_itself(self, path: tuple[str, ...]) -> NoReturn:
        """A cycle of methods is said once, wherever it is entered."""
        if self.out.failed.issuperset(path):
            raise Explained
        self.out.failed.update(path)
        raise Wrong(
            "cycle", f"the method uses itself: {' → '.join(path)}; write one of them out in steps"
        )


def _entered(id: str, block: str, item: Input) -> PlanNode:
    if item.reference:
        return Alias(id, block, item.reference, UNKNOWN_UNIT, item.place)
    if item.log:
        return Column(id, block, item.log, item.column, UNKNOWN_UNIT, item.place)
    assert item.quantity is not None
    return Root(id, block, item.quantity, item.quantity.unit, item.place, item)


def _limit_ids(limit: Limit, scope: Scope) -> dict[str, str]:
    return {name: scope.find(name) or name for name in limit_names(limit)}


def edges(node: PlanNode) -> Iterator[str]:
    """The ids that a node reads."""
    if isinstance(node, Alias):
        yield node.of
    elif isinstance(node, Computed):
        yield from names_in(node.tree)
    elif isinstance(node, Part):
        yield node.run
    elif isinstance(node, Pooled):
        yield from node.members if node.field == COMBINED else (f"{node.block}.{COMBINED}",)
    elif isinstance(node, Run):
        for argument in node.arguments.values():
            if not isinstance(argument, str):
                yield from names_in(argument)
