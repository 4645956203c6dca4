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

from sitegen.newsroom.folder import CONTENT
from sitegen.newsroom.records import Reading, Station
from sitegen.site.content import read_content
from sitegen.site.order import Sources, Workshop
from sitegen.site.states import UNKNOWN, State, settled, state_of

_STATES = "states"
_MARK = "unfinished"
_PREFIX = f"{CONTENT}/"


class Accepted:
    """The folder of accepted content of one site."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._kept: tuple[State, dict[str, State]] = UNKNOWN, {}

    @property
    def is_whole(self) -> bool:
        """There is accepted content, all of one build."""
        return (self.folder / _STATES).is_file() and not (self.folder / _MARK).exists()

    def read(self, only: frozenset[str] | None = None) -> Reading | None:
        """The accepted records, or None when there are none to be believed. `only`: paths of the stories, episodes and places to read; None
        for all."""
        return read_content(self.folder, only=only) if self.is_whole else None

    @property
    def sign(self) -> State | None:
        """Another one with each build that accepts; None while there is nothing to be believed."""
        sign = state_of(os.fspath(self.folder / _STATES))
        return sign if sign != UNKNOWN and self.is_whole else None

    def changed(self, sources: Sources) -> frozenset[str]:
        """Paths of accepted files that are other now, or gone, or may be."""
        states = self._states()
        return frozenset(
            path for path, state in states.items() if state == UNKNOWN or sources.states.get(path) != state
        )

    def added(self, sources: Sources) -> frozenset[str]:
        """Paths of files that were not accepted."""
        return frozenset(_content(sources).keys() - self._states().keys())

    def known(self, paths: Iterable[str]) -> frozenset[str]:
        """Those of some files that were accepted."""
        return frozenset(paths) & self._states().keys()

    def begin(self, sources: Sources) -> bool:
        """Marks the content as unfinished before its site is published; False when it is accepted already."""
        wanted = _content(sources)
        if self.is_whole and self._states() == wanted and UNKNOWN not in wanted.values():
            return False
        self.folder.mkdir(parents=True, exist_ok=True)
        (self.folder / _MARK).touch()
        return True

    def finish(self, root: Path, sources: Sources) -> None:
        """Copies what the site was made of, and takes the mark away. A file that changed meanwhile leaves the mark.

        `sources` are as they were before they were read. Raises OSError when the disk refuses.
        """
        before, wanted = self._states(), _content(sources)
        for path in before.keys() - wanted.keys():
            gone = self.folder / path
            if not gone.is_dir():  # what was a file there may be a folder by now
                with suppress(FileNotFoundError, NotADirectoryError):
                    gone.unlink()
        whole = True
        for path, state in wanted.items():
            copy = self.folder / path
            if before.get(path) == state != UNKNOWN and copy.is_file():
                continue
            source = root / path
            if state == UNKNOWN or not source.is_file():
                continue  # a link that leads nowhere, a device: nothing was read from it
            copy.parent.mkdir(parents=True, exist_ok=True)
            if copy.is_dir():
                shutil.rmtree(copy)  # what was a folder there is a file by now
            part = copy.with_name(f".{copy.name}.part")
            shutil.copyfile(source, part)
            part.replace(copy)
            whole = whole and state_of(os.fspath(source)) == state
        part = self.folder / f".{_STATES}.part"
        part.write_bytes(msgspec.msgpack.encode(settled(wanted, sources.looked_at)))
        part.replace(self.folder / _STATES)
        if whole:
            (self.folder / _MARK).unlink(missing_ok=True)

    def _states(self) -> dict[str, State]:
        path = self.folder / _STATES
        sign = state_of(os.fspath(path))
        if sign == UNKNOWN or sign != self._kept[0]:
            try:
                self._kept = sign, msgspec.msgpack.decode(path.read_bytes(), type=dict[str, State])
            except (OSError, msgspec.MsgspecError):
                self._kept = UNKNOWN, {}
        return self._kept[1]


def _content(sources: Sources) -> dict[str, State]:
    return {path: state for path, state in sources.states.items() if path.startswith(_PREFIX)}


def station_of(reading: Reading, workshop: Workshop) -> Station | None:
    """The station's settings: as they are, else, where they cannot be read, as they were accepted; None for neither."""
    if reading.newsroom is not None:
        return reading.newsroom.station
    before = Accepted(workshop.accepted).read(only=frozenset())
    return before.newsroom.station if before is not None and before.newsroom is not None else None
