"""Changing files by field: what is not changed keeps its bytes, and what is changed reads back."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sitegen.newsroom.editing import EditError, Item, Layout, Wanted, read_document, rewrite, scalar
from sitegen.newsroom.nodes import Mapping as MappingNode
from sitegen.newsroom.nodes import Scalar, compose
from sitegen.newsroom.spans import Group, Value, spans, value_of
from tests.samples.written_yaml import KEYS, records, records_with_a_list, values, words, written

CONTENT = Path(__file__).parents[2] / "content"
LAYOUT = Layout(KEYS, {"asks": Layout(("until", "hours"), {}, True)})


def field_lines(text: str, key: str) -> tuple[int, int]:
    """(first, last) line, from 0, of a field at the top."""
    root, _ = spans(text)
    assert isinstance(root, Group)
    name, value = next((name, value) for name, value in root.entries if name.text == key)
    return text.count("\n", 0, name.start), text.count("\n", 0, value.end)


def with_its_comments(text: str, key: str) -> tuple[int, int]:
    """The same, with the comments below it that stand farther in: they are part of it."""
    first, last = field_lines(text, key)
    lines = text.split("\n")
    for number in range(last + 1, len(lines)):
        if lines[number].startswith(" ") and lines[number].lstrip().startswith("#"):
            last = number
        elif lines[number].strip():
            break
    return first, last


def is_part(lines: list[str], of: list[str]) -> bool:
    """True when all lines stand in others, in their order."""
    rest = iter(of)
    return all(line in rest for line in lines)


# --- laws --------------------------------------------------------------------------------------


@given(written())
def test_what_is_written_says_what_was_meant(case: tuple[str, Mapping[str, Value]]) -> None:
    text, record = case
    assert read_document(text, False).values == record


@given(written())
def test_no_change_keeps_every_byte(case: tuple[str, Mapping[str, Value]]) -> None:
    text, record = case
    assert rewrite(text, False, record, None, LAYOUT) == text


@given(written(), st.data())
def test_a_change_touches_its_field_alone(case: tuple[str, Mapping[str, Value]], data: st.DataObject) -> None:
    text, record = case
    key = data.draw(st.sampled_from(list(record)))
    value = data.draw(values())
    changed = rewrite(text, False, {**record, key: value}, None, LAYOUT)
    assert read_document(changed, False).values == {**record, key: value}
    first, last = with_its_comments(text, key)
    new_first, new_last = field_lines(changed, key)
    before, after = text.split("\n"), changed.split("\n")
    assert after[:new_first] == before[:first]
    rest = len(before) - last - 1
    assert after[len(after) - rest :] == before[last + 1 :]
    # Blank lines and comments that stood before a removed last entry may be left behind the field.
    left = after[new_last + 1 : len(after) - rest]
    assert all(not line.strip() or line.lstrip().startswith("#") for line in left)
    assert is_part(left, before[first : last + 1])


@given(written(), st.data())
def test_removing_a_field_removes_its_lines_alone(
    case: tuple[str, Mapping[str, Value]], data: st.DataObject
) -> None:
    text, record = case
    assume(len(record) > 1)
    key = data.draw(st.sampled_from(list(record)))
    changed = rewrite(
        text, False, {name: value for name, value in record.items() if name != key}, None, LAYOUT
    )
    first, last = with_its_comments(text, key)
    lines = text.split("\n")
    assert changed.rstrip("\n") == "\n".join(lines[:first] + lines[last + 1 :]).rstrip("\n")


@given(written(), st.data())
def test_a_new_field_takes_lines_of_its_own(
    case: tuple[str, Mapping[str, Value]], data: st.DataObject
) -> None:
    text, record = case
    missing = [key for key in KEYS if key not in record]
    key = data.draw(st.sampled_from(missing))
    value = data.draw(values())
    changed = rewrite(text, False, {**record, key: value}, None, LAYOUT)
    assert read_document(changed, False).values == {**record, key: value}
    first, last = field_lines(changed, key)
    lines = changed.split("\n")
    assert lines[:first] + lines[last + 1 :] == text.split("\n")


@given(written(), records)
def test_any_record_can_become_any_other(
    case: tuple[str, Mapping[str, Value]], wanted: dict[str, Value]
) -> None:
    assert read_document(rewrite(case[0], False, wanted, None, LAYOUT), False).values == wanted


# A literal text would take in a comment that comes to stand below it; such a move is refused.
@given(written(records_with_a_list(), may_be_literal=False), st.data())
def test_entries_of_a_list_keep_their_bytes_when_they_move(
    case: tuple[str, Mapping[str, Value]], data: st.DataObject
) -> None:
    text, record = case
    rows = [(key, value) for key, value in record.items() if isinstance(value, tuple) and len(value) > 1]
    key, row = data.draw(st.sampled_from(rows))
    order = data.draw(st.permutations(range(len(row))))
    moved = rewrite(text, False, {**record, key: tuple(Item(row[i], i) for i in order)}, None, LAYOUT)
    assert read_document(moved, False).values == {**record, key: tuple(row[i] for i in order)}
    assert sorted(moved.split("\n")) == sorted(text.split("\n")) or "[" in text
    back = tuple(Item(row[i], order.index(i)) for i in range(len(row)))
    again = rewrite(moved, False, {**record, key: back}, None, LAYOUT)
    assert read_document(again, False).values == record


@given(words, st.booleans(), st.sampled_from(("", "'", '"')))
def test_every_text_reads_back_as_itself(text: str, in_flow: bool, style: str) -> None:
    written_text = scalar(text, in_flow, style)
    node, problems = compose(f"{{k: {written_text}}}" if in_flow else f"k: {written_text}")
    assert not problems and isinstance(node, MappingNode)
    value = node.entries[0][1]
    assert isinstance(value, Scalar) and value.text == text and not value.is_nothing


# --- examples ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("no", "no"), ("on", "on"), ("07", "07"), ("12:30", "12:30"), ("2026-12-15 17:00", "2026-12-15 17:00"), ("-60.5", "-60.5"),
        ("null", '"null"'), ("~", '"~"'), ("", '""'), ("a: b", '"a: b"'), ("a #b", '"a #b"'), ("a#b", "a#b"), ("two\nlines", '"two\\nlines"'),
        ("it's", "it's"), ("'s", "\"'s\""), ("https://www.example.org/", "https://www.example.org/"),
    ],
)  # fmt: skip
def test_quotes_stand_where_they_are_needed(text: str, expected: str) -> None:
    assert scalar(text) == expected


def test_commas_need_quotes_in_brackets_alone() -> None:
    assert scalar("a, b") == "a, b"
    assert scalar("a, b", in_flow=True) == '"a, b"'


STORY = """\
---
# The closet again
headline: "A closet wants coats"   # said so on air
aired: 2026-11-21
county: Tidewick
deadline:   # fill in: the last day; such as 2026-12-15
topics: [clothing,   libraries] # two

asks:
  # first the coats
  - title: Bring a coat
    kind: bring
    contact: {phone: 237-555-0142}  # the branch
  # then the money
  - title: Help refill the fund
    kind: give
---

The closet is a real closet.
"""
ASKS = Layout(
    ("headline", "summary", "aired", "county", "topics", "asks"),
    {"asks": Layout(("title", "kind", "deadline", "contact"), {}, True)},
)


def changed(text: str = STORY, body: str | None = None, **changes: object) -> str:
    document = read_document(text, True)
    wanted = {**document.values, **changes}
    return rewrite(text, True, {k: v for k, v in wanted.items() if v != "GONE"}, body, ASKS)  # type: ignore[misc]


def test_a_changed_text_keeps_its_quotation_marks_and_its_remark() -> None:
    assert 'headline: "A bigger closet"   # said so on air\n' in changed(headline="A bigger closet")


def test_a_new_key_goes_where_it_usually_stands() -> None:
    assert "on air\nsummary: Coats\naired:" in changed(summary="Coats")


def test_the_end_of_a_literal_text_outlives_the_last_field_below_it() -> None:
    text = "note: |\n  Ring twice.\n\nhours: Mo 9-5"
    assert rewrite(text, False, {"note": "Ring twice.\n"}) == "note: |\n  Ring twice.\n\n"


def test_a_filled_blank_loses_its_mark() -> None:
    assert "\ndeadline: 2026-12-15\ntopics" in changed(deadline="2026-12-15")


def test_a_topic_is_added_to_its_brackets() -> None:
    assert "topics: [clothing,   libraries, warmth] # two" in changed(
        topics=("clothing", "libraries", "warmth")
    )


def test_an_ask_moves_with_the_remark_above_it() -> None:
    asks = read_document(STORY, True).values["asks"]
    assert isinstance(asks, tuple)
    moved = changed(asks=(Item(asks[1], 1), Item(asks[0], 0)))
    assert (
        moved.index("# then the money")
        < moved.index("refill")
        < moved.index("# first the coats")
        < moved.index("Bring")
    )


def test_a_new_ask_is_written_over_lines_as_the_others_are() -> None:
    asks = read_document(STORY, True).values["asks"]
    assert isinstance(asks, tuple)
    new: Wanted = {
        "kind": "bring",
        "title": "Mend",
        "drop_off": ("hall", {"place": "quay", "note": "ring, please"}),
    }
    text = changed(asks=(Item(asks[0], 0), Item(asks[1], 1), Item(new)))
    assert text.endswith(
        "    kind: give\n  - title: Mend\n    kind: bring\n    drop_off:\n      - hall\n"
        '      - {place: quay, note: "ring, please"}\n---\n\nThe closet is a real closet.\n'
    )


def test_the_first_asks_begin_a_list() -> None:
    text = changed(changed(asks="GONE"), asks=({"title": "Mend", "kind": "bring"},))
    assert "asks:\n  - title: Mend\n    kind: bring\n" in text


def test_a_new_body_leaves_the_front_matter() -> None:
    text = changed(body="\r\nOne.\r\n\r\nTwo.\r\n\r\n")
    assert text == STORY.replace("The closet is a real closet.", "One.\n\nTwo.")


def test_a_body_comes_to_a_file_without_one() -> None:
    assert rewrite("---\nheadline: A\n---", True, {"headline": "A"}, "B") == "---\nheadline: A\n---\nB\n"


def test_carriage_returns_stay_what_they_are() -> None:
    text = "a: 1\r\nb: 2\r\n"
    assert rewrite(text, False, {"a": "1", "c": "3", "b": "5"}) == "a: 1\r\nb: 5\r\nc: 3\r\n"


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("no front matter", 1),
        ("---\na: [b\n---\n", 2),
        ("---\na: 1\na: 2\n---\n", 3),
        ("---\n- a\n---\n", 2),
        ("---\na: &x b\n---\n", 2),
    ],
)
def test_what_cannot_be_read_is_refused_with_its_line(text: str, line: int) -> None:
    with pytest.raises(EditError) as refused:
        read_document(text, True)
    assert refused.value.line == line


def test_unusual_writing_is_refused_and_never_spoilt() -> None:
    with pytest.raises(EditError):
        rewrite("? a\n: b\n? c\n: d\n", False, {"a": "x"})
    with pytest.raises(EditError):
        rewrite("a: 1\n", False, {})


@pytest.mark.parametrize(
    "path", sorted(p for p in CONTENT.rglob("*") if p.suffix in (".md", ".yaml")), ids=lambda path: path.stem
)
def test_every_file_of_the_demonstration_comes_back_as_it_was(path: Path) -> None:
    text, has_body = path.read_text("utf-8"), path.suffix == ".md"
    document = read_document(text, has_body)
    assert rewrite(text, has_body, document.values, document.body) == text
    root, _ = spans("a: b")
    assert root is not None and value_of(root) == {"a": "b"}
