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
