"""Fenced blocks and strict YAML: what is found, where it stands, and what is refused."""

from __future__ import annotations

import textwrap

import pytest

from calc.notation.blocks import fences, front_matter, ids_in, read_yaml
from calc.problems import Wrong

# page; (kind, line of the opening fence, text) of each fence
FENCES: list[tuple[str, list[tuple[str, int, str]]]] = [
    ("```yaml calc\nid: a\n```\n", [("calc", 1, "id: a\n")]),
    ("text\n\n~~~yaml chart\nid: a\n~~~\n", [("chart", 3, "id: a\n")]),
    ("```yaml\nid: a\n```\n", [("", 1, "id: a\n")]),
    ("```python\nx = 1\n```\n", [("", 1, "x = 1\n")]),
    ("``` yaml  calc\nid: a\n```\n", [("calc", 1, "id: a\n")]),
    # a longer fence holds shorter ones
    ("````markdown\n```yaml calc\nid: a\n```\n````\n", [("", 1, "```yaml calc\nid: a\n```\n")]),
    # in a list, without the indent that it has there
    ("1. one\n\n    ```yaml calc\n    id: a\n    ```\n", [("calc", 3, "id: a\n")]),
    ("- one\n  ```yaml calc\n  a:\n    b: c\n  ```\n", [("calc", 2, "a:\n  b: c\n")]),
    # inline code opens nothing
    ("```x``` is code\n\n```yaml calc\nid: a\n```\n", [("calc", 3, "id: a\n")]),
    ("```yaml calc\r\nid: a\r\n```\r\n", [("calc", 1, "id: a\r\n")]),
    ("```yaml calc\n```\n```yaml claim\nid: b\n```", [("calc", 1, ""), ("claim", 3, "id: b\n")]),
]
# YAML; what is read
TEXTS: list[tuple[str, object]] = [
    ("a: 1e6", {"a": "1e6"}),
    ("a: no", {"a": "no"}),
    ("a: 12:30:00", {"a": "12:30:00"}),
    ("a: 3.70", {"a": "3.70"}),
    ("a: 2026-03-01", {"a": "2026-03-01"}),
    ("a: ~", {"a": ""}),
    ("a: '~'", {"a": "~"}),
    ("a:", {"a": ""}),
    ("a: [1, x y, '2, 3']", {"a": ["1", "x y", "2, 3"]}),
    (
        'a: {b: 50–58 µm, c: "1 to 2 V, likely 1 V"}',
        {"a": {"b": "50–58 µm", "c": "1 to 2 V, likely 1 V"}},
    ),
    ("# nothing\n", None),
]
# YAML; row of the mistake; key phrase
REFUSED = [
    ("a: 1\nb: [1", 1, "not readable YAML"),
    ("a: 1\n b: 2", 1, "not readable YAML"),
    ("a: b: c", 0, "a text that holds ': ' needs quotes"),
    ("a: 1\n\tb: 2", 1, "a tab stands at the start"),
    ("a:\n  b: 1\n  \tc: 2", 2, "a tab stands at the start"),
    ("a: 1\nb: 2\na: 3", 2, "'a' stands twice"),
    ("x:\n  a: {b: 1, b: 2}", 1, "'b' stands twice"),
    ("v: {value: 50 to 58 um, likely 55 um}", 0, "'likely 55 um' has no value"),
    ("v: {value: 1,5 V}", 0, "'5 V' has no value"),
    ("a: &x {b: *x}", 0, "holds itself"),
    ("a: 1\n---\nb: 2", 1, "another document"),
    ("[1, 2]: 3", 0, "a key must be a plain word"),
    ("a: \x00", 0, "not readable YAML"),
]


@pytest.mark.parametrize(("page", "expected"), FENCES)
def test_fences_are_found(page: str, expected: list[tuple[str, int, str]]) -> None:
    found = list(fences(page))
    assert [(each.kind, each.line, each.text) for each in found] == expected
    assert all(each.closed for each in found)
    for each in found:
        whole = page[each.start : each.end]
        assert whole.strip()[:3] in ("```", "~~~") and whole.strip()[-3:] in ("```", "~~~")


def test_an_open_fence_is_known_to_be_open() -> None:
    (found,) = fences("```yaml calc\nid: a\n\ntext\n")
    assert (found.kind, found.closed, found.text) == ("calc", False, "id: a\n\ntext\n")


# page; text of the block that stays open, and where it ends
OPEN = [
    ("```text\ncode\n\n999 kg\n", "code\n\n999 kg\n", ""),
    (
        "Text:\n\n    ```\n    code\n\nIt is 999 kg.\n\n    ```\n",
        "code\n\n",
        "It is 999 kg.\n\n    ```\n",
    ),
    ("- a\n\n    ```\n    code\n```\n", "code\n", "```\n"),
    ("```text\ncode\n  ```\n", "code\n  ```\n", ""),  # Markdown wants the end where the start is
    ("```text\ncode\n````\n", "code\n````\n", ""),
]


@pytest.mark.parametrize(("page", "text", "rest"), OPEN)
def test_a_block_ends_where_markdown_lets_it_end(page: str, text: str, rest: str) -> None:
    found = next(fences(page))
    assert (found.closed, found.text, page[found.end :]) == (False, text, rest)


@pytest.mark.parametrize(("text", "tree"), TEXTS)
def test_yaml_stays_text(text: str, tree: object) -> None:
    assert read_yaml(text).tree == tree


@pytest.mark.parametrize(("text", "row", "phrase"), REFUSED)
def test_yaml_that_would_lose_something_is_refused(text: str, row: int, phrase: str) -> None:
    with pytest.raises(Wrong) as refused:
        read_yaml(text)
    assert phrase in refused.value.message
    assert refused.value.offset == row


def test_every_part_has_its_line() -> None:
    data = read_yaml(textwrap.dedent("""\
        id: a
        inputs:
          mass:
            value: 1 kg
          list: [x,
            y]
        """), first_line=11)  # fmt: skip
    assert data.line("id") == 11
    assert data.line("inputs", "mass") == 13
    assert data.line("inputs", "mass", "value") == 14
    assert data.line("inputs", "list", 1) == 16
    assert data.line("inputs", "mass", "nothing") == 13
    assert data.line("nothing") == 11


@pytest.mark.parametrize(
    ("text", "front", "body"),
    [
        ("---\ntitle: x\n---\ntext", "title: x\n", 17),
        ("---\ntitle: x\n...\ntext", "title: x\n", 17),
        ("text\n---\nno: x\n---\n", "", 0),
        ("---\n\nno end", "", 0),
    ],
)
def test_front_matter_stands_at_the_top(text: str, front: str, body: int) -> None:
    assert front_matter(text) == (front, body)


def test_ids_are_found_where_nothing_else_can_be_read() -> None:
    assert ids_in("id: a-b\ninputs: {x: [\n- {id: c, y\n  id: 'd'\nwide: e\n") == {"a-b", "c", "d"}
