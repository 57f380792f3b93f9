"""Shares of variance against functions whose shares are known exactly."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.helpers import calc_page, work

PI = 3.141592653589793
NOISE = 0.04
"""Four standard errors of an index estimated with 10 000 pairs of draws, from above: 4/sqrt(n)."""


def test_ishigami(tmp_path: Path) -> None:
    """Ishigami and Homma, 1990, with a = 7 and b = 0.1; the indices are exact integrals. The
    gradient at the mean would say 100 %, 0 and 0."""
    inputs = dict.fromkeys(("x1", "x2", "x3"), f"{-PI} to {PI}")
    steps = {"y": "sin(x1) + 7 * sin(x2) ** 2 + 0.1 * x3 ** 4 * sin(x1)"}
    whole = work(tmp_path, {"page.md": calc_page(inputs, steps)})
    found = whole.computation.results["trial.y"]
    for name, first, total in (
        ("x1", 0.3139051911, 0.5575888552),
        ("x2", 0.4424111448, 0.4424111448),
        ("x3", 0.0, 0.2436836641),
    ):
        assert abs(found.shares[name] - first) < NOISE
        assert abs(found.total_shares[name] - total) < NOISE
    assert sum(found.shares.values()) == pytest.approx(1.0, abs=1e-9)


def test_product(tmp_path: Path) -> None:
    """x1 x2 with means 1, u 0.1 and 0.2 (exact): variance 0.0504, shares 0.198413 and 0.793651,
    interaction 0.007937."""
    inputs = {"a": "1 ± 0.1 (k=1)", "b": "1 ± 0.2 (k=1)"}
    whole = work(tmp_path, {"page.md": calc_page(inputs, {"y": "a * b"})})
    found = whole.computation.results["trial.y"]
    assert found.standard_uncertainty**2 == pytest.approx(0.0504, rel=4 * (2 / 10_000) ** 0.5)
    assert found.shares["a"] == pytest.approx(0.198413, abs=0.005)
    assert found.shares["b"] == pytest.approx(0.793651, abs=0.005)
    assert found.shares["interaction"] == pytest.approx(0.007937, abs=0.002)


def test_shares_of_correlated_inputs_sum_to_one(tmp_path: Path) -> None:
    """With correlated inputs each share is slope times covariance over variance, which sums to
    R² (exact)."""
    inputs = {"a": "1 ± 0.1 (k=1)", "b": "1 ± 0.2 (k=1)"}
    page = calc_page(inputs, {"y": "a + b"}, "correlated: [{between: [a, b], r: 0.5}]")
    found = work(tmp_path, {"page.md": page}).computation.results["trial.y"]
    variance = 0.01 + 0.04 + 2 * 0.5 * 0.1 * 0.2
    assert found.standard_uncertainty**2 == pytest.approx(variance, rel=0.01)
    assert found.shares["a"] == pytest.approx((0.01 + 0.01) / variance, abs=0.01)
    assert found.shares["b"] == pytest.approx((0.04 + 0.01) / variance, abs=0.01)
