"""One build at a time for one site: a lock with its holder's name, which the system lets go when the holder ends.

The lock is the system's own on an open file (`flock`), so a killed build leaves none behind. The file's words only say whose
it is. Where the system has no such lock (it is part of POSIX systems), builds are not kept apart.
"""

from __future__ import annotations

import json
import os
import platform
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from sitegen.site.errors import MachineError

LOCK_NAME = "lock"


@contextmanager
def only_builder(folder: Path, present: datetime) -> Iterator[int]:
    """Holds the lock of a folder, which is made; gives the open file's number, for child processes to close.

    `present` is told to others as the moment the build began. Raises MachineError when somebody else holds the lock, with
    the holder's name, and when the folder cannot be written.
    """
    place = folder / LOCK_NAME
    try:
        folder.mkdir(parents=True, exist_ok=True)
        descriptor = os.open(place, os.O_RDWR | os.O_CREAT, 0o666)
    except OSError as error:
        raise MachineError(
            f"'{error.filename or place}' cannot be written: {error.strerror or error}. The site is as it was."
        ) from error
    try:
        if not _take(descriptor):
            raise MachineError(
                f"Another build of this site is under way: {_holder(descriptor)}. "
                "Wait until it has ended, and build again. The site is as it was."
            )
        _sign(descriptor, present)
        yield descriptor
    finally:
        os.close(descriptor)


def _take(descriptor: int) -> bool:
    try:
        import fcntl
    except ImportError:
        return True
    try:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:
        # A disk without locks (some that lie in a network): then builds are not kept apart.
        return True
    return True


def _sign(descriptor: int, present: datetime) -> None:
    name = {"host": platform.node(), "process": os.getpid(), "since": present.isoformat()}
    try:
        os.ftruncate(descriptor, 0)
        os.pwrite(descriptor, json.dumps(name).encode(), 0)
    except OSError:
        return  # a full disk: the lock holds without its holder's name


def _holder(descriptor: int) -> str:
    try:
        name = json.loads(os.pread(descriptor, 4096, 0))
        return f"process {name['process']} on {name['host']}, since {name['since']}"
    except (OSError, ValueError, KeyError, TypeError):
        return "whose holder has not signed it"
