"""What is taken back although other copy has faults: pictures, captions and round-ups whose files are gone, or that another stands for."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image

from sitegen.newsroom.records import Newsroom
from sitegen.newsroom.removals import less_removals
from sitegen.site.content import read_content
from tests.samples.station_folder import STATION, story, write_folder

STORY = "content/stories/2026/coats.md"
PHOTO, POSTER = "content/photos/rail.png", "content/photos/poster.png"
CAPTIONS, LISTING = "content/captions/coats.vtt", "content/listings/parades.csv"
ALL = {"photo", "video", "poster", "captions", "listing"}
FILES = {
    "stories/2026/coats.md": story(
        "photo: {file: rail.png, alt: A rail of coats, credit: A. Quill}\n"
        "video: {file: https://video.example.org/coats.mp4, captions: coats.vtt, poster: poster.png}\n"
        "listing: parades.csv"
    ),
    "captions/coats.vtt": "WEBVTT\n\n00:00:01.000 --> 00:00:04.000\nCoats.\n",
    "listings/parades.csv": "what,town,county,date\nParade,Lowgate,Heron Flats,2026-12-05\n",
}


@pytest.fixture
def root(tmp_path: Path) -> Path:
    root = write_folder(tmp_path, FILES, STATION + "media_host: https://video.example.org\n")
    (root / "content/photos").mkdir()
    draw(root / PHOTO, "red")
    draw(root / POSTER, "blue")
    return root


def draw(path: Path, colour: str) -> None:
    Image.new("RGB", (1600, 900), colour).save(path)


def left(root: Path, change: Callable[[], object]) -> set[str]:
    """What the story still has of its files after a change, by their kinds."""
    before = read_content(root)
    assert not before.faults and before.newsroom is not None
    assert _has(before.newsroom) == ALL
    change()
    after, there = read_content(root), _files(root)
    assert after.newsroom is not None
    faulty = frozenset(finding.spot.path for finding in after.faults)
    return _has(less_removals(before.newsroom, after.newsroom, there, faulty, {}))


def _files(root: Path) -> set[str]:
    return {path.relative_to(root).as_posix() for path in root.rglob("*") if path.is_file()}


def _has(newsroom: Newsroom) -> set[str]:
    (told,) = newsroom.stories
    video = told.video
    parts = {
        "photo": told.photo,
        "video": video,
        "poster": video and video.poster,
        "captions": video and video.captions,
        "listing": told.listing,
    }
    return {name for name, part in parts.items() if part}


@pytest.mark.parametrize(
    ("path", "gone"),
    [(PHOTO, {"photo"}), (POSTER, {"poster"}), (CAPTIONS, {"captions"}), (LISTING, {"listing"})],
)
@pytest.mark.parametrize("is_broken", [False, True])
def test_what_lay_in_a_deleted_file_is_taken_back(
    root: Path, path: str, gone: set[str], is_broken: bool
) -> None:
    def delete() -> None:
        if is_broken:  # its story cannot be read, either
            (root / STORY).write_text("no front matter", "utf-8")
        (root / path).unlink()

    assert left(root, delete) == ALL - gone


@pytest.mark.parametrize("path", [PHOTO, POSTER, CAPTIONS, LISTING, STORY])
def test_what_only_cannot_be_read_stays(root: Path, path: str) -> None:
    assert left(root, lambda: (root / path).write_bytes(b"\xff\xfe\xfd")) == ALL


@pytest.mark.parametrize(
    ("old", "new", "gone"),
    [
        ("rail.png", "poster.png", {"photo"}),
        ("poster: poster.png", "poster: rail.png", {"poster"}),
        (", poster: poster.png", "", {"poster"}),
        ("coats.mp4", "gloves.mp4", {"video", "poster", "captions"}),
        ("https://video.example.org/coats.mp4", "http//video", set()),
        ("A rail of coats", "Many coats", set()),
    ],
)
def test_a_picture_or_video_in_whose_place_another_stands_is_taken_back(
    root: Path, old: str, new: str, gone: set[str]
) -> None:
    path = root / STORY
    text = path.read_text("utf-8")
    assert left(root, lambda: path.write_text(text.replace(old, new), "utf-8")) == ALL - gone


def test_a_picture_is_its_bytes(root: Path) -> None:
    path = root / STORY
    text = path.read_text("utf-8").replace("rail.png", "coats.png")

    def rename() -> None:
        (root / PHOTO).rename(root / "content/photos/coats.png")
        path.write_text(text, "utf-8")

    assert left(root, rename) == ALL


def test_other_bytes_under_the_same_name_are_another_picture(root: Path) -> None:
    assert left(root, lambda: draw(root / PHOTO, "green")) == ALL - {"photo"}
