"""What all rooms ask of whoever keeps things between builds, records and what was worked out of a record alone, and of whoever
spreads work over processes."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from hashlib import blake2b
from typing import Protocol, TypeAlias, TypeVar

from msgspec import msgpack

from sitegen.newsroom.records import Episode, Finding, Place, Story

Record = TypeVar("Record", Story, Episode, Place)
"""What one file says."""


ReadAhead: TypeAlias = Callable[[int], tuple[frozenset[str], Story, tuple[Finding, ...]] | None]
"""Reads the story of that number: the files used, the record, what was found. None for one that is not to be kept."""


class Shelf(Protocol):
    """Keeps the records of files, by everything that they were read from."""

    def ahead(self, wanted: Sequence[tuple[str, bytes]], read: ReadAhead) -> None:
        """Told of the stories that will be taken, path and `around` of each: a shelf that lacks many may read them now, in
        several processes. None need be."""

    def take(self, path: str, around: bytes, kind: type[Record]) -> tuple[Record, tuple[Finding, ...]] | None:
        """The record of a file and what was found in it, where nothing that it was read from has changed; else None."""

    def put(
        self, path: str, around: bytes, used: frozenset[str], record: Record, found: tuple[Finding, ...]
    ) -> None:
        """Keeps a record. `around` stands for what it was read with beside files, `used` are the paths of the files."""


class Aside(Protocol):
    """Puts bytes aside until they are wanted, so that they do not stand in memory."""

    def put(self, data: bytes) -> int:
        """The number it gets."""

    def get(self, number: int) -> bytes:
        """What got that number."""


class MemoryAside:
    """Keeps what is put aside in memory."""

    def __init__(self) -> None:
        self._held: list[bytes] = []

    def put(self, data: bytes) -> int:
        self._held.append(data)
        return len(self._held) - 1

    def get(self, number: int) -> bytes:
        return self._held[number]


class NoShelf:
    """Keeps nothing."""

    def ahead(self, wanted: Sequence[tuple[str, bytes]], read: ReadAhead) -> None:
        return None

    def take(self, path: str, around: bytes, kind: type[Record]) -> None:
        return None

    def put(
        self, path: str, around: bytes, used: frozenset[str], record: Record, found: tuple[Finding, ...]
    ) -> None:
        return None


def packed_story(story: Story) -> tuple[bytes, bytes, bytes]:
    """A story's record without its asks and body, these and its galley, and a digest of it all: the same for equal records that were
    written alike."""
    rest = msgpack.encode(replace(story, asks=(), body="", galley=""))
    parts = msgpack.encode((story.asks, story.body, story.galley))
    return rest, parts, blake2b(rest + parts, digest_size=16).digest()


class Drawer(Protocol):
    """Keeps what was worked out of a story's record alone, for as long as the record is the same."""

    def take(self, kind: str, story: Story) -> bytes | None:
        """What was kept of that kind for an equal record; None where nothing was."""

    def put(self, kind: str, story: Story, value: bytes) -> None:
        """Keeps something. `kind` names what it is, and all that it was worked out of beside the record."""

    def mark(self, story: Story) -> bytes:
        """The digest of `packed_story`."""


class NoDrawer:
    """Keeps nothing."""

    def take(self, kind: str, story: Story) -> None:
        return None

    def put(self, kind: str, story: Story, value: bytes) -> None:
        return None

    def mark(self, story: Story) -> bytes:
        return packed_story(story)[2]


class MemoryDrawer:
    """Keeps, in memory, what was worked out of stories that were not read again: of each story the newest record's."""

    def __init__(self) -> None:
        self._there: dict[tuple[str, str], tuple[Story, bytes]] = {}

    def take(self, kind: str, story: Story) -> bytes | None:
        kept = self._there.get((kind, story.id))
        return kept[1] if kept is not None and kept[0] is story else None

    def put(self, kind: str, story: Story, value: bytes) -> None:
        self._there[kind, story.id] = (story, value)

    def mark(self, story: Story) -> bytes:
        mark = self.take(_MARK, story)
        if mark is None:
            mark = packed_story(story)[2]
            self.put(_MARK, story, mark)
        return mark


_MARK = "mark"


class Spread(Protocol):
    """How work is spread."""

    def __call__(self, work: Callable[[int], bytes], count: int) -> Iterator[bytes]:
        """work(0), work(1) and so on, in this order."""


def one_by_one(work: Callable[[int], bytes], count: int) -> Iterator[bytes]:
    return map(work, range(count))
