"""Draws: every root has its own stratified stream, seeded from its id.

So adding an input elsewhere moves no other result, and an input shared by two calcs is shared
draw by draw.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from calc.notation.quantity import Normal, Rectangular, Spread, Triangular

DRAWS = 10_000
"""How many draws a root has."""

Array = NDArray[np.float64]


@lru_cache(maxsize=4)
def _strata(count: int) -> Array:
    """The middles of `count` equal strata of (0, 1)."""
    return (np.arange(count) + 0.5) / count


@lru_cache(maxsize=4)
def _normal_strata(count: int) -> Array:
    """Standard normal deviates, one a stratum, scaled to a standard deviation of exactly 1."""
    deviates: Array = ndtri(_strata(count))
    return deviates / float(deviates.std())


def order(id: str, count: int, stream: str = "") -> NDArray[np.int64]:
    """The order in which a root visits its strata: a permutation that its id alone fixes."""
    seed = int.from_bytes(hashlib.sha256(f"{id}{stream}".encode()).digest()[:16], "big")
    return np.random.Generator(np.random.PCG64(seed)).permutation(count)


def quantiles_of(spread: Spread, nominal: float, count: int) -> Array | float:
    """One value a stratum, rising; a bare number when no uncertainty is given."""
    if isinstance(spread, Normal):
        return nominal + spread.standard * _normal_strata(count) if spread.standard else nominal
    if isinstance(spread, Rectangular):
        return spread.low + (spread.high - spread.low) * _strata(count)
    if isinstance(spread, Triangular):
        return _triangular(spread, _strata(count))
    return nominal


def _triangular(spread: Triangular, p: Array) -> Array:
    low, mode, high = spread.low, spread.mode, spread.high
    turn = (mode - low) / (high - low)
    rising = low + np.sqrt(p * (high - low) * (mode - low))
    falling = high - np.sqrt((1 - p) * (high - low) * (high - mode))
    return np.where(p < turn, rising, falling)


def correlated_orders(
    ids: tuple[str, ...], matrix: Array, count: int, stream: str = ""
) -> Mapping[str, NDArray[np.int64]]:
    """Orders for roots that share an error: ranks of jointly normal deviates.

    Parameters: matrix, the correlation matrix [1], shape (k, k).
    Raises: ValueError when the matrix is no correlation matrix.
    Source: a normal copula; Iman and Conover, Commun. Stat. B 11 (1982) 311, for the ranks
    (from memory, to be confirmed).
    """
    if np.linalg.eigvalsh(matrix)[0] < -1e-9:
        raise ValueError("no set of values can be correlated like that")
    apart = np.array([_normal_strata(count)[order(id, count, stream)] for id in ids])
    whitened = np.linalg.solve(np.linalg.cholesky(np.corrcoef(apart)), apart)
    values, vectors = np.linalg.eigh(matrix)
    joint = vectors @ np.diag(np.sqrt(np.clip(values, 0, None))) @ vectors.T @ whitened
    return {
        id: np.argsort(np.argsort(row, kind="stable"), kind="stable")
        for id, row in zip(ids, joint, strict=True)
    }
