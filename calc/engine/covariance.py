"""What estimates of one quantity have in common, and whether they can."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def shared_covariance(
    standard_uncertainties: ArrayLike, sources: Sequence[str], share: float
) -> NDArray[np.float64]:
    """Covariance of estimates of which some come from one source.

    Two estimates from one source have in common the given share of the smaller one's variance.
    Taking the smaller keeps every weight positive, where a plain correlation would send a mean
    of unequal estimates outside their range.
    Parameters: standard_uncertainties, shape (n,); sources, n of them; share, from 0 up to but
    not including 1.
    Returns: shape (n, n), unit squared.
    Raises: ValueError when share is out of its range.
    Source: the site's own convention.

    >>> shared_covariance([1, 2, 3], ["x", "x", "y"], 0.5).tolist()
    [[1.0, 0.5, 0.0], [0.5, 4.0, 0.0], [0.0, 0.0, 9.0]]
    """
    if not 0 <= share < 1:
        raise ValueError(f"a share from 0 to below 1 is expected, got {share}")
    variance = np.asarray(standard_uncertainties, dtype=np.float64) ** 2
    labels = np.asarray(sources)
    common: Array = share * np.minimum.outer(variance, variance) * (labels[:, None] == labels)
    np.fill_diagonal(common, variance)
    return common


def check_covariance(names: Sequence[str], standard_uncertainties: Array, c: Array) -> None:
    """Refuse a covariance that no estimates can have.

    Parameters: names, n of them; standard_uncertainties, shape (n,); c, shape (n, n), in the
    square of their unit.
    Raises: ValueError when c is not symmetric with the squared uncertainties as its diagonal,
    when two estimates share all their error, or when its correlations contradict each other.
    Source: exact; a covariance has no negative eigenvalue.
    """
    u = standard_uncertainties
    if c.shape != (len(u), len(u)) or not np.allclose(np.diag(c), u**2, rtol=1e-6, atol=0):
        raise ValueError("the covariance needs the squared standard uncertainties as its diagonal")
    r = c / np.outer(u, u)
    if not np.allclose(r, r.T, rtol=0, atol=1e-9):
        raise ValueError("the covariance must be symmetric")
    for a, b in combinations(range(len(u)), 2):
        if abs(r[a, b]) > 1 - 1e-9:
            raise ValueError(
                f"{names[a]} and {names[b]} share all their error and are one estimate; "
                "keep one of them, or say what each has of its own"
            )
    if np.linalg.eigvalsh(r)[0] < 1e-10:
        raise ValueError("these correlations cannot all be true together; lower one of them")
