"""What reading and composing ask of whoever keeps things between builds: records, and what was worked out of a record alone."""

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


class Drawer(Protocol):
    """Keeps what was worked out of a story's record alone, for as long as the record is the same."""

    def take(self, kind: str, story: Story) -> bytes | None:
        """What was kept of that kind for an equal record; None where nothing was."""

    def put(self, kind: str, story: Story, value: bytes) -> None:
        """Keeps something. `kind` names what it is, and all that it was worked out of beside the record."""


class NoDrawer:
    """Keeps nothing."""

    def take(self, kind: str, story: Story) -> None:
        return None

    def put(self, kind: str, story: Story, value: bytes) -> None:
        return None
