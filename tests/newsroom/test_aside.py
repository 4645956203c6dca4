"""Comments of a file are found with the fields they are about, and an ask in comments is taken up as it would be by hand."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from sitegen.newsroom.aside import notes, taken_up
from sitegen.newsroom.editing import read_document, yaml_part
from sitegen.newsroom.forms import FORMS
from tests.samples.station_folder import story

ASIDE = """# asks:                        # fill in what is missing, then remove the first two signs of each line
#   - title: Bring a coat
#     kind: give
#     # said at 00:04:06: “So that's a week from tomorrow.”
#     deadline: 2026-12-15
#     # payee: fill in: who receives the money
# also named: Reedham Ferry
"""


DEMONSTRATION = Path(__file__).parents[2] / "content"


def found(front: str) -> list[tuple[tuple[str | int, ...], str, bool]]:
    return [(note.trail, note.text, note.is_to_do) for note in notes(story(front), has_body=True)]


def test_a_comment_is_about_what_stands_before_it_or_below() -> None:
    assert found(
        "town: Lowgate   # fill in: the dateline\n# said at 00:01:02: “We look at #1.”\nreporter: Ada"
    ) == [
        (("town",), "fill in: the dateline", True),
        (("reporter",), "said at 00:01:02: “We look at #1.”", False),
    ]


def test_a_field_in_comments_is_about_that_field() -> None:
    assert found(
        "# summary: fill in: one sentence\n# topics: [a]\n# follows: 2024/coats   # looks like it; remove the sign\nreporter: Ada"
    ) == [
        (("summary",), "fill in: one sentence", True),
        (("follows",), "2024/coats looks like it; remove the sign", True),
    ]


def test_a_comment_in_an_ask_stays_in_it() -> None:
    front = "asks:\n  - title: Go   # fill in: a few words\n    kind: go\n    # look: which Sunday\n    dates: [2026-12-06]\n    # confirmed: {date: 2026-11-20}   # fill in: when\n    where:\n      # said there\n      - lowgate-hall\n# organizations: The Friends\n# at the end"
    assert found(front) == [
        (("asks", 0, "title"), "fill in: a few words", True),
        (("asks", 0, "dates"), "look: which Sunday", True),
        (("asks", 0, "confirmed"), "fill in: when", True),
        (("asks", 0, "where", 0), "said there", False),
        ((), "organizations: The Friends", False),
        ((), "at the end", False),
    ]


def test_signs_inside_texts_are_no_comments() -> None:
    assert found('summary: "No # here"\nreporter: "a #b"\ntopics: [coats]') == []


def test_an_ask_in_comments_is_taken_up_with_its_own_comments() -> None:
    assert [note.text for note in notes(story(ASIDE), has_body=True)] == ["also named: Reedham Ferry"]
    taken = taken_up(story(ASIDE), has_body=True)
    assert taken is not None
    assert read_document(taken, has_body=True).values["asks"] == (
        {"title": "Bring a coat", "kind": "give", "deadline": "2026-12-15"},
    )
    assert "    # said at 00:04:06: “So that's a week from tomorrow.”\n    deadline: 2026-12-15\n" in taken
    assert "# asks" not in taken and "first two signs" not in taken
    assert "\n# also named: Reedham Ferry\n" in taken


def test_an_example_a_second_list_and_what_cannot_be_read_are_left_alone() -> None:
    example = "# asks:                        # nothing to do was heard; if there is something, write it here\n#   - title: Bring a winter coat"
    assert taken_up(story(example), has_body=True) is None
    assert found(example) == []
    assert taken_up(story(ASIDE + "asks: []"), has_body=True) is None
    assert taken_up(story(ASIDE.replace("#     kind: give", "#   kind: [")), has_body=True) is None


@pytest.mark.parametrize("kind", FORMS)
def test_no_word_of_a_file_is_taken_for_a_comment(kind: str) -> None:
    """Held against the tokens of YAML's own reader, which passes over comments."""
    form = FORMS[kind]
    files = sorted((DEMONSTRATION / form.folder).rglob(f"*{form.suffix}"))
    assert files
    for file in files:
        text = file.read_text("utf-8")
        start, end = yaml_part(text, form.has_body)
        lines = text[start:end].split("\n")
        seen = set[int]()
        for token in yaml.scan(text[start:end]):
            if isinstance(token, yaml.ScalarToken):
                seen |= set(range(token.start_mark.line, token.end_mark.line + 1))
        for note in notes(text, form.has_body):
            line = text.split("\n")[note.line - 1]
            assert "#" in line and note.text.split(" ")[-1] in line, (file, note)
        bare = {number for number, line in enumerate(lines) if line.lstrip().startswith("#")} - seen
        before = text.count("\n", 0, start)
        told = {note.line - 1 - before for note in notes(text, form.has_body)}
        assert {number for number in told if lines[number].lstrip().startswith("#")} <= bare
