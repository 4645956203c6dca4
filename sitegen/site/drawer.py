"""What was worked out of stories' records alone, kept between builds.

A row is right or bears another record's digest, as on the shelf of stories; nothing is believed that does not bear its own.
Everything of a kind is fetched at once, since a build asks for all stories.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from contextlib import closing, suppress
from pathlib import Path

from sitegen.newsroom.records import Story
from sitegen.site.ledger import is_sealed, seal

DRAWER_NAME = "worked-out.sqlite"

_TABLES = """
CREATE TABLE IF NOT EXISTS ground (value TEXT NOT NULL);
CREATE TABLE IF NOT EXISTS kept (
    kind TEXT, story TEXT, mark BLOB NOT NULL, value BLOB NOT NULL, seal BLOB NOT NULL, PRIMARY KEY (kind, story)
) WITHOUT ROWID;
"""


class StoryDrawer:
    """A drawer in a folder. One that cannot be opened or written is an empty one."""

    def __init__(self, folder: Path, ground: str, marks: Mapping[str, bytes], fresh: bool = False) -> None:
        """`marks` are digests of the stories' records by their ids; a story without one is kept nothing of. `ground` stands for
        the program; `fresh` begins with nothing."""
        self._place = folder / DRAWER_NAME
        self._ground = ground
        self._marks = marks
        self._kinds: dict[str, dict[str, tuple[bytes, bytes]]] = {}
        self._new: list[tuple[str, str, bytes, bytes, bytes]] = []
        if fresh:
            self._remove()

    def take(self, kind: str, story: Story) -> bytes | None:
        mark, value = self._of_kind(kind).get(story.id, (b"", b""))
        return value if mark and mark == self._marks.get(story.id) else None

    def put(self, kind: str, story: Story, value: bytes) -> None:
        mark = self._marks.get(story.id)
        if mark is not None:
            self._of_kind(kind)[story.id] = (mark, value)
            self._new.append((kind, story.id, mark, value, _seal(kind, story.id, mark, value)))

    def _of_kind(self, kind: str) -> dict[str, tuple[bytes, bytes]]:
        if kind not in self._kinds:
            self._kinds[kind] = self._fetched(kind)
        return self._kinds[kind]

    def save(self) -> None:
        """Keeps what was put, and lets go of stories that are no more."""
        gone = {
            (kind, name) for kind, rows in self._kinds.items() for name in rows if name not in self._marks
        }
        if not self._new and not gone:
            return
        try:
            with closing(self._opened(create=True)) as store, store:
                store.executemany("DELETE FROM kept WHERE kind = ? AND story = ?", sorted(gone))
                store.executemany("INSERT OR REPLACE INTO kept VALUES (?, ?, ?, ?, ?)", self._new)
        except (sqlite3.Error, OSError):
            self._remove()
        self._new.clear()

    def _fetched(self, kind: str) -> dict[str, tuple[bytes, bytes]]:
        if not self._place.is_file():
            return {}
        try:
            with closing(self._opened()) as store:
                if store.execute("SELECT value FROM ground").fetchall() != [(self._ground,)]:
                    return {}
                rows = store.execute("SELECT story, mark, value, seal FROM kept WHERE kind = ?", (kind,))
                return {
                    name: (mark, value)
                    for name, mark, value, sealed in rows
                    if isinstance(name, str) and is_sealed(sealed, kind.encode(), name.encode(), mark, value)
                }
        except (sqlite3.Error, OSError):
            return {}

    def _opened(self, create: bool = False) -> sqlite3.Connection:
        if create:
            self._place.parent.mkdir(parents=True, exist_ok=True)
        store = sqlite3.connect(self._place)
        try:
            # A power cut may cost the drawer, which then is empty.
            store.execute("PRAGMA synchronous = OFF")
            if create:
                store.executescript(_TABLES)
                if store.execute("SELECT value FROM ground").fetchall() != [(self._ground,)]:
                    store.execute("DELETE FROM kept")
                    store.execute("DELETE FROM ground")
                    store.execute("INSERT INTO ground VALUES (?)", (self._ground,))
        except BaseException:
            store.close()
            raise
        return store

    def _remove(self) -> None:
        for suffix in ("", "-journal"):
            with suppress(OSError):
                self._place.with_name(DRAWER_NAME + suffix).unlink()


def _seal(kind: str, name: str, mark: bytes, value: bytes) -> bytes:
    return seal(kind.encode(), name.encode(), mark, value)
