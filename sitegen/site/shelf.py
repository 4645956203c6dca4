"""Records as they were read, kept between builds: a file is read again only when it or one that it names has changed.

A row is right or has other states, whatever became of the build that put it here; so it is kept apart from the ledger, and
holds for as long as program and libraries are the same. As there, nothing is believed that does not bear its digest.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from functools import partial
from hashlib import blake2b
from pathlib import Path
from types import TracebackType
from typing import Any

import msgspec

from sitegen.newsroom.keeping import ReadAhead, Record
from sitegen.newsroom.records import Ask, Episode, Finding, Place, Story
from sitegen.site.ledger import is_sealed, seal
from sitegen.site.order import Sources
from sitegen.site.processes import Spread
from sitegen.site.states import UNKNOWN, State, settled

SHELF_NAME = "records.sqlite"
MANY = 64
"""Stories from which on reading them in several processes pays."""
CHUNK = 16
"""Stories a process is given at a time."""
FETCHED = 128
"""Rows fetched at a time."""

_TABLES = """
CREATE TABLE IF NOT EXISTS ground (value TEXT NOT NULL);
CREATE TABLE IF NOT EXISTS records (path TEXT PRIMARY KEY, value BLOB NOT NULL, seal BLOB NOT NULL);
"""


class _Row(msgspec.Struct, frozen=True, array_like=True):
    around: bytes
    used: dict[str, State]
    """The files it was read from, by path, as they were."""
    record: msgspec.Raw
    """A story's without its asks."""
    asks: msgspec.Raw
    """A story's, or none."""
    found: tuple[Finding, ...]
    mark: bytes
    """A digest of the packed record and asks."""


_ASKS = msgspec.msgpack.Decoder(tuple[Ask, ...])
_NO_ASKS = msgspec.msgpack.encode(())


class RecordShelf:
    """A shelf in a folder, to be used in a `with` block. One that cannot be opened or written is an empty one."""

    def __init__(
        self, folder: Path, ground: str, sources: Sources, fresh: bool = False, spread: Spread | None = None
    ) -> None:
        """`ground` stands for all that makes records out of files, `sources` are all files, looked at before any is read;
        `fresh` begins with nothing. With `spread`, many stories that are not here are read as it says."""
        self._place = folder / SHELF_NAME
        self._ground = ground
        self._states = sources.states
        self._settled = settled(sources.states, sources.looked_at)
        self._fresh = fresh
        self._spread = spread
        self._paths: set[str] = set()
        """Of the rows that are here."""
        self._fetched: dict[str, tuple[bytes, bytes]] = {}
        """Some rows' values and seals, by path."""
        self._store: sqlite3.Connection | None = None
        self._row = msgspec.msgpack.Decoder(_Row)
        self._records: dict[type, msgspec.msgpack.Decoder[Any]] = {
            kind: msgspec.msgpack.Decoder(kind) for kind in (Story, Episode, Place)
        }
        self.marks: dict[str, bytes] = {}
        """Digests of the records taken and put, by the story's id: the same for equal records."""

    def __enter__(self) -> RecordShelf:
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

    def ahead(self, wanted: Sequence[tuple[str, bytes]], read: ReadAhead) -> None:
        if self._store is None or self._spread is None or self._spread.jobs == 1:
            return
        missing = [number for number, (path, _) in enumerate(wanted) if path not in self._paths]
        if len(missing) < MANY:
            return

        def rows(chunk: int) -> list[tuple[str, bytes]]:
            found: list[tuple[str, bytes]] = []
            for number in missing[chunk * CHUNK : (chunk + 1) * CHUNK]:
                kept = read(number)
                if kept is not None:
                    used, record, told = kept
                    path, around = wanted[number]
                    found.append((path, self._packed(around, used, record, told)[0]))
            return found

        for each in self._spread(rows, -(-len(missing) // CHUNK)):
            for path, value in each:
                self._insert(path, value)

    def take(self, path: str, around: bytes, kind: type[Record]) -> tuple[Record, tuple[Finding, ...]] | None:
        row = self._found(path)
        if row is None or row.around != around:
            return None
        states = self._states
        for used, state in row.used.items():
            if state == UNKNOWN or states.get(used) != state:
                return None
        record: Record = self._records[kind].decode(row.record)
        if isinstance(record, Story):
            self.marks[record.id] = row.mark
            asks = bytes(row.asks)  # a copy, or the whole row would stay with it
            if asks != _NO_ASKS:
                record.leave_packed(partial(_ASKS.decode, asks))
        return record, row.found

    def used(self, path: str) -> frozenset[str]:
        """The files that a story's record was read from; none where it is not here."""
        row = self._found(path)
        return frozenset(row.used) if row is not None else frozenset()

    def put(
        self, path: str, around: bytes, used: frozenset[str], record: Record, found: tuple[Finding, ...]
    ) -> None:
        if self._store is None:
            return
        value, mark = self._packed(around, used, record, found)
        if isinstance(record, Story):
            self.marks[record.id] = mark
        self._insert(path, value)

    def _packed(
        self, around: bytes, used: frozenset[str], record: Story | Episode | Place, found: tuple[Finding, ...]
    ) -> tuple[bytes, bytes]:
        """A row's value, and the digest of its record."""
        states = {each: self._settled.get(each, UNKNOWN) for each in used}
        asks: tuple[Ask, ...] = ()
        if isinstance(record, Story):
            asks, record = record.asks, replace(record, asks=())
        packed, packed_asks = msgspec.msgpack.encode(record), msgspec.msgpack.encode(asks)
        mark = blake2b(packed + packed_asks, digest_size=16).digest()
        row = _Row(around, states, msgspec.Raw(packed), msgspec.Raw(packed_asks), found, mark)
        return msgspec.msgpack.encode(row), mark

    def _insert(self, path: str, value: bytes) -> None:
        assert self._store is not None  # whoever calls has looked
        self._fetched.pop(path, None)
        with suppress(sqlite3.Error):
            self._store.execute(
                "INSERT OR REPLACE INTO records VALUES (?, ?, ?)", (path, value, seal(path.encode(), value))
            )
            self._paths.add(path)

    def _found(self, path: str) -> _Row | None:
        if self._store is None or path not in self._paths:
            return None
        try:
            if path not in self._fetched:
                # Files are read in the order of their paths, so those that follow are asked for next.
                rows = self._store.execute(
                    "SELECT path, value, seal FROM records WHERE path >= ? ORDER BY path LIMIT ?",
                    (path, FETCHED),
                )
                self._fetched = {each: (value, sealed) for each, value, sealed in rows}
            value, sealed = self._fetched[path]
            return self._row.decode(value) if is_sealed(sealed, path.encode(), value) else None
        except (sqlite3.Error, msgspec.MsgspecError, KeyError, TypeError):
            return None

    def _opened(self) -> sqlite3.Connection:
        self._place.parent.mkdir(parents=True, exist_ok=True)
        store = sqlite3.connect(self._place)
        try:
            store.execute("PRAGMA synchronous = OFF")
            store.executescript(_TABLES)
            if store.execute("SELECT value FROM ground").fetchall() != [(self._ground,)]:
                store.execute("DELETE FROM records")
                store.execute("DELETE FROM ground")
                store.execute("INSERT INTO ground VALUES (?)", (self._ground,))
            self._paths = {path for (path,) in store.execute("SELECT path FROM records")}
            gone = [(path,) for path in self._paths if path not in self._states]
            store.executemany("DELETE FROM records WHERE path = ?", gone)
        except BaseException:
            store.close()
            raise
        return store

    def _remove(self) -> None:
        for suffix in ("", "-journal"):
            with suppress(OSError):
                self._place.with_name(SHELF_NAME + suffix).unlink()
