"""Results as they are shown: taken from what was computed, in the unit asked for."""

from __future__ import annotations

from dataclasses import dataclass

from calc.engine.results import Result
from calc.judge.shown import Shown
from calc.judge.targets import Targets
from calc.notation.units import Unit
from calc.whole import Whole
from hooks.charts.words import tidy, with_spread, with_unit


class NotShown(LookupError):
    """Something that a picture needs could not be computed; why is said where it is declared."""


@dataclass(frozen=True)
class Value:
    """A value with its spread, all in `unit`; `low` and `high` hold 95 % of it."""

    label: str
    id: str
    unit: Unit
    number: float
    standard: float
    low: float
    high: float

    @property
    def text(self) -> str:
        """Value and uncertainty without their unit."""
        return with_spread(self.number, self.standard)

    @property
    def full(self) -> str:
        """Value and uncertainty with their unit."""
        return with_unit(self.text, self.unit)


def targets_of(whole: Whole) -> Targets:
    """What the ids of a page may name."""
    return Targets(whole.book, whole.plan, whole.computation)


def result_of(id: str, whole: Whole) -> Result:
    """A computed result. Raises: NotShown when there is none."""
    found = targets_of(whole).result(id)
    if not isinstance(found, Result):
        raise NotShown(id)
    return found


def value_of(item: Shown, whole: Whole) -> Value:
    """A result in the unit that it is shown in. Raises: NotShown."""
    found = result_of(item.id, whole)
    return converted(item.label, found, item.unit)


def converted(label: str, found: Result, scale: Unit) -> Value:
    """A result in another unit of its kind."""

    def there(number: float) -> float:
        return tidy(scale.from_base(found.unit.to_base(number)), 10)

    standard = tidy(found.standard_uncertainty * found.unit.factor / scale.factor, 10)
    low, high = sorted(map(there, found.interval))
    return Value(label, found.id, scale, there(found.value), standard, low, high)
