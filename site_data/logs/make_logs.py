"""Write the demonstration's logs: invented cells on an invented bench, seeded, the same each time.

Run it as `python site_data/logs/make_logs.py [FOLDER]`. What is true of the cells stands in
`cell_models.py` beside it; here they are charged, discharged, pulsed, cycled and sailed. The logs
that checks need, made up or published, are in `check_logs.py`.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
from cell_models import CELLS, HERON, Bench, Model, negative_curve, positive_curve, removed
from check_logs import checks, published_curves
from log_files import chance, read_by_meters, record, write

HERE = Path(__file__).resolve().parent
QUAY = ((0.0, 35.0), (70.0, 470.0), (0.0, 35.0))
"""A stop, as one cell feels it: current [A] and time [s] of plugging in, charge and unplugging."""

TRIP = ((-23.3, 1380.0), (-8.2, 480.0), *QUAY)
"""A round trip: current [A] and time [s] of cruising, of manoeuvring, and of the stop."""


def third_rate(folder: Path, model: Model) -> None:
    """A charge and a discharge in about three hours each, with rests, as on the bench."""
    rate = model.capacity / 3600 / 3
    bench = Bench(model, content=model.content_at_rest(model.low + 0.06))
    bench.rest(600)
    bench.charge(rate, model.high, taper=model.capacity / 3600 / 20)
    bench.rest(1800)
    bench.discharge(rate, model.low)
    bench.rest(1800)
    about = f"{model.name}, charge and discharge in three hours each, 25 degC, new"
    record(folder, f"{model.name.lower()}-bench.csv", about, bench, 50, rate)


def slow_pair(folder: Path) -> None:
    """Heron, a twenty-fifth of its charge an hour, up and down."""
    rate = HERON.capacity / 3600 / 25
    bench = Bench(HERON, content=0.0)
    bench.charge(rate, HERON.high)
    about = "Heron, slow charge, about 25 hours, 25 degC, new"
    record(folder, "heron-slow-charge.csv", about, bench, 150, rate)
    bench = Bench(HERON, content=1.0)
    bench.discharge(rate, HERON.low)
    about = "Heron, slow discharge, about 25 hours, 25 degC, new"
    record(folder, "heron-slow-discharge.csv", about, bench, 150, rate)


def fast_charge(folder: Path) -> None:
    """Heron from a tenth, one full charge an hour, then at its highest voltage."""
    bench = Bench(HERON, content=0.10, temperature=24.0, plate=24.0)
    bench.charge(75.0, HERON.high, taper=3.75)
    about = "Heron, charge at 75 A from a tenth full, then at 4.20 V, cooling plate 24 degC"
    record(folder, "heron-fast-charge.csv", about, bench, 15, 75.0)


def pulses(folder: Path) -> None:
    """Heron half charged: thirty seconds out, a rest, thirty seconds in."""
    bench = Bench(HERON, content=0.5, step=0.1)
    for current in (0.0, -75.0, 0.0, 75.0, 0.0):
        bench.hold(current, 30.0 if current else 60.0)
    about = "Heron, pulses of 75 A half charged, 25 degC, new"
    record(folder, "heron-pulses.csv", about, bench, 0.5, 75.0)


def quay_stop(folder: Path) -> None:
    """One stop as a logger on board wrote it: a minute lost, a stamp twice, a voltage in error."""
    name = "heron-quay-stop.csv"
    bench = Bench(HERON, content=0.60, temperature=24.3, plate=24.0)
    for current, seconds in QUAY:
        bench.hold(current, seconds)
    columns = read_by_meters(name, bench, 1.0, 75.0)
    columns["time / s"][0][402] = columns["time / s"][0][401]
    columns["voltage / V"][0][330] += 0.31
    lost = slice(200, 262)
    kept = {title: (np.delete(values, lost), n) for title, (values, n) in columns.items()}
    about = "a Heron cell in the pack during one stop, as the logger on board wrote it"
    write(folder, name, about, kept)


def cycling(folder: Path) -> None:
    """Capacity of Heron every 25 full cycles."""
    name = "heron-cycling.csv"
    cycle = np.arange(0, 1101, 25)
    left = 74.8 * (1 - 0.20 * (cycle / 1450) ** 0.85)
    left = left + chance(name).normal(0, 0.10, len(cycle))
    about = "Heron, capacity in every 25th full cycle, 25 degC, one cell"
    write(folder, name, about, {"cycle / 1": (cycle, 0), "capacity / A h": (left, 2)})


def half_cells(folder: Path) -> None:
    """Half-cell curves of Heron's electrodes, and two discs given up their lithium slowly."""
    content = np.linspace(0.002, 0.998, 250)
    for name, curve, what in (
        ("heron-negative-curve.csv", negative_curve, "negative, graphite with silicon oxide"),
        ("heron-positive-curve.csv", positive_curve, "positive, nickel-rich oxide"),
    ):
        about = f"Heron, half-cell curve, {what}, share of its own lithium"
        volts = curve(content)
        write(folder, name, about, {"content / 1": (content, 4), "voltage / V": (volts, 4)})
    for name, share, what in (
        ("heron-anode-half-cell.csv", 1.0, "Heron's negative coating"),
        ("heron-graphite-half-cell.csv", 0.0, "the graphite alone"),
    ):
        time = np.arange(0, 25 * 3600 + 1, 150.0)
        volts = removed(share)(time / time[-1]) + chance(name).normal(0, 2e-4, len(time))
        amps = np.full(len(time), 0.000170) + chance(name + "!").normal(0, 1e-7, len(time))
        about = f"a disc of {what} gives up its lithium in 25 hours, half-cell, 25 degC"
        write(
            folder,
            name,
            about,
            {
                "time / s": (time, 0),
                "voltage / V": (volts, 4),
                "current / mA": (1000 * amps, 5),
            },
        )


def charging_tables(folder: Path) -> None:
    """What a charge simulation needs: open-circuit curves, and two tables by state of charge."""
    content = np.linspace(0, 1, 101)
    for model in CELLS:
        about = f"{model.name}, open-circuit voltage amid slow charge and discharge, 25 degC"
        columns = {
            "state of charge / %": (100 * content, 0),
            "voltage / V": (model.open_circuit(content), 4),
        }
        write(folder, f"{model.name.lower()}-open-circuit.csv", about, columns)
    share = np.interp(content[::10], [0, 0.8, 1], [1, 1, 0.5])
    about = "share of the plating guideline that is used as a cell fills"
    columns = {"state of charge / %": (100 * content[::10], 0), "share / %": (100 * share, 0)}
    write(folder, "plating-share.csv", about, columns)
    shape = np.interp(content[::10], [0, 0.2, 0.9, 1], [1.4, 1, 1, 1.2])
    about = "how many times the resistance half charged a cell has, by its state of charge"
    columns = {"state of charge / %": (100 * content[::10], 0), "factor / 1": (shape, 2)}
    write(folder, "resistance-shape.csv", about, columns)


def ferry_day(folder: Path) -> None:
    """State of charge and temperature of the pack's cells through a day of service and a night."""
    full, night = 0.90, 3 * 3600.0
    bench = Bench(HERON, content=full, temperature=24.0, plate=24.0, step=5.0)
    rows = [(bench.time, bench.content, bench.temperature)]

    def log(current: float, seconds: float) -> None:
        for part in np.diff(np.append(np.arange(0, seconds, 300.0), seconds)):
            bench.hold(current, part)
            rows.append((bench.time, bench.content, bench.temperature))

    for current, seconds in 16 * TRIP:
        log(current, seconds)
    # The night brings back what the day took, and a little for what the charge loses.
    log((full - bench.content) * HERON.capacity / HERON.coulombic / night, night)
    log(0.0, 24 * 3600 - bench.time)
    time, level, warm = np.array(rows).T
    columns = {
        "time / h": (time / 3600, 4),
        "state of charge / %": (100 * level, 2),
        "temperature / degC": (warm + chance("day").normal(0, 0.1, len(time)), 1),
    }
    write(folder, "ferry-day.csv", "the ferry's pack through a day of service and a night", columns)


def main(folder: Path = HERE) -> None:
    """Write every log."""
    for model in CELLS:
        third_rate(folder, model)
    for make in (
        slow_pair,
        fast_charge,
        pulses,
        quay_stop,
        cycling,
        half_cells,
        charging_tables,
        ferry_day,
    ):
        make(folder)
    checks(folder)
    published_curves(folder)


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else HERE)
