"""Unfolding blocks into nodes: local names become full ids, methods are written out in place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from calc.book.methods import own_problems
from calc.book.model import Book, Calc, Estimates, Input, Method, Sheet
from calc.book.names import Scope
from calc.book.plan import Alias, Column, PlanNode, Root
from calc.book.pool import COMBINED, pooled
from calc.book.unfold_steps import StepUnfolder
from calc.book.unfolded import UNKNOWN_UNIT, Unfolded
from calc.notation.dimensions import Signature
from calc.problems import Explained, Wrong


def unfold(book: Book, procedures: Mapping[str, Signature]) -> Unfolded:
    """Every block of the book as nodes, with the checks of its methods as blocks of their own."""
    out = Unfolded(failed=set(book.lost))
    worker = _Unfolder(StepUnfolder(book, procedures, out), out)
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
    steps: StepUnfolder
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
        self.steps.write_out(steps, Scope(calc.id, calc.id, names), ())
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
                self.steps.apply(method, block, block, bindings, check.place, ())
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

    def _whole_method(self, calc: Calc, scope: Scope) -> None:
        try:
            method = self.steps.method_called(calc.use)
            wanted = {item.name for item in method.parameters}
            bindings = {name: id for name, id in scope.names.items() if name in wanted}
            self.steps.apply(method, calc.id, calc.id, bindings, calc.place, ())
        except Explained:
            self.out.failed.add(calc.id)
            return
        except Wrong as error:
            self.out.failed.add(calc.id)
            self.out.problems.append(error.at(calc.place.file, calc.place.line))
            return
        for step in method.steps:
            self.out.names[calc.id].setdefault(step.name, f"{calc.id}.{step.name}")


def _entered(id: str, block: str, item: Input) -> PlanNode:
    if item.reference:
        return Alias(id, block, item.reference, UNKNOWN_UNIT, item.place)
    if item.log:
        return Column(id, block, item.log, item.column, UNKNOWN_UNIT, item.place)
    assert item.quantity is not None
    return Root(id, block, item.quantity, item.quantity.unit, item.place, item)
