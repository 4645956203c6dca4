"""Bytes put aside while a build runs: one file that only grows, so that what an archive's pages told does not stand in memory."""

from __future__ import annotations

import os
from array import array
from contextlib import suppress
from pathlib import Path
from tempfile import mkstemp
from weakref import finalize

from sitegen.newsroom.keeping import MemoryAside
from sitegen.site.errors import MachineError


class Heap:
    """Byte strings by the numbers they were given. Without a folder they stay in memory; with one, in a file without a name, which
    is gone with this process, however it ends. Raises MachineError where the disk refuses."""

    def __init__(self, folder: Path | None) -> None:
        self._folder = folder
        self._file = -1
        self._held = MemoryAside()
        self._ends = array("Q")
        """Where in the file each ends."""

    def put(self, data: bytes) -> int:
        """Its number, from 0."""
        if self._folder is None:
            return self._held.put(data)
        try:
            if self._file < 0:
                self._file = _opened(self._folder)
                finalize(self, os.close, self._file)
            os.lseek(self._file, 0, os.SEEK_END)
            rest = data
            while rest:
                rest = rest[os.write(self._file, rest) :]
        except OSError as error:
            raise _refused(error) from error
        self._ends.append((self._ends[-1] if self._ends else 0) + len(data))
        return len(self._ends) - 1

    def get(self, number: int) -> bytes:
        if self._folder is None:
            return self._held.get(number)
        begin = self._ends[number - 1] if number else 0
        try:
            return _read(self._file, self._ends[number] - begin, begin)
        except OSError as error:
            raise _refused(error) from error


def _read(file: int, size: int, begin: int) -> bytes:
    if hasattr(os, "pread"):
        return os.pread(file, size, begin)  # processes that were forked have one position among them
    os.lseek(file, begin, os.SEEK_SET)
    return os.read(file, size)


def _opened(folder: Path) -> int:
    descriptor, name = mkstemp(dir=folder)
    # Where a file that is open cannot go, it goes with its folder.
    with suppress(OSError):
        os.unlink(name)  # noqa: PTH108 - as the library gave it
    return descriptor


def _refused(error: OSError) -> MachineError:
    return MachineError(
        f"Finished pages could not be kept: {error.strerror or error}. The site is as it was."
    )
