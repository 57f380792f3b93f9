"""A log of a million rows: read, integrated, fitted, made small enough to draw, and drawn.

Aim: under 5 s and 1 GB in all on two cores. Beside it, 10 000 draws of a simulated charge; aim 2 s.
"""

from __future__ import annotations

import io
import resource
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import matplotlib.figure
import numpy as np

from calc.book.logs import read_log
from calc.cell.balance_fit import balance_fit
from calc.cell.charge_simulation import charge_simulation
from calc.cell.decimate import decimate
from calc.cell.differential import capacity_peak
from calc.cell.integrate_log import log_totals
from calc.cell.log_checks import log_quality
from tests.cell.half_cells import discharge, negative, positive
from tests.source_tree import ROOT

ROWS = 1_000_000
DRAWS = 10_000


def run() -> None:
    """Prints the seconds of each part and the peak of memory."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "long.csv"
        _write(path)
        begun = time.perf_counter()
        _work(path)
        print(f"  {'all of it':<34}{time.perf_counter() - begun:6.2f} s (aim: under 5 s)")
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"  {'peak memory of the process':<34}{peak:6.0f} MB (aim: under 1000 MB)")
    with _timed(f"{DRAWS} draws of a charge (aim: 2 s)"):
        _charge()


def _write(path: Path) -> None:
    random = np.random.default_rng(20260101)
    clock, volts, amps = discharge(ROWS)
    volts = volts + random.normal(0, 5e-4, ROWS)
    volts[ROWS // 3] += 1.0
    np.savetxt(
        path,
        np.column_stack([clock, volts, amps]),
        fmt=("%.3f", "%.4f", "%.4f"),
        delimiter=",",
        header="time / s,voltage / V,current / A",
        comments="",
    )


def _work(path: Path) -> None:
    random = np.random.default_rng(1)
    with _timed("read from CSV"):
        log = read_log(path)
        time, voltage, current = map(log.column, ("time", "voltage", "current"))
        columns = time.values, voltage.values, current.values
    with _timed("looked through for oddities"):
        found = log_quality(*columns, 10.0, 0.001)
        assert found.spikes == 1
    with _timed(f"integrated, {DRAWS} draws"):
        gain, offset, *volts = random.normal([1, 0, 1, 0], [1e-3, 1e-3, 1e-4, 1e-3], (DRAWS, 4)).T
        log_totals(*columns, "discharge", gain, offset, volts[0], volts[1], 10.0, 0.001)
    with _timed("peak of differential capacity"):
        capacity_peak(*columns, 3.5, 3.7, 0.005, 1, 1, 0)
    with _timed("two-electrode balance fitted"):
        content = np.linspace(0.005, 0.995, 400)
        balance_fit(*columns, content, negative(content), content, positive(content))
    with _timed("made small and drawn"):
        _draw(columns[0], columns[1])


def _draw(clock: np.ndarray, volts: np.ndarray) -> None:
    kept = decimate(volts, 2000)
    assert ROWS // 3 in kept
    figure = matplotlib.figure.Figure()
    figure.subplots().plot(clock[kept], volts[kept])
    figure.savefig(io.BytesIO(), format="svg")


def _charge() -> None:
    random = np.random.default_rng(2)
    curve = read_log(ROOT / "site_data" / "logs" / "heron-open-circuit.csv")
    charge_simulation(
        start_state_of_charge=random.normal(0.2, 0.005, DRAWS),
        start_temperature=random.normal(297, 1, DRAWS),
        end_state_of_charge=0.9,
        end_current=3.75,
        longest=7200.0,
        time_step=8.0,
        capacity=random.normal(75 * 3600, 700, DRAWS),
        relaxation_resistance=random.normal(0.47e-3, 3e-5, DRAWS),
        relaxation_time=20.0,
        slow_resistance=random.normal(0.53e-3, 3e-5, DRAWS),
        slow_time=400.0,
        shape_content=np.array([0.0, 0.2, 0.9, 1.0]),
        shape_factor=np.array([1.4, 1.0, 1.0, 1.2]),
        curve_content=curve.column("state_of_charge").values / 100,
        curve_voltage=curve.column("voltage").values,
        resistance=random.normal(0.62e-3, 3e-5, DRAWS),
        activation=25e3,
        reference_temperature=298.15,
        heat_capacity=random.normal(1042, 30, DRAWS),
        cooling=random.uniform(1.6, 2.4, DRAWS),
        ambient=297.0,
        plating_current=random.normal(91, 5, DRAWS),
        share_content=np.array([0.0, 0.5, 1.0]),
        share_allowed=np.array([1.0, 1.0, 0.5]),
        plating_activation=35e3,
        voltage_max=4.2,
        temperature_max=323.15,
        supply_power=280.0,
        cable_current=85.0,
    )


@contextmanager
def _timed(what: str) -> Iterator[None]:
    begun = time.perf_counter()
    yield
    print(f"  {what:<34}{time.perf_counter() - begun:6.2f} s", flush=True)
