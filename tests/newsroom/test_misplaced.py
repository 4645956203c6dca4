"""A key in the wrong group is told where it belongs, and only such a key is."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.geography.shapes import read_map
from sitegen.newsroom.asks import ASK_KEYS, CONFIRMED_KEYS, CONTACT_KEYS, GOAL_KEYS
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.misplaced import PLACES_OF_KEYS, where_it_belongs
from sitegen.newsroom.places import PLACE_KEYS, REFERENCE_KEYS, WINDOW_KEYS
from sitegen.newsroom.records import Finding
from sitegen.newsroom.stories import PHOTO_KEYS, STORY_KEYS, VIDEO_KEYS
from tests.samples.station_folder import story, write_folder

KEYS_OF = {
    "an ask": ASK_KEYS,
    "a story": STORY_KEYS,
    "a drop-off": (*PLACE_KEYS, *REFERENCE_KEYS, *WINDOW_KEYS),
    "a contact": CONTACT_KEYS,
}
ELSEWHERE = {
    *STORY_KEYS, *ASK_KEYS, *CONTACT_KEYS, *GOAL_KEYS, *CONFIRMED_KEYS, *PLACE_KEYS, *REFERENCE_KEYS, *WINDOW_KEYS, *PHOTO_KEYS, *VIDEO_KEYS,
}  # fmt: skip


@pytest.mark.parametrize("group", PLACES_OF_KEYS)
def test_only_keys_that_the_group_lacks_and_another_has_are_named(group: str) -> None:
    named = PLACES_OF_KEYS[group].keys()
    assert not named & set(KEYS_OF[group])
    assert named <= ELSEWHERE


def unknown(root: Path, front: str) -> dict[str, Finding]:
    write_folder(root, {"stories/2026/one.md": story(front)})
    faults = read_newsroom(root, read_map).faults
    return {each.message.split("'")[1]: each for each in faults if each.check == "unknown-key"}


def test_a_key_of_another_group_is_sent_there(tmp_path: Path) -> None:
    found = unknown(
        tmp_path,
        "deadline: 2026-12-15\nasks:\n  - title: Bring a coat\n    kind: bring\n    deadline: 2026-12-15\n    phone: 237-555-0101\n"
        "    so_far: 3\n    colour: red\n    where:\n      - {place: lowgate-hall, accepts: [coats]}\n",
    )
    assert set(found) == {"deadline", "phone", "so_far", "colour", "accepts"}
    assert "asks:" in found["deadline"].instead
    assert "contact: {" in found["phone"].instead
    assert "goal: {" in found["so_far"].instead
    assert found["accepts"].instead == where_it_belongs("accepts", "a drop-off") != ""
    assert where_it_belongs("colour", "an ask") == ""


@pytest.mark.parametrize(
    ("photo", "column", "instead"),
    [
        ("{file: a.jpg, alt: People hang, two of them, coats}", 40, 'alt: "People hang, two of them, coats"'),
        ("{file: a.jpg, alt: People hang, two of them , credit: Ann}", 40, 'alt: "People hang, two of them"'),
        ("{alt: People hang, coats }", 27, 'alt: "People hang, coats"'),
        ('{alt: "People hang", coats}', 29, "in quotes"),
    ],
)
def test_words_behind_a_comma_in_braces_are_no_misspelt_key(
    tmp_path: Path, photo: str, column: int, instead: str
) -> None:
    write_folder(tmp_path, {"stories/2026/one.md": story(f"photo: {photo}\n")})
    (found,) = (each for each in read_newsroom(tmp_path, read_map).faults if each.check == "unknown-key")
    assert found.spot.column == column
    assert "comma" in found.message and instead in found.instead
    assert "Did you mean" not in found.instead


@pytest.mark.parametrize("photo", ["photo: {file: a.jpg, corteous: }", "photo:\n  file: a.jpg\n  corteous:"])
def test_a_misspelt_key_without_a_value_is_still_one(tmp_path: Path, photo: str) -> None:
    assert "courtesy" in unknown(tmp_path, photo + "\n")["corteous"].instead


@pytest.mark.parametrize("key", ["Deadline", "DEADLINE", "Check again-by", "Check_again_by"])
def test_a_key_in_capitals_is_told_where_it_belongs_too(tmp_path: Path, key: str) -> None:
    found = unknown(tmp_path, f"{key}: 2026-12-15\n")[key]
    assert found.instead == where_it_belongs("deadline", "a story")
