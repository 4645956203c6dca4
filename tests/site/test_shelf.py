"""Stories kept between builds: taken where nothing that they were read from has changed, and read again otherwise."""

from __future__ import annotations

import os
import random
import sqlite3
from contextlib import closing, suppress
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from sitegen.newsroom.keeping import packed_story
from sitegen.newsroom.records import Ask, Reading, Story
from sitegen.site import shelf as shelf_module
from sitegen.site.content import read_content
from sitegen.site.errors import MachineError, ShelfChangedError
from sitegen.site.order import look
from sitegen.site.processes import Spread
from sitegen.site.shelf import SHELF_NAME, RecordShelf
from tests.samples.small_archive import write_archive

EVERYTHING = 6 + 2 + 1
"""Stories, places and episodes of the small archive."""
LATER = datetime.now(UTC) + timedelta(hours=1)


@pytest.fixture
def root(tmp_path: Path) -> Path:
    return write_archive(tmp_path / "station")


def read(root: Path, monkeypatch: pytest.MonkeyPatch, ground: str = "1") -> tuple[Reading, list[str]]:
    """The content through a shelf, and the paths of the stories, episodes and places that were read."""
    read_again: list[str] = []
    put = RecordShelf.put

    def noted(shelf: RecordShelf, path: str, *given: Any) -> None:
        read_again.append(path)
        put(shelf, path, *given)

    monkeypatch.setattr(RecordShelf, "put", noted)
    with RecordShelf(root / "build/ledger", ground, look(root, LATER)) as shelf:
        found = read_content(root, shelf=shelf)
    monkeypatch.setattr(RecordShelf, "put", put)
    return found, read_again


def edit(root: Path, path: str, old: str, new: str) -> None:
    text = (root / path).read_text("utf-8")
    assert old in text
    (root / path).write_text(text.replace(old, new), "utf-8")


def test_what_is_taken_equals_what_is_read(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first, read_first = read(root, monkeypatch)
    second, read_second = read(root, monkeypatch)
    assert len(read_first) == EVERYTHING and not read_second
    assert second == first == read_content(root)
    assert first.newsroom is not None and second.newsroom is not None
    pairs = zip(first.newsroom.stories, second.newsroom.stories, strict=True)
    assert all(one.origin == other.origin for one, other in pairs)


def test_asks_and_bodies_are_unpacked_when_somebody_looks_at_them(
    root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first, _ = read(root, monkeypatch)
    unpacked: list[bytes] = []
    decoder = shelf_module._PARTS

    class Noting:
        def decode(self, packed: bytes) -> tuple[tuple[Ask, ...], str, str]:
            unpacked.append(packed)
            return decoder.decode(packed)

    monkeypatch.setattr(shelf_module, "_PARTS", Noting())
    second, _ = read(root, monkeypatch)
    assert first.newsroom is not None and second.newsroom is not None and not unpacked
    for one, other in zip(first.newsroom.stories, second.newsroom.stories, strict=True):
        assert [ask.origin for ask in one.asks] == [ask.origin for ask in other.asks]
        assert (other.asks, other.body, other.galley) == (one.asks, one.body, one.galley)
        assert other.asks is other.asks and other.galley
        assert replace(other, headline="B").asks == one.asks
    assert len(unpacked) == len(first.newsroom.stories) > 0


@pytest.mark.parametrize(
    ("path", "old", "new", "stories"),
    [
        ("content/stories/2025/coats.md", "A headline", "A new one", {"2025/coats"}),
        ("content/places/lowgate-hall.yaml", "4 Pier", "6 Pier", {"2024/coats", "2025/coats", "2025/lights", "2025/help"}),
        ("content/episodes/2025-11-21.md", "18:30", "19:00", {"2025/coats", "2025/lights"}),
        ("content/pages/about.md", "Who", "What", set()),
    ],
)  # fmt: skip
def test_an_edit_reads_only_what_it_reaches(
    root: Path, monkeypatch: pytest.MonkeyPatch, path: str, old: str, new: str, stories: set[str]
) -> None:
    read(root, monkeypatch)
    edit(root, path, old, new)
    found, read_again = read(root, monkeypatch)
    own = set() if path.startswith("content/pages/") else {path}
    assert set(read_again) == {f"content/stories/{name}.md" for name in stories} | own
    assert found == read_content(root)


def test_another_station_or_program_reads_everything(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    read(root, monkeypatch)
    edit(root, "content/station.yaml", "Bright Side", "Dark Side")
    assert len(read(root, monkeypatch)[1]) == EVERYTHING
    assert len(read(root, monkeypatch, "2")[1]) == EVERYTHING


def test_a_file_with_a_fault_is_never_kept(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    edit(root, "content/stories/2025/coats.md", "lowgate-hall", "highgate-hall")
    first, _ = read(root, monkeypatch)
    second, read_again = read(root, monkeypatch)
    assert not read_again and second == first and second.faults


def test_a_fault_in_what_two_stories_share_outlives_either(
    root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Captions are read once; both stories that name them have their fault."""
    (root / "content/captions").mkdir(exist_ok=True)
    (root / "content/captions/torn.vtt").write_text("no captions at all\n")
    for name in ("a", "b"):
        (root / f"content/stories/2025/torn-{name}.md").write_text(
            "---\nheadline: Torn\naired: 2025-11-20\ncounty: Heron Flats\n"
            "video: {file: https://video.example.org/a.mp4, captions: torn.vtt}\n---\nTold.\n"
        )
    first, _ = read(root, monkeypatch)
    assert any(finding.check == "captions" for finding in first.faults)
    for name in ("a", "b"):
        path = root / f"content/stories/2025/torn-{name}.md"
        text = path.read_text()
        path.unlink()
        found, _ = read(root, monkeypatch)
        assert found == read_content(root) and found.faults
        path.write_text(text)


@pytest.mark.parametrize("damage", [b"", b"SQLite format 3\0nothing of ours"])
def test_a_damaged_shelf_is_an_empty_one(root: Path, monkeypatch: pytest.MonkeyPatch, damage: bytes) -> None:
    read(root, monkeypatch)
    (root / "build/ledger" / SHELF_NAME).write_bytes(damage)
    found, read_again = read(root, monkeypatch)
    assert len(read_again) == EVERYTHING and found == read_content(root)


@pytest.mark.parametrize("jobs", [1, 2, 3])
def test_many_stories_are_read_in_processes_as_in_one(
    root: Path, monkeypatch: pytest.MonkeyPatch, jobs: int
) -> None:
    monkeypatch.setattr("sitegen.site.shelf.MANY", 2)
    monkeypatch.setattr("sitegen.site.shelf.CHUNK", 2)
    stories = sorted((root / "content/stories").rglob("*.md"))
    faulty, odd = stories[0], stories[1]
    faulty.write_text(faulty.read_text("utf-8").replace("headline:", "heddline:"), "utf-8")
    odd.write_text(
        odd.read_text("utf-8").replace("\n---\n", "\nphotos: [{file: gone.jpg}]\n---\n", 1), "utf-8"
    )
    expected = read_content(root)
    assert expected.faults
    put_here: list[str] = []
    put = RecordShelf.put

    def noted(shelf: RecordShelf, path: str, *given: Any) -> None:
        put_here.append(path)
        put(shelf, path, *given)

    monkeypatch.setattr(RecordShelf, "put", noted)
    with RecordShelf(root / "build/ledger", "1", look(root, LATER), spread=Spread(jobs, None)) as shelf:
        assert read_content(root, shelf=shelf) == expected
        marks = dict(shelf.marks)
    monkeypatch.setattr(RecordShelf, "put", put)
    # What other processes read is taken from the shelf, not read once more here.
    assert any("/stories/" in path for path in put_here) == (jobs == 1)
    again, read_again = read(root, monkeypatch)
    assert again == expected
    assert len(read_again) <= 2  # what has a fault is read again
    with RecordShelf(root / "build/ledger", "1", look(root, LATER)) as shelf:
        read_content(root, shelf=shelf)
        assert {name: marks[name] for name in shelf.marks} == shelf.marks


def test_a_killed_reader_is_told_in_plain_words(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sitegen.site.shelf.MANY", 2)
    monkeypatch.setattr("sitegen.site.shelf.CHUNK", 2)
    monkeypatch.setattr("sitegen.newsroom.folder.read_story", lambda *given: os._exit(9))
    with (
        pytest.raises(MachineError),
        RecordShelf(root / "build/ledger", "1", look(root, LATER), spread=Spread(2, None)) as shelf,
    ):
        read_content(root, shelf=shelf)


@pytest.mark.parametrize("fetched", [1, 2, 5])
def test_rows_fetched_together_are_each_file_s_own(
    root: Path, monkeypatch: pytest.MonkeyPatch, fetched: int
) -> None:
    """Also where files come and go among them, and where some are asked for in another order."""
    monkeypatch.setattr("sitegen.site.shelf.FETCHED", fetched)
    read(root, monkeypatch)
    text = (root / "content/stories/2025/help.md").read_text("utf-8")
    (root / "content/stories/2025/added.md").write_text(text, "utf-8")
    (root / "content/stories/2025/lights.md").unlink()
    (root / "content/stories/2024-extra").mkdir()
    (root / "content/stories/2024/coats.md").rename(root / "content/stories/2024-extra/coats.md")
    expected = read_content(root)
    found, read_again = read(root, monkeypatch)
    assert found == expected
    assert {f"content/stories/{name}.md" for name in ("2025/added", "2024-extra/coats")} <= set(read_again)
    found, read_again = read(root, monkeypatch)
    assert found == expected and not read_again


def test_a_damaged_row_costs_itself_alone(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    read(root, monkeypatch)
    path = "content/stories/2025/coats.md"
    with closing(sqlite3.connect(root / "build/ledger" / SHELF_NAME)) as store, store:
        value = store.execute("SELECT value FROM records WHERE path = ?", (path,)).fetchone()[0]
        damaged = value.replace(b"A headline", b"A headlime")
        assert damaged != value
        store.execute("UPDATE records SET value = ? WHERE path = ?", (damaged, path))
    found, read_again = read(root, monkeypatch)
    assert read_again == [path] and found == read_content(root)


@pytest.mark.parametrize("damage", ["damaged", "gone"])
def test_damaged_parts_of_a_story_cost_itself_alone(
    root: Path, monkeypatch: pytest.MonkeyPatch, damage: str
) -> None:
    read(root, monkeypatch)
    path = "content/stories/2025/coats.md"
    with closing(sqlite3.connect(root / "build/ledger" / SHELF_NAME)) as store, store:
        if damage == "gone":
            store.execute("DELETE FROM parts WHERE path = ?", (path,))
        else:
            store.execute("UPDATE parts SET value = CAST(value || x'00' AS BLOB) WHERE path = ?", (path,))
    found, read_again = read(root, monkeypatch)
    assert read_again == [path] and found == read_content(root)


def alone(root: Path) -> tuple[Reading, RecordShelf]:
    """The content through a filled shelf on which parts of records stay."""
    for _ in range(2):
        with RecordShelf(root / "build/ledger", "1", look(root, LATER), is_alone=True) as shelf:
            found = read_content(root, shelf=shelf)
    return found, shelf


@pytest.mark.parametrize("awake", [1, 2, 100])
def test_what_stays_on_the_shelf_is_what_was_read(
    root: Path, monkeypatch: pytest.MonkeyPatch, awake: int
) -> None:
    """However few stories hold all of their records, and in other processes too."""
    monkeypatch.setattr("sitegen.site.shelf.AWAKE", awake)
    found, _ = alone(root)
    expected = read_content(root)
    assert found == expected
    assert found.newsroom is not None and expected.newsroom is not None
    stories, whole = found.newsroom.stories, expected.newsroom.stories
    held = [sum("asks" in held_by(story) for story in stories)]
    for number in random.Random(1).choices(range(len(stories)), k=40):
        assert (stories[number].body, stories[number].asks) == (whole[number].body, whole[number].asks)
        assert repr(stories[number]) == repr(whole[number]) and hash(stories[number]) == hash(whole[number])
        assert replace(stories[number], town="") == replace(whole[number], town="")
        held.append(sum("asks" in held_by(story) for story in stories))
    assert max(held) <= awake
    packed = [packed_story(story) for story in whole]
    assert [packed_story(story) for story in stories] == packed
    assert list(Spread(2, None)(lambda number: packed_story(stories[number]), len(stories))) == packed
    assert packed_story(stories[0]) == packed[0]
    for story, each in zip(stories, whole, strict=True):
        assert story.unpacking is not None and each.unpacking is None
        again = story.unpacking.whole(story.id)
        assert again is not None and again == each and again.origin == each.origin
        assert again is not story and again.headline is not story.headline
        assert again.unpacking is None  # it rests on nothing


def held_by(story: Story) -> set[str]:
    """The parts of a record that are in memory."""
    found = set()
    for name in ("asks", "body"):
        with suppress(AttributeError):
            object.__getattribute__(story, name)
            found.add(name)
    return found


def test_a_record_that_is_damaged_meanwhile_is_told(root: Path) -> None:
    found, _ = alone(root)
    assert found.newsroom is not None
    story = found.newsroom.stories[0]
    with closing(sqlite3.connect(root / "build/ledger" / SHELF_NAME)) as store, store:
        value = store.execute(
            "SELECT value FROM records WHERE path = ?", (story.origin.spot.path,)
        ).fetchone()[0]
        store.execute(
            "UPDATE records SET value = ? WHERE path = ?",
            (value.replace(b"A headline", b"A headlime"), story.origin.spot.path),
        )
    assert story.unpacking is not None
    with pytest.raises(ShelfChangedError):
        story.unpacking.whole(story.id)


@pytest.mark.parametrize("damage", ["another", "damaged", "gone", "of another story", "no shelf"])
def test_what_is_no_longer_on_the_shelf_is_told_and_never_taken_for_another(
    root: Path, monkeypatch: pytest.MonkeyPatch, damage: str
) -> None:
    monkeypatch.setattr("sitegen.site.shelf.AWAKE", 1)
    found, _ = alone(root)
    assert found.newsroom is not None
    path = "content/stories/2025/coats.md"
    (story,) = (each for each in found.newsroom.stories if each.origin.spot.path == path)
    place = root / "build/ledger" / SHELF_NAME
    if damage == "another":
        edit(root, path, "See [", "Look at [")
        read(root, monkeypatch)
    elif damage == "no shelf":
        place.unlink()
    else:
        with closing(sqlite3.connect(place)) as store, store:
            if damage == "gone":
                store.execute("DELETE FROM parts WHERE path = ?", (path,))
            elif damage == "of another story":
                other = "content/stories/2024/coats.md"
                store.execute("DELETE FROM parts WHERE path = ?", (path,))
                assert store.execute("UPDATE parts SET path = ? WHERE path = ?", (path, other)).rowcount == 1
            else:
                value = store.execute("SELECT value FROM parts WHERE path = ?", (path,)).fetchone()[0]
                damaged = value.replace(b"See [", b"Sea [")
                assert damaged != value
                store.execute("UPDATE parts SET value = ? WHERE path = ?", (damaged, path))
    assert story.unpacking is not None
    with pytest.raises(ShelfChangedError):
        story.unpacking.whole(story.id)
    with pytest.raises(ShelfChangedError):
        assert story.body


def test_a_shelf_that_cannot_be_written_to_its_end_is_told(root: Path) -> None:
    """What stays on it would be lost; nobody else minds."""

    class Full(sqlite3.Connection):
        def commit(self) -> None:
            raise sqlite3.OperationalError("database or disk is full")

    def full(shelf: RecordShelf) -> None:
        store = shelf._store
        assert store is not None
        store.close()
        shelf._store = sqlite3.connect(root / "build/ledger" / SHELF_NAME, factory=Full)

    with RecordShelf(root / "build/ledger", "1", look(root, LATER)) as shelf:
        full(shelf)
    with (
        pytest.raises(MachineError, match="is full"),
        RecordShelf(root / "build/ledger", "1", look(root, LATER), is_alone=True) as shelf,
    ):
        full(shelf)


def test_what_was_put_is_taken_and_not_what_was_fetched_before(root: Path) -> None:
    newsroom = read_content(root).newsroom
    assert newsroom is not None
    story = newsroom.stories[0]
    path = story.origin.spot.path
    for headline in ("One", "Two", "Three"):
        with RecordShelf(root / "build/ledger", "1", look(root, LATER)) as shelf:
            shelf.take(path, b"", Story)
            shelf.put(path, b"", frozenset({path}), replace(story, headline=headline), ())
            taken = shelf.take(path, b"", Story)
        assert taken is not None and taken[0].headline == headline
