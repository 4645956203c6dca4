"""Writing under content/ and nowhere else: whole files in one step, never over a change that was not seen.

Everything that a browser says about a file's name is checked here: its form, each segment, and that no link on the way leads
out of content/.
"""

from __future__ import annotations

import hashlib
import stat
from pathlib import Path
from threading import Lock

from sitegen.newsroom.forms import Form, form_for
from sitegen.newsroom.slugs import is_slug, slug
from sitegen.site.onestep import part_of, put_new

MOST_BYTES = 1_000_000
"""Of a text; the readers take no more."""
MOST_NAME = 100
"""Characters of one segment of a name; disks allow 255 bytes."""
_LOCK = Lock()
"""Between looking at a file and replacing it no other thread of this desk may do the same."""


class NameRefusedError(ValueError):
    """A name that is not one of a file that the form writes; the text says why."""


class ChangedError(Exception):
    """The file is no longer what it was when it was opened; nothing was written."""


class ThereAlreadyError(Exception):
    """A new file has the name of one that is there; nothing was written."""


class DiskError(Exception):
    """The disk refused; the text says why in plain words."""


def digest(text: str) -> str:
    """Of a file's text, to know it again."""
    return hashlib.sha256(text.encode()).hexdigest()


def allowed(path: str) -> Form:
    """The form of a file that may be written, by its path from the root. Raises NameRefusedError."""
    form = form_for(path) if len(path) <= 4 * MOST_NAME else None
    if form is None:
        raise NameRefusedError("The form writes stories, places, episodes and station pages only.")
    inside = path.removesuffix(form.suffix).split("/")[2:]
    if not all(is_slug(part) and len(part) <= MOST_NAME for part in inside):
        raise NameRefusedError("A file's name holds only small letters, digits and hyphens.")
    if len(inside) > (4 if form.kind == "story" else 1):
        raise NameRefusedError("Files do not lie so deep.")
    return form


def read(root: Path, path: str) -> str | None:
    """The text of a file that may be written, byte for byte; None when there is none. Raises NameRefusedError, DiskError."""
    allowed(path)
    target = _inside(root, path)
    try:
        if target.stat().st_size > MOST_BYTES:
            raise DiskError("The file is too large for the form.")
        return target.read_bytes().decode("utf-8")
    except FileNotFoundError:
        return None
    except UnicodeDecodeError:
        raise DiskError("The file is not UTF-8 text. Open it in an editor and save it as UTF-8.") from None
    except OSError as error:
        raise DiskError(f"The file cannot be read: {error.strerror or error}.") from error


def replace(root: Path, path: str, text: str, seen: str) -> None:
    """Puts a text in the place of one whose digest is `seen`. Raises ChangedError when another stands there by now."""
    _check_size(text)
    with _LOCK:
        now = read(root, path)
        if now is None or digest(now) != seen:
            raise ChangedError
        target = _inside(root, path)
        try:
            with part_of(target, text.encode()) as part:
                part.chmod(stat.S_IMODE(target.stat().st_mode))
                part.replace(target)
        except OSError as error:
            raise _refused(error) from error


def create(root: Path, path: str, text: str) -> None:
    """Writes a new file. Raises ThereAlreadyError when there is one."""
    allowed(path)
    _check_size(text)
    _create(root, path, text.encode())


def create_picture(root: Path, name: str, data: bytes) -> str:
    """Writes a picture to content/photos under the nearest free name, and returns that name. The same bytes are not written twice.

    `name` is what the picture was called where it came from; only its letters and digits count.
    """
    stem = slug(Path(name.replace("\\", "/")).stem)[:MOST_NAME].strip("-") or "picture"
    for number in range(1, 1000):
        called = f"{stem}.jpg" if number == 1 else f"{stem}-{number}.jpg"
        path = f"content/photos/{called}"
        target = _inside(root, path)
        if target.is_file() and target.stat().st_size == len(data) and target.read_bytes() == data:
            return called
        try:
            _create(root, path, data)
        except ThereAlreadyError:
            continue
        return called
    raise DiskError("There are too many pictures of this name. Give it another one.")


def _create(root: Path, path: str, data: bytes) -> None:
    target = _inside(root, path)
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise DiskError(f"The folder cannot be made: {error.strerror or error}.") from error
    # Once more: the folders are there now, and what was made or found there must be ours.
    target = _inside(root, path)
    try:
        put_new({target: data})
    except FileExistsError:
        raise ThereAlreadyError from None
    except OSError as error:
        raise _refused(error) from error


def _refused(error: OSError) -> DiskError:
    return DiskError(f"The file cannot be written: {error.strerror or error}.")


def _check_size(text: str) -> None:
    if len(text.encode()) > MOST_BYTES:
        raise DiskError(f"The text is longer than {MOST_BYTES // 1000:,} kB.")


def _inside(root: Path, path: str) -> Path:
    """Where a path leads. Raises NameRefusedError when that is through a link, or not in content/."""
    content = (root / "content").resolve()
    target = root / path
    walked = root / "content"
    for part in path.split("/")[1:]:
        walked = walked / part
        if walked.is_symlink():
            raise NameRefusedError("The way to this file leads over a link; the form does not write there.")
    if not target.resolve().is_relative_to(content):
        raise NameRefusedError("The file does not lie in content/.")
    return target
