"""Reading a station's content with everything the reading needs from other rooms."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path

from sitegen.geography.shapes import read_map
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.keeping import Shelf
from sitegen.newsroom.records import Reading, Station
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
