"""Who may read what a build leaves: everybody the site, whoever builds alone what is kept beside it.

Disks and systems without such rights keep their own; that is no error. Imports nothing heavy: a build with nothing to do comes
by here.
"""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path
from stat import S_IMODE, S_ISDIR

_ALL_READ, _ALL_ENTER = 0o444, 0o555
_OTHERS = 0o007
_BUT_OWNER = 0o077


def open_to_all(path: str) -> None:
    """Lets everybody read a file, or look into a folder, whatever the process's umask kept from it."""
    place = Path(path)
    mode = place.stat().st_mode
    wanted = mode | (_ALL_ENTER if S_ISDIR(mode) else _ALL_READ)
    if wanted != mode:
        with suppress(OSError):
            place.chmod(S_IMODE(wanted))


def is_owners_alone(mode: int) -> bool:
    """Whether none but its owner may read a file or folder: no host serves such a one. One that a group may read is meant so."""
    return os.name == "posix" and not mode & _BUT_OWNER


def make_private(folder: Path) -> None:
    """A folder that only its owner looks into, made where it is missing; one that only a group was let into stays so.

    Raises OSError where it cannot be made.
    """
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    mode = folder.stat().st_mode
    if mode & _OTHERS:
        with suppress(OSError):
            folder.chmod(S_IMODE(mode) & ~_BUT_OWNER)
