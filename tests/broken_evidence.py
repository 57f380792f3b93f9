"""Broken blocks that rest on a calc: claims, estimates, charts, forecasts and the like."""

from __future__ import annotations

from tests.broken import MASS, SHOW, calc, page


def judged(kind: str, body: str, prose: str = "") -> str:
    """A page with a calc, and a block that rests on it."""
    return calc(MASS, SHOW) + f"\n```yaml {kind}\n{body.strip()}\n```\n{prose}"


CLAIM = "id: said\nsource: bench\nsays: at least 1 kg\nof: trial.x\nverdict: holds"
POOL = "id: pool\nvalues:\n  one: {from: trial.x}\n  two: {value: 1.2 ± 0.2 kg, source: bench}"
CHART = "id: picture\ntitle: Picture\nkind: bars\nof: {One: trial.x}"
FORECAST = (
    "id: will\nsays: it will\nprobability: 70 %\nregistered: 2026-03-01\ndue: 2027-03-01\n"
    "settles: a balance"
)
EVIDENCE = [
    page("claim of nothing", "reference", "'trial' has no 'y'",
         judged("claim", CLAIM.replace("id: said", "id: said ◄").replace(".x", ".y"))),
    page("claim in words", "statement", "does not read as a number",
         judged("claim", CLAIM.replace("at least 1 kg", "rather heavy ◄"),
                "\nHe says [1 kg](quote:said).\n")),
    page("claim without tolerance", "block", "write 'about 1 kg within 10 %'",
         judged("claim", CLAIM.replace("at least 1 kg", "about 1 kg ◄"))),
    page("claim without verdict", "block", "needs 'verdict'; write verdict: one of holds",
         judged("claim", CLAIM.replace("id: said", "id: said ◄").replace("verdict: holds", ""))),
    page("no such verdict", "block", "verdict is one of holds, does not hold, undecided",
         judged("claim", CLAIM.replace("holds", "true ◄"))),
    page("misspelt verdict", "block", "'vredict' has no meaning in a claim; did you mean verdict?",
         judged("claim", CLAIM.replace("verdict: holds", "vredict: holds ◄"))),
    page("verdict that differs", "drift", "'verdict: holds' would agree",
         judged("claim", CLAIM.replace("id: said", "id: said ◄").replace("holds", "undecided"))),
    page("estimate of another kind", "dimension", "estimates of one block are of one quantity",
         judged("estimates", POOL.replace("id: pool", "id: pool ◄").replace("0.2 kg", "0.2 V"))),
    page("estimate without source", "source", "add source: with an id of sources.yml",
         judged("estimates", POOL.replace(", source: bench}", "} ◄"),
                "\nTogether [1.2 kg](calc:pool.combined).\n")),
    page("estimate without uncertainty", "estimates", "an uncertainty above zero",
         judged("estimates", POOL.replace("id: pool", "id: pool ◄").replace(" ± 0.2", ""))),
    page("chart of nothing", "reference", "'trial' has no 'y'",
         judged("chart", CHART.replace("id: picture", "id: picture ◄").replace(".x", ".y"))),
    page("no such chart", "block", "'pie' is no kind of chart; known are",
         judged("chart", CHART.replace("bars", "pie ◄"))),
    page("table of nothing", "reference", "nothing is called 'gull'",
         judged("table", 'id: t ◄\ntitle: T\nrows: {One: gull}\ncolumns: {M: "{row}.mass"}')),
    page("panel of nothing", "reference", "no calc is called 'trail'; did you mean trial",
         judged("explore", "id: p ◄\ntitle: P\ncalc: trail\nsliders: {mass: 1 to 2 kg}\n"
                "show: [x]")),
    page("forecast of too much", "block", "a probability lies between 0 % and 100 %",
         judged("forecast", FORECAST.replace("70 %", "170 % ◄"))),
    page("forecast without day", "block", "'soon' is no day; write it like 2026-06-30",
         judged("forecast", FORECAST.replace("due: 2027-03-01", "due: soon ◄"))),
    page("question of nothing", "reference", "'trial' has no 'y'",
         judged("question", "id: q ◄\nasks: a\nsettles: b\nof: [trial.y]\nreview_by: 2026-12-31")),
    page("correction of nothing", "reference", "'trial' has no 'y'",
         judged("correction", "id: c ◄\ndate: 2026-03-01\nfigure: trial.y\nwas: 1 kg\n"
                "now: 1.2 kg\nreason: a slip")),
    page("no such caution", "block", "no caution is called 'openning'; did you mean opening?",
         "---\ncautions: [openning] ◄\n---\n\n# T\n"),
]  # fmt: skip
"""A page for each kind of mistake in what is judged, shown or foretold."""
