"""Reading some story files again gives what reading everything would."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from sitegen.geography.shapes import read_map
from sitegen.newsroom.folder import read_newsroom, reread_stories
from sitegen.newsroom.records import Reading
from tests.samples.station_folder import asking, story, write_folder

GOOD = {
    "stories/2026/one.md": story(asking()),
    "stories/2026/two.md": story("follows: 2026/one", "See [one](2026/one)."),
    "stories/2026/three.md": story("say_on_air: three"),
    "episodes/2026-11-21.md": "---\naired: 2026-11-21 18:30\nrundown:\n  - {story: 2026/one}\n---\n",
}
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
    root = write_folder(tmp_path, GOOD)
    reading = read(root)
    names = [name for name in GOOD if name.startswith("stories/")]
    told = 0
    for _ in range(60):
        edited = chance.sample(names, chance.choice((1, 1, 2)))
        for name in edited:
            (root / "content" / name).write_text(chance.choice((*TEXTS, GOOD[name])), "utf-8")
        again = reread_stories(root, read_map, reading, {f"content/{name}" for name in edited})
        whole = read(root)
        if again is not None:
            told += 1
            assert again == whole
        reading = whole
    assert told > 30


@pytest.mark.parametrize(
    "text",
    [story("translates: 2026/two\nlanguage: es"), story("listing: none.csv")],
    ids=["a translation rests on two stories", "a listing that is not there"],
)
def test_what_rests_on_other_files_is_right_or_left_to_the_whole(tmp_path: Path, text: str) -> None:
    root = write_folder(tmp_path, GOOD)
    before = read(root)
    (root / "content/stories/2026/one.md").write_text(text, "utf-8")
    assert reread_stories(root, read_map, before, {"content/stories/2026/one.md"}) in (None, read(root))


def test_the_original_of_a_translation_is_not_read_alone(tmp_path: Path) -> None:
    root = write_folder(
        tmp_path, {**GOOD, "stories/2026/uno.md": story("translates: 2026/one\nlanguage: es")}
    )
    before = read(root)
    (root / "content/stories/2026/one.md").write_text(story("language: es"), "utf-8")
    assert reread_stories(root, read_map, before, {"content/stories/2026/one.md"}) is None


def test_a_fault_in_a_place_leaves_it_to_the_whole(tmp_path: Path) -> None:
    root = write_folder(tmp_path, {**GOOD, "places/broken.yaml": "name: [\n"})
    before = read(root)
    assert before.faults
    assert reread_stories(root, read_map, before, {"content/stories/2026/three.md"}) is None
