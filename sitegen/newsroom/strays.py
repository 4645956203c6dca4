"""What lies in content and nothing reads: whoever saved it there believes it on the site."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import PurePath

from sitegen.newsroom.fields import nearest
from sitegen.newsroom.visible import as_text

FOLDERS = ("stories", "places", "episodes", "pages", "photos", "captions", "listings")
"""Of content."""

_TEXTS = ("", ".md", ".markdown", ".txt", ".text", ".yml", ".yaml")
_BELONGS = {
    ".md": "A story lies in content/stories/YEAR/, a station page in content/pages/.",
    ".yaml": "A place lies in content/places/.",
    ".csv": "A round-up lies in content/listings/.",
    **dict.fromkeys((".vtt", ".srt", ".ttml"), "Captions lie in content/captions/."),
    **dict.fromkeys((".jpg", ".jpeg", ".png", ".webp", ".gif"), "Pictures lie in content/photos/."),
}


def strays(names: Iterable[tuple[str, bool]], read: str) -> Iterator[tuple[str, str, str]]:
    """Those entries of content (name, whether it is a folder) that nothing reads, each with what is wrong and what to do.

    `read` is the name of the map, the one file beside the station's own.
    """
    for written, is_folder in sorted(names):
        name = as_text(written)
        if is_folder and name not in FOLDERS:
            meant = nearest(name.lower(), FOLDERS)
            yield (
                name,
                f"Nothing in content/{name}/ is read.",
                f"Did you mean content/{meant}/? Move the files there."
                if meant
                else f"Move what is for the site to one of: {', '.join(FOLDERS)}; and the rest out of content/.",
            )
        elif not is_folder and name not in ("station.yaml", read):
            yield (
                name,
                "This file is not read.",
                _BELONGS.get(PurePath(name).suffix.lower(), "Move it out of content/."),
            )


def is_text_file(name: str) -> bool:
    """Going by its name, a file may be one that a person wrote as text: another name is all it needs."""
    return PurePath(name).suffix.lower() in _TEXTS
