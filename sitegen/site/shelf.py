"""Stories as they were read, kept between builds: a story is read again only when a file that it was read from has changed.

A row is right or has other states, whatever became of the build that put it here; so it is kept apart from the ledger, and
holds for as long as program and libraries are the same. As there, nothing is believed that does not bear its digest.
"""

from __future__ import annotations

import sqlite3
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType

import msgspec

from sitegen.newsroom.records import Finding, Story
from sitegen.site.ledger import is_sealed, seal
from sitegen.site.order import Sources
from sitegen.site.states import UNKNOWN, State, settled

SHELF_NAME = "stories.sqlite"

_TABLES = """
CREATE TABLE IF NOT EXISTS ground (value TEXT NOT NULL);
CREATE TABLE IF NOT EXISTS stories (path TEXT PRIMARY KEY, value BLOB NOT NULL, seal BLOB NOT NULL);
"""


@dataclass(frozen=True, slots=True)
class _Row:
    around: bytes
    used: dict[str, State]
    """The files it was read from, by path, as they were."""
    story: msgspec.Raw
    found: tuple[Finding, ...]


class StoryShelf:
    """A shelf in a folder, to be used in a `with` block. One that cannot be opened or written is an empty one."""

    def __init__(self, folder: Path, ground: str, sources: Sources, fresh: bool = False) -> None:
        """`ground` stands for all that makes records out of files, `sources` are all files, looked at before any is read;
        `fresh` begins with nothing."""
        self._place = folder / SHELF_NAME
        self._ground = ground
        self._states = sources.states
        self._settled = settled(sources.states, sources.looked_at)
        self._fresh = fresh
        self._store: sqlite3.Connection | None = None
        self._row = msgspec.msgpack.Decoder(_Row)
        self._story = msgspec.msgpack.Decoder(Story)

    def __enter__(self) -> StoryShelf:
        if self._fresh:
            self._remove()
        for _ in range(2):  # once more after a damaged one was removed
            try:
                self._store = self._opened()
                return self
            except (sqlite3.Error, OSError):
                self._remove()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._store is None:
            return
        try:
            self._store.commit()
        except sqlite3.Error:
            self._remove()
        finally:
            self._store.close()
            self._store = None

    def take(self, path: str, around: bytes) -> tuple[Story, tuple[Finding, ...]] | None:
        row = self._found(path)
        if row is None or row.around != around:
            return None
        if any(state == UNKNOWN or self._states.get(used) != state for used, state in row.used.items()):
            return None
        return self._story.decode(row.story), row.found

    def used(self, path: str) -> frozenset[str]:
        """The files that a story's record was read from; none where it is not here."""
        row = self._found(path)
        return frozenset(row.used) if row is not None else frozenset()

    def put(
        self, path: str, around: bytes, used: frozenset[str], story: Story, found: tuple[Finding, ...]
    ) -> None:
        if self._store is None:
            return
        states = {each: self._settled.get(each, UNKNOWN) for each in used}
        value = msgspec.msgpack.encode(
            _Row(around, states, msgspec.Raw(msgspec.msgpack.encode(story)), found)
        )
        with suppress(sqlite3.Error):
            self._store.execute(
                "INSERT OR REPLACE INTO stories VALUES (?, ?, ?)", (path, value, seal(path.encode(), value))
            )

    def _found(self, path: str) -> _Row | None:
        if self._store is None:
            return None
        try:
            row = self._store.execute("SELECT value, seal FROM stories WHERE path = ?", (path,)).fetchone()
            if row is None or not is_sealed(row[1], path.encode(), row[0]):
                return None
            return self._row.decode(row[0])
        except (sqlite3.Error, msgspec.MsgspecError):
            return None

    def _opened(self) -> sqlite3.Connection:
        self._place.parent.mkdir(parents=True, exist_ok=True)
        store = sqlite3.connect(self._place)
        try:
            store.execute("PRAGMA synchronous = OFF")
            store.executescript(_TABLES)
            if store.execute("SELECT value FROM ground").fetchall() != [(self._ground,)]:
                store.execute("DELETE FROM stories")
                store.execute("DELETE FROM ground")
                store.execute("INSERT INTO ground VALUES (?)", (self._ground,))
            kept = [path for (path,) in store.execute("SELECT path FROM stories")]
            gone = [(path,) for path in kept if path not in self._states]
            store.executemany("DELETE FROM stories WHERE path = ?", gone)
        except BaseException:
            store.close()
            raise
        return store

    def _remove(self) -> None:
        for suffix in ("", "-journal"):
            with suppress(OSError):
                self._place.with_name(SHELF_NAME + suffix).unlink()
