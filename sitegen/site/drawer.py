"""What was worked out of stories' records alone, kept between builds.

A row holds everything of one story, and is right or bears another record's digest, as on the shelf of stories; nothing is
believed that does not bear its own. All rows are fetched at once, since a build asks for all stories.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from contextlib import closing, suppress
from functools import cached_property
from pathlib import Path

from msgspec import MsgspecError, msgpack

from sitegen.newsroom.keeping import packed_story
from sitegen.newsroom.records import Story
from sitegen.site.ledger import is_sealed, seal

DRAWER_NAME = "worked-out.sqlite"

_TABLE = """
CREATE TABLE IF NOT EXISTS kept (story TEXT PRIMARY KEY, mark BLOB NOT NULL, value BLOB NOT NULL, seal BLOB NOT NULL)
WITHOUT ROWID
"""
_KINDS = msgpack.Decoder(dict[str, bytes])


class StoryDrawer:
    """A drawer in a folder. One that cannot be opened or written is an empty one."""

    def __init__(self, folder: Path, ground: str, marks: Mapping[str, bytes], fresh: bool = False) -> None:
        """`marks` are digests of the stories' records by their ids; a story without one is kept nothing of. `ground` stands for
        the program; `fresh` begins with nothing."""
        self._place = folder / DRAWER_NAME
        self._ground = ground
        self._marks = marks
        self._gone: list[str] = []
        """Stories that are here and no more in the newsroom."""
        self._new: set[str] = set()
        """Stories of which something was put."""
        if fresh:
            self._remove()

    def take(self, kind: str, story: Story) -> bytes | None:
        kept = self._kept.get(story.id)
        return kept.get(kind) if kept is not None else None

    def put(self, kind: str, story: Story, value: bytes) -> None:
        if story.id in self._marks:
            self._kept.setdefault(story.id, {})[kind] = value
            self._new.add(story.id)

    def mark(self, story: Story) -> bytes:
        return self._marks.get(story.id) or packed_story(story)[2]

    @cached_property
    def _kept(self) -> dict[str, dict[str, bytes]]:
        """What is kept of each story whose record is the same, by kind."""
        found: dict[str, dict[str, bytes]] = {}
        if not self._place.is_file():
            return found
        marks = self._marks
        try:
            with closing(self._opened()) as store:
                if store.execute("SELECT value FROM ground").fetchall() != [(self._ground,)]:
                    return found
                for name, mark, value, sealed in store.execute("SELECT story, mark, value, seal FROM kept"):
                    if name not in marks:
                        self._gone.append(name)
                    elif marks[name] == mark and is_sealed(sealed, name.encode(), mark, value):
                        with suppress(MsgspecError):
                            found[name] = _KINDS.decode(value)
        except (sqlite3.Error, OSError):
            return {}
        return found

    def save(self) -> None:
        """Keeps what was put, and lets go of stories that are no more."""
        if not self._new and not self._gone:
            return
        try:
            with closing(self._opened(create=True)) as store, store:
                store.executemany("DELETE FROM kept WHERE story = ?", ((name,) for name in self._gone))
                store.executemany(
                    "INSERT OR REPLACE INTO kept VALUES (?, ?, ?, ?)", map(self._row, sorted(self._new))
                )
        except (sqlite3.Error, OSError):
            self._remove()
        self._new.clear()
        self._gone.clear()

    def _row(self, name: str) -> tuple[str, bytes, bytes, bytes]:
        mark, value = self._marks[name], msgpack.encode(self._kept[name])
        return name, mark, value, seal(name.encode(), mark, value)

    def _opened(self, create: bool = False) -> sqlite3.Connection:
        if create:
            self._place.parent.mkdir(parents=True, exist_ok=True)
        store = sqlite3.connect(self._place)
        try:
            # A power cut may cost the drawer, which then is empty.
            store.execute("PRAGMA synchronous = OFF")
            if create:
                store.execute("CREATE TABLE IF NOT EXISTS ground (value TEXT NOT NULL)")
                if store.execute("SELECT value FROM ground").fetchall() != [(self._ground,)]:
                    # An older program may have had another table.
                    store.execute("DROP TABLE IF EXISTS kept")
                    store.execute("DELETE FROM ground")
                    store.execute("INSERT INTO ground VALUES (?)", (self._ground,))
                store.execute(_TABLE)
        except BaseException:
            store.close()
            raise
        return store

    def _remove(self) -> None:
        for suffix in ("", "-journal"):
            with suppress(OSError):
                self._place.with_name(DRAWER_NAME + suffix).unlink()
