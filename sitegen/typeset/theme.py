"""A theme, read whole from its folder: templates, words and files to publish, with one digest over all of them."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from sitegen.typeset.pycache import FOLDER as COMPILED

_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_PACKAGE = Path(__file__).resolve().parent.parent

TEMPLATES = "templates"
"""Folder of the jinja2 templates."""
WORDS = "words"
"""Folder of the gettext catalogues, one `<language>.po` each; `en.po` must be there."""
ASSETS = "assets"
"""Folder of the files that are published, each under a name that carries a digest of its bytes."""

SHEETS = "sheets"
"""Folder of stylesheets that stand in the newsroom's own sheets of paper; never published."""


class ThemeError(Exception):
    """A theme that cannot be used, in plain words."""


@dataclass(frozen=True, slots=True)
class Theme:
    """Everything a theme is made of, in memory. Two themes with the same digest set the same pages."""

    name: str
    digest: str
    """SHA-256 over the path and bytes of every file, in path order, hexadecimal."""
    templates: tuple[tuple[str, str], ...]
    """(name such as `story.html`, text), by name."""
    catalogues: tuple[tuple[str, str], ...]
    """(language such as `en` or `es-MX`, text of its .po file), by language."""
    assets: tuple[tuple[str, bytes], ...]
    """(name such as `tidetable.css`, bytes), by name."""
    sheets: tuple[tuple[str, str], ...] = ()
    """(name such as `onair.css`, text), by name."""
    folder: Path | None = field(default=None, compare=False)
    """Where it lies, of a theme of the program's, of which things are kept that were made once (`typeset/pycache.py`). None for a
    station's own: that folder is its producer's, and holds nothing but what was put there."""

    def source_of(self, path: str) -> Path | None:
        """The file at a path such as `templates/story.html`, of a theme of the program's."""
        return self.folder / path if self.folder is not None else None


def load_theme(root: Path, name: str) -> Theme:
    """The theme of that name: from `root`/themes, else from the installed package, else from a source checkout.

    Raises ThemeError when the name is not a theme's, nothing of that name is found, or a file cannot be read.
    """
    if not _NAME.fullmatch(name):
        raise ThemeError(
            f"{name!r} cannot be a theme's name: write small letters, digits and single hyphens, such as `tidetable`"
        )
    of_program = (_PACKAGE / "themes", _PACKAGE.parent / "themes")
    shelves = (root / "themes", *of_program)
    for shelf in shelves:
        folder = shelf / name
        if folder.is_dir():
            # A checkout can be a station's folder, too.
            place = folder.resolve()
            return _read(folder, name, place if place.parent in of_program else None)
    known = sorted({folder.name for shelf in shelves for folder in _folders(shelf)})
    hint = f"; there is {', '.join(known)}" if known else ""
    raise ThemeError(
        f"no theme is called {name!r}, neither under {shelves[0]} nor among those of sitegen{hint}"
    )


def _folders(shelf: Path) -> Iterator[Path]:
    if shelf.is_dir():
        yield from (entry for entry in shelf.iterdir() if entry.is_dir() and _NAME.fullmatch(entry.name))


def _read(folder: Path, name: str, place: Path | None) -> Theme:
    try:
        files = [
            (path.relative_to(folder).as_posix(), path.read_bytes())
            for path in folder.rglob("*")
            if path.is_file() and not _is_hidden(path.relative_to(folder))
        ]
    except OSError as error:
        raise ThemeError(f"the theme {name!r} cannot be read: {error.filename}: {error.strerror}") from error
    files.sort()
    theme = Theme(
        name=name,
        digest=_digest(files),
        templates=tuple(
            (path.removeprefix(f"{TEMPLATES}/"), _text(name, path, data))
            for path, data in files
            if path.startswith(f"{TEMPLATES}/")
        ),
        catalogues=tuple(
            (path.removeprefix(f"{WORDS}/").removesuffix(".po"), _text(name, path, data))
            for path, data in files
            if path.startswith(f"{WORDS}/") and path.endswith(".po")
        ),
        assets=tuple(
            (path.removeprefix(f"{ASSETS}/"), data) for path, data in files if path.startswith(f"{ASSETS}/")
        ),
        sheets=tuple(
            (path.removeprefix(f"{SHEETS}/"), _text(name, path, data))
            for path, data in files
            if path.startswith(f"{SHEETS}/")
        ),
        folder=place,
    )
    if "en" not in dict(theme.catalogues):
        raise ThemeError(
            f"the theme {name!r} has no {WORDS}/en.po, the catalogue that other languages fall back to"
        )
    return theme


def _is_hidden(path: Path) -> bool:
    """True for what editors, file managers and Python leave about: it must not change a theme's digest."""
    return any(part.startswith(".") or part.endswith("~") or part == COMPILED for part in path.parts)


def _text(name: str, path: str, data: bytes) -> str:
    try:
        return data.decode("utf-8").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        raise ThemeError(
            f"the theme {name!r} has a file that is not UTF-8: {path}, byte {error.start}"
        ) from error


def _digest(files: list[tuple[str, bytes]]) -> str:
    total = hashlib.sha256()
    for path, data in files:
        # Lengths first, so that no two different folders can run together to the same bytes.
        total.update(f"{len(path.encode())} {len(data)} {path}".encode())
        total.update(data)
    return total.hexdigest()
