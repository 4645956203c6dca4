"""Records as they were read, kept between builds: a file is read again only when it or one that it names has changed.

A row is right or has other states, whatever became of the build that put it here; so it is kept apart from the ledger, and
holds for as long as program and libraries are the same. As there, nothing is believed that does not bear its digest.

Most of what a story's record holds is unpacked when it is asked for, and lies in a row of its own. A build, which nobody else
disturbs, fetches that row only then, and holds it of the stories last asked for alone: so an archive's worth of it is never in
memory, and of most stories never read.
"""

from __future__ import annotations

import os
import sqlite3
from collections import deque
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from hashlib import blake2b
from pathlib import Path
from types import TracebackType
from typing import Any, NamedTuple, TypeAlias
from urllib.parse import quote

import msgspec

from sitegen.newsroom.contentfiles import CONTENT
from sitegen.newsroom.keeping import ReadAhead, Record, packed_story
from sitegen.newsroom.records import Ask, Episode, Finding, Place, Story
from sitegen.site.errors import MachineError, ShelfChangedError
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
AWAKE = 512
"""Stories that hold all of their records, where that stays on the disk."""

_TABLES = """
CREATE TABLE IF NOT EXISTS ground (value TEXT NOT NULL);
CREATE TABLE IF NOT EXISTS records (path TEXT PRIMARY KEY, value BLOB NOT NULL, seal BLOB NOT NULL);
CREATE TABLE IF NOT EXISTS parts (path TEXT PRIMARY KEY, value BLOB NOT NULL, seal BLOB NOT NULL);
"""


_OF_FILES = ("records", "parts")


def _bound(path: str, mark: bytes | None = None) -> tuple[bytes, ...]:
    """What a row is sealed with beside its value: its path, and of a story's parts the digest of the record they belong to."""
    return (path.encode(), mark) if mark is not None else (path.encode(),)


def _path(name: str) -> str:
    """Of the file of a story."""
    return f"{CONTENT}/stories/{name}.md"


class _Row(msgspec.Struct, frozen=True, array_like=True):
    around: bytes
    used: dict[str, State]
    """The files it was read from, by path, as they were."""
    record: msgspec.Raw
    """A story's without its asks and body."""
    found: tuple[Finding, ...]
    mark: bytes
    """A digest of the packed record and of its parts."""


class _Packed(NamedTuple):
    """What is kept of one file."""

    value: bytes
    """The row in `records`."""
    parts: bytes
    """That in `parts`, of a story: its asks, body and galley. Else empty."""
    mark: bytes


_Parts: TypeAlias = tuple[tuple[Ask, ...], str, str]
_PARTS: msgspec.msgpack.Decoder[_Parts] = msgspec.msgpack.Decoder(tuple[tuple[Ask, ...], str, str])
_ROW = msgspec.msgpack.Decoder(_Row)


_STORY = msgspec.msgpack.Decoder(Story)


class _InMemory:
    """What was left packed of one story, in memory."""

    __slots__ = ("_parts",)

    def __init__(self, parts: bytes) -> None:
        self._parts = parts

    def __call__(self, story: Story) -> _Parts:
        return _PARTS.decode(self._parts)

    def whole(self, name: str) -> None:
        return None


class _OnDisk:
    """What was left packed of the stories of one reading, in the rows that they were taken from. They have to stay as they are, and
    be written by the time that somebody asks from another process."""

    def __init__(self, place: Path, marks: Mapping[str, bytes]) -> None:
        self._place = place
        self._marks = marks
        self._awake: deque[Story] = deque()
        self._stores: dict[int, sqlite3.Connection] = {}
        """By process: one that was opened before a process was forked is its parent's, and not even to be closed."""

    def __call__(self, story: Story) -> _Parts:
        parts = self._parts(story.id)
        if len(self._awake) >= AWAKE:
            self._awake.popleft().let_go()
        self._awake.append(story)
        return parts

    def whole(self, name: str) -> Story:
        path = _path(name)
        asks, body, galley = self._parts(name)
        found = self._found("SELECT value, seal FROM records WHERE path = ?", path)
        with suppress(msgspec.MsgspecError, TypeError):
            if found is not None and is_sealed(found[1], *_bound(path), found[0]):
                row = _ROW.decode(found[0])
                if row.mark == self._marks.get(name):
                    return replace(_STORY.decode(row.record), asks=asks, body=body, galley=galley)
        raise self._changed

    def _parts(self, name: str) -> _Parts:
        path, mark = _path(name), self._marks.get(name)
        found = self._found("SELECT value, seal FROM parts WHERE path = ?", path)
        with suppress(msgspec.MsgspecError, TypeError):
            if found is not None and is_sealed(found[1], *_bound(path, mark), found[0]):
                return _PARTS.decode(found[0])
        raise self._changed

    def _found(self, query: str, path: str) -> tuple[bytes, bytes] | None:
        found: tuple[bytes, bytes] | None = None
        with suppress(sqlite3.Error):
            found = self._opened().execute(query, (path,)).fetchone()
        return found

    @property
    def _changed(self) -> ShelfChangedError:
        return ShelfChangedError(
            f"'{self._place}' was changed while the site was being built. The site is as it was."
        )

    def use(self, store: sqlite3.Connection) -> None:
        """To be asked of a connection of this process's, for as long as it is open."""
        self._stores[os.getpid()] = store

    def close(self) -> None:
        """The connection is there no longer: the next who asks opens one."""
        self._stores.pop(os.getpid(), None)

    def _opened(self) -> sqlite3.Connection:
        store = self._stores.get(os.getpid())
        if store is None:
            store = sqlite3.connect(f"file:{quote(os.fsencode(self._place.resolve()))}?mode=ro", uri=True)
            self.use(store)
        return store


class RecordShelf:
    """A shelf in a folder, to be used in a `with` block. One that cannot be opened or written is an empty one."""

    def __init__(
        self,
        folder: Path,
        ground: str,
        sources: Sources,
        fresh: bool = False,
        spread: Spread | None = None,
        is_alone: bool = False,
    ) -> None:
        """`ground` stands for all that makes records out of files, `sources` are all files, looked at before any is read;
        `fresh` begins with nothing. With `spread`, many stories that are not here are read as it says. Where this `is_alone`,
        nobody else puts anything here while the records are in use, and parts of them may stay here."""
        self._place = folder / SHELF_NAME
        self._ground = ground
        self._states = sources.states
        self._settled = settled(sources.states, sources.looked_at)
        self._fresh = fresh
        self._spread = spread
        self._paths: set[str] = set()
        """Of the rows that are here."""
        self._fetched: dict[str, dict[str, tuple[bytes, bytes]]] = {}
        """Some rows' values and seals, by table and path."""
        self._store: sqlite3.Connection | None = None
        self._records: dict[type, msgspec.msgpack.Decoder[Any]] = {
            kind: msgspec.msgpack.Decoder(kind) for kind in (Story, Episode, Place)
        }
        self.marks: dict[str, bytes] = {}
        """Digests of the records taken and put, by the story's id: the same for equal records."""
        self._on_disk = _OnDisk(self._place, self.marks) if is_alone else None

    def __enter__(self) -> RecordShelf:
        if self._fresh:
            self._remove()
        for _ in range(2):  # once more after a damaged one was removed
            try:
                self._store = self._opened()
                if self._on_disk is not None:
                    self._on_disk.use(self._store)
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
        except sqlite3.Error as failed:
            self._remove()
            if self._on_disk is not None and error is None:
                raise MachineError(
                    f"'{self._place}' cannot be written: {failed}. The site is as it was."
                ) from failed
        finally:
            self._store.close()
            self._store = None
            # Whoever goes on using the records keeps this, too.
            self._paths, self._fetched, self._settled = set(), {}, {}
            if self._on_disk is not None:
                self._on_disk.close()

    def ahead(self, wanted: Sequence[tuple[str, bytes]], read: ReadAhead) -> None:
        if self._store is None or self._spread is None or self._spread.jobs == 1:
            return
        missing = [number for number, (path, _) in enumerate(wanted) if path not in self._paths]
        if len(missing) < MANY:
            return

        def rows(chunk: int) -> list[tuple[str, _Packed]]:
            found: list[tuple[str, _Packed]] = []
            for number in missing[chunk * CHUNK : (chunk + 1) * CHUNK]:
                kept = read(number)
                if kept is not None:
                    used, record, told = kept
                    path, around = wanted[number]
                    found.append((path, self._packed(around, used, record, told)))
            return found

        for each in self._spread(rows, -(-len(missing) // CHUNK)):
            for path, packed in each:
                self._insert(path, packed)

    def take(self, path: str, around: bytes, kind: type[Record]) -> tuple[Record, tuple[Finding, ...]] | None:
        row = self._found(path)
        if row is None or row.around != around:
            return None
        states = self._states
        for used, state in row.used.items():
            if state == UNKNOWN or states.get(used) != state:
                return None
        parts: bytes | None = None
        if kind is Story and self._on_disk is None:
            parts = self._sealed("parts", path, row.mark)
            if parts is None:
                return None
        record: Record = self._records[kind].decode(row.record)
        if isinstance(record, Story):
            self.marks[record.id] = row.mark
            record.leave_packed(self._on_disk or _InMemory(parts or b""))
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
        packed = self._packed(around, used, record, found)
        self._insert(path, packed)
        if isinstance(record, Story):
            self.marks[record.id] = packed.mark
            if self._on_disk is not None and path in self._paths:
                record.leave_packed(self._on_disk)

    def _packed(
        self, around: bytes, used: frozenset[str], record: Story | Episode | Place, found: tuple[Finding, ...]
    ) -> _Packed:
        states = {each: self._settled.get(each, UNKNOWN) for each in used}
        if isinstance(record, Story):
            packed, parts, mark = packed_story(record)
        else:
            packed, parts = msgspec.msgpack.encode(record), b""
            mark = blake2b(packed, digest_size=16).digest()
        row = _Row(around, states, msgspec.Raw(packed), found, mark)
        return _Packed(msgspec.msgpack.encode(row), parts, mark)

    def _insert(self, path: str, packed: _Packed) -> None:
        assert self._store is not None  # whoever calls has looked
        for held in self._fetched.values():
            held.pop(path, None)
        value, parts, mark = packed
        with suppress(sqlite3.Error):
            self._put("records", path, value, seal(*_bound(path), value))
            if parts:
                self._put("parts", path, parts, seal(*_bound(path, mark), parts))
            self._paths.add(path)

    def _put(self, table: str, *row: str | bytes) -> None:
        assert self._store is not None
        self._store.execute(f"INSERT OR REPLACE INTO {table} VALUES (?, ?, ?)", row)

    def _found(self, path: str) -> _Row | None:
        value = self._sealed("records", path)
        try:
            return _ROW.decode(value) if value is not None else None
        except msgspec.MsgspecError:
            return None

    def _sealed(self, table: str, path: str, mark: bytes | None = None) -> bytes | None:
        """A row's value; None where there is none to be believed."""
        if self._store is None or path not in self._paths:
            return None
        try:
            if path not in self._fetched.get(table, {}):
                # Files are read in the order of their paths, so those that follow are asked for next.
                rows = self._store.execute(
                    f"SELECT path, value, seal FROM {table} WHERE path >= ? ORDER BY path LIMIT ?",
                    (path, FETCHED),
                )
                self._fetched[table] = {each: (value, sealed) for each, value, sealed in rows}
            value, sealed = self._fetched[table][path]
            return value if is_sealed(sealed, *_bound(path, mark), value) else None
        except (sqlite3.Error, KeyError, TypeError):
            return None

    def _opened(self) -> sqlite3.Connection:
        self._place.parent.mkdir(parents=True, exist_ok=True)
        store = sqlite3.connect(self._place)
        try:
            store.execute("PRAGMA synchronous = OFF")
            store.executescript(_TABLES)
            if store.execute("SELECT value FROM ground").fetchall() != [(self._ground,)]:
                for table in _OF_FILES:
                    store.execute(f"DELETE FROM {table}")
                store.execute("DELETE FROM ground")
                store.execute("INSERT INTO ground VALUES (?)", (self._ground,))
            self._paths = {path for (path,) in store.execute("SELECT path FROM records")}
            gone = [(path,) for path in self._paths if path not in self._states]
            for table in _OF_FILES:
                store.executemany(f"DELETE FROM {table} WHERE path = ?", gone)
        except BaseException:
            store.close()
            raise
        return store

    def _remove(self) -> None:
        for suffix in ("", "-journal"):
            with suppress(OSError):
                self._place.with_name(SHELF_NAME + suffix).unlink()
