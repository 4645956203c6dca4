"""What is made of the program's templates and catalogues, kept where Python keeps what it makes of the program's modules.

Python has a place for what is compiled of a source (PEP 3147: beside it in `__pycache__`, or below `sys.pycache_prefix`) and a
word against writing any (`sys.dont_write_bytecode`). Both hold here, and so does the trust: whoever can write there can write
the source, or the modules. What is kept counts for the same source, program, libraries and Python alone; what does not, is
damaged or cannot be written is made anew, and nobody is told.
"""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from hashlib import blake2b
from importlib.util import MAGIC_NUMBER, cache_from_source
from pathlib import Path

from sitegen import __version__

FOLDER = "__pycache__"
"""Python's name for the folder beside sources; nothing in it is a source."""

_SEAL = 32
"""Bytes of a seal."""


def kept(source: Path, made_of: str) -> bytes | None:
    """What was made of a source and kept; None where nothing was, or of something else than `made_of` tells."""
    try:
        data = Path(cache_from_source(source)).read_bytes()
    except (OSError, NotImplementedError):  # not there, or a Python that keeps nothing
        return None
    return data[_SEAL:] if data[:_SEAL] == _seal(made_of, data[_SEAL:]) else None


def keep(source: Path, made_of: str, data: bytes) -> None:
    """Keeps what was made of a source, where Python may write and can. `made_of` tells all that it was made of."""
    if sys.dont_write_bytecode:
        return
    with suppress(OSError, NotImplementedError):
        place = Path(cache_from_source(source))
        # As open to others as the source is, as with modules: what lies there is believed.
        rights = source.stat().st_mode & 0o666
        place.parent.mkdir(parents=True, exist_ok=True)
        part = place.with_name(f"{place.name}.{os.getpid()}")
        file = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, rights)
        try:
            with os.fdopen(file, "wb") as stream:
                stream.write(_seal(made_of, data) + data)
            part.replace(place)
        except OSError:
            part.unlink()


def state_of_module(path: str) -> str:
    """Size and time of a module's file, which stand for the module as they do for Python."""
    try:
        status = Path(path).stat()
    except OSError:
        return ""
    return f"{status.st_size} {status.st_mtime_ns}"


def _seal(made_of: str, data: bytes) -> bytes:
    told = repr((__version__, sys.version, MAGIC_NUMBER, made_of)).encode("utf-8", "surrogatepass")
    return blake2b(data, digest_size=_SEAL, key=blake2b(told).digest()).digest()
