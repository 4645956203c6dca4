"""Reading a station's content with everything the reading needs from other rooms, and the moment it is for."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from sitegen.geography.shapes import read_map
from sitegen.newsroom.folder import CONTENT, read_newsroom
from sitegen.newsroom.records import Reading, Station
from sitegen.newsroom.times import TimeError, read_moment, zone_named
from sitegen.site.errors import RefusedError


def read_content(root: Path) -> Reading:
    """Everything under ROOT/content. Raises RefusedError when there is no such folder."""
    if not (root / CONTENT).is_dir():
        raise RefusedError(
            f"There is no '{CONTENT}' folder in '{root}'. Give the folder that holds it: --root DIR"
        )
    return read_newsroom(root, read_map)


def moment_for(station: Station, asked: str, present: datetime) -> datetime:
    """The moment (UTC) an edition is for: the asked one, else the one station.yaml fixes, else the present.

    `asked` is a date, a local date and time, or an instant with offset; empty for none. Raises RefusedError
    when it cannot be read.
    """
    zone = zone_named(station.time_zone)
    text = asked or station.as_of
    if not text:
        return present
    try:
        return read_moment(text, zone)
    except TimeError as error:
        raise RefusedError(f"--as-of: {error}") from error
