"""Laws of the form: what stands in it and what the file says are the same thing, and of two people's changes none is lost."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.desk.write.entered import (
    Entered,
    Row,
    entered_of,
    is_blank,
    names,
    posted,
    read_text,
    shown,
    wanted_of,
)
from sitegen.desk.write.merging import Side, matched, merge
from sitegen.newsroom.editing import Item, Trail, plain, read_document, rewrite
from sitegen.newsroom.forms import FORMS, Entry, Form, Input, form_for
from sitegen.newsroom.spans import Value
from tests.samples.written_yaml import values as any_value

DEMONSTRATION = Path(__file__).parents[2] / "content"
FILES = [
    path
    for path in sorted(DEMONSTRATION.rglob("*.*"))
    if form_for(f"content/{path.relative_to(DEMONSTRATION).as_posix()}")
]

texts = st.sampled_from(
    ("a", "no", "07", "2026-12-15", "a: b", "a, b", "Mo-Fr 09:00-17:00", "true", "[x]", "it's", "#1", "é")
)


@st.composite
def records(draw: st.DrawFn, fields: tuple[Entry, ...], odd: bool = True) -> dict[str, Value]:
    """A record as somebody may write it: most fields as they should be, some as they should not."""
    chosen = draw(st.lists(st.sampled_from(fields), unique_by=lambda entry: entry.key, max_size=5))
    found: dict[str, Value] = {}
    for entry in chosen:
        if odd and draw(st.integers(0, 9)) == 0:
            found[entry.key] = draw(any_value(2))
        elif entry.input is Input.GROUP:
            found[entry.key] = draw(records(entry.fields, odd)) or None
        elif entry.input is Input.GROUPS:
            rows = draw(st.lists(records(entry.fields, odd), max_size=3))
            found[entry.key] = tuple(row for row in rows if row) or None
            if entry.fields[0].input is Input.PLACE and draw(st.booleans()):
                found[entry.key] = (*(row for row in rows if row), "lowgate-hall")
        elif entry.input in (Input.LIST, Input.COUNTIES):
            found[entry.key] = draw(st.one_of(texts, st.lists(texts, min_size=1, max_size=3).map(tuple)))
        elif entry.input is Input.POSITION:
            found[entry.key] = ("34.5", "-60.5")
        elif entry.input is Input.MAP:
            found[entry.key] = draw(st.one_of(texts, st.dictionaries(texts, texts, min_size=1, max_size=2)))
        else:
            found[entry.key] = draw(st.one_of(texts, st.none()))
    return found


stories = records(FORMS["story"].fields)
usual_stories = records(FORMS["story"].fields, odd=False)
"""With nothing that the form does not know, for that stays whoever removes what is around it."""


def sent(fields: tuple[Entry, ...], entered: Entered) -> list[tuple[str, str]]:
    """The pairs that a browser sends for what stands in a form."""
    pairs: list[tuple[str, str]] = []
    by_name = {name: trail for trail, name in names(fields, entered)}

    def walk(fields: tuple[Entry, ...], entered: Entered, prefix: str) -> None:
        for entry in fields:
            held = entered.get(entry.key)
            name = f"{prefix}{entry.key}"
            if isinstance(held, dict):
                walk(entry.fields, held, name + "/")
            elif isinstance(held, list):
                pairs.append((name, ""))
                for number, row in enumerate(held):
                    pairs.append((f"{name}/{number}/was", "" if row.was is None else str(row.was)))
                    walk(entry.fields, row.fields, f"{name}/{number}/")
            elif isinstance(held, str) and entry.input is Input.POSITION:
                lines = held.split("\n") if held else ["", ""]
                pairs.extend(zip((f"{name}/latitude", f"{name}/longitude"), lines, strict=True))
            elif isinstance(held, str) and entry.input is Input.COUNTIES:
                pairs.append((name, ""))
                # Ticked boxes are sent in the page's order.
                pairs.extend((name, line) for line in sorted(held.split("\n")) if line)
            elif isinstance(held, str):
                assert name in by_name
                pairs.append((name, held.replace("\n", "\r\n")))

    walk(fields, entered, "")
    return pairs


@given(stories)
def test_what_is_not_touched_says_what_it_said(record: Mapping[str, Value]) -> None:
    fields = FORMS["story"].fields
    entered = entered_of(fields, record)
    assert plain(wanted_of(fields, record, entered)) == record
    again = posted(fields, sent(fields, entered))
    assert plain(wanted_of(fields, record, again)) == record


@given(usual_stories, usual_stories)
def test_a_form_filled_in_by_hand_reads_back_as_it_stands(
    record: Mapping[str, Value], other: Mapping[str, Value]
) -> None:
    """Whatever one form shows can be typed into another."""
    fields = FORMS["story"].fields
    typed = new(entered_of(fields, other))
    wanted = plain(wanted_of(fields, {}, typed))
    assert isinstance(wanted, Mapping)
    assert entered_words(entered_of(fields, wanted)) == entered_words(typed)


def new(entered: Entered) -> Entered:
    """The same, typed into an empty form."""
    found: Entered = {}
    for key, held in entered.items():
        if isinstance(held, dict):
            found[key] = new(held)
        elif isinstance(held, list):
            found[key] = [Row(new(row.fields)) for row in held]
        else:
            found[key] = held
    return found


def entered_words(entered: Entered) -> list[tuple[str, object]]:
    """What stands in the fields that are not empty; entries that are empty are none."""
    found: list[tuple[str, object]] = []
    for key, held in sorted(entered.items()):
        if isinstance(held, dict):
            found += [(f"{key}/{name}", words) for name, words in entered_words(held)]
        elif isinstance(held, list):
            rows = [entered_words(row.fields) for row in held if not is_blank(Row(row.fields))]
            found += [(key, rows)] if rows else []
        elif held.strip():
            found.append((key, [" ".join(line.split()) for line in held.split("\n") if line.strip()]))
    return found


@pytest.mark.parametrize("path", FILES[::7], ids=lambda path: path.stem)
def test_names_lead_to_what_the_file_says(path: Path) -> None:
    form = form_for(f"content/{path.relative_to(DEMONSTRATION).as_posix()}")
    assert form is not None
    values = read_document(path.read_text("utf-8"), form.has_body).values
    for trail, name in names(form.fields, entered_of(form.fields, values)):
        assert name.split("/") == [str(step) for step in trail]
        at: Value = values
        for step in trail[:-1]:
            at = at.get(step) if isinstance(at, Mapping) and isinstance(step, str) else at[step] if isinstance(at, tuple) and isinstance(step, int) else None  # fmt: skip
        assert at is None or isinstance(at, (Mapping, tuple, str))


def test_blank_entries_do_not_shift_names() -> None:
    fields = FORMS["story"].fields
    entered = entered_of(fields, {"asks": ({"title": "A"}, {"title": "B"})})
    asks = entered["asks"]
    assert isinstance(asks, list)
    asks.insert(1, Row({"title": ""}))
    by_trail: dict[Trail, str] = dict(names(fields, entered))
    assert by_trail["asks", 1, "title"] == "asks/2/title"


@pytest.mark.parametrize(
    ("input", "text", "value"),
    [
        (Input.LINE, "  a   b ", "a b"), (Input.LINE, " ", None), (Input.LIST, "a\r\n\r\n b \r\nc", ("a", "b", "c")), (Input.LIST, "a", ("a",)),
        (Input.MAP, "2026-12-12: 08:00-12:00\nx: y: z", {"2026-12-12": "08:00-12:00", "x": "y: z"}), (Input.MAP, "checked", "checked"),
        (Input.COUNTIES, "Tidewick", "Tidewick"), (Input.COUNTIES, "Tidewick\nPellam", ("Tidewick", "Pellam")), (Input.POSITION, "1\n2", ("1", "2")),
    ],
)  # fmt: skip
def test_what_is_typed_becomes_what_is_written(input: Input, text: str, value: Value) -> None:
    assert read_text(Entry("x", "X", input), text) == value
    if value is not None:
        again = shown(Entry("x", "X", input), value)
        assert again is not None and read_text(Entry("x", "X", input), again) == value


# --- two people ---------------------------------------------------------------------------------


def settled(
    form: Form,
    opened: Mapping[str, Value],
    theirs: Mapping[str, Value],
    mine: Mapping[str, Value],
    side: Side,
) -> tuple[Value, list[str]]:
    """(what comes out, names of what both changed) when every choice falls to one side."""
    first = merge(form.fields, (opened, ""), (theirs, ""), (mine, ""), {})
    choices = {each.name: each.side or side for each in first.differences}
    result = merge(form.fields, (opened, ""), (theirs, ""), (mine, ""), choices)
    assert result.is_decided
    return plain(result.wanted), [each.name for each in first.differences if each.is_both]


@given(usual_stories, usual_stories)
def test_where_one_side_changed_nothing_the_other_is_kept(
    opened: Mapping[str, Value], changed: Mapping[str, Value]
) -> None:
    form = FORMS["story"]
    theirs, both = settled(form, opened, changed, opened, Side.MINE)
    assert both == [] and theirs == changed
    known = {entry.key for entry in form.fields}
    assert set(changed) <= known
    mine, both = settled(form, opened, opened, changed, Side.THEIRS)
    assert both == [] and without_nothing(mine) == without_nothing(changed)


@given(stories, stories)
def test_the_same_change_twice_is_no_difference(
    opened: Mapping[str, Value], changed: Mapping[str, Value]
) -> None:
    scalars = {key: value for key, value in changed.items() if isinstance(value, str)}
    both = {**opened, **scalars}
    result = merge(FORMS["story"].fields, (opened, "a"), (both, "b"), (both, "b"), {})
    assert result.differences == [] and plain(result.wanted) == both and result.body == "b"


@given(st.dictionaries(st.sampled_from(("headline", "summary", "town", "reporter")), texts), st.data())
def test_no_change_of_either_side_is_lost_unseen(opened: dict[str, str], data: st.DataObject) -> None:
    changes = st.dictionaries(st.sampled_from(("headline", "summary", "town", "reporter")), texts)
    theirs, mine = {**opened, **data.draw(changes)}, {**opened, **data.draw(changes)}
    result = merge(FORMS["story"].fields, (opened, ""), (theirs, ""), (mine, ""), {})
    told = {each.name: each for each in result.differences}
    for key in theirs.keys() | mine.keys():
        if theirs.get(key) != mine.get(key):
            assert key in told
            both = theirs.get(key) != opened.get(key) and mine.get(key) != opened.get(key)
            assert (told[key].side is None) == both
        else:
            assert key not in told


def without_nothing(value: Value) -> Value:
    """Without keys that say nothing: whether they are written makes no difference."""
    if isinstance(value, Mapping):
        return {
            key: rest for key, each in value.items() if (rest := without_nothing(each)) not in (None, {}, ())
        }
    if isinstance(value, tuple):
        return tuple(rest for each in value if (rest := without_nothing(each)) not in (None, {}, ()))
    return value


def test_entries_are_found_again_by_what_they_are_called() -> None:
    a, b, c = {"title": "A", "x": "1"}, {"title": "B"}, {"title": "C"}
    assert matched((a, b), (b, a)) == [1, 0]
    assert matched((a, b), (c, b, {"title": "A", "x": "2"})) == [None, 1, 0]
    assert matched((a, b), ({"title": "Z"}, b)) == [0, 1]
    assert matched((a, b), (b,)) == [1]


def test_what_both_added_alike_stands_there_once() -> None:
    added = {"asks": ({"title": "A"}, {"title": "B"})}
    result = merge(FORMS["story"].fields, ({"asks": ({"title": "A"},)}, ""), (added, ""), (added, ""), {})
    assert result.differences == [] and plain(result.wanted) == added


@pytest.mark.parametrize("removed_by", ["theirs", "mine"])
def test_what_one_removed_and_the_other_changed_is_asked_about(removed_by: str) -> None:
    asks = ({"title": "A"}, {"title": "B"})
    fewer, changed = {"asks": (asks[0],)}, {"asks": (asks[0], {"title": "B", "cost": "free"})}
    opened = {"asks": asks}
    theirs, mine = (fewer, changed) if removed_by == "theirs" else (changed, fewer)
    wanted = {"asks": tuple(Item(value, number) for number, value in enumerate(mine["asks"]))}
    result = merge(FORMS["story"].fields, (opened, ""), (theirs, ""), (wanted, ""), {})
    assert [each.side for each in result.differences] == [None]


def test_a_settled_file_keeps_its_comments() -> None:
    form = FORMS["story"]
    text = "---\nheadline: A  # said so\nasks:\n  # first\n  - title: One\n    kind: bring\n---\n\nBody.\n"
    values = read_document(text, True).values
    result = merge(
        form.fields,
        ({}, ""),
        (values, "Body."),
        ({**values, "headline": "B"}, "Body."),
        {"headline": Side.MINE},
    )
    assert rewrite(text, True, result.wanted, result.body, form.layout) == text.replace("A  #", "B  #")
