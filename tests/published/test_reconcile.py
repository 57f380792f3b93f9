"""Comparing and combining estimates against worked examples that others printed."""

from __future__ import annotations

from math import hypot, log, sqrt

import pytest
from scipy.stats import norm

from calc.engine.means import Mean
from calc.engine.reconcile import normalised_error, reconcile
from tests.printed import agrees

PROFICIENCY = "ISO/IEC 17043, E_n number; seen"
TWO_VALUES = "10 and 30 with standard uncertainties 4 and 5, worked example; seen"
TWO_MEASUREMENTS = "6054.4 (6.8, 0.9) and 6165 (10, 13), with the review's 6071 ± 40, S 6.2"
TRIALS_SOURCE = "thirteen vaccine trials, log risk ratio; seen, three rows from memory"

TRIALS = [
    # treated: cases, not; control: cases, not
    (4, 119, 11, 128),
    (6, 300, 29, 274),
    (3, 228, 11, 209),
    (62, 13536, 248, 12619),
    (33, 5036, 47, 5761),
    (180, 1361, 372, 1079),
    (8, 2537, 10, 619),
    (505, 87886, 499, 87892),
    (29, 7470, 45, 7232),
    (17, 1699, 65, 1600),
    (186, 50448, 141, 27197),
    (5, 2493, 3, 2338),
    (27, 16886, 29, 17825),
]


def interval(mean: Mean) -> tuple[float, float]:
    half = float(norm.ppf(0.975)) * mean.standard_uncertainty
    return mean.value - half, mean.value + half


def test_normalised_error() -> None:
    """ISO/IEC 17043, seen: 10.02 (U 0.05) against 9.98 (U 0.03)."""
    found = reconcile(["a", "b"], [10.02, 9.98], [0.025, 0.015])
    assert agrees("0.68599", found.pairs[0].normalised_error), PROFICIENCY
    assert found.pairs[0].agrees


def test_normalised_error_is_half_of_zeta() -> None:
    """With k = 2, ζ, which uses standard uncertainties, is twice E_n; ISO/IEC 17043, seen."""
    zeta = (10.02 - 9.98) / hypot(0.025, 0.015)
    assert zeta == pytest.approx(2 * normalised_error(10.02 - 9.98, hypot(0.025, 0.015)))


def test_correlated_pair() -> None:
    """u² = u1² + u2² − 2 r u1 u2: the law of propagation, JCGM 100, exact."""
    u1, u2, r = 0.025, 0.015, 0.4
    covariance = [[u1**2, r * u1 * u2], [r * u1 * u2, u2**2]]
    found = reconcile(["a", "b"], [10.02, 9.98], [u1, u2], covariance)
    expected = (10.02 - 9.98) / (2 * sqrt(u1**2 + u2**2 - 2 * r * u1 * u2))
    assert found.pairs[0].normalised_error == pytest.approx(expected, rel=1e-12)


def test_two_values() -> None:
    found = reconcile(["a", "b"], [10, 30], [4, 5])
    rows = [
        ("17.80488", found.weighted.value),
        ("3.12348", found.weighted.standard_uncertainty),
        ("9.75610", found.chi_squared),
        ("17.80488", found.scaled.value),
        ("9.75610", found.scaled.standard_uncertainty),
    ]
    for printed, computed in rows:
        assert agrees(printed, computed), (printed, computed, TWO_VALUES)


def test_two_measurements_with_a_scale_factor() -> None:
    found = reconcile(["a", "b"], [6054.4, 6165], [hypot(6.8, 0.9), hypot(10, 13)])
    rows = [
        ("6070.865", found.weighted.value),
        ("6.2212", found.birge_ratio),
        ("39.369", found.scaled.standard_uncertainty),
        ("6071", found.scaled.value),
        ("6.2", found.birge_ratio),
    ]
    for printed, computed in rows:
        assert agrees(printed, computed), (printed, computed, TWO_MEASUREMENTS)


def test_thirteen_trials() -> None:
    """Seen, three rows from memory: fixed effect, DerSimonian–Laird and Paule–Mandel."""
    effects = [log(a / (a + b)) - log(c / (c + d)) for a, b, c, d in TRIALS]
    variances = [1 / a - 1 / (a + b) + 1 / c - 1 / (c + d) for a, b, c, d in TRIALS]
    names = [f"trial {number}" for number in range(1, len(TRIALS) + 1)]
    found = reconcile(names, effects, [sqrt(variance) for variance in variances])
    fixed, moment, fitted = found.weighted, found.dersimonian_laird, found.paule_mandel
    rows = [
        ("\u22120.4303", fixed.value),
        ("\u22120.5097", interval(fixed)[0]),
        ("\u22120.3509", interval(fixed)[1]),
        ("152.2330", found.chi_squared),
        ("\u22120.7141", moment.value),
        ("\u22121.0644", interval(moment)[0]),
        ("\u22120.3638", interval(moment)[1]),
        ("0.3088", moment.between_variance),
        ("\u22120.71497", fitted.value),
        ("0.31807", fitted.between_variance),
    ]
    for printed, computed in rows:
        assert agrees(printed, computed), (printed, computed, TRIALS_SOURCE)
    assert not found.consistent
