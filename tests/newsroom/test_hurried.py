"""What a hurried hand writes is told by its cause, once, with what to write."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.geography.shapes import read_map
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.records import Finding
from tests.newsroom.whole_station import EPISODE, LISTING, STORY, write_whole

PATH = "stories/2026/coat-closet.md"


def found(root: Path, path: str) -> list[Finding]:
    return [each for each in read_newsroom(root, read_map).findings if each.spot.path == f"content/{path}"]


def front(old: str, new: str) -> str:
    assert old in STORY
    return STORY.replace(old, new, 1)


def row(key: str) -> str:
    return next(line.strip() for line in STORY.splitlines() if line.strip().startswith(f"{key}:"))


@pytest.mark.parametrize(
    ("key", "value", "check", "says"),
    [
        ("deadline", "Ongoing", "unknown-word", "deadline: ongoing"),
        ("deadline", "on-going", "unknown-word", "deadline: ongoing"),
        ("deadline", "2026-13-01", "time", "2026-01-13"),
        ("deadline", "2026-13-15", "time", "YYYY-MM-DD"),
        ("topics", "boats, clothing", "several-topics", "topics: [boats, clothing]"),
        ("topics", "[boats; clothing]", "several-topics", "topics: [boats, clothing]"),
    ],
)
def test_a_value(tmp_path: Path, key: str, value: str, check: str, says: str) -> None:
    told = found(write_whole(tmp_path, {PATH: front(row(key), f"{key}: {value}")}), PATH)
    assert [says in each.instead for each in told if each.check == check] == [True]


@pytest.mark.parametrize(
    ("dates", "days"),
    [
        ("every Sat", "Sa"),
        ("Saturdays", "Sa"),
        ("Mon-Fri", "Mo-Fr"),
        ("[2026-11-27, each Sun]", "Su"),
        ("daily", "Mo-Su"),
    ],
)
def test_days_of_the_week_in_place_of_dates(tmp_path: Path, dates: str, days: str) -> None:
    told = [
        each
        for each in found(write_whole(tmp_path, {PATH: front(row("dates"), f"dates: {dates}")}), PATH)
        if each.check == "time"
    ]
    assert [f'hours: "{days} ' in each.instead for each in told] == [True]


@pytest.mark.parametrize("dates", ["Sat, Dec. 5", "soon", "2026-12-99", "every"])
def test_dates_that_name_more_than_days_of_the_week(tmp_path: Path, dates: str) -> None:
    told = [
        each
        for each in found(write_whole(tmp_path, {PATH: front(row("dates"), f"dates: '{dates}'")}), PATH)
        if each.check == "time"
    ]
    assert told and not any("hours:" in each.instead for each in told)


def test_a_no_break_space_behind_a_key_in_braces(tmp_path: Path) -> None:
    text = front(row("photo"), 'photo: {file:\xa0coat-closet.png, alt: "A rail", credit:\xa0Ada}')
    told = [each for each in found(write_whole(tmp_path, {PATH: text}), PATH) if each.check == "wrong-space"]
    line = text[: text.index("photo:")].count("\n") + 1
    assert [(each.spot.line, each.spot.column) for each in told] == [(line, 14), (line, 54)]
    assert not [each for each in found(tmp_path, PATH) if each.check == "unknown-key"]


def test_a_story_alone_in_a_rundown(tmp_path: Path) -> None:
    text = "---\naired: 2026-11-21\nrundown:\n  - 2026/coat-closet\n---\n"
    told = found(write_whole(tmp_path, {"episodes/2026-11-21.md": text}), "episodes/2026-11-21.md")
    assert [each.instead for each in told] == ["Write: - {story: 2026/coat-closet}"]
    assert "rundown" in EPISODE


def test_a_file_is_not_taken_for_a_host(tmp_path: Path) -> None:
    line = row("video")
    told = found(write_whole(tmp_path, {PATH: front(line, "video: {file: closet.mp4}")}), PATH)
    (address,) = [each for each in told if each.check == "address"]
    assert "https://closet.mp4" not in address.instead


@pytest.mark.parametrize("sign", [";", "\t"])
def test_a_round_up_with_other_signs_between_its_columns(tmp_path: Path, sign: str) -> None:
    name = row("listing").split(": ")[1]
    path = f"listings/{name}"
    (told,) = found(write_whole(tmp_path, {path: LISTING.replace(",", sign)}), path)
    assert "commas" in told.instead


def test_a_round_up_with_capital_headings_is_told_of_each_once(tmp_path: Path) -> None:
    name = row("listing").split(": ")[1]
    path = f"listings/{name}"
    first, rest = LISTING.split("\n", 1)
    told = found(write_whole(tmp_path, {path: f"{first.title()}\n{rest}"}), path)
    assert len(told) == len(first.split(","))


def test_a_station_that_cannot_be_read_has_no_say_in_hosts(tmp_path: Path) -> None:
    root = write_whole(tmp_path, {"station.yaml": "station: ["})
    assert not [each for each in read_newsroom(root, read_map).findings if each.check == "video-host"]


@pytest.mark.parametrize(
    ("old", "new", "line", "check", "says"),
    [
        ("Millrace,Tidewick", "Millrace,Pellam", 2, "town-elsewhere", "the county Tidewick"),
        ("Millrace,", "Milrace,", 2, "town-misspelt", "'Millrace'"),
        ("Band,Pellam Cross,Pellam,2026-12-04,,,,,2026-12-03 12:00 moved indoors", "Boat parade,Sandy End,Tidewick,2026-12-05,17:00,01:00,,,called off", 4, "row-twice", "one of the two"),
    ],
)  # fmt: skip
def test_a_row_of_a_round_up(tmp_path: Path, old: str, new: str, line: int, check: str, says: str) -> None:
    path = f"listings/{row('listing').split(': ')[1]}"
    assert not [each for each in found(write_whole(tmp_path / "right", {}), path) if each.check == check]
    assert old in LISTING
    (told,) = found(write_whole(tmp_path / "wrong", {path: LISTING.replace(old, new)}), path)
    assert (told.check, told.spot.line) == (check, line) and says in told.instead
