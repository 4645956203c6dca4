"""What lies in content and nothing reads is told of, with where it belongs."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from sitegen.geography.shapes import read_map
from sitegen.newsroom.folder import read_newsroom, reread_newsroom
from sitegen.newsroom.records import Weight
from tests.newsroom.whole_station import LISTING, STORY, write_whole


def told(root: Path) -> dict[str, str]:
    """What is not read, with what to do instead."""
    found = read_newsroom(root, read_map).findings
    assert all(each.weight is Weight.CONCERN for each in found if each.check == "not-read")
    return {each.spot.path: each.instead for each in found if each.check == "not-read"}


def test_a_whole_station_has_none(tmp_path: Path) -> None:
    assert told(write_whole(tmp_path, {})) == {}


@pytest.mark.parametrize(
    ("path", "told_of", "belongs"),
    [
        ("Stories2/2026/boats.md", "Stories2", "stories/"),
        ("story/2026/boats.md", "story", "stories/"),
        ("photo/boats.jpg", "photo", "photos/"),
        ("boats.md", "boats.md", "stories/"),
        ("hall.yaml", "hall.yaml", "places/"),
        ("boats.JPG", "boats.JPG", "photos/"),
        ("show.vtt", "show.vtt", "captions/"),
        ("fairs.csv", "fairs.csv", "listings/"),
        ("minutes/december.md", "minutes", "out of content/"),
        ("old.geojson", "old.geojson", "out of content/"),
    ],
)
def test_what_lies_beside_the_folders(tmp_path: Path, path: str, told_of: str, belongs: str) -> None:
    found = told(write_whole(tmp_path, {path: "x"}))
    assert list(found) == [f"content/{told_of}"]
    assert belongs in found[f"content/{told_of}"]


@pytest.mark.parametrize(
    "path",
    [
        ".DS_Store",
        "places/Thumbs.db",
        "desktop.ini",
        "stories/2026/~$boats.md",
        "stories/2026/#boats.md#",
        "boats.md~",
    ],
)
def test_what_systems_and_editors_leave_is_nobodys_business(tmp_path: Path, path: str) -> None:
    assert told(write_whole(tmp_path, {path: "x"})) == {}


def test_a_round_up_that_no_story_names(tmp_path: Path) -> None:
    root = write_whole(tmp_path, {"listings/fairs.csv": LISTING})
    assert "listing: fairs.csv" in told(root)["content/listings/fairs.csv"]
    text = STORY.replace("---\n", "---\nlisting: fairs.csv\n", 1)
    assert told(write_whole(tmp_path, {"listings/fairs.csv": LISTING, "stories/2026/fairs.md": text})) == {}


def test_a_round_up_that_has_lost_its_story(tmp_path: Path) -> None:
    path = "content/stories/2026/fairs.md"
    named = STORY.replace("---\n", "---\nlisting: fairs.csv\n", 1)
    root = write_whole(tmp_path, {"listings/fairs.csv": LISTING, "stories/2026/fairs.md": named})
    before = read_newsroom(root, read_map)
    (root / path).write_text(STORY, "utf-8")
    again = reread_newsroom(root, read_map, before, [path])
    assert again is None or again.findings == read_newsroom(root, read_map).findings


def test_a_story_with_faults_may_be_the_one_that_names_it(tmp_path: Path) -> None:
    files: dict[str, str | bytes | None] = {
        "listings/fairs.csv": LISTING,
        "stories/2026/fairs.md": "---\nlisting fairs.csv\n---\n",
    }
    assert told(write_whole(tmp_path, files)) == {}


@pytest.mark.parametrize("folder", ["photos", "captions", "listings"])
def test_a_name_that_no_story_can_write(tmp_path: Path, folder: str) -> None:
    root = write_whole(tmp_path, {})
    (root / "content" / folder).mkdir(exist_ok=True)
    Path(os.fsdecode(os.fsencode(root / "content" / folder) + b"/caf\xe9.jpg")).write_bytes(b"x")
    assert [path.isprintable() for path in told(root)] == [True]


@pytest.mark.parametrize(
    ("name", "wanted"),
    [
        ("boats.docx", "plain text"),
        ("boats.pdf", "plain text"),
        ("boats.md.txt", "boats.md,"),
        ("boats.MD", "boats.md,"),
    ],
)
def test_a_new_name_is_offered_only_to_what_is_text(tmp_path: Path, name: str, wanted: str) -> None:
    assert (
        wanted in told(write_whole(tmp_path, {f"stories/2026/{name}": "x"}))[f"content/stories/2026/{name}"]
    )
