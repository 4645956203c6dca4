"""What the disk says of files without opening them: enough to tell whether one may have changed since a build looked.

Imports nothing heavy: a build with nothing to do reads states and stops.
"""

from __future__ import annotations

import os
from collections.abc import Container, Iterator, Mapping
from stat import S_ISREG
from typing import TypeAlias

from sitegen.newsroom.visible import as_text

State: TypeAlias = tuple[int, int, int, int]
"""(bytes, modified and changed in nanoseconds, inode). Every write, replacement and change of rights moves the second time,
which no program can set."""

UNKNOWN: State = (-1, 0, 0, 0)
"""Equal to no file's state, and taken for changed even beside itself."""

SETTLED_NANOSECONDS = 2_000_000_000
"""How old a change must be before a state stands for the bytes: until then another one could bear the same time. No file
system in use counts in steps longer than two seconds (FAT, from memory)."""


def state_of(path: str) -> State:
    """The state of a regular file, links followed; UNKNOWN for anything else."""
    try:
        status = os.stat(path)
    except OSError:
        return UNKNOWN
    return _state(status) if S_ISREG(status.st_mode) else UNKNOWN


def states_below(folder: str, prefix: str) -> dict[str, State]:
    """The state of everything below a folder but folders, by `prefix` and path with forward slashes.

    What cannot be looked at is there as UNKNOWN. A folder that is not there holds nothing. A name that is not UTF-8 stands as
    text that is no file's.
    """
    return dict(_below(folder, prefix))


def _below(folder: str, prefix: str) -> Iterator[tuple[str, State]]:
    try:
        entries = list(os.scandir(folder))
    except FileNotFoundError:
        return
    except OSError:
        yield prefix, UNKNOWN
        return
    for entry in entries:
        name = f"{prefix}{as_text(entry.name)}"
        try:
            if entry.is_dir(follow_symlinks=False):
                yield from _below(entry.path, f"{name}/")
                continue
            status = entry.stat()
        except OSError:
            yield name, UNKNOWN
            continue
        yield name, _state(status) if S_ISREG(status.st_mode) else UNKNOWN


class NotKnownGone(Container[str]):
    """The paths of files that are there, or may be: those below a folder that could not be looked into, or that is a link, too."""

    def __init__(self, states: Mapping[str, State]) -> None:
        self._states = states
        self._closed = tuple(
            f"{name.removesuffix('/')}/" for name, state in states.items() if state == UNKNOWN
        )

    def __contains__(self, path: object) -> bool:
        return path in self._states or (isinstance(path, str) and path.startswith(self._closed))


def settled(states: dict[str, State], looked_at: int) -> dict[str, State]:
    """The states with those made UNKNOWN that were younger than SETTLED_NANOSECONDS at `looked_at` (nanoseconds)."""
    newest = looked_at - SETTLED_NANOSECONDS
    return {
        name: state if state[1] < newest and state[2] < newest else UNKNOWN for name, state in states.items()
    }


def _state(status: os.stat_result) -> State:
    return (status.st_size, status.st_mtime_ns, status.st_ctime_ns, status.st_ino)
