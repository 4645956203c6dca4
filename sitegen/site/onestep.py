"""Files written in one step: whole or not there, several at once all or none, and new ones never over another.

The bytes are first written to files of their own beside where they go, under names that no reader looks at.
"""

from __future__ import annotations

import os
import secrets
from collections.abc import Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from errno import EIO, ENOTDIR
from pathlib import Path


@contextmanager
def part_of(target: Path, data: bytes) -> Iterator[Path]:
    """Some bytes in a file beside their target, to be linked or renamed; it is gone in the end. Raises OSError, which names the target."""
    part = target.with_name(f".{target.name[:60]}.{secrets.token_hex(6)}.part")
    try:
        try:
            # Not over anything, and with the rights that any new file gets.
            with part.open("xb") as file:
                file.write(data)
        except OSError as error:
            raise _of(error, target) from error
        yield part
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)


def put(target: Path, data: bytes) -> None:
    """Makes a file hold some bytes, whatever it held. Raises OSError, which names the target; then it holds what it held."""
    _make_folder(target.parent)
    with part_of(target, data) as part:
        try:
            part.replace(target)
        except OSError as error:
            raise _of(error, target) from error


def put_new(files: Mapping[Path, bytes]) -> None:
    """Makes new files, in this order, all or none. A kill in the middle leaves the first of them, whole.

    Raises FileExistsError, which names the file, when one is there, and OSError when the disk refuses.
    """
    with ExitStack() as stack:
        parts: dict[Path, Path] = {}
        for target, data in files.items():
            _make_folder(target.parent)
            parts[target] = stack.enter_context(part_of(target, data))
        copied: set[Path] = set()
        try:
            for target, part in parts.items():
                try:
                    os.link(part, target)
                except FileExistsError as error:
                    raise _of(error, target) from None
                except OSError:
                    # A disk without hard links: not in one step, but not over anything either.
                    try:
                        with target.open("xb") as file:
                            copied.add(target)
                            file.write(files[target])
                    except OSError as error:
                        raise _of(error, target) from error
        except BaseException:
            for target, part in parts.items():
                with suppress(OSError):
                    if target in copied or target.samefile(part):
                        target.unlink()
            raise


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except FileExistsError:
        raise NotADirectoryError(ENOTDIR, os.strerror(ENOTDIR), str(folder)) from None


def _of(error: OSError, target: Path) -> OSError:
    """The same refusal, of the file that somebody asked for."""
    code = error.errno or EIO
    return OSError(code, error.strerror or os.strerror(code), str(target))
