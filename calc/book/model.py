"""What a book holds: the writer's blocks as whole values, each with its place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from calc.book.logs import Log
from calc.book.settings import Settings
from calc.notation.formula import Formula
from calc.notation.loose import Loose
from calc.notation.prose import Figure
from calc.notation.quantity import Quantity
from calc.notation.statement import Statement
from calc.notation.units import Unit
from calc.problems import Problem

ASSUMPTION = "assumption"


@dataclass(frozen=True)
class Place:
    """A line of a file."""

    file: str
    line: int


@dataclass(frozen=True)
class Source:
    """Where values come from, in the names of CSL-JSON, with its kind and mark.

    `mark` says whether the text was at hand: seen, copy or memory.
    """

    id: str
    kind: str
    mark: str
    title: str
    place: Place
    csl: Mapping[str, object] = field(default_factory=dict)
    note: str = ""


@dataclass(frozen=True)
class Input:
    """A quantity that enters: a value with its source, a reference, or a column of a log."""

    name: str
    place: Place
    quantity: Quantity | None = None
    reference: str = ""
    log: str = ""
    column: str = ""
    source: str = ""
    mark: str = ""
    because: str = ""
    about: str = ""
    symbol: str = ""
    review_by: str = ""


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
class Correlation:
    """Two inputs that share an error, with their correlation coefficient."""

    first: str
    second: str
    r: float
    place: Place


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


@dataclass(frozen=True)
class Sheet:
    """The inputs of one subject; `lost` are those that could not be read."""

    id: str
    title: str
    kind: str
    about: str
    place: Place
    inputs: tuple[Input, ...]
    lost: tuple[str, ...] = ()


@dataclass(frozen=True)
class Claim:
    """Somebody's statement about a quantity, and the verdict that the page relies on."""

    id: str
    source: str
    says: Statement
    of: str
    than: str
    verdict: str
    place: Place
    title: str = ""


@dataclass(frozen=True)
class Estimate:
    """One of several values for one quantity; `bound` when it is one-sided."""

    input: Input
    bound: Statement | None = None


@dataclass(frozen=True)
class Estimates:
    """Several values for one quantity, side by side; `lost` are those that could not be read."""

    id: str
    title: str
    place: Place
    values: tuple[Estimate, ...]
    unit: str = ""
    verdict: str = ""
    correlated: tuple[Correlation, ...] = ()
    lost: tuple[str, ...] = ()


@dataclass(frozen=True)
class Forecast:
    """A statement about what will be, with its probability; later its outcome.

    `source` is who makes it; none means whoever writes the pages.
    """

    id: str
    says: str
    probability: Quantity
    registered: str
    due: str
    settles: str
    place: Place
    of: str = ""
    outcome: str = ""
    settled: str = ""
    source: str = ""


@dataclass(frozen=True)
class Question:
    """What is not known, what would settle it, and what hangs on it."""

    id: str
    asks: str
    settles: str
    of: tuple[str, ...]
    review_by: str
    place: Place


@dataclass(frozen=True)
class Correction:
    """The public record of a published figure that changed; `source` is what it changed by."""

    id: str
    date: str
    figure: str
    was: str
    now: str
    reason: str
    place: Place
    source: str = ""


@dataclass(frozen=True)
class Showing:
    """A chart, table or explore panel: its kind, its id, and its fields as texts."""

    id: str
    kind: str
    title: str
    place: Place
    fields: Mapping[str, object]


Block = Calc | Method | Claim | Estimates | Forecast | Question | Correction | Showing


@dataclass(frozen=True)
class Page:
    """A page as read: its text, what is in its front matter, and where its blocks stand.

    `fences` maps the offsets of a block in `text` to its id.
    """

    file: str
    path: str
    text: str
    body: int
    title: str
    meta: Mapping[str, object]
    figures: tuple[Figure, ...]
    loose: tuple[Loose, ...]
    fences: tuple[tuple[int, int, str], ...]


@dataclass(frozen=True)
class Book:
    """Everything that was read; `lost` are ids of what stands there and could not be read."""

    pages: tuple[Page, ...]
    sources: Mapping[str, Source]
    sheets: Mapping[str, Sheet]
    calcs: Mapping[str, Calc]
    methods: Mapping[str, Method]
    claims: Mapping[str, Claim]
    estimates: Mapping[str, Estimates]
    forecasts: Mapping[str, Forecast]
    questions: Mapping[str, Question]
    corrections: Mapping[str, Correction]
    showings: Mapping[str, Showing]
    logs: Mapping[str, Log]
    problems: tuple[Problem, ...]
    settings: Settings = field(default_factory=Settings)
    lost: frozenset[str] = frozenset()
