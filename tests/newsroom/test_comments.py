"""Words behind a # that their writer did not mean as a comment: told where they stand, and only they."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.geography.shapes import read_map
from sitegen.newsroom.comments import words_in_comments
from sitegen.newsroom.drafting import draft
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.nodes import Problem, compose
from sitegen.newsroom.records import Weight
from tests.newsroom.whole_station import STORY, write_whole


def told(text: str) -> list[Problem]:
    node, problems = compose(text)
    assert node is not None and not problems
    return words_in_comments(node, text)


@pytest.mark.parametrize(
    ("text", "line", "column", "instead"),
    [
        ("headline: We need 50 #1 coats\n", 1, 22, '"We need 50 #1 coats"'),
        ("town: Millrace\nsummary: Room 5 # ask\n", 2, 17, '"Room 5 # ask"'),
        ("headline: #1 coats\n", 1, 11, '"#1 coats"'),
        ("headline: Coats   #WarmUp\n", 1, 19, '"Coats #WarmUp"'),
        ("asks:\n  - title: Bring a coat\n    accepts:\n      - size #4 and up\n", 4, 14, '"size #4 and up"'),
        ("photo: {\n  alt: Rail #2 in the hall,\n}\n", 2, 13, "in quotes;"),
        (
            "summary: A long text\n  that goes on\n\n  to room #5\nnote: x\n",
            4,
            11,
            '"A long text that goes on',
        ),
        ("contact:\n  phone: 237-555-0142 #3\n", 2, 23, '"237-555-0142 #3"'),
    ],
)
def test_lost_words_are_told_where_they_begin(text: str, line: int, column: int, instead: str) -> None:
    (found,) = told(text)
    assert (found.line, found.column) == (line, column)
    assert instead in found.instead.replace("\\n", " ")


@pytest.mark.parametrize(
    "text",
    [
        "headline: We need 50 coats   # a suggestion, from what was said\n",
        "headline: We need 50 coats  # a suggestion\n",
        "headline:   # fill in: what happens; such as Coats\nsummary: # ask them\n",
        'headline: "We need 50 #1 coats" #later\n',
        "headline: 'Room 5' # ask\n",
        "headline: We need 50#1 coats\n",
        "headline: We need 50 coats  ## a note\n",
        "aired: 2026-11-21 #as said\nhold: true #until noon\n",
        "desk:\n  note: call Ann #2\n",
        "summary: |\n  Room 5 # ask\n",
        "# headline: We need 50 #1 coats\nheadline: Coats\n",
    ],
)
def test_a_comment_on_purpose_is_left_alone(text: str) -> None:
    assert told(text) == []


def test_the_concern_comes_with_the_file(tmp_path: Path) -> None:
    text = STORY.replace("headline: ", "headline: We need 50 #1 coats for ", 1)
    place = "places/quay-bakery.yaml"
    bakery = 'name: Quay Bakery #2\ntown: Millrace\ncounty: Tidewick\nhours: "Mo-Fr 09:00-17:00"\n'
    reading = read_newsroom(
        write_whole(tmp_path, {"stories/2026/coat-closet.md": text, place: bakery}), read_map
    )
    found = {
        (finding.spot.path, finding.spot.line): finding.weight
        for finding in reading.findings
        if finding.check == "words-in-comment"
    }
    line = text[: text.index("headline:")].count("\n") + 1
    assert found == {
        ("content/stories/2026/coat-closet.md", line): Weight.CONCERN,
        (f"content/{place}", 1): Weight.CONCERN,
    }


def test_new_files_raise_nothing(tmp_path: Path) -> None:
    reading = read_newsroom(write_whole(tmp_path, {}), read_map)
    assert reading.newsroom is not None
    for what, answers in (
        ("story", {"headline": "Room #5 wants coats", "aired": "2026-12-05", "kind": "bring"}),
        ("story", {"follows": "2025/coat-closet", "aired": "2027-11-20"}),
        ("place", {"name": "Bakery #2", "street": "4 Hill Road #2"}),
    ):
        text = draft(what, answers, reading.newsroom)[1].split("---\n")
        assert told(text[1] if len(text) > 1 else text[0]) == []
