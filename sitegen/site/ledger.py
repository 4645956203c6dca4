"""The ledger: what each page was made from, what was written, and what was read, so that the next build does only the rest.

It is data only, in one SQLite file. Nothing in it is believed unless it bears its own digest, so a damaged, foreign or older
ledger is a missing one, and a missing one means a full build. It never decides what a page says: it only answers whether
something made before can stand, because everything that it was made from is the same.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import closing, suppress
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from typing import Any

import msgspec

from sitegen.site.states import State

LEDGER_NAME = "ledger.sqlite"
FORMAT = "2"
"""Raised whenever a ledger of before would be misread."""

_LARGE = 1 << 16
"""Bytes from which on it costs less to hash parts one by one than to join them."""
_DIGEST = 16
"""Bytes of a digest: two different things are never taken for one by chance."""

_TABLES = """
CREATE TABLE IF NOT EXISTS facts (name TEXT PRIMARY KEY, value BLOB NOT NULL, seal BLOB NOT NULL) WITHOUT ROWID;
CREATE TABLE IF NOT EXISTS made (address TEXT PRIMARY KEY, digest BLOB NOT NULL, value BLOB NOT NULL, seal BLOB NOT NULL);
"""


class Written(msgspec.Struct, frozen=True, array_like=True):
    """A file of the site as it was left."""

    size: int
    digest: str
    """SHA-256, hexadecimal."""
    immutable: bool
    state: State


class Facts(msgspec.Struct, frozen=True, array_like=True):
    """What a build with nothing to do has to know."""

    ground: str
    """Digest of the program, its libraries and the way it was asked."""
    theme: str
    """Digest of the theme, all of whose templates were read."""
    since: str
    """The moment the edition was made for, as an ISO 8601 instant in UTC."""
    until: str
    """The first moment at which a page would differ; empty for never."""
    fixed: str
    """The moment that station.yaml fixes, as written; empty for none."""
    time_zone: str
    pages: int
    concerns: int
    """In the copy, when it was last checked."""
    sources: dict[str, State]
    """Everything the edition was made of, by path: the content's files, and the theme's."""
    files: dict[str, Written]
    """The site's files by path; the manifest is among them."""
    for_root: dict[str, State]
    """Files for the host's root, beside the site."""


class MadePage(msgspec.Struct, frozen=True, array_like=True):
    """What is remembered of a page, or of a file that is not one."""

    path: str
    """The site's file it was written to."""
    card: str = ""
    """Path of its share picture; empty without one."""
    extract: bytes = b""
    """What the page told the rest of the edition, packed; empty for what is not a page."""
    findings: bytes = b""
    """The proof's findings that stop nothing, packed; empty for none."""
    parts: tuple[str, ...] = ()
    """Paths of the site's files that it leads to and that are made with it."""


@dataclass(slots=True)
class Entries:
    """The digest of each thing made, by its address in the edition, and of what it is."""

    digests: dict[str, bytes] = field(default_factory=dict)
    values: dict[str, bytes] = field(default_factory=dict)

    def value(self, address: str) -> MadePage:
        return msgspec.msgpack.decode(self.values[address], type=MadePage)


class Ledger:
    """The ledger of one site, in a folder beside it."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._place = folder / LEDGER_NAME

    def facts(self) -> Facts | None:
        """What the last build that finished left; None without a ledger to be believed."""
        try:
            with closing(self._open()) as store:
                row = store.execute("SELECT value, seal FROM facts WHERE name = ?", (FORMAT,)).fetchone()
        except (sqlite3.Error, OSError):
            return None
        if row is None or not is_sealed(row[1], row[0]):
            return None
        try:
            return msgspec.msgpack.decode(row[0], type=Facts)
        except (msgspec.DecodeError, msgspec.ValidationError):
            return None

    def entries(self) -> Entries:
        """Everything made that is remembered and bears its digest."""
        found = Entries()
        try:
            with closing(self._open()) as store:
                for address, digest, value, seal in store.execute(
                    "SELECT address, digest, value, seal FROM made"
                ):
                    if is_sealed(seal, address.encode(), digest, value):
                        found.digests[address], found.values[address] = digest, value
        except (sqlite3.Error, OSError, AttributeError, TypeError):
            return Entries()
        return found

    def save(
        self,
        facts: Facts,
        entries: Iterable[tuple[str, bytes, MadePage]],
        gone: Iterable[str],
        fresh: bool,
    ) -> None:
        """Remembers a finished build: `entries` are the (address, digest, what was made) that are new, `gone` the addresses
        to forget; `fresh` forgets everything of before. A ledger that cannot be written is forgotten as a whole."""
        packed = msgspec.msgpack.encode(facts)
        try:
            if fresh:
                self.forget()
            with closing(self._open(create=True)) as store, store:
                store.executemany("DELETE FROM made WHERE address = ?", ((address,) for address in gone))
                store.executemany("INSERT OR REPLACE INTO made VALUES (?, ?, ?, ?)", _rows(entries))
                store.execute("INSERT OR REPLACE INTO facts VALUES (?, ?, ?)", (FORMAT, packed, seal(packed)))
        except (sqlite3.Error, OSError):
            self.forget()

    def forget(self) -> None:
        """Removes the ledger."""
        for suffix in ("", "-journal", "-wal", "-shm"):
            with suppress(OSError):
                self._place.with_name(LEDGER_NAME + suffix).unlink()

    def _open(self, create: bool = False) -> sqlite3.Connection:
        if not create and not self._place.is_file():
            raise FileNotFoundError(self._place)
        store = sqlite3.connect(self._place)
        try:
            # A power cut may cost the ledger, which then is missing; the journal is for killed processes.
            store.execute("PRAGMA synchronous = OFF")
            if create:
                store.executescript(_TABLES)
        except BaseException:
            store.close()
            raise
        return store


def _rows(entries: Iterable[tuple[str, bytes, MadePage]]) -> Iterator[tuple[str, bytes, bytes, bytes]]:
    for address, digest, page in entries:
        value = msgspec.msgpack.encode(page)
        yield address, digest, value, seal(address.encode(), digest, value)


def seal(*parts: bytes | memoryview) -> bytes:
    """A digest over some parts of a row and their lengths."""
    if sum(map(len, parts)) > _LARGE:
        whole_file = sha256()
        for part in parts:  # one after another: together they would stand in memory twice
            whole_file.update(len(part).to_bytes(8, "big"))
            whole_file.update(part)
        return whole_file.digest()[:_DIGEST]
    whole = b"".join([each for part in parts for each in (len(part).to_bytes(8, "big"), part)])
    # Processors of today have instructions for SHA-256; here it takes half the time of others, and an archive is hashed whole.
    return sha256(whole).digest()[:_DIGEST]


def is_sealed(mark: Any, *parts: Any) -> bool:
    """Whether `mark` is the digest of the parts, as they came from a file that may be damaged."""
    try:
        return bool(mark == seal(*parts))
    except TypeError:
        return False  # something else than bytes
