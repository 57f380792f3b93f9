"""A log is read rightly, or what is wrong with it is said with its line."""

from pathlib import Path

import numpy as np
import pytest

from calc.book.logs import Log, read_log

GOOD = "time / s,voltage / V,current / A\n0,3.7,1.5\n1,3.71,1.5\n2,3.72,1.5\n"


def log_of(folder: Path, text: str | bytes) -> Log:
    path = folder / "bench.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_log(path)


SAME_VALUES = {
    "plain": GOOD,
    "byte-order mark": "\ufeff" + GOOD,
    "CRLF": GOOD.replace("\n", "\r\n"),
    "bare CR": GOOD.replace("\n", "\r"),
    "semicolons and decimal commas": GOOD.replace(",", ";").replace(".", ","),
    "tabs": GOOD.replace(",", "\t"),
    "comments above": "# invented data\n# one cell\n" + GOOD,
    "empty lines": GOOD.replace("\n1,", "\n\n1,") + "\n\n",
    "cut short": GOOD + "3,3.7",
    "spaces": GOOD.replace(",", " , "),
    "exponents": GOOD.replace("3.71", "371e-2"),
}


@pytest.mark.parametrize("text", SAME_VALUES.values(), ids=SAME_VALUES)
def test_every_form_of_the_same_log_reads_the_same(tmp_path: Path, text: str) -> None:
    log = log_of(tmp_path, text)
    assert log.problems == ()
    assert list(log.columns) == ["time", "voltage", "current"]
    assert log.columns["voltage"].unit == "V"
    np.testing.assert_array_equal(log.columns["voltage"].values, [3.7, 3.71, 3.72])
    np.testing.assert_array_equal(log.columns["time"].values, [0, 1, 2])


def test_rows_keep_their_line_in_the_file(tmp_path: Path) -> None:
    log = log_of(tmp_path, SAME_VALUES["empty lines"])
    assert log.row_lines.tolist() == [2, 4, 5]


HOSTILE = {
    "empty": ("", 1, "empty"),
    "comments only": ("# nothing\n", 1, "empty"),
    "header only": ("time / s,voltage / V\n", 1, "no rows"),
    "no unit": (GOOD.replace(" / V", ""), 1, "'voltage' names no unit"),
    "no header": ("0,3.7\n1,3.8\n", 1, "names no unit"),
    "same heading twice": (GOOD.replace("current / A", "Voltage / mV"), 1, "two columns"),
    "NaN": (GOOD.replace("3.71", "NaN"), 3, "voltage is nan"),
    "infinite": (GOOD.replace("3.71", "-inf"), 3, "voltage is -inf"),
    "a word": (GOOD.replace("3.71", "high"), 3, "'high' is no number for voltage / V"),
    "a blank": (GOOD.replace("3.71", ""), 3, "no value for voltage / V"),
    "too few": (GOOD.replace("1,3.71,", "1,"), 3, "2 values for 3 columns"),
    "decimal commas": (GOOD.replace(".", ",", 3), 2, "values for 3 columns"),
    "all decimal commas": ("a / s,b / V\n0,0,3,7\n1,0,3,8\n", 2, "decimal commas?"),
    "one column short": (GOOD.replace(",1.5", ""), 2, "2 values for 3 columns"),
    "not UTF-8": (GOOD.encode() + b"\xff\n", 5, "not UTF-8"),
    "a zero byte": (GOOD.replace("3.71", "3\0"), 3, "zero byte"),
    "underscores": (GOOD.replace("3.71", "3_1"), 3, "'3_1' is no number"),
}


@pytest.mark.parametrize(("text", "row", "said"), HOSTILE.values(), ids=HOSTILE)
def test_a_hostile_log_is_named_with_its_line(
    tmp_path: Path, text: str | bytes, row: int, said: str
) -> None:
    log = log_of(tmp_path, text)
    assert log.columns == {}
    assert log.problems[0].row == row
    assert said in log.problems[0].sentence


def test_all_problems_are_told_at_once_up_to_a_limit(tmp_path: Path) -> None:
    log = log_of(tmp_path, "time / s\n" + "x\n" * 50)
    assert [finding.row for finding in log.problems] == list(range(2, 23))
    assert "more" in log.problems[-1].sentence


def test_a_last_line_cut_short_is_noted_with_its_line(tmp_path: Path) -> None:
    log = log_of(tmp_path, GOOD + "3,3.7")
    assert [(note.row, "2 of 3" in note.sentence) for note in log.notes] == [(5, True)]


def test_a_last_line_without_its_end_is_noted_and_kept(tmp_path: Path) -> None:
    log = log_of(tmp_path, GOOD + "3,3.7,1")
    assert len(log.columns["time"].values) == 4
    assert "may be cut short" in log.notes[0].sentence


def test_a_missing_column_brings_those_there_are(tmp_path: Path) -> None:
    log = log_of(tmp_path, GOOD)
    assert log.column("current").unit == "A"
    with pytest.raises(ValueError, match=r"no column 'volts', it has time, voltage, current"):
        log.column("volts")


def test_headings_become_names(tmp_path: Path) -> None:
    log = log_of(tmp_path, "State of charge / %,Areal current / mA/cm^2\n1,2\n")
    assert list(log.columns) == ["state_of_charge", "areal_current"]
    assert log.columns["areal_current"].unit == "mA/cm^2"
