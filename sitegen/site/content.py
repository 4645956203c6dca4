"""Reading a station's content with everything the reading needs from other rooms."""

from __future__ import annotations

from pathlib import Path

from sitegen.geography.shapes import read_map
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.records import Reading
from sitegen.site.order import refuse_missing_content


def read_content(root: Path) -> Reading:
    """Everything under ROOT/content. Raises RefusedError when there is no such folder."""
    refuse_missing_content(root)
    return read_newsroom(root, read_map)
