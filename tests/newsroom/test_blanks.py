"""A value that must be written and is not: of a story on hold it is told, and keeps no other copy from going out."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.newsroom.drafting import draft
from sitegen.newsroom.records import Weight
from sitegen.newsroom.revival import revived, revived_path
from sitegen.site.content import read_content
from tests.samples.station_folder import asking, story, write_folder

PATH = "stories/2026/a.md"
PLACED = "{name: Barn, town: Lowgate, county: Heron Flats, hours: unknown}"
BLANKS = {
    "headline": ("headline: A headline", "headline:"),
    "county": ("county: Heron Flats", "county:"),
    "aired": ("aired: 2026-11-21", "aired:"),
    "title": ("title: Bring a coat", "title:   # fill in"),
    "kind": ("kind: bring", "kind:"),
    "deadline": ("deadline: 2026-12-15", "deadline:"),
    "check_again_by": ("deadline: 2026-12-15", "deadline: ongoing\n    check_again_by:"),
    "place": ("[lowgate-hall]", "   # fill in"),
    "hours": ("[lowgate-hall]", f"[{PLACED.replace('unknown', '')}]"),
    "consent": ("[lowgate-hall]", f"[{PLACED.replace('}', ', home: {consent: }}')}]"),
    "goal": ("    where:", "    goal: {number: , unit: coats}\n    where:"),
    "confirmed": ("    where:", "    confirmed: {date: }\n    where:"),
    "contact": ("    where:", "    contact: {phone: }\n    where:"),
    "photo": ("asks:", "photo: {file: }\nasks:"),
}


@pytest.mark.parametrize("name", BLANKS)
def test_a_blank_stops_a_build_only_once_its_story_is_not_on_hold(name: str, tmp_path: Path) -> None:
    before, blank = BLANKS[name]
    text = story(asking())
    assert before in text
    text = text.replace(before, blank, 1)
    reading = read_content(write_folder(tmp_path, {PATH: text.replace("---\n", "---\nhold: true\n", 1)}))
    assert reading.newsroom is not None and [each.id for each in reading.newsroom.stories] == ["2026/a"]
    assert [(each.weight, each.check) for each in reading.findings] == [
        (Weight.CONCERN, "missing-while-held")
    ]
    told = [(each.weight, each.check) for each in read_content(write_folder(tmp_path, {PATH: text})).findings]
    assert told == [(Weight.FAULT, "home-without-consent" if name == "consent" else "missing")]


def test_what_is_wrong_is_a_fault_on_hold_too(tmp_path: Path) -> None:
    text = story("hold: true\n" + asking(more="deadline: soon"))
    assert read_content(write_folder(tmp_path, {PATH: text})).faults


def test_a_date_that_lacks_its_year_is_guessed_from_no_day_that_nobody_wrote(tmp_path: Path) -> None:
    text = story("hold: true\n" + asking(more="deadline: December 15")).replace("aired: 2026-11-21", "aired:")
    (fault,) = read_content(write_folder(tmp_path, {PATH: text})).faults
    assert "2026" not in fault.instead


def test_a_new_story_and_a_revived_one_keep_nothing_from_going_out(tmp_path: Path) -> None:
    root = write_folder(tmp_path, {PATH: story(asking(more="deadline: 2026-12-15\ngoal: {number: 4}"))})
    newsroom = read_content(root).newsroom
    assert newsroom is not None
    path, text = draft(
        "story", {"headline": "Skates for the pond", "aired": "2026-12-19", "kind": "bring"}, newsroom
    )
    (root / path).write_text(text, "utf-8")
    earlier = newsroom.stories[0]
    again = root / revived_path(earlier, None)
    again.parent.mkdir()
    again.write_text(revived(earlier, newsroom, "", ""), "utf-8")
    reading = read_content(root)
    assert reading.faults == () and reading.newsroom is not None
    assert [each.hold for each in reading.newsroom.stories] == [False, True, True]
