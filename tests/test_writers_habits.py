"""Odd but reasonable things that writers do, and what must come of them."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import numpy as np
import pytest

from calc.whole import Whole, work_through
from tests.broken import block, calc
from tests.helpers import work, write_book

MASS = "mass: {value: 1.2 ± 0.1 kg, source: bench}"
HALVES = block(
    """
id: halves
inputs:
  whole: {unit: kg}
steps:
  part: whole / 2 in kg
checks:
  - {given: {whole: 3 kg}, gives: {part: 1.5 kg}, source: exact}
""",
    "method",
)
QUARTERS = block(
    """
id: quarters
inputs:
  whole: {unit: kg}
steps:
  quarter: half.part / 2 in kg
  again: {use: halves, with: {whole: half.part}}
  half: {use: halves}
  both: again.part + quarter in g
checks:
  - {given: {whole: 4 kg}, gives: {both: 2000 g, quarter: 1 kg, half.part: 2 kg}, source: exact}
""",
    "method",
)


def clean(whole: Whole) -> dict[str, float]:
    """Every result in its own unit, once nothing is wrong."""
    errors = [str(each) for each in whole.problems if each.severity == "error"]
    assert not errors
    return {id: result.value for id, result in whole.computation.results.items()}


def test_steps_stand_in_any_order(tmp_path: Path) -> None:
    steps = "z: y * 2 in kg\ny: x + mass in kg\nx: mass * 3 in kg"
    found = clean(work(tmp_path, {"a.md": calc(MASS, steps)}))
    assert found["trial.z"] == pytest.approx(9.6)


def test_methods_use_methods_whose_results_come_later(tmp_path: Path) -> None:
    pages = {
        "halves.md": HALVES,
        "quarters.md": QUARTERS,
        "a.md": calc(
            MASS, "x: cut.half.part + cut.both in kg\ncut: {use: quarters, with: {whole: mass}}"
        ),
        "b.md": block("id: whole\nuse: quarters\ninputs:\n  whole: {value: 8 kg, source: bench}"),
        "c.md": block(
            "id: further\ninputs:\n  a: {from: trial.cut.half.part}\n"
            "  b: {from: whole.again.part}\n  c: {from: whole.both}\n"
            "steps:\n  sum: a + b + c in kg",
            prose="\nIt is [6.6 kg](calc:further.sum), of [4 kg](calc:whole.half.part).\n",
        ),
    }  # fmt: skip
    found = clean(work(tmp_path, pages))
    assert found["trial.x"] == pytest.approx(0.6 + 0.6)
    assert found["whole.both"] == pytest.approx(4000)
    assert found["further.sum"] == pytest.approx(0.6 + 2 + 4)


def test_formulas_and_other_blocks_may_be_given_to_a_method(tmp_path: Path) -> None:
    steps = "half: {use: halves, with: {whole: 2 * mass + gull.mass - 0}}\nx: half.part in kg"
    sheet = "id: gull\ninputs:\n  mass: {value: 500 g, source: bench}\n"
    pages = {"halves.md": HALVES, "a.md": calc(MASS, steps)}
    assert clean(work(tmp_path, pages, {"gull.yml": sheet}))["trial.x"] == pytest.approx(1.45)


def test_an_input_of_an_input_of_an_input_is_the_same_input(tmp_path: Path) -> None:
    pages = {"a.md": calc(MASS, "x: mass * 2 in kg")}
    for number, of in enumerate(("trial.mass", "b0.again", "b1.again"), start=0):
        text = f"id: b{number}\ninputs:\n  again: {{from: {of}}}\nsteps:\n  y: again in kg"
        pages[f"b{number}.md"] = block(text)
    pages["z.md"] = block(
        "id: z\ninputs:\n  a: {from: b2.again}\n  b: {from: trial.mass}\n"
        "steps:\n  rest: a - b in kg",
        prose="\nIt is [1.2 kg](calc:b2.again).\n",
    )
    whole = work(tmp_path, pages)
    assert clean(whole)["z.rest"] == 0
    assert whole.computation.results["z.rest"].standard_uncertainty == 0


def test_inputs_that_share_an_error_share_it_across_calcs(tmp_path: Path) -> None:
    inputs = "a: {value: 10 ± 2 V, source: bench}\nb: {value: 10 ± 2 V, source: bench}"
    pages = {
        "a.md": calc(inputs, "x: a - b in V", "correlated: [{between: [a, b], r: 0.9}]"),
        "b.md": block(
            "id: other\ninputs:\n  a: {from: trial.a}\n  b: {from: trial.b}\nsteps:\n"
            "  sum: a + b in V\n  gap: a - b in V"
        ),
    }
    whole = work(tmp_path, pages)
    clean(whole)
    found = whole.computation.results
    for id, law in (("trial.x", 0.2), ("other.gap", 0.2), ("other.sum", 3.8)):
        assert found[id].standard_uncertainty == pytest.approx(np.sqrt(law), rel=0.03)


@pytest.mark.parametrize(
    ("steps", "prose"),
    [
        ("x: hot - cold in delta_degC", "[10 °C](calc:trial.x) or [10 K](calc:trial.x) warmer"),
        ("x: cold + rise in degC", "[25 °C](calc:trial.x), that is [298.2 K](calc:trial.x)"),
        ("x: (hot + rise) - cold in K", "[15 K](calc:trial.x)"),
        ("x: hot - cold", "[10 K](calc:trial.x)"),
        ("x: mean(hot, cold) in degC", "[25 °C](calc:trial.x)"),
        ("x: max(hot, cold) - rise in degC", "[25 °C](calc:trial.x)"),
        ("x: hot / cold", "[1.034 times](calc:trial.x)"),
        ("x: cold", "[20 °C](calc:trial.x)"),
        ("x: rise * 2 in K", "[10 K](calc:trial.x)"),
    ],
)
def test_temperatures_and_their_differences(tmp_path: Path, steps: str, prose: str) -> None:
    inputs = (
        "hot: {value: 30 °C, source: bench}\ncold: {value: 20 degC, source: bench}\n"
        "rise: {value: 5 delta_degC, source: bench}"
    )
    clean(work(tmp_path, {"a.md": calc(inputs, steps, prose=f"\nIt is {prose}.\n")}))


@pytest.mark.parametrize(
    ("steps", "prose"),
    [
        (
            "x: old * index in USD",
            "[6.00 USD](calc:trial.x), [6.00 USD (2024 prices)](calc:trial.x)",
        ),
        ("x: old * index + new in USD", "[13.00 USD (2024 prices)](calc:trial.x)"),
        ("x: new / energy in USD/kWh", "[3.50 USD/kWh](calc:trial.x)"),
        ("x: new / (old * index)", "[1.167](calc:trial.x)"),
        ("x: old", "[5.0 USD (2020 prices)](calc:trial.x)"),
    ],
)
def test_money_of_a_year(tmp_path: Path, steps: str, prose: str) -> None:
    inputs = (
        "old: {value: 5 USD (2020 prices), source: bench}\n"
        "new: {value: 7 USD (2024 prices), source: bench}\n"
        "index: {value: 1.2 USD_2024/USD_2020, source: bench}\n"
        "energy: {value: 2 kWh, source: bench}"
    )
    clean(work(tmp_path, {"a.md": calc(inputs, steps, prose=f"\nIt is {prose}.\n")}))


@pytest.mark.parametrize(
    ("steps", "prose"),
    [
        (
            "x: share * count in %",
            "[75 %](calc:trial.x), [0.75](calc:trial.x), [75 per cent](calc:x)",
        ),
        ("x: 1 - share in %", "[75 %](calc:trial.x)"),
        ("x: 1 + share", "[1.25 times](calc:trial.x), [125 %](calc:trial.x), [1.25×](calc:x)"),
        ("x: share", "[25 %](calc:trial.x), [250 000 ppm](calc:trial.x)"),
        ("x: count", "[3 layers](calc:trial.x), [three times](calc:x), [a factor of 3](calc:x)"),
    ],
)
def test_percentages_counts_and_multiples(tmp_path: Path, steps: str, prose: str) -> None:
    inputs = "share: {value: 25 %, source: bench}\ncount: {value: 3, source: bench}"
    clean(work(tmp_path, {"a.md": calc(inputs, steps, prose=f"\nIt is {prose}.\n")}))


FIGURED = calc(MASS, "x: mass in kg", prose="\nIt is [1.2 kg](calc:trial.x).\n")
BARE = block(f"id: trial\ninputs:\n  {MASS}\nsteps:\n  x: mass in kg")
INDENTED = "\n".join(f"    {line}".rstrip() for line in BARE.split("\n")[2:])
DRESSES: Mapping[str, str | bytes] = {
    "windows line ends": FIGURED.replace("\n", "\r\n").encode(),
    "a byte order mark": b"\xef\xbb\xbf" + FIGURED.encode(),
    "both": b"\xef\xbb\xbf" + FIGURED.replace("\n", "\r\n").encode(),
    "no newline at the end": FIGURED.rstrip(),
    "tildes": FIGURED.replace("```", "~~~"),
    "a longer fence": FIGURED.replace("```", "`````"),
    "spaces before the kind": FIGURED.replace("```yaml calc", "``` yaml   calc"),
    "in a list": f"# T\n\n1. First:\n\n{INDENTED}\n2. It is [1.2 kg](calc:trial.x).\n",
    "front matter": "---\ntitle: T\n---\n" + FIGURED,
    "front matter with windows line ends": ("---\ntitle: T\n---\n" + FIGURED).replace("\n", "\r\n"),
    "empty lists": FIGURED.replace("steps:", "correlated: []\nsolve: {}\nsteps:"),
    "empty keys": FIGURED.replace("steps:", "correlated:\nsolve:\nabout:\nsteps:"),
    "comments": FIGURED.replace("steps:", "# a remark\nsteps:  # another"),
    "double quotes": FIGURED.replace("1.2 ± 0.1 kg", '"1.2 ± 0.1 kg"'),
    "single quotes": FIGURED.replace("mass in kg", "'mass in kg'"),
    "the figure first": "It is [1.2 kg](calc:x).\n\n" + FIGURED,
    "a sample beside it": FIGURED + '\n```yaml title="sample"\nid: trial\n```\n',
    "a sample of a block": FIGURED + "\n````markdown\n```yaml calc\nid: trial\n```\n````\n",
    "an anchor": FIGURED.replace("{value", "&m {value"),
}  # fmt: skip


@pytest.mark.parametrize("dress", DRESSES)
def test_a_page_is_read_in_any_dress(tmp_path: Path, dress: str) -> None:
    write_book(tmp_path, {})
    (tmp_path / "content").mkdir(exist_ok=True)
    text = DRESSES[dress]
    (tmp_path / "content" / "a.md").write_bytes(text if isinstance(text, bytes) else text.encode())
    whole = work_through(tmp_path / "content", tmp_path / "site_data")
    assert clean(whole)["trial.x"] == pytest.approx(1.2)
    assert {figure.agrees for figure in whole.judgement.figures} == {True}


def test_a_long_chain_across_pages_is_followed(tmp_path: Path) -> None:
    pages = {
        "0.md": block("id: c0\ninputs:\n  a: {value: 1 V, source: bench}\nsteps:\n  x: a in V")
    }
    for at in range(1, 400):
        text = f"id: c{at}\ninputs:\n  a: {{from: c{at - 1}.x}}\nsteps:\n  x: a + 0 in V"
        pages[f"{at}.md"] = block(text)
    assert clean(work(tmp_path, pages))["c399.x"] == 1


def test_a_solution_is_a_figure_like_any_other(tmp_path: Path) -> None:
    wish = "solve: {mass: {so_that: x == 5 kg, between: 1–3 kg}}"
    prose = "\nIt would take [2.5 kg](calc:trial.solve.mass), or [](calc:trial.solve.mass).\n"
    whole = work(tmp_path, {"a.md": calc(MASS, "x: mass * 2 in kg", wish, prose)})
    clean(whole)
    assert [figure.agrees for figure in whole.judgement.figures] == [True, True]


def test_every_crossing_is_found(tmp_path: Path) -> None:
    inputs = "a: {value: 1 V, source: bench}\nunit: {value: 1 V, source: bench}"
    wish = "solve: {a: {so_that: x = 0.5, between: 0 to 6.5 V}}"
    whole = work(tmp_path, {"a.md": calc(inputs, "x: sin(a / unit)", wish)})
    clean(whole)
    solved = whole.computation.solved["trial.solve.a"].values
    assert solved == pytest.approx([np.pi / 6, 5 * np.pi / 6], rel=1e-9)
