"""Units: pint's, with the trade's own added, looked up once and then plain numbers.

A unit is a factor and an offset to SI base units, and a dimension. Money is a dimension of
its own for every currency and price year, so that money of different years does not add.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache, lru_cache

import pint

from calc.notation.plain import plain
from calc.problems import Wrong, nearest

CURRENCIES = frozenset(
    "AED ARS AUD BRL CAD CHF CLP CNY COP CZK DKK EGP EUR GBP HKD HUF IDR ILS INR JPY KRW KZT"
    " MAD MXN MYR NGN NOK NZD PEN PHP PLN RON SAR SEK SGD THB TRY TWD UAH USD VND ZAR".split()
)
"""Codes of ISO 4217 that the site's money may be in."""

_OWN = (
    "ampere_hour = ampere * hour = Ah",
    "cycle = 1",
    "turn = 1",
    "revolution = 1",
    "nine = 1",
    "percent = 0.01 = %",
    "ppm = 1e-6",
    "kilotonne = 1000 * tonne = kt",
)
_MISREAD = {
    "pH": "a pH is a plain number, and the unit has another name",
    "pct": "write %",
    "rpm": "write 1/min for turns, rad/s for angles",
}
"""What would be read as another unit than its writer meant."""
_PRICE_YEAR = re.compile(r"\s*\((\d{4}) prices\)")
_PER_CENT = re.compile(r"\bper ?cent\b")
_NEVER = re.compile(rf"%\s*%|\b[kMGTmu](?:{'|'.join(sorted(CURRENCIES))})(?:_|\b)")
"""Per cent of per cent; thousands of money, which pint would read once the money was asked for."""
_SPELLING = re.compile(r"[A-Za-z_%\u2030/][\w%/*^ ().-]*|1\s*/.*")
_MONEY = re.compile(r"\b([A-Z]{3})(?:_(\d{4}))?\b")
_FAMILIAR = (
    "1|Wh|Wh/kg|Wh/L|V|A h|mAh/g|mAh/cm^2|mAh/cm^3|W|W/kg|A|A/m^2|ohm|ohm cm^2|ohm m|kg|g/cm^3|m|"
    "m^2|m^3|s|m/s|m^2/s|1/s|degC|J/kg/K|J/K|W/K|K/W|g/mol|mol|mol/m^3|J/mol|C/mol|J/(mol K)|"
    "kg/m^2|Pa|N|kg/Wh|m^2/mol|m^3/mol|F|V/K|S/m|Wh/km|kg/s|W/m^2|W/(m K)|W/(m^2 K)"
).split("|")


@dataclass(frozen=True)
class Dimension:
    """Exponents of base dimensions, sorted by name; empty for a plain number."""

    powers: tuple[tuple[str, float], ...] = ()

    def times(self, other: Dimension, sign: int = 1) -> Dimension:
        """The dimension of a product (sign 1) or a quotient (sign -1)."""
        sums = dict(self.powers)
        for name, power in other.powers:
            sums[name] = sums.get(name, 0.0) + sign * power
        return _dimension(sums)

    def to(self, exponent: float) -> Dimension:
        """The dimension of a power."""
        return _dimension({name: power * exponent for name, power in self.powers})

    @property
    def money(self) -> tuple[str, ...]:
        """Names of the money in it, such as USD_2024 or USD."""
        return tuple(name for name, _ in self.powers if name[:3] in CURRENCIES)

    def without_year(self) -> Dimension:
        """The same with every price year dropped."""
        sums: dict[str, float] = {}
        for name, power in self.powers:
            short = name[:3] if name[:3] in CURRENCIES else name
            sums[short] = sums.get(short, 0.0) + power
        return _dimension(sums)

    def __str__(self) -> str:
        return _described(self)


def _dimension(powers: dict[str, float]) -> Dimension:
    rounded = ((name, round(power, 9)) for name, power in sorted(powers.items()))
    return Dimension(tuple((name, power) for name, power in rounded if power))


PLAIN = Dimension()
_TEMPERATURE = Dimension((("temperature", 1.0),))


@dataclass(frozen=True)
class Unit:
    """A unit as written, with what turns its numbers into SI base units.

    `factor` and `offset`: base = number * factor + offset.
    """

    text: str
    factor: float
    offset: float
    dimension: Dimension

    def to_base(self, number: float) -> float:
        """A number in this unit as one in SI base units."""
        return number * self.factor + self.offset

    def from_base(self, number: float) -> float:
        """A number in SI base units as one in this unit."""
        return (number - self.offset) / self.factor

    def width_to_base(self, width: float) -> float:
        """A difference in this unit, such as an uncertainty, in SI base units."""
        return width * self.factor


class NoUnit(Wrong):
    """A text that names no unit at all."""


@cache
def _registry() -> pint.UnitRegistry:  # type: ignore[type-arg]
    registry: pint.UnitRegistry = pint.UnitRegistry(  # type: ignore[type-arg]
        on_redefinition="ignore", autoconvert_offset_to_baseunit=True, cache_folder=None
    )
    for line in _OWN:
        registry.define(line)
    return registry


@lru_cache(maxsize=65536)
def unit(text: str) -> Unit:
    """The unit that a text names; "" and "1" are plain numbers.

    Raises: NoUnit when no such unit is known, Wrong (kind "unit") when it could be misread.

    >>> unit("Wh/kg").factor
    3600.0
    """
    written = _PER_CENT.sub("%", plain(text.strip()).replace("**", "^"))
    if written in ("", "1"):
        return Unit(written, 1.0, 0.0, PLAIN)
    if written in _MISREAD:
        raise Wrong("unit", f"'{written}' could be misread; {_MISREAD[written]}")
    found = _found(written)
    if found is None:
        raise NoUnit("unit", f"no unit is called '{text.strip()}'{_nearest_unit(written)}")
    if found.offset and found.dimension != _TEMPERATURE:
        raise Wrong("unit", f"'{written}' counts in logarithms; state the ratio itself")
    return found


def _found(written: str) -> Unit | None:
    asked = _dated_money(written)
    _define_money(asked)
    if not _SPELLING.fullmatch(asked) or _NEVER.search(asked):
        return None
    try:
        return _looked_up(written, _spelled(asked))
    except Exception:  # whatever pint's parser trips over, the text is no unit
        return None


@lru_cache(maxsize=65536)
def measures(word: str) -> bool:
    """Whether a number before this word would be a quantity: `V`, `kilowatts`, not `cells`.

    >>> measures("Wh"), measures("cells"), measures("cycles")
    (True, False, False)
    """
    found = _found(plain(word))
    return found is not None and found.dimension != PLAIN


def _looked_up(written: str, asked: str) -> Unit:
    registry = _registry()
    parsed = registry.parse_units(asked)
    zero = registry.Quantity(0.0, parsed).to_base_units()
    one = registry.Quantity(1.0, parsed).to_base_units()
    powers = {name.strip("[]"): float(str(power)) for name, power in one.dimensionality.items()}
    offset = float(zero.magnitude)
    return Unit(written, float(one.magnitude) - offset, offset, _dimension(powers))


def _dated_money(text: str) -> str:
    """`USD/kWh (2024 prices)` as `USD_2024/kWh`."""
    year = _PRICE_YEAR.search(text)
    if not year:
        return text
    rest = _PRICE_YEAR.sub("", text)
    if any(own and own != year[1] for code, own in _MONEY.findall(rest) if code in CURRENCIES):
        raise Wrong("unit", f"'{text}' has two price years; leave one of them out")
    return _MONEY.sub(
        lambda found: f"{found[1]}_{found[2] or year[1]}" if found[1] in CURRENCIES else found[0],
        rest,
    )


def _define_money(text: str) -> None:
    for code, year in _MONEY.findall(text):
        name = f"{code}_{year}" if year else code
        if code in CURRENCIES and name not in _registry():
            _registry().define(f"{name} = [{name}]")


def _spelled(text: str) -> str:
    """The text as pint reads it: % by name, and a space for a product."""
    bare = f"1{text}" if text.startswith("/") else text
    return bare.replace("%", " percent ").replace("^", "**").strip()


def _nearest_unit(text: str) -> str:
    if money := re.match(rf"[kMG]({'|'.join(sorted(CURRENCIES))})\b", text):
        return f"; write 'thousand', 'million' or 'billion' and {money[1]}"
    hint = nearest(text, [*_FAMILIAR[1:], *"kWh mAh Ah um mm cm min h".split()])
    return hint or "; units are written like Wh/kg, mAh/cm^2, ohm cm^2 or USD/kWh"


def shown_as(found: Dimension, wanted: Unit) -> Unit | None:
    """The unit to show a result of dimension `found` in, or None when `wanted` does not fit.

    Money without a price year takes the year of what was computed.
    """
    if found == wanted.dimension:
        return wanted
    years = {name[:3]: name for name in found.money}
    if not years or found.without_year() != wanted.dimension.without_year():
        return None
    if any(len(name) > 3 for name in wanted.dimension.money):
        return None
    dated = _MONEY.sub(lambda code: years.get(code[1], code[1]), wanted.text)
    candidate = unit(dated)
    return candidate if candidate.dimension == found else None


def price_year_shown(text: str) -> str:
    """`USD_2024/kWh` as a reader sees it: `USD/kWh (2024 prices)`.

    >>> price_year_shown("USD_2024/kWh")
    'USD/kWh (2024 prices)'
    """
    years = {year for code, year in _MONEY.findall(text) if code in CURRENCIES and year}
    if len(years) != 1:
        return text
    return re.sub(r"_\d{4}", "", text) + f" ({years.pop()} prices)"


@lru_cache(maxsize=4096)
def base_unit(dimension: Dimension) -> Unit:
    """A unit for results that name none: a familiar one where it fits, else SI base units."""
    if dimension == PLAIN:
        return unit("1")
    spelled = {
        "length": "m",
        "mass": "kg",
        "time": "s",
        "current": "A",
        "temperature": "K",
        "substance": "mol",
        "luminosity": "cd",
    }
    parts = [
        spelled.get(name, name) + (f"^{power:g}" if power != 1 else "")
        for name, power in dimension.powers
    ]
    return unit("*".join(parts))


@lru_cache(maxsize=4096)
def _described(dimension: Dimension) -> str:
    if dimension == PLAIN:
        return "a plain number"
    for text in _FAMILIAR:
        if unit(text).dimension == dimension:
            return f"'{text}'"
    return f"'{base_unit(dimension).text}'"
