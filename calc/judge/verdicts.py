"""What the judges hand on: figures, checks and claims, each with whether it agrees."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from calc.book.model import Check, Claim, Estimates, Place, Question
from calc.engine.conformity import Region
from calc.engine.reconcile import Reconciliation
from calc.notation.prose import Figure
from calc.notation.units import Unit


@dataclass(frozen=True)
class JudgedFigure:
    """A figure in prose against what is recomputed.

    `of` is the id of the result, claim or reason that it names; `agrees` is None where nothing
    can be said (its result could not be computed, or it is a given number). `recomputed` is the
    value as the text would state it, `would_agree` the whole text that would agree, and `shown`
    what the page prints: the text, or for an empty one what fills it.
    """

    figure: Figure
    page: str
    place: Place
    of: str
    agrees: bool | None
    recomputed: str = ""
    would_agree: str = ""
    shown: str = ""


@dataclass(frozen=True)
class JudgedCheck:
    """A check of a method against the outside world."""

    method: str
    check: Check
    name: str
    given: Mapping[str, str]
    expected: str
    computed: str
    agrees: bool
    source: str
    mark: str


@dataclass(frozen=True)
class Flip:
    """Where one input, the others at their nominal values, turns a statement true or false.

    `input` is the input's name as the claimed result's shares have it, `root` its id; `value`
    and `nominal` are in `unit`. It lies `within_reason` when it is inside the 95 % range of what
    is known of the input; an input without uncertainty has no such range.
    """

    input: str
    root: str
    value: float
    nominal: float
    unit: Unit
    within_reason: bool


@dataclass(frozen=True)
class JudgedClaim:
    """A claim against what is recomputed.

    `of` and `than` are full ids. `region` is where the quantity lies when the statement is true,
    and `value` and `interval` (95 %) what is recomputed of it, all in `unit`: a result in the
    claim's own unit, or how one result stands to another. `agrees` says whether the verdict that
    the page states is the recomputed one. What could not be recomputed has a value, probability
    and verdict of None, and agrees with None. `flips` come nearest first, in the input's own
    standard uncertainties.
    """

    claim: Claim
    of: str
    than: str
    unit: Unit
    region: Region
    value: float | None
    interval: tuple[float, float] | None
    probability: float | None
    verdict: str | None
    agrees: bool | None
    uncertain: bool = False
    flips: tuple[Flip, ...] = ()


@dataclass(frozen=True)
class Member:
    """One estimate as it stands beside the others.

    A bound has its text in `bound`, its region, and no value; the others have a value with its
    standard uncertainty and 95 % interval. All are in the unit of the block.
    """

    name: str
    label: str
    source: str
    value: float | None = None
    standard_uncertainty: float = 0.0
    interval: tuple[float, float] | None = None
    bound: str = ""
    region: Region | None = None


@dataclass(frozen=True)
class JudgedEstimates:
    """Estimates side by side: what they say together, and whether they can all be right.

    `found` is None when they could not be combined; `sentence` says in words whether they can all
    be right; `agrees` compares the verdict stated in the block, if any, with the recomputed one.
    """

    estimates: Estimates
    unit: Unit
    members: tuple[Member, ...]
    found: Reconciliation | None
    sentence: str
    agrees: bool | None


@dataclass(frozen=True)
class Improvement:
    """What knowing one input better would do, the others as they are; found by recomputing.

    The standard uncertainty of `root` is made `factor` times what it is (0.5 halves it, 0 stands
    for a perfect measurement). `share` is the part of the variance that the input brings now.
    For a claim, `probability` and `verdict` are those it would have; for a result,
    `standard_uncertainty` is what would be left of it, in the result's unit.
    """

    input: str
    root: str
    factor: float
    share: float
    probability: float | None = None
    verdict: str = ""
    standard_uncertainty: float | None = None


@dataclass(frozen=True)
class Undecided:
    """A claim that nothing decides yet, and the single measurements that would, easiest first.

    `largest` is the input that brings most of the variance, with its share; it is what to measure
    when no single measurement decides. `questions` are the ids of those that ask about it.
    """

    claim: JudgedClaim
    questions: tuple[str, ...]
    improvements: tuple[Improvement, ...]
    largest: Improvement | None


@dataclass(frozen=True)
class JudgedQuestion:
    """An open question, its undecided claims, and what halving one uncertainty would bring.

    `gains` holds, for each result that the question is of, the inputs that matter, the one that
    brings most first.
    """

    question: Question
    undecided: tuple[Undecided, ...]
    gains: Mapping[str, tuple[Improvement, ...]]
