"""Steps as nodes: formulas with full ids, procedures with their parts, methods written out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NoReturn

from calc.book.methods import all_given, limit_names
from calc.book.model import Book, Limit, Method, Place, Step
from calc.book.names import Scope, resolved
from calc.book.plan import Applied, Computed, Part, PlanNode, Run
from calc.book.unfolded import UNKNOWN_UNIT, Bound, RawGuard, Unfolded
from calc.notation.dimensions import Signature
from calc.notation.formula import Name, Node, parse_formula
from calc.notation.units import unit
from calc.problems import Explained, Wrong, nearest


@dataclass(frozen=True)
class StepUnfolder:
    """Writes the steps of blocks and methods out into `out`; a step that is wrong is noted."""

    book: Book
    procedures: Mapping[str, Signature]
    out: Unfolded

    def write_out(self, steps: tuple[Step, ...], scope: Scope, within: tuple[str, ...]) -> None:
        """Each step as nodes of its own; `within` are the methods that this one stands in."""
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
        method = self.method_called(step.use)
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
        self.apply(method, id, scope.block, bindings, step.place, within)

    def method_called(self, id: str) -> Method:
        """A method by its id. Raises: Wrong when there is none, Explained when it is lost."""
        method = self.book.methods.get(id)
        if id in self.book.lost or (method and method.lost):
            raise Explained
        if method is None:
            raise Wrong("reference", f"no method is called '{id}'{nearest(id, self.book.methods)}")
        return method

    def apply(
        self,
        method: Method,
        prefix: str,
        block: str,
        bindings: Mapping[str, str],
        place: Place,
        within: tuple[str, ...],
    ) -> None:
        """A method written out below `prefix`, its inputs bound to ids. Raises: Wrong."""
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
        self.write_out(method.steps, inside, (*within, method.id))
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


def _limit_ids(limit: Limit, scope: Scope) -> dict[str, str]:
    return {name: scope.find(name) or name for name in limit_names(limit)}
