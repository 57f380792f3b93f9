"""A method's range of validity is held against the stated values, and against the draws."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.helpers import calc_page, work

METHOD = (
    '# Part\n```yaml method\nid: part\ntitle: Part\ninputs:\n  share: {unit: "1"}\n'
    "steps:\n  rest: 1 - share\nvalid: [share between 0 % and 100 %]\nchecks:\n"
    '  - {given: {share: 30 %}, gives: {rest: "0.7"}, source: exact}\n```\n'
)


@pytest.mark.parametrize(
    ("share", "severities"),
    [("0.5 ± 0.2", []), ("0.02 ± 0.02", []), ("0.02 ± 0.2", ["warning"]), ("-0.02", ["error"])],
)
def test_draws_that_leave_the_range_are_warned_of(
    tmp_path: Path, share: str, severities: list[str]
) -> None:
    page = calc_page({"share": share}, {"own": "share * 1", "x": "{use: part, with: {share: own}}"})
    whole = work(tmp_path, {"index.md": page, "part.md": METHOD})
    assert [problem.severity for problem in whole.problems] == severities
    if severities == ["warning"]:
        # A normal distribution of 0.02 with 0.1 is below zero in 42.07 % (exact).
        assert whole.problems[0].message.startswith("42 % of the draws leave the range")
