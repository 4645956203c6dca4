"""Reading some files again gives what reading everything would."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from sitegen.geography.shapes import read_map
from sitegen.newsroom.folder import read_newsroom, reread_newsroom
from sitegen.newsroom.records import Reading
from tests.samples.station_folder import PLACE, asking, story, write_folder

GOOD = {
    "stories/2026/one.md": story(asking()),
    "stories/2026/two.md": story("follows: 2026/one", "See [one](2026/one)."),
    "stories/2026/three.md": story("say_on_air: three"),
    "episodes/2026-11-21.md": "---\naired: 2026-11-21 18:30\nrundown:\n  - {story: 2026/one}\n---\n",
}
EPISODE = GOOD["episodes/2026-11-21.md"]
OTHERS = {
    "places/lowgate-hall.yaml": (
        PLACE.replace("Lowgate Hall", "The Old Hall"), PLACE + "phone: 237-555-0101\n", PLACE + "closed: [2026-12-12]\n", PLACE.replace("Heron Flats", "Nowhere"), "name: [",
    ),
    "episodes/2026-11-21.md": (
        EPISODE.replace("2026/one}", "2026/two}\n  - {story: 2026/one}"), EPISODE.replace("18:30", "19:30"), EPISODE.replace("one", "nobody"), EPISODE.replace("aired", "hold: true\naired"), "",
    ),
    "pages/about.md": ("---\ntitle: About\n---\nOf [one](2026/one).\n", "---\ntitle: About\n---\nOf [one](2026/nowhere).\n", "---\ntitel: About\n---\n"),
}  # fmt: skip
ALL = {"places/lowgate-hall.yaml": PLACE, **GOOD, "pages/about.md": "---\ntitle: About us\n---\nAbout.\n"}
TEXTS = (
    story(asking(title="Bring a hat")),
    story("hold: true", "Another [link](2026/three) and [a bad one](2026/nowhere)."),
    story("follows: 2026/nobody"),
    story("follows: 2026/three"),
    story("county_: x"),
    story(county="Nowhere"),
    "---\nheadline: [\n---\n",
    "no front matter at all",
    "",
    story("photo: {file: none.jpg, alt: A}"),
    story('say_on_air: "a b"'),
)


def read(root: Path) -> Reading:
    return read_newsroom(root, read_map)


def test_any_walk_of_edits_gives_the_reading_of_everything(tmp_path: Path, chance: random.Random) -> None:
    root = write_folder(tmp_path, ALL)
    reading = read(root)
    names = list(ALL)
    told = 0
    for _ in range(90):
        edited = chance.sample(names, chance.choice((1, 1, 2)))
        for name in edited:
            texts = TEXTS if name.startswith("stories/") else OTHERS.get(name, ())
            (root / "content" / name).write_text(chance.choice((*texts, ALL[name])), "utf-8")
        again = reread_newsroom(root, read_map, reading, {f"content/{name}" for name in edited})
        whole = read(root)
        if again is not None:
            told += 1
            assert again == whole
        reading = whole
    assert told > 5


@pytest.mark.parametrize("name", ["places/lowgate-hall.yaml", "episodes/2026-11-21.md", "pages/about.md"])
def test_other_files_are_read_alone_too(tmp_path: Path, name: str) -> None:
    root = write_folder(tmp_path, ALL)
    before = read(root)
    (root / "content" / name).write_text(OTHERS[name][0], "utf-8")
    again = reread_newsroom(root, read_map, before, {f"content/{name}"})
    assert again is not None
    assert again == read(root) != before


def test_a_file_of_another_kind_is_left_to_the_whole(tmp_path: Path) -> None:
    root = write_folder(tmp_path, ALL)
    for path in (
        "content/station.yaml",
        "content/photos/a.jpg",
        "content/captions/a.vtt",
        "content/listings/a.csv",
    ):
        assert reread_newsroom(root, read_map, read(root), {path}) is None


@pytest.mark.parametrize(
    "text",
    [story("translates: 2026/two\nlanguage: es"), story("listing: none.csv")],
    ids=["a translation rests on two stories", "a listing that is not there"],
)
def test_what_rests_on_other_files_is_right_or_left_to_the_whole(tmp_path: Path, text: str) -> None:
    root = write_folder(tmp_path, GOOD)
    before = read(root)
    (root / "content/stories/2026/one.md").write_text(text, "utf-8")
    assert reread_newsroom(root, read_map, before, {"content/stories/2026/one.md"}) in (None, read(root))


def test_the_original_of_a_translation_is_not_read_alone(tmp_path: Path) -> None:
    root = write_folder(
        tmp_path, {**GOOD, "stories/2026/uno.md": story("translates: 2026/one\nlanguage: es")}
    )
    before = read(root)
    (root / "content/stories/2026/one.md").write_text(story("language: es"), "utf-8")
    assert reread_newsroom(root, read_map, before, {"content/stories/2026/one.md"}) is None


def test_a_fault_in_a_place_leaves_it_to_the_whole(tmp_path: Path) -> None:
    root = write_folder(tmp_path, {**GOOD, "places/broken.yaml": "name: [\n"})
    before = read(root)
    assert before.faults
    assert reread_newsroom(root, read_map, before, {"content/stories/2026/three.md"}) is None


def test_a_story_that_was_not_asked_for_is_still_known(tmp_path: Path) -> None:
    root = write_folder(tmp_path, GOOD)
    episode = "content/episodes/2026-11-21.md"
    for only in (frozenset({episode}), frozenset({episode, "content/stories/2026/two.md"})):
        reading = read_newsroom(root, read_map, only=only)
        assert not reading.faults
        assert reading.newsroom is not None and len(reading.newsroom.stories) == len(only) - 1
