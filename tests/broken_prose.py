"""Broken prose: figures that do not agree or cannot be read, and numbers that nothing binds.

`◄` marks the place that the message must name, as in tests/broken_pages.py.
"""

from __future__ import annotations

from tests.broken import MASS, SHOW, calc, page

PROSE = [
    page("drift", "drift", "'1.3 kg' is stated, 1.200 kg is recomputed for trial.x; '1.2 kg'",
         calc(MASS, SHOW, prose="\nIt is [1.3 kg](calc:trial.x). ◄\n")),
    page("loose figure", "loose", "mark it as a name with [12 V](given:the-reason)",
         calc(MASS, SHOW, prose="\nIt has 12 V. ◄\n")),
    page("loose figure between stray ticks", "loose", "'999 kg' is a loose figure",
         calc(MASS, SHOW, prose="\nThe sign ` is odd.\n\nIt weighs 999 kg. ◄\n\nAnd ` too.\n")),
    page("loose figure in a footnote", "loose", "'999 kg' is a loose figure",
         calc(MASS, SHOW, prose="\nIt is light.[^1]\n\n[^1]: It weighs 999 kg. ◄\n")),
    page("loose figure in words", "loose", "'four times' is a loose figure",
         calc(MASS, SHOW, prose="\nIt weighs four times as much. ◄\n")),
    page("loose figure in a table", "loose", "'999 kg' is a loose figure",
         "# T\n\n| Part | Mass / kg |\n| --- | --- |\n| all | 999 | ◄\n"),
    page("loose figure in a title", "loose", "'999 kg' in title is a loose figure; leave",
         calc(MASS, SHOW, "title: A cell of 999 kg ◄")),
    page("loose figure in the front matter", "loose", "'3 times' in description is a loose figure",
         "---\ntitle: T\ndescription: It weighs 3 times more. ◄\n---\n\n# T\n"),
    page("loose figure in an alt", "loose", "'999 kg' in alt is a loose figure",
         f"{calc(MASS, SHOW)}\n```yaml chart\nid: picture\ntitle: T\nkind: bars\n"
         "alt: It rises to 999 kg. ◄\nof: {One: trial.x}\n```\n"),
    page("wide tolerance", "statement", "is more than a tenth of '999 kg'",
         calc(MASS, SHOW, prose="\nIt is [999 kg](calc:trial.x \"within 1000 %\"). ◄\n")),
    page("number changed by a word", "statement", "'dozen' in 'dozen' changes the number before",
         calc("n: {value: 3, source: bench}", "x: n * 1", prose="\n[3 dozen](calc:trial.x) ◄\n")),
    page("nearly from above", "drift", "'nearly 1.0 kg' is stated, 1.200 kg is recomputed",
         calc(MASS, SHOW, prose="\nIt is [nearly 1.0 kg](calc:trial.x). ◄\n")),
    page("decibels", "unit", "counts in logarithms; state the ratio itself",
         calc("n: {value: 20 dB, source: bench} ◄", "x: n * 1")),
    page("figure of another kind", "dimension", "state it in a unit of that kind",
         calc(MASS, SHOW, prose="\nIt is [1.2 V](calc:trial.x). ◄\n")),
    page("figure without unit", "unit", "write one after the number",
         calc(MASS, SHOW, prose="\nIt is [1.2](calc:trial.x). ◄\n")),
    page("figure in words", "statement", "keep other words outside the link",
         calc(MASS, SHOW, prose="\nIt is [rather heavy](calc:trial.x). ◄\n")),
    page("figure with a title", "statement", "is its tolerance, such as \"within 5 %\"",
         calc(MASS, SHOW, prose="\nIt is [1.2 kg](calc:trial.x \"the mass\"). ◄\n")),
]  # fmt: skip
