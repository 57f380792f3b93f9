"""Rate limits: printed values, and the equations behind them solved by other means."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from tests.helpers import run_method
from tests.published.printed_row import MEMORY, Row

SALT = {"diffusivity": "3e-10 m^2/s", "concentration": "1000 mol/m^3", "transference": "0.38"}
PORES = {
    "porosity": "0.30",
    "tortuosity": "3",
    "diffusivity": "3e-10 m^2/s",
    "concentration": "1200 mol/m^3",
    "transference": "0.4",
    "current_density": "40 A/m^2",
}
WINDOW = {"from_charge": "10 %", "to_charge": "80 %"}
CHARGE = {
    "empty_voltage": "3.0 V",
    "voltage_span": "1.2 V",
    "capacity": "5 Ah",
    "resistance": "30 mohm",
    "limit": "4.2 V",
    "current": "5 A",
    "cut_off": "0.25 A",
    "start": "0",
}
FIT = {"porosity": "0.3", "prefactor": "1.8", "exponent": "0.53"}
CHEN = "Chen et al., J. Electrochem. Soc. 167 (2020) 080534"
GALLAGHER = "Gallagher et al., J. Electrochem. Soc. 163 (2016) A138; the prefactor to be verified"
BAI = "Bai et al., Energy Environ. Sci. 9 (2016) 3221"
THORAT = "Thorat et al., J. Power Sources 188 (2009) 592"
TIAN = "Tian et al., Nat. Commun. 10 (2019) 1933"
EXACT = "follows from the definition"


def rate(times: str, exponent: str) -> dict[str, str]:
    return {"rate": f"{times} h^-1", "time_constant": "1 h", "exponent": exponent}


def particle(radius: str, diffusivity: str) -> dict[str, str]:
    return {"radius": radius, "diffusivity": diffusivity}


PRINTED = [
    Row(
        "current-density-at-a-rate",
        {"areal_capacity": "4.8685 mAh/cm^2", "rate": "1 h^-1"},
        "current_density",
        "48.685 A/m^2",
        CHEN,
        MEMORY,
    ),
    Row("electrolyte-penetration-depth", PORES, "depth", "144.728 um", GALLAGHER, MEMORY),
    Row(
        "limiting-current",
        {**SALT, "thickness": "1 mm"},
        "current_density",
        "9.33729 mA/cm^2",
        BAI,
        MEMORY,
    ),
    Row(
        "time-to-depletion",
        {**SALT, "current_density": "10 mA/cm^2"},
        "time",
        "570.624 s",
        BAI,
        MEMORY,
    ),
    Row(
        "solid-diffusion-time",
        particle("5.86 um", "3.3e-14 m^2/s"),
        "time",
        "1040.594 s",
        EXACT,
        "exact",
    ),
    Row(
        "solid-diffusion-time",
        particle("5.22 um", "4e-15 m^2/s"),
        "time",
        "6812.1 s",
        EXACT,
        "exact",
    ),
    Row("tortuosity", FIT, "bruggeman", "1.825742", EXACT, "exact"),
    Row("tortuosity", FIT, "measured", "3.407205", THORAT, MEMORY),
    Row("capacity-at-a-rate", rate("1", "0.5"), "share", "0.3678794", TIAN, MEMORY),
    Row("capacity-at-a-rate", rate("1", "0.9"), "share", "0.3678794", TIAN, MEMORY),
    Row("capacity-at-a-rate", rate("0.1", "0.5"), "share", "0.69716", TIAN, MEMORY),
    Row("capacity-at-a-rate", rate("10", "0.5"), "share", "0.14269", TIAN, MEMORY),
    Row(
        "charge-time-in-a-window", {**WINDOW, "rate": "1 h^-1"}, "time", "42.0 min", EXACT, "exact"
    ),
    Row(
        "mean-rate-for-a-window", {**WINDOW, "time": "18 min"}, "rate", "2.3333 1/h", EXACT, "exact"
    ),
    Row("constant-current-then-voltage", CHARGE, "turn", "0.875", EXACT, "exact"),
    Row("constant-current-then-voltage", CHARGE, "time_constant", "450.0 s", EXACT, "exact"),
    Row("constant-current-then-voltage", CHARGE, "voltage_phase", "1348.1 s", EXACT, "exact"),
    Row("constant-current-then-voltage", CHARGE, "final", "0.99375", EXACT, "exact"),
]


@pytest.mark.parametrize("row", PRINTED, ids=str)
def test_printed_value(row: Row) -> None:
    row.check()


FARADAY = 96485.33212  # C/mol, CODATA 2018, exact
DIFFUSIVITY, CONCENTRATION, TRANSFERENCE = 3e-10, 1000.0, 0.38  # m²/s, mol/m³, 1


def slope(current_density: float) -> float:
    """The slope of concentration at an electrode [mol/m⁴] at a current density [A/m²]."""
    return current_density * (1 - TRANSFERENCE) / (FARADAY * DIFFUSIVITY)


def depletion_time(current_density: float, points: int) -> float:
    """Time [s] at which the salt at an electrode is used up, by Fick's law in `points` slices.

    The layer is so thick that its far side never feels the current.
    """
    width = 3e-3 / points

    def change(_: float, salt: np.ndarray) -> np.ndarray:
        inner = np.diff(salt) * DIFFUSIVITY / width
        fluxes = np.concatenate(([slope(current_density) * DIFFUSIVITY], inner, [0.0]))
        return np.asarray(np.diff(fluxes) / width)

    def used_up(_: float, salt: np.ndarray) -> float:
        return float(salt[0] - slope(current_density) * width / 2)

    used_up.terminal = True  # type: ignore[attr-defined]
    start = np.full(points, CONCENTRATION)
    found = solve_ivp(change, (0, 5000), start, method="BDF", events=used_up, rtol=1e-6, atol=1e-3)
    return float(found.t_events[0][0])


def test_time_to_depletion_against_ficks_law() -> None:
    """Half a per cent: what slices of this width leave, by halving them."""
    solved = depletion_time(100.0, 400)
    assert solved == pytest.approx(depletion_time(100.0, 800), rel=0.005)
    printed, _ = run_method("time-to-depletion", {**SALT, "current_density": "10 mA/cm^2"})["time"]
    assert printed == pytest.approx(solved, rel=0.005)


def test_limiting_current_empties_one_side_of_a_steady_slope() -> None:
    """In the steady state the salt falls in a straight line from twice its mean to nothing."""
    milliamperes, _ = run_method("limiting-current", {**SALT, "thickness": "1 mm"})[
        "current_density"
    ]
    assert slope(milliamperes * 10) * 1e-3 == pytest.approx(2 * CONCENTRATION)


def test_charge_against_an_integrated_one() -> None:
    """Constant current, then constant voltage, with a straight open-circuit curve."""
    capacity, resistance = 5 * 3600.0, 0.030

    def current(charge: float) -> float:
        return min(5.0, (4.2 - 3.0 - 1.2 * charge) / resistance)

    def cut(_: float, charge: np.ndarray) -> float:
        return current(float(charge[0])) - 0.25

    cut.terminal = True  # type: ignore[attr-defined]
    solved = solve_ivp(
        lambda _, charge: [current(float(charge[0])) / capacity],
        (0, 10000),
        [0.0],
        events=cut,
        rtol=1e-9,
        atol=1e-12,
        max_step=5.0,
    )
    found = run_method("constant-current-then-voltage", CHARGE)
    minutes, unit = found["time"]
    assert unit == "min"
    # The kink where the current begins to fall costs the solver a part of a step.
    assert minutes * 60 == pytest.approx(float(solved.t_events[0][0]), rel=1e-4)
    assert found["final"][0] == pytest.approx(float(solved.y_events[0][0][0]), rel=1e-6)


@pytest.mark.parametrize("minutes", ["12 min", "18 min", "42 min"])
def test_rate_and_time_undo_each_other(minutes: str) -> None:
    mean, _ = run_method("mean-rate-for-a-window", {**WINDOW, "time": minutes})["rate"]
    time, unit = run_method("charge-time-in-a-window", {**WINDOW, "rate": f"{mean!r} h^-1"})["time"]
    assert f"{time:.6g} {unit}" == minutes


def test_forms_of_tortuosity_meet_where_they_must() -> None:
    """With the factor one and the exponent one half the measured form is Bruggeman's."""
    for porosity in ("0.1", "0.3", "0.9"):
        same = {"porosity": porosity, "prefactor": "1", "exponent": "0.5"}
        assert run_method("tortuosity", same)["ratio"][0] == pytest.approx(1.0)


def test_thinner_coatings_may_be_charged_faster() -> None:
    rates = [
        run_method(
            "plating-limited-charge",
            {"guideline": "4 mA/cm^2", "areal_capacity": loading, "window": "0.7"},
        )["rate"][0]
        for loading in ("1 mAh/cm^2", "2 mAh/cm^2", "4 mAh/cm^2", "6 mAh/cm^2")
    ]
    assert rates == sorted(rates, reverse=True)
