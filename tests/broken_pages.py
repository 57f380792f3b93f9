"""Broken pages, one for each kind of problem: what is wrong, at the line that the arrow marks.

`◄` at the end of a line marks the place that the message must name; it is taken away before the
page is written. Every page is otherwise in order.
"""

from __future__ import annotations

from tests.broken import MASS, SHOW, SOURCES, VOLT, Broken, block, calc, page
from tests.broken_prose import PROSE

STATED = "\nIt weighs [1.2 kg](calc:trial.x).\n"
METHOD = block(
    """
id: halves
inputs:
  whole: {unit: kg}
  parts: {unit: "1"}
steps:
  part: whole / parts in kg
valid: [parts > 0, whole >= 0.1 kg]
checks:
  - {given: {whole: 3 kg, parts: 2}, gives: {part: 1.5 kg}, source: exact}
""",
    "method",
)


def using(text: str, mass: str = "1.2 kg", parts: str = "3") -> dict[str, str | bytes]:
    """A method, and a page that uses it."""
    inputs = f"mass: {{value: {mass}, source: bench}}\nn: {{value: {parts}, source: bench}}"
    return {
        "content/halves.md": METHOD,
        "content/user.md": calc(inputs, text + "\nx: share.part * 2 in kg"),
    }


def method(old: str, new: str) -> dict[str, str | bytes]:
    """The method with one mistake in it."""
    assert old in METHOD
    return {"content/halves.md": METHOD.replace(old, new)}


QUANTITIES = [
    page("unknown unit", "unit", "no unit is called 'Wh/kgg'; did you mean Wh/kg",
         calc("mass: {value: 1.2 Wh/kgg, source: bench} ◄", SHOW, prose=STATED)),
    page("unread quantity", "quantity", "is not a quantity; write it like",
         calc("mass: {value: about a kilogram, source: bench} ◄", SHOW)),
    page("unquoted comma", "yaml", "put a text with a comma in quotes",
         calc("mass: {value: 1 to 3 kg, likely 2 kg, source: bench} ◄", SHOW)),
    page("decimal comma", "yaml", "'2 kg' has no value",
         calc("mass: {value: 1,2 kg, source: bench} ◄", SHOW)),
    page("quoted comma", "quantity", "write a point for decimals",
         calc('mass: {value: "1,2 kg", source: bench} ◄', SHOW)),
    page("money without year", "unit", "write '5 USD (2024 prices)'",
         calc("mass: {value: 5 USD, source: bench} ◄", "x: mass * 2 in USD")),
    page("below absolute zero", "quantity", "below absolute zero; check sign and unit",
         calc("mass: {value: -300 degC, source: bench} ◄", "x: mass in K")),
    page("no value", "block", "needs one of value, from or log; it has none",
         calc("mass: {source: bench} ◄", SHOW)),
    page("two values", "block", "it has value and from",
         calc("mass: {value: 1 kg, from: a.b, source: bench} ◄", SHOW)),
    page("list for a value", "block", "'value' of input 'mass' must be a text",
         calc("mass: {value: [1, 2], source: bench} ◄", SHOW)),
]  # fmt: skip
SOURCED = [
    page("missing source", "source", "add source: with an id of sources.yml",
         calc("mass: {value: 1.2 kg} ◄", SHOW, prose=STATED)),
    page("bare value", "source", "write mass: {value: 1.2 kg, source: …}",
         calc("mass: 1.2 kg ◄", SHOW)),
    page("assumption without reason", "source", "add because: with the reason",
         calc("mass: {value: 1.2 kg, source: assumption} ◄", SHOW)),
    page("unknown source", "source", "no source is called 'bensh'; did you mean bench?",
         calc("mass: {value: 1.2 kg, source: bensh} ◄", SHOW)),
    page("unknown mark", "block", "'sure' is no mark; known are seen",
         calc("mass: {value: 1.2 kg, source: bench, mark: sure} ◄", SHOW)),
]  # fmt: skip
DIMENSIONS = [
    page("wrong dimension", "dimension", "'Wh/L' expected, got 'V' for x",
         calc(VOLT, "x: volt in Wh/L ◄")),
    page("unlike sum", "dimension", "'+' is given 'kg' and 'V'; they must be alike",
         calc(f"{MASS}\n{VOLT}", "x: mass + volt in kg ◄\ny: x * 2")),
    page("missing unit", "dimension", "mass has no unit: write one after its number",
         calc("mass: {value: 1.2, source: bench}", "x: mass in kg ◄")),
    page("difference of temperatures", "dimension", "show it in delta_degC or K",
         calc("hot: {value: 30 degC, source: bench}\ncold: {value: 20 degC, source: bench}",
              "x: hot - cold in degC ◄")),
    page("sum of temperatures", "dimension", "two temperatures do not add",
         calc("hot: {value: 30 degC, source: bench}\ncold: {value: 20 degC, source: bench}",
              "x: hot + cold in degC ◄")),
    page("money of two years", "dimension", "'+' is given 'USD_2020' and 'USD_2024'",
         calc("old: {value: 5 USD (2020 prices), source: bench}\n"
              "new: {value: 5 USD (2024 prices), source: bench}", "x: old + new in USD ◄")),
    page("exponent with a name", "dimension", "needs the exponent written as a number",
         calc(f"{MASS}\nn: {{value: 2, source: bench}}", "x: mass ** n ◄")),
]  # fmt: skip
FORMULAS = [
    page("power sign", "formula", "write ** for a power", calc(MASS, "x: mass^2 ◄")),
    page("quantity in a formula", "formula", "make a quantity with a unit an input of its own",
         calc(MASS, "x: mass * 2 kg ◄", prose="\nIt is [2 kg](calc:trial.x).\n")),
    page("unit missing after in", "formula", "a unit is missing after 'in'",
         calc(MASS, "x: mass in ◄")),
    page("open bracket", "formula", "')' expected", calc(MASS, "x: (mass + mass ◄")),
    page("empty step", "formula", "an empty formula", calc(MASS, "x: ◄")),
    page("function of elsewhere", "formula", "it is written log here",
         calc("n: {value: 2, source: bench}", "x: ln(n) ◄")),
    page("too many arguments", "formula", "log() takes 1 argument, got 2",
         calc("n: {value: 2, source: bench}", "x: log(n, 2) ◄")),
    page("python code", "formula", "has no meaning in the formula",
         calc(MASS, "x: __import__('os') ◄")),
    page("unknown procedure", "reference", "no procedure is called 'log_total'; did you mean",
         calc(MASS, "x: {procedure: log_total, with: {time: mass}} ◄")),
]  # fmt: skip
REFERENCES = [
    page("unknown id", "reference", "nothing is called 'gull.mass'",
         calc("mass: {from: gull.mass} ◄", SHOW, prose=STATED)),
    page("unknown name", "reference", "nothing in this block is called 'mas'; did you mean mass?",
         calc(MASS, "x: mas * 2 ◄\ny: x + mass in kg")),
    page("id in a formula", "reference", "add it as an input: mass: {from: heron.mass}",
         calc(VOLT, "x: volt / heron.mass ◄")),
    Broken("unknown name of a sheet", "reference", "'gannet' has no 'mas'; did you mean mass?", {
        "content/a.md": calc("mass: {from: gannet.mas} ◄", SHOW),
        "site_data/gannet.yml": "id: gannet\ninputs:\n  mass: {value: 1 kg, source: bench}\n",
    }),
    page("figure of nothing", "reference", "'trial' has no 'y'",
         calc(MASS, SHOW, prose="\nIt is [1 kg](calc:trial.y). ◄\n")),
    page("figure of no block", "reference", "nothing is called 'trail'; did you mean trial",
         calc(MASS, SHOW, prose="\nIt is [1 kg](calc:trail.x). ◄\n")),
    page("figure of no name here", "reference", "no calc of this page has 'mess'",
         calc(MASS, SHOW, prose="\nIt is [1 kg](calc:mess). ◄\n")),
    page("figure without id", "reference", "calc: needs the id of a result",
         calc(MASS, SHOW, prose="\nIt is [1 kg](calc:). ◄\n")),
    page("figure with a space", "reference", "write it like [270 Wh/kg](calc:id.name)",
         calc(MASS, SHOW, prose="\nThere are [12 layers](calc: trial.x). ◄\n")),
    page("quote of nobody", "reference", "no claim is called 'nobody'",
         calc(MASS, SHOW, prose="\nHe says [1 kg](quote:nobody). ◄\n")),
    page("given without reason", "reference", "given: needs a reason",
         calc(MASS, SHOW, prose="\nIt is [1 kg](given:). ◄\n")),
    page("cycle in a calc", "cycle", "trial.x → trial.y → trial.x; give one of them a value",
         calc(MASS, "x: y + mass in kg ◄\ny: x + mass in kg", prose=STATED)),
    page("step of itself", "cycle", "trial.x → trial.x", calc(MASS, "x: x + mass in kg ◄")),
    Broken("cycle across pages", "cycle", "one.x → two.y → two.x → one.y → one.x", {
        "content/a.md": block("id: one\ninputs:\n  x: {from: two.y} ◄\nsteps:\n  y: x * 2 in kg"),
        "content/b.md": block("id: two\ninputs:\n  x: {from: one.y}\nsteps:\n  y: x * 2 in kg"),
    }),
    Broken("double id", "double-id", "the id 'trial' is taken already, at content/a.md:4", {
        "content/a.md": calc(MASS, SHOW),
        "content/b.md": block(f"id: trial ◄\ninputs:\n  {MASS}\nsteps:\n  {SHOW}"),
    }),
    page("input and step", "double-id", "give the step another name",
         calc(MASS, "mass: 2 * 3 ◄\nx: mass in kg")),
]  # fmt: skip
NUMBERS = [
    page("division by zero", "numeric", "a division by zero in 'volt / mass'",
         calc(f"{VOLT}\nmass: {{value: 0 kg, source: bench}}", "x: volt / mass ◄\ny: x * 2",
              prose="\nIt is [3 V/kg](calc:trial.y).\n")),
    page("logarithm of a negative", "numeric", "a logarithm of zero or less in 'log(n)'",
         calc("n: {value: -2, source: bench}", "x: log(n) ◄")),
    page("logarithm in some draws", "numeric", "of 10000 draws, x has no value",
         calc("n: {value: 1 ± 2, source: bench}", "x: log(n) ◄")),
    page("root of a negative", "numeric", "a square root of less than zero",
         calc("n: {value: -2, source: bench}", "x: sqrt(n) ◄")),
    page("too large", "numeric", "a value too large",
         calc("n: {value: 1e4, source: bench}", "x: exp(n) ◄")),
]  # fmt: skip
METHODS = [
    Broken("outside valid", "valid", "which needs parts > 0: parts is -3; use another method",
           using("share: {use: halves, with: {whole: mass, parts: n}} ◄", parts="-3")),
    Broken("outside valid with a unit", "valid", "needs whole >= 0.1 kg: whole is 50 g",
           using("share: {use: halves, with: {whole: mass, parts: n}} ◄", mass="50 g")),
    Broken("unknown method", "reference", "no method is called 'halfs'; did you mean halves?",
           using("share: {use: halfs, with: {whole: mass, parts: n}} ◄")),
    Broken("unknown method input", "reference", "has no input part; did you mean parts?",
           using("share: {use: halves, with: {whole: mass, part: n}} ◄")),
    Broken("missing method input", "reference", "also needs parts; give each in with:",
           using("share: {use: halves, with: {whole: mass}} ◄")),
    Broken("method given another kind", "dimension", "'kg' expected for whole of halves, got",
           using("share: {use: halves, with: {whole: n, parts: n}} ◄")),
    Broken("check that fails", "check", "expects part = 1.6 kg, 1.50000 kg is computed",
           method("{part: 1.5 kg}, source: exact}", "{part: 1.6 kg}, source: exact} ◄")),
    Broken("check of no step", "reference", "halves has no step 'prt'; did you mean part?",
           method("gives: {part: 1.5 kg}, source: exact}",
                  "gives: {prt: 1.5 kg}, source: exact} ◄")),
    Broken("check without an input", "reference", "also needs parts",
           method("whole: 3 kg, parts: 2}, gives: {part: 1.5 kg}, source: exact}",
                  "whole: 3 kg}, gives: {part: 1.5 kg}, source: exact} ◄")),
    Broken("check without source", "source", "a check needs a source",
           method(", source: exact}", "} ◄")),
    Broken("wide check without reason", "block", "a check with within: needs why:",
           method("source: exact}", "source: exact, within: 5 %} ◄")),
    Broken("method of another kind", "dimension", "'V' expected, got 'kg' for part",
           method("whole / parts in kg", "whole / parts in V ◄")),
    Broken("method of unknown name", "reference", "is called 'hole'; did you mean whole?",
           method("whole / parts in kg", "hole / parts in kg ◄")),
    Broken("limit of nothing", "reference", "nothing in halves is called 'prts'",
           method("valid: [parts > 0,", "valid: [prts > 0, ◄")),
    Broken("limit of another kind", "dimension", "the limit 'whole >= 0.1 m'",
           method("valid: [parts > 0, whole >= 0.1 kg]", "valid: [parts > 0, whole >= 0.1 m] ◄")),
    Broken("method of itself", "cycle", "the method uses itself: halves → halves",
           method("steps:", "steps:\n  y: {use: halves, with: {whole: whole, parts: parts}} ◄")),
    Broken("step named as an input", "double-id", "'parts' is an input and a step",
           method("steps:", "steps:\n  parts: whole / whole ◄")),
]  # fmt: skip
YAML = [
    page("malformed yaml", "yaml", "this is not readable YAML",
         "# T\n\n```yaml calc\nid: trial\ninputs: {a: [ ◄\n```\n\nIt is [1 kg](calc:trial.x).\n"),
    page("colon in a text", "yaml", "a text that holds ': ' needs quotes",
         "# T\n\n```yaml calc\nid: trial\ntitle: a: b ◄\n```\n"),
    page("tab", "yaml", "a tab stands at the start of the line; indent with spaces",
         f"# T\n\n```yaml calc\nid: trial\ninputs:\n\t{MASS} ◄\nsteps:\n  {SHOW}\n```\n{STATED}"),
    page("duplicate key", "yaml", "'mass' stands twice in one block; keep one",
         calc(f"{MASS}\n{MASS} ◄", SHOW, prose=STATED)),
    page("duplicate step", "yaml", "'x' stands twice", calc(MASS, f"{SHOW}\n{SHOW} ◄")),
    page("block that holds itself", "yaml", "holds itself",
         "# T\n\n```yaml calc\nid: trial\ninputs: &a {x: *a} ◄\n```\n"),
    page("two documents", "yaml", "another document",
         "# T\n\n```yaml calc\nid: trial\n--- ◄\nid: b\n```\n"),
    page("front matter", "yaml", "a text that holds ': ' needs quotes",
         "---\ntitle: a: b ◄\n---\n\n# T\n"),
    page("front matter as a list", "yaml", "is a mapping", "---\n- a ◄\n---\n\n# T\n"),
    Broken("not UTF-8", "file", "save the file in the encoding UTF-8", {
        "content/a.md": b"# T\n\nUnd \xfcber \xe2\x97\x84\n\n```yaml calc\nid: trial\n```\n",
        "content/b.md": "# U\n\nIt is [1 kg](calc:trial.x).\n",
    }),
    Broken("sheet not UTF-8", "file", "save the file in the encoding UTF-8", {
        "site_data/gull.yml": b"id: gull\ntitle: M\xf6we \xe2\x97\x84\ninputs: {}\n",
        "content/b.md": calc("mass: {from: gull.mass}", SHOW),
    }),
]  # fmt: skip
BLOCKS = [
    page("empty block", "block", "the calc block is empty; give it an id",
         "# T\n\n```yaml calc ◄\n```\n"),
    page("list block", "block", "a calc block is a mapping", "# T\n\n```yaml calc ◄\n- a\n```\n"),
    page("unknown block", "block", "no block is called 'yaml clac'; did you mean calc",
         "# T\n\n```yaml clac ◄\nid: trial\n```\n\nIt is [1 kg](calc:trial.x).\n"),
    page("forgotten yaml", "block", "write ```yaml calc",
         "# T\n\n```calc ◄\nid: trial\n```\n"),
    page("misspelt yaml", "block", "write ```yaml calc",
         "# T\n\n```yml calc ◄\nid: trial\n```\n"),
    page("unclosed block", "block", "is never closed; end it with a line of ``` alone",
         f"# T\n\n```yaml calc ◄\nid: trial\ninputs:\n  {MASS}\nsteps:\n  {SHOW}\n\nA: b.\n"),
    page("unclosed code", "block", "the code is never closed; end it with a line of ``` alone",
         "# T\n\n```text ◄\nsome code\n\nIt weighs 999 kg.\n"),
    page("unclosed code in a list", "block", "never closed",
         "# T\n\n- It:\n\n    ~~~ ◄\n    some code\n\nIt weighs nothing.\n"),
    page("code that is shown", "block", "'any words' opens no code: what follows is shown as text",
         "# T\n\n~~~ any words ◄\nIt weighs 999 kg.\n~~~\n"),
    page("no id", "block", "a calc needs 'id'",
         f"# T\n\n```yaml calc\ntitle: T ◄\ninputs:\n  {MASS}\nsteps:\n  {SHOW}\n```\n"),
    page("no good id", "block", "such as 'my-trial'",
         f"# T\n\n```yaml calc\nid: My trial ◄\ninputs:\n  {MASS}\nsteps:\n  {SHOW}\n```\n"),
    page("no good name", "block", "such as 'mass_1'",
         calc("Mass-1: {value: 1 kg, source: bench} ◄", "x: 2 * 3")),
    page("no steps", "block", "a calc needs steps:", block(f"id: trial ◄\ninputs:\n  {MASS}")),
    page("steps as a list", "block", "'steps' of a calc must be a mapping",
         block(f"id: trial\ninputs:\n  {MASS}\nsteps: ◄\n  - x: mass")),
    page("unknown key", "block", "'step' has no meaning in a calc; did you mean steps?",
         block(f"id: trial\ninputs:\n  {MASS}\nstep: ◄\n  x: mass")),
    page("unknown key of an input", "block", "'sorce' has no meaning in input 'mass'; did you",
         calc("mass: {value: 1 kg, sorce: bench} ◄", SHOW, prose=STATED)),
    page("unknown key of a step", "block", "'formla' has no meaning in step 'x'; did you mean",
         calc(MASS, "x: {formla: mass in kg} ◄", prose=STATED)),
    page("interval", "block", "interval is symmetric or shortest, not 'wide'",
         calc(MASS, SHOW, "interval: wide ◄")),
    Broken("unknown key of a sheet", "block", "'values' has no meaning in a sheet", {
        "site_data/gull.yml": "id: gull\nvalues: ◄\n  mass: {value: 1 kg, source: bench}\n"}),
    Broken("empty sheet", "yaml", "a sheet is a mapping with id", {"site_data/gull.yml": "# ◄\n"}),
]  # fmt: skip
SHARED = [
    page("correlation above one", "correlation", "r from -1 to 1",
         calc(f"{MASS}\n{VOLT}", SHOW, "correlated: [{between: [mass, volt], r: 1.2}] ◄")),
    page("correlation of a result", "correlation", "correlate inputs, not results",
         calc(f"{MASS}\n{VOLT}", SHOW, "correlated: [{between: [x, volt], r: 0.2}] ◄")),
    page("correlation with itself", "correlation", "are the same input",
         calc(f"{MASS}\n{VOLT}", SHOW, "correlated: [{between: [mass, mass], r: 0.2}] ◄")),
    page("correlation said twice", "correlation", "have another r at",
         calc(f"{MASS}\n{VOLT}", SHOW, "correlated:\n- {between: [mass, volt], r: 0.2}\n"
              "- {between: [volt, mass], r: 0.3} ◄")),
    page("correlations that contradict", "correlation", "can be correlated like that; make the",
         calc(f"{MASS}\n{VOLT}\nn: {{value: 1 ± 0.1, source: bench}}", SHOW,
              "correlated:\n- {between: [mass, volt], r: 0.9} ◄\n- {between: [volt, n], r: 0.9}\n"
              "- {between: [mass, n], r: -0.9}")),
    page("solve for nothing", "reference", "nothing here is called 'mas'; did you mean mass?",
         calc(MASS, SHOW, "solve: {mas: {so_that: x = 2 kg, between: 1 to 3 kg}} ◄")),
    page("solve of another kind", "dimension", "'2 V' is not of the kind of trial.x",
         calc(MASS, SHOW, "solve: {mass: {so_that: x = 2 V, between: 1 to 3 kg}} ◄")),
    page("solve without range", "block", "needs 'between'",
         calc(MASS, SHOW, "solve: {mass: {so_that: x = 2 kg}} ◄")),
    page("missing log", "log", "there is no log 'no.csv'",
         calc("volt: {log: no.csv, column: voltage, source: bench} ◄", "x: volt * 2")),
]  # fmt: skip
BROKEN = (
    QUANTITIES + SOURCED + DIMENSIONS + FORMULAS + REFERENCES + NUMBERS + METHODS + YAML + BLOCKS
    + SHARED + PROSE
)  # fmt: skip
"""One page, or a few that belong together, for each kind of problem."""

SOURCES_FILE = [
    Broken("source as a text", "source", "a source is a mapping with id, kind and title",
           {"site_data/sources.yml": "- bench ◄\n"}),
    Broken("unknown kind of source", "source", "'guess' is no kind of source; known are",
           {"site_data/sources.yml": "- {id: bench, kind: guess, title: x} ◄\n"}),
    Broken("source twice", "double-id", "source 'bench' stands twice",
           {"site_data/sources.yml": f"{SOURCES}- {{id: bench, kind: measured, title: x}} ◄\n"}),
    Broken("sources as a mapping", "yaml", "must be a list of entries",
           {"site_data/sources.yml": "bench: {kind: measured} ◄\n"}),
    Broken("unreadable sources", "yaml", "this is not readable YAML",
           {"site_data/sources.yml": "- {id: bench, kind: measured ◄\n",
            "content/a.md": calc(MASS, SHOW)}),
]  # fmt: skip
"""Mistakes in the one file of sources, which cannot stand in one book together."""
