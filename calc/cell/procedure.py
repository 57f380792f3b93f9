"""What a procedure of the trade declares about itself."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

__all__ = ["Procedure"]


@dataclass(frozen=True)
class Procedure:
    """A function of the trade that formulas may call, with the units it speaks.

    ``takes`` maps each parameter to its SI unit (``"m"``, ``"1"``, ``"series V"``, ``"text"``);
    ``gives`` maps each field of the result to its SI unit, a single result as ``{"": "m"}``.
    """

    function: Callable[..., Any]
    takes: Mapping[str, str]
    gives: Mapping[str, str]
