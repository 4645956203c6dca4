"""What was pasted or left in a text: one concern for each kind, where it stands; nothing of what may be meant."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.newsroom.records import Spot
from sitegen.proof.copychecks import pasted
from sitegen.proof.copychecks.pasted import _left
from sitegen.proof.copychecks.texts import Text
from tests.counts import tries
from tests.samples.checked_copy import check, checks, story

STORY = "stories/2026/coats.md"


@pytest.mark.parametrize(
    ("body", "name", "at"),
    [
        ('Coats.\n\n<p class="MsoNormal">They hang.</p>', "tag-in-text", "<p class"),
        ("Coats <o:p></o:p> hang.", "tag-in-text", "<o:p>"),
        ("Line one<br>line two", "tag-in-text", "<br>"),
        ("Line one<BR />line two", "tag-in-text", "<BR"),
        ('A <a href="https://example.org/">link</a>.', "tag-in-text", "<a href"),
        ("<!-- ask Ann --> Coats.", "tag-in-text", "<!--"),
        ("They want **50 **coats.", "marks-left-standing", "**50"),
        ("One.\n\n> They want\n> ** 50 coats** now.", "marks-left-standing", "** 50"),
        ("Coats.\n\n#No space heading\n\nMore.", "heading-without-space", "#No"),
        ("##What to bring\nCoats.", "heading-without-space", "##What"),
        ("The closet holds TK coats.", "still-to-come", "TK"),
        ("Coats.\n\nTK\n\nMore.", "still-to-come", "TK"),
        ("Quote [TK] here.", "still-to-come", "TK"),
        ("Coats. TKTK", "still-to-come", "TKTK"),
        ("Coats.\n\nfill in\n", "still-to-come", "fill in"),
        ("Coats.\n\n# fill in: the rest", "still-to-come", "# fill in"),
        ("Coats [fill in] here.", "still-to-come", "[fill in]"),
        ("See [it](https://example.org/a b) now.", "link-left-standing", "[it]"),
        ("See [it] (https://example.org/a) now.", "link-left-standing", "[it]"),
        ("See [a](https://example.org/a), [b](mailto:b@exam ple.org).", "link-left-standing", "[b]"),
        ("Coats hang there.[^1]\n\nMore.", "note-left-standing", "[^1]"),
    ],
)
def test_what_was_left_is_told_where_it_stands(tmp_path: Path, body: str, name: str, at: str) -> None:
    (found,) = check(tmp_path, {STORY: story(body=body)})
    assert (found.check, found.weight) == (name, "concern")
    lines = (tmp_path / found.spot.path).read_text("utf-8").splitlines()
    assert lines[found.spot.line - 1][found.spot.column - 1 :].startswith(at)
    assert found.instead


@pytest.mark.parametrize(
    "body",
    [
        "Coats for children < 5 and adults > 60, as <https://example.org/a> and <coats@example.org> say.",
        "Write `<p>` there, or `**50 **coats`, or `TKs`.",
        "    <p>code</p>\n\n    #No heading",
        "They want **50** coats, and **many **more** hats** too.",
        "Rated ****, that is 4 stars.",
        "He said s**t twice.",
        r"Two \*\*stars** as they are.",
        "#GivingTuesday brings coats.",
        "Write `[it] (https://example.org/a)` or `[^1]` there.",
        "See [it](https://example.org/a), [sic] (as they say) and a[1] (see https://example.org/).",
        "#GivingTuesday",
        "#shoplocal all season",
        "#1 in the region",
        "One.\n#Not a paragraph of its own\ntwo.",
        "# A heading\n\n## Another\n\nText.",
        "Mayor TK said so, and TK Jones, T.K. and the TK-5 and ATK too.",
        "Volunteers fill in for each other; fill in the form, or leave it.",
        "They asked who could\nfill in: nobody.",
    ],
)
def test_what_may_be_meant_is_left_alone(tmp_path: Path, body: str) -> None:
    assert check(tmp_path, {STORY: story(body=body)}) == []


def test_each_kind_is_told_once(tmp_path: Path) -> None:
    body = "<p>One</p> <p>two **a **b and **c **d TK\n\nTK\n\n##A\n\n##B"
    found = checks(check(tmp_path, {STORY: story(body=body)}))
    assert sorted(found) == ["heading-without-space", "marks-left-standing", "still-to-come", "tag-in-text"]


def test_blanks_in_front_matter_are_told_too(tmp_path: Path) -> None:
    found = check(tmp_path, {STORY: story("summary: They want TK coats", headline='"fill in: what happens"')})
    assert checks(found) == ["still-to-come", "still-to-come"]


def test_pages_of_the_station_are_looked_at_too(tmp_path: Path) -> None:
    page = "---\ntitle: About us\nsummary: Who makes it, TK\n---\nThe people.\n\n##Ann Reed\n"
    blank, heading = check(tmp_path, {"pages/about.md": page})
    assert (blank.check, blank.spot.line) == ("still-to-come", 3)
    assert (heading.check, heading.spot.line, heading.spot.column) == ("heading-without-space", 7, 1)


@given(st.text("<>*#pTK/ \n`[](!\\-fill in:", max_size=60))
def test_any_text_can_be_looked_at(body: str) -> None:
    text = Text("The story", body, Spot("f.md", 5, 1), date(2026, 11, 21), "en", body=True)
    found = list(_left(text))
    assert len({each.check for each in found}) == len(found)
    lines = body.split("\n")
    for each in found:
        assert 0 <= each.spot.line - 5 < len(lines)
        assert 1 <= each.spot.column <= len(lines[each.spot.line - 5]) + 1


NEVER = re.compile(r"(?!)")
MARKED = [
    "**", "**50 coats**", "** ", " **", "word", " ", ",", "“", "\n", "\n\n", "> ", "- ", "\\", "`", "*", "<", "[", "]", "(", ")",
    "[it](https://example.org/a)", "[it] (https://example.org/a)", "[it](https://example.org/a b)", "[a `b](www.example.org)", "](mailto:a@b.example)",
]  # fmt: skip


@settings(max_examples=tries(300), deadline=None)
@given(st.lists(st.sampled_from(MARKED), max_size=12).map("".join))
def test_marks_and_links_that_hold_for_certain_are_those_that_a_parse_finds(body: str) -> None:
    text = Text("The story", body, Spot(STORY, 5, 1), date(2026, 11, 21), "en", body=True)
    found = [each.check for each in _left(text)]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pasted, "_STRONG", NEVER)
        patch.setattr(pasted, "_LINK", NEVER)
        assert [each.check for each in _left(text)] == found
