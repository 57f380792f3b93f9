"""What is worked out: calcs with their steps, and the methods that they use."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from calc.book.model.entries import Correlation, Input, Place
from calc.notation.formula import Formula
from calc.notation.quantity import Quantity
from calc.notation.units import Unit


@dataclass(frozen=True)
class Parameter:
    """An input of a method: no value yet, a unit and what is usual."""

    name: str
    unit: Unit
    place: Place
    about: str = ""
    symbol: str = ""
    typical: str = ""
    series: bool = False


@dataclass(frozen=True)
class Step:
    """One named formula, a method applied, or a procedure run."""

    name: str
    place: Place
    formula: Formula | None = None
    use: str = ""
    procedure: str = ""
    given: Mapping[str, str] = field(default_factory=dict)
    about: str = ""
    symbol: str = ""


@dataclass(frozen=True)
class Solve:
    """What an input would have to be so that a result has a value."""

    unknown: str
    result: str
    target: Quantity
    between: Quantity
    place: Place


@dataclass(frozen=True)
class Calc:
    """A block of inputs and steps; `use` names the method when it is one method alone.

    `lost` are names of inputs and steps that stand there and could not be read.
    """

    id: str
    title: str
    place: Place
    inputs: tuple[Input, ...]
    steps: tuple[Step, ...]
    use: str = ""
    correlated: tuple[Correlation, ...] = ()
    solve: tuple[Solve, ...] = ()
    interval: str = "symmetric"
    about: str = ""
    lost: tuple[str, ...] = ()


@dataclass(frozen=True)
class Limit:
    """One entry of `valid`: a comparison, or a name between two quantities."""

    text: str
    place: Place
    formula: Formula | None = None
    name: str = ""
    low: Quantity | None = None
    high: Quantity | None = None
    strict: bool = False


@dataclass(frozen=True)
class Check:
    """A check of a method against the outside world.

    `gives` keeps each expected value as its printed text; `columns` are inputs that a log gives,
    each as the log and its column.
    """

    given: Mapping[str, Quantity]
    gives: Mapping[str, str]
    source: str
    mark: str
    place: Place
    within: str = ""
    why: str = ""
    rounded: bool = False
    independent: str = ""
    columns: Mapping[str, tuple[str, str]] = field(default_factory=dict)


@dataclass(frozen=True)
class Method:
    """A calc without values, with its range of validity and its checks.

    `lost` are names of inputs and steps that stand there and could not be read.
    """

    id: str
    title: str
    place: Place
    parameters: tuple[Parameter, ...]
    uses: Mapping[str, str]
    steps: tuple[Step, ...]
    valid: tuple[Limit, ...]
    checks: tuple[Check, ...]
    answers: str = ""
    lost: tuple[str, ...] = ()
