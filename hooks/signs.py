"""What stands for a name in a formula: a symbol, words, or a number with its unit."""

from __future__ import annotations

import re
from dataclasses import dataclass

from hooks.markup import text
from hooks.wording import counted, spoken, with_powers


@dataclass(frozen=True)
class Leaf:
    """What stands for a name: MathML, its width in characters, and how loosely it holds.

    `level` is as in `looseness`: 5 for a symbol, 2 for a number with a unit, 1 for a sum.
    """

    markup: str
    width: int
    level: int = 5


def symbol(written: str) -> Leaf:
    """A symbol as its writer typed it: `E_t`, `C_max`, `U_+`.

    >>> symbol("E_t").markup
    '<msub><mi>E</mi><mi>t</mi></msub>'
    """
    base, _, below = written.partition("_")
    if not below:
        return Leaf(_identifier(base), len(base))
    return Leaf(f"<msub>{_identifier(base)}{_identifier(below)}</msub>", len(base) + len(below))


def words(name: str) -> Leaf:
    """A name without a symbol, as upright words kept on one line."""
    said = spoken(name).replace(" ", "\u00a0")
    # Not mtext: a sign between spaces alone, which mtext counts as, is spaced as one with them.
    return Leaf(f'<mi class="wc-words">{text(said)}</mi>', len(said))


def quantity(number: str, unit: str) -> Leaf:
    """A number with its unit, or a plain number."""
    shown = number_markup(number)
    if not unit:
        return Leaf(shown, len(number), 3 if number.startswith(("-", "−")) else 5)
    tail = f'<mspace width="0.2em"></mspace><mtext>{text(counted(unit, number))}</mtext>'
    return Leaf(f"<mrow>{shown}{tail}</mrow>", len(number) + len(unit) + 1, 2)


def _identifier(written: str) -> str:
    if re.fullmatch(r"[\d.,]+", written):
        return f"<mn>{written}</mn>"
    if re.fullmatch(r"[-+−*]", written):
        return f"<mo>{written}</mo>"
    return f"<mi>{text(written)}</mi>"


def number_markup(number: str) -> str:
    """A number as MathML, a power of ten set as one."""
    shown = with_powers(number)
    body, times, power = shown.partition(" × 10")
    sign, body = ("<mo>−</mo>", body[1:]) if body.startswith("−") else ("", body)
    if not times:
        return f"{sign}<mn>{body}</mn>"
    exponent = power.translate(str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789−"))
    return f"{sign}<mn>{body}</mn><mo>×</mo><msup><mn>10</mn><mn>{exponent}</mn></msup>"
