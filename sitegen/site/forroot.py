"""What counts only at a host's root, for a site that lives in a folder of its host: beside the site, for ops to copy there.

A page for the lost, robots.txt and security.txt are asked for at the root alone (RFC 9309, section 2.3; RFC 9116, section
3; an error page by the host's own settings), and what stands at the root is for the whole host: whoever runs it decides.
"""

from __future__ import annotations

import os
from collections.abc import Set
from pathlib import Path
from urllib.parse import urlsplit

from sitegen.edition import addresses
from sitegen.site.errors import MachineError
from sitegen.site.rights import open_to_all

ROOT_FILES = (addresses.NOT_FOUND, addresses.ROBOTS, addresses.SECURITY)


def lives_in_a_folder(address: str) -> bool:
    """True for a site whose public address has a path."""
    return urlsplit(address).path not in ("", "/")


def write_for_root(folder: Path, site: Path, files: Set[str], address: str) -> None:
    """Makes `folder` hold the files of the published `site` that are for the root, each replaced in one step, and none that
    its edition (the paths in `files`) lacks.

    A site at its host's root has them in place: the folder then goes. Other files in it are left alone. Raises MachineError
    where the disk refuses.
    """
    wanted = {name for name in ROOT_FILES if name in files} if lives_in_a_folder(address) else set()
    try:
        for name in ROOT_FILES:
            path = folder / name
            if name in wanted:
                _write(path, (site / name).read_bytes())
            else:
                path.unlink(missing_ok=True)
        for emptied in ((folder / addresses.SECURITY).parent, folder):
            if emptied.is_dir() and not any(emptied.iterdir()):
                emptied.rmdir()
    except OSError as error:
        raise MachineError(
            f"The site is published; the files for the host's root could not be written to '{folder}': "
            f"{error.strerror or error}."
        ) from error


def _write(path: Path, body: bytes) -> None:
    if path.is_file() and path.read_bytes() == body:
        return
    if not path.parent.is_dir():
        path.parent.mkdir(parents=True)
        open_to_all(os.fspath(path.parent))
    part = path.with_name(f".{path.name}.part")
    try:
        part.write_bytes(body)
        open_to_all(os.fspath(part))
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)
