"""Asking a draft's few questions at a terminal, and writing its file where none is yet."""

from __future__ import annotations

import os
from pathlib import Path

from sitegen.site.errors import MachineError, RefusedError


def write_draft(root: Path, path: str, text: str) -> None:
    """Writes a new file below the root. Raises RefusedError when there is one already, MachineError when the
    disk refuses."""
    target = root / path
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        # O_EXCL: never over a file that appeared since the question was asked.
        descriptor = os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)
    except FileExistsError:
        raise RefusedError(f"'{path}' exists already. Choose another name, or edit that file.") from None
    except OSError as error:
        raise MachineError(f"'{path}' cannot be written: {error.strerror or error}.") from error
    with os.fdopen(descriptor, "w", encoding="utf-8", newline="\n") as file:
        file.write(text)
