"""The last accepted content: the source files of the last build without faults, kept beside the ledger.

When new copy has faults, this is what is brought to the present moment instead. A mark stands in the folder from before its
site is published until every file is copied, so that content which no finished build accepted is never taken for accepted.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

import msgspec

from sitegen.newsroom.contentfiles import CONTENT
from sitegen.newsroom.records import Reading, Station
from sitegen.site.content import read_content
from sitegen.site.order import Sources, Workshop
from sitegen.site.states import UNKNOWN, State, settled, state_of

_LIST = "states"
_MARK = "unfinished"
_PREFIX = f"{CONTENT}/"


class _Kept(msgspec.Struct, frozen=True):
    """What was accepted, by path."""

    states: dict[str, State]
    """Of the sources."""
    sizes: dict[str, int]
    """Bytes of the copies: of all files but those that could not be read, which the content was read without."""
    root: str
    """The station's folder, absolute."""


_NOTHING = _Kept({}, {}, "")


class Accepted:
    """The folder of accepted content of one site."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._beside = f"{os.fspath(folder)}/"
        self._last: tuple[State, _Kept] = UNKNOWN, _NOTHING

    @property
    def is_whole(self) -> bool:
        """There is accepted content, all of one build, and no copy of it was lost or cut short since."""
        if (self.folder / _MARK).exists():
            return False
        kept = self._kept()
        return bool(kept.states) and all(self._has(path, size) for path, size in kept.sizes.items())

    def _has(self, path: str, size: int | None) -> bool:
        return size is not None and state_of(f"{self._beside}{path}")[0] == size

    def read(self, only: frozenset[str] | None = None) -> Reading | None:
        """The accepted records, or None when there are none to be believed. `only`: paths of the stories, episodes and places to read; None
        for all."""
        return read_content(self.folder, only=only) if self.is_whole else None

    def is_of(self, root: Path) -> bool:
        """It was accepted from this station's folder, whole or not."""
        return self._kept().root == _lying_at(root)

    @property
    def sign(self) -> State | None:
        """Another one with each build that accepts; None while none has finished. Copies are not looked at."""
        sign = state_of(os.fspath(self.folder / _LIST))
        return sign if sign != UNKNOWN and not (self.folder / _MARK).exists() else None

    def changed(self, sources: Sources) -> frozenset[str]:
        """Paths of accepted files that are other now, or gone, or may be."""
        states = self._kept().states
        return frozenset(
            path for path, state in states.items() if state == UNKNOWN or sources.states.get(path) != state
        )

    def added(self, sources: Sources) -> frozenset[str]:
        """Paths of files that were not accepted."""
        return frozenset(_content(sources).keys() - self._kept().states.keys())

    def known(self, paths: Iterable[str]) -> frozenset[str]:
        """Those of some files that were accepted."""
        return frozenset(paths) & self._kept().states.keys()

    def begin(self, sources: Sources) -> bool:
        """Marks the content as unfinished before its site is published; False when it is accepted already."""
        wanted = _content(sources)
        if self._kept().states == wanted and UNKNOWN not in wanted.values() and self.is_whole:
            return False
        self.folder.mkdir(parents=True, exist_ok=True)
        (self.folder / _MARK).touch()
        return True

    def finish(self, root: Path, sources: Sources) -> None:
        """Copies what the site was made of, and takes the mark away. A file that changed meanwhile leaves the mark.

        `sources` are as they were before they were read. A file that cannot be read is left out: nothing was made of it, or it
        would have been a fault. Raises OSError, which names the file, when the disk refuses.
        """
        kept, wanted = self._kept(), _content(sources)
        before, sizes = kept.states, {}
        for path in before.keys() - wanted.keys():
            gone = self.folder / path
            if not gone.is_dir():  # what was a file there may be a folder by now
                with suppress(FileNotFoundError, NotADirectoryError):
                    gone.unlink()
        whole = True
        for path, state in wanted.items():
            if before.get(path) == state != UNKNOWN and self._has(path, kept.sizes.get(path)):
                sizes[path] = kept.sizes[path]
                continue
            copy, source = self.folder / path, root / path
            if state == UNKNOWN or not source.is_file():
                continue  # a link that leads nowhere, a device: nothing was read from it
            if not _can_be_read(source):
                with suppress(FileNotFoundError, NotADirectoryError, IsADirectoryError):
                    copy.unlink()
                whole = whole and state_of(os.fspath(source)) == state
                continue
            copy.parent.mkdir(parents=True, exist_ok=True)
            if copy.is_dir():
                shutil.rmtree(copy)  # what was a folder there is a file by now
            part = copy.with_name(f".{copy.name}.part")
            shutil.copyfile(source, part)
            part.replace(copy)
            sizes[path] = state[0]
            whole = whole and state_of(os.fspath(source)) == state
        part = self.folder / f".{_LIST}.part"
        part.write_bytes(
            msgspec.msgpack.encode(_Kept(settled(wanted, sources.looked_at), sizes, _lying_at(root)))
        )
        part.replace(self.folder / _LIST)
        if whole:
            (self.folder / _MARK).unlink(missing_ok=True)

    def _kept(self) -> _Kept:
        path = self.folder / _LIST
        sign = state_of(os.fspath(path))
        if sign == UNKNOWN or sign != self._last[0]:
            try:
                self._last = sign, msgspec.msgpack.decode(path.read_bytes(), type=_Kept)
            except (OSError, msgspec.MsgspecError):
                self._last = UNKNOWN, _NOTHING
        return self._last[1]


def _lying_at(root: Path) -> str:
    """Where a folder lies, as words: the bytes of its name need be none of UTF-8, nor does this process's idea of names."""
    return os.fsencode(root.resolve()).decode(errors="backslashreplace")


def _can_be_read(file: Path) -> bool:
    try:
        with file.open("rb"):
            return True
    except OSError:
        return False


def _content(sources: Sources) -> dict[str, State]:
    return {path: state for path, state in sources.states.items() if path.startswith(_PREFIX)}


def station_of(reading: Reading, workshop: Workshop) -> Station | None:
    """The station's settings: as they are, else, where they cannot be read, as they were accepted; None for neither."""
    if reading.newsroom is not None:
        return reading.newsroom.station
    before = Accepted(workshop.accepted).read(only=frozenset())
    return before.newsroom.station if before is not None and before.newsroom is not None else None
