"""What a file with faults takes back by its keys, and what is left of accepted records then."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from sitegen.newsroom.matter import split_matter
from sitegen.newsroom.records import Newsroom, Reading
from sitegen.newsroom.removals import less_removals
from sitegen.newsroom.takedowns import Takedown, takedown_of
from sitegen.site.content import read_content
from tests.samples.station_folder import asking, story, write_folder

PHOTO = "photo: {file: choir.jpg, alt: A choir sings, children: false}\n"
COATS = story(
    PHOTO
    + asking(more="deadline: 2026-12-15")
    + "  - title: Sort coats\n    kind: volunteer\n    deadline: 2026-12-15\n    where:\n      - lowgate-hall\n"
    "      - {name: Quay Bakery, street: 3 Quay Street, town: Lowgate, county: Heron Flats, hours: unknown}"
)
EPISODE = "---\naired: 2026-11-21 18:30\nrundown:\n  - {story: 2026/coats}\n---\n"
PLACE = "places/lowgate-hall.yaml"
FILES = {"stories/2026/coats.md": COATS, "episodes/2026-11-21.md": EPISODE}


def left_after(tmp_path: Path, path: str, old: str, new: str) -> Newsroom:
    """The accepted newsroom less what one edit takes back, which must leave a fault in its file."""
    root = write_folder(tmp_path, FILES)
    (root / "content/photos").mkdir()
    Image.new("RGB", (8, 8)).save(root / "content/photos/choir.jpg")
    before = _read(root)
    assert before.newsroom is not None and not before.faults
    file = root / "content" / path
    text = file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), "utf-8")
    now = _read(root)
    assert now.newsroom is not None
    faulty = {finding.spot.path for finding in now.faults}
    assert f"content/{path}" in faulty
    takedowns = {f"content/{path}": _takedown(file.read_text("utf-8"))}
    return less_removals(
        before.newsroom, now.newsroom, {f"content/{each}" for each in (*FILES, PLACE)}, faulty, takedowns
    )


def _read(root: Path) -> Reading:
    return read_content(root)


def _takedown(text: str) -> Takedown:
    node = split_matter(text if text.startswith("---") else f"---\n{text}---\n").node
    assert node is not None
    return takedown_of(node)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("headline:", "hold: yes\nheadline:"),
        ("headline:", "Hold: true\nheadline:"),
        ("county: Heron Flats", "county: Heron Flat\nhold: true"),
        ("headline:", "withdrawn: yes\nheadline:"),
        ("headline:", "withdrawn: {date: Nov 25, notice: Gone.}\nheadline:"),
        ("county: Heron Flats", "county: Heron Flat\nwithdrawn: {date: 2026-11-25, notice: Gone.}"),
        ("headline:", "embargo: Monday\nheadline:"),
    ],
)
def test_a_story_is_held_whose_own_takedown_cannot_be_read(tmp_path: Path, old: str, new: str) -> None:
    assert left_after(tmp_path, "stories/2026/coats.md", old, new).stories[0].hold


def test_a_notice_that_can_be_read_is_shown(tmp_path: Path) -> None:
    new = "withdrawn: {date: 2026-11-25, notice: Gone.}\ntopics: [4, {a: b}]\nheadline:"
    left = left_after(tmp_path, "stories/2026/coats.md", "headline:", new).stories[0]
    assert left.withdrawn is not None and not left.hold


@pytest.mark.parametrize("no", ["no", "off", "No", '"false "'])
def test_a_no_that_is_misspelt_holds_nothing(tmp_path: Path, no: str) -> None:
    new = f"hold: {no}\nheadlines: none\nheadline:"
    assert not left_after(tmp_path, "stories/2026/coats.md", "headline:", new).stories[0].hold


@pytest.mark.parametrize(
    ("old", "new", "asks", "places"),
    [
        ("    kind: bring", "    kind: bring\n    stopped: now", 1, 2),
        ("    kind: bring", "    kind: bring\n    stopped: {when: Nov 25, say: off}", 1, 2),
        ("    kind: bring", "    kind: brnig\n    stopped: {when: 2026-11-25, say: off}", 1, 2),
        ("Bring a coat\n    kind: bring", "Coats\n    kind: bring\n    stopped: now", 1, 2),
        ("    kind: brin", "    kind: brni", 2, 3),
        ("      - lowgate-hall", "      - {place: lowgate-hall, stopped: full}", 2, 2),
        ("hours: unknown}", "hours: unknown, stopped: full}", 2, 2),
    ],
)
def test_an_ask_or_place_is_left_out_whose_stop_cannot_be_read(
    tmp_path: Path, old: str, new: str, asks: int, places: int
) -> None:
    left = left_after(tmp_path, "stories/2026/coats.md", old, new).stories[0]
    assert len(left.asks) == asks
    assert sum(len(ask.drop_off) for ask in left.asks) == places


def test_an_address_is_withheld_whatever_word_says_so(tmp_path: Path) -> None:
    left = left_after(tmp_path / "a", PLACE, "name:", "address: hidden\nname:")
    assert left.places[0].withheld and left.stories[0].asks[0].drop_off[0].place.withheld
    inline = left_after(
        tmp_path / "b", "stories/2026/coats.md", "hours: unknown}", "hours: unknown, address: hide}"
    )
    assert [entry.place.withheld for entry in inline.stories[0].asks[1].drop_off] == [False, True]


def test_an_episode_is_held(tmp_path: Path) -> None:
    left = left_after(tmp_path, "episodes/2026-11-21.md", "rundown:", "hold: on\nrundown:")
    assert left.episodes[0].hold


@pytest.mark.parametrize(
    ("old", "new", "kept"),
    [
        ("children: false", "children: yes", "children"),
        (PHOTO, "colour: red\n", ""),
        ("    kind: bring", "    kind: brnig", "photo"),
    ],
)
def test_a_photo_of_children_goes_whatever_word_says_so(
    tmp_path: Path, old: str, new: str, kept: str
) -> None:
    photo = left_after(tmp_path, "stories/2026/coats.md", old, new).stories[0].photo
    assert (photo is not None) == bool(kept)
    assert photo is None or photo.children == (kept == "children")
