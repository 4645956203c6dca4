"""The moment an edition is for, from what was asked, what station.yaml fixes, and the present."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from sitegen.newsroom.times import TimeError, read_moment, zone_named
from sitegen.site.errors import RefusedError

if TYPE_CHECKING:
    from sitegen.newsroom.records import Station


def moment_for(station: Station, asked: str, present: datetime) -> datetime:
    """The moment (UTC) an edition is for: the asked one, else the one station.yaml fixes, else the present.

    `asked` is a date, a local date and time, or an instant with offset; empty for none. Raises RefusedError
    when it cannot be read.
    """
    text = asked or station.as_of
    return read_asked_moment(text, zone_named(station.time_zone)) if text else present


def read_asked_moment(text: str, zone: ZoneInfo) -> datetime:
    """A moment (UTC) as written on the command line or in station.yaml; raises RefusedError when it cannot be read."""
    try:
        return read_moment(text, zone)
    except TimeError as error:
        raise RefusedError(f"--as-of: {error}") from error
