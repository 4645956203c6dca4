"""What was worked out of stories: taken while their records are the same, and never believed when it is damaged or foreign."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from sitegen.newsroom.records import Story
from sitegen.site.content import read_content
from sitegen.site.drawer import DRAWER_NAME, StoryDrawer
from tests.samples.small_archive import write_archive

MARKS = {"2025/coats": b"one", "2025/lights": b"two"}


@pytest.fixture(scope="module")
def stories(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Story]:
    newsroom = read_content(write_archive(tmp_path_factory.mktemp("station"))).newsroom
    assert newsroom is not None
    return {story.id: story for story in newsroom.stories}


@pytest.fixture
def filled(tmp_path: Path, stories: dict[str, Story]) -> Path:
    drawer = StoryDrawer(tmp_path, "ground", MARKS)
    for name in MARKS:
        drawer.put("words", stories[name], name.encode())
    drawer.save()
    return tmp_path


def taken(
    folder: Path, stories: dict[str, Story], marks: dict[str, bytes] = MARKS, ground: str = "ground"
) -> list[bytes | None]:
    drawer = StoryDrawer(folder, ground, marks)
    return [drawer.take("words", stories[name]) for name in MARKS]


def test_what_was_put_is_taken_while_the_record_is_the_same(filled: Path, stories: dict[str, Story]) -> None:
    assert taken(filled, stories) == [b"2025/coats", b"2025/lights"]
    assert taken(filled, stories, {**MARKS, "2025/coats": b"other"}) == [None, b"2025/lights"]
    assert StoryDrawer(filled, "ground", MARKS).take("dates", stories["2025/coats"]) is None


def test_a_story_without_a_mark_is_kept_nothing_of(tmp_path: Path, stories: dict[str, Story]) -> None:
    drawer = StoryDrawer(tmp_path, "ground", {})
    drawer.put("words", stories["2025/coats"], b"kept")
    drawer.save()
    assert taken(tmp_path, stories) == [None, None]
    assert taken(tmp_path, stories, {}) == [None, None]


def test_another_program_begins_with_nothing(filled: Path, stories: dict[str, Story]) -> None:
    assert taken(filled, stories, ground="other") == [None, None]
    other = StoryDrawer(filled, "other", MARKS)
    other.put("words", stories["2025/coats"], b"new")
    other.save()
    assert taken(filled, stories, ground="other") == [b"new", None]
    assert taken(filled, stories) == [None, None]


def test_fresh_begins_with_nothing(filled: Path, stories: dict[str, Story]) -> None:
    drawer = StoryDrawer(filled, "ground", MARKS, fresh=True)
    assert drawer.take("words", stories["2025/coats"]) is None


def test_stories_that_are_gone_are_forgotten(filled: Path, stories: dict[str, Story]) -> None:
    drawer = StoryDrawer(filled, "ground", {"2025/coats": b"one"})
    drawer.take("words", stories["2025/coats"])
    drawer.save()
    assert taken(filled, stories) == [b"2025/coats", None]


def test_damage_is_never_believed(filled: Path, stories: dict[str, Story]) -> None:
    with closing(sqlite3.connect(filled / DRAWER_NAME)) as store, store:
        store.execute("UPDATE kept SET value = ? WHERE story = '2025/coats'", (b"2025/boats",))
    assert taken(filled, stories) == [None, b"2025/lights"]
    whole = (filled / DRAWER_NAME).read_bytes()
    (filled / DRAWER_NAME).write_bytes(whole[:100] + b"\xff" * 300 + whole[400:])
    assert taken(filled, stories) == [None, None]
    drawer = StoryDrawer(filled, "ground", MARKS)
    drawer.put("words", stories["2025/coats"], b"new")
    drawer.save()
    drawer.put("words", stories["2025/coats"], b"new")
    drawer.save()
    assert taken(filled, stories) == [b"new", None]


def test_a_folder_that_cannot_be_written_keeps_nothing(tmp_path: Path, stories: dict[str, Story]) -> None:
    (tmp_path / "file").write_text("in the way")
    drawer = StoryDrawer(tmp_path / "file", "ground", MARKS)
    drawer.put("words", stories["2025/coats"], b"kept")
    drawer.save()
    assert taken(tmp_path / "file", stories) == [None, None]


def test_what_else_is_kept_of_a_story_stays(filled: Path, stories: dict[str, Story]) -> None:
    drawer = StoryDrawer(filled, "ground", MARKS)
    drawer.put("dates", stories["2025/coats"], b"more")
    drawer.save()
    assert taken(filled, stories) == [b"2025/coats", b"2025/lights"]
    assert StoryDrawer(filled, "ground", MARKS).take("dates", stories["2025/coats"]) == b"more"
    # Of a record that is another by now, nothing of before may stand beside what is new.
    marks = {**MARKS, "2025/coats": b"other"}
    drawer = StoryDrawer(filled, "ground", marks)
    drawer.put("dates", stories["2025/coats"], b"other")
    drawer.save()
    assert taken(filled, stories, marks) == [None, b"2025/lights"]


def test_a_table_of_an_older_program_makes_room(filled: Path, stories: dict[str, Story]) -> None:
    with closing(sqlite3.connect(filled / DRAWER_NAME)) as store, store:
        store.execute("DROP TABLE kept")
        store.execute("CREATE TABLE kept (kind TEXT, story TEXT, mark BLOB, value BLOB, seal BLOB)")
    drawer = StoryDrawer(filled, "newer", MARKS)
    drawer.put("words", stories["2025/coats"], b"new")
    drawer.save()
    assert taken(filled, stories, ground="newer") == [b"new", None]
