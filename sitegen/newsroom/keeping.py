"""What the reading of a folder asks of whoever keeps records between readings."""

from __future__ import annotations

from typing import Protocol

from sitegen.newsroom.records import Finding, Story


class Shelf(Protocol):
    """Keeps the records of stories, by everything that they were read from."""

    def take(self, path: str, around: bytes) -> tuple[Story, tuple[Finding, ...]] | None:
        """The record of a story file and what was found in it, where nothing that it was read from has changed; else None."""

    def put(
        self, path: str, around: bytes, used: frozenset[str], story: Story, found: tuple[Finding, ...]
    ) -> None:
        """Keeps a record. `around` stands for what it was read with beside files, `used` are the paths of the files."""


class NoShelf:
    """Keeps nothing."""

    def take(self, path: str, around: bytes) -> None:
        return None

    def put(
        self, path: str, around: bytes, used: frozenset[str], story: Story, found: tuple[Finding, ...]
    ) -> None:
        return None
