"""Reading a station's content with everything the reading needs from other rooms."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path

from sitegen.geography.shapes import read_map
from sitegen.newsroom.contentfiles import MOST_BYTES
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.keeping import Shelf
from sitegen.newsroom.matter import split_matter
from sitegen.newsroom.nodes import Mapping, compose
from sitegen.newsroom.records import Reading, Station
from sitegen.newsroom.takedowns import Takedown, takedown_of
from sitegen.site.order import refuse_missing_content


def read_content(
    root: Path,
    *,
    only: Collection[str] | None = None,
    station: Station | None = None,
    shelf: Shelf | None = None,
) -> Reading:
    """Everything under ROOT/content; the rest is as in `read_newsroom`. Raises RefusedError when there is no
    such folder."""
    refuse_missing_content(root)
    return read_newsroom(root, read_map, only=only, station=station, shelf=shelf)


def read_takedowns(root: Path, paths: Collection[str]) -> dict[str, Takedown]:
    """What files with faults take back by their keys, by path as in `Spot.path`. Of one whose YAML cannot be read nobody can tell."""
    found: dict[str, Takedown] = {}
    for path in paths:
        file = root / path
        try:
            if not path.endswith((".md", ".yaml")) or not file.is_file() or file.stat().st_size > MOST_BYTES:
                continue
            text = file.read_text("utf-8-sig")
        except (OSError, UnicodeDecodeError):
            continue  # told as a fault where all is read
        node = split_matter(text).node if path.endswith(".md") else compose(text)[0]
        if isinstance(node, Mapping):
            found[path] = takedown_of(node)
    return found
