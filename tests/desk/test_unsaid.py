"""What is changed without a word since a build accepted it is told wherever the newsroom looks: the form, the bar, the board."""

from __future__ import annotations

import html
import json
import os
import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from sitegen.site.accepted import Accepted
from sitegen.site.order import look, workshop_for
from tests.desk.filled_form import form_in, opened
from tests.desk.running_desk import Desk, desk_of
from tests.desk.test_board import section
from tests.desk.test_preview import bar_of
from tests.samples.station_folder import asking, story, write_folder

COATS = "content/stories/2026/coats.md"
HALL = "content/places/lowgate-hall.yaml"
FILES = {
    "stories/2026/coats.md": story(asking(more="deadline: 2026-12-15")),
    "stories/2026/hats.md": story(asking(title="Bring a hat", more="deadline: 2026-12-15")),
}
EDIT = "The deadline of 'Bring a coat' was '2026-12-15' and is now '2026-12-18'"


def accept(root: Path) -> None:
    """As a build without faults does. The files are old enough for their states to be believed."""
    for path in (root / "content").rglob("*"):
        if path.is_file():
            os.utime(path, (1_700_000_000, 1_700_000_000))
    sources = look(root, datetime.now(UTC) + timedelta(minutes=1))
    accepted = Accepted(workshop_for(root, None).accepted)
    accepted.begin(sources)
    accepted.finish(root, sources)


def edit(root: Path, path: str, old: str, new: str) -> None:
    text = (root / path).read_text("utf-8")
    assert old in text
    (root / path).write_text(text.replace(old, new), "utf-8")


@pytest.fixture
def root(tmp_path: Path) -> Path:
    accept(write_folder(tmp_path, FILES))
    return tmp_path


@pytest.fixture
def desk(root: Path) -> Iterator[Desk]:
    with desk_of(root) as running:
        yield running


def page(desk: Desk, address: str) -> str:
    answer = desk.ask(address)
    assert answer.status == 200
    return html.unescape(answer.text)


def test_a_later_deadline_is_told_everywhere(root: Path, desk: Desk) -> None:
    for address in ("/_desk/", "/stories/2026/coats/", "/_desk/write/stories/2026/coats.md"):
        assert EDIT not in page(desk, address)
    edit(root, COATS, "2026-12-15", "2026-12-18")
    desk.state.refresh()
    assert EDIT in section(page(desk, "/_desk/"), "concerns")
    assert EDIT in html.unescape(bar_of(desk.ask("/stories/2026/coats/").text))
    assert EDIT in page(desk, "/_desk/write/stories/2026/coats.md")
    assert "was '2026-12-15'" not in page(desk, "/stories/2026/hats/")


def test_a_build_that_accepts_it_ends_it_at_once(root: Path, desk: Desk) -> None:
    edit(root, COATS, "2026-12-15", "2026-12-18")
    desk.state.refresh()
    assert EDIT in page(desk, "/stories/2026/coats/")
    accept(root)
    for address in ("/_desk/", "/stories/2026/coats/", "/_desk/write/stories/2026/coats.md"):
        assert EDIT not in page(desk, address)
    edit(root, COATS, "2026-12-18", "2026-12-20")
    desk.state.refresh()
    assert "was '2026-12-18' and is now '2026-12-20'" in page(desk, "/stories/2026/coats/")


def test_it_is_told_beside_its_field_while_somebody_types(desk: Desk) -> None:
    form = opened(desk, "stories/2026/coats.md")
    check = "/_desk/write/check/stories/2026/coats.md"
    assert "asks/0/deadline" not in json.loads(form.send(desk, "check", check).text)["fields"]
    form.put("asks/0/deadline", "2026-12-18")
    told = json.loads(form.send(desk, "check", check).text)["fields"]
    assert EDIT in html.unescape(told["asks/0/deadline"])


def test_a_correction_typed_with_it_ends_it(desk: Desk) -> None:
    form = opened(desk, "stories/2026/coats.md")
    form.put("asks/0/deadline", "2026-12-18")
    form = form_in(form.send(desk, "add corrections").text)
    form.put("corrections/0/date", "2026-12-02")
    form.put("corrections/0/text", "An earlier version had another last day.")
    check = form.send(desk, "check", "/_desk/write/check/stories/2026/coats.md")
    assert EDIT not in html.unescape(json.loads(check.text)["all"])


def test_the_hours_of_a_shared_place_are_held_against_the_accepted_ones(root: Path, desk: Desk) -> None:
    form = opened(desk, "places/lowgate-hall.yaml")
    form.put("hours", "Mo-Fr 09:00-12:00")
    told = json.loads(form.send(desk, "check", "/_desk/write/check/places/lowgate-hall.yaml").text)["fields"]
    assert "in 2026/coats, 2026/hats" in html.unescape(told["hours"])
    edit(root, HALL, "09:00-17:00", "09:00-12:00")
    desk.state.refresh()
    assert "in 2026/coats, 2026/hats" in html.unescape(bar_of(desk.ask("/places/lowgate-hall/").text))


def test_without_a_build_there_is_nothing_to_hold_it_against(tmp_path: Path) -> None:
    write_folder(tmp_path, FILES)
    with desk_of(tmp_path) as desk:
        form = opened(desk, "stories/2026/coats.md")
        form.put("asks/0/deadline", "2026-12-18")
        told = json.loads(form.send(desk, "check", "/_desk/write/check/stories/2026/coats.md").text)
    assert "asks/0/deadline" not in told["fields"]


def test_a_story_that_is_gone_is_told_on_the_board(root: Path, desk: Desk) -> None:
    (root / COATS).unlink()
    desk.state.refresh()
    assert "The story at /stories/2026/coats/ is no longer there" in section(
        page(desk, "/_desk/"), "concerns"
    )


def test_a_story_that_is_gone_has_no_form_to_lead_to_and_can_be_brought_back(root: Path, desk: Desk) -> None:
    text = (root / COATS).read_text("utf-8")
    form = 'href="/_desk/write/stories/2026/coats.md"'
    there = section_with_links(desk)
    assert form in there and "bring it back" not in there
    (root / COATS).unlink()
    desk.state.refresh()
    gone = section_with_links(desk)
    assert "no longer there" in gone and COATS in gone and form not in gone
    copied = re.search(r"copy <code>([^<]+)</code> to <code>([^<]+)</code>", gone)
    assert copied is not None
    (root / copied[2]).write_bytes((root / copied[1]).read_bytes())
    assert (root / COATS).read_text("utf-8") == text
    desk.state.refresh()
    assert section_with_links(desk) == there


def section_with_links(desk: Desk) -> str:
    """The board's concerns, with their markup."""
    return (
        page(desk, "/_desk/").partition('<section aria-labelledby="concerns">')[2].partition("</section>")[0]
    )
