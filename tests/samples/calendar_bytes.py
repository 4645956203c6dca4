"""The calendars of a small station's edition, as bytes, without building its pages."""

from __future__ import annotations

from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path

from sitegen.edition.calendars import CalendarFile
from sitegen.edition.compose import compose_edition
from sitegen.newsroom.records import Newsroom
from sitegen.newsroom.times import read_moment, zone_named
from sitegen.site.content import read_content
from sitegen.typeset.pages import Typesetter
from sitegen.typeset.theme import Theme, load_theme

CHECKOUT = Path(__file__).parents[2]


@lru_cache(maxsize=1)
def theme() -> Theme:
    return load_theme(CHECKOUT, "tidetable")


@lru_cache(maxsize=4)
def setter(language: str) -> Typesetter:
    return Typesetter(theme(), language)


def newsroom_of(root: Path) -> Newsroom:
    reading = read_content(root)
    assert reading.newsroom is not None
    assert not reading.faults, reading.faults
    return reading.newsroom


def calendars(newsroom: Newsroom, as_of: datetime) -> dict[str, bytes]:
    """Every calendar's bytes by its address, as of a moment (UTC)."""
    files = compose_edition(newsroom, as_of).edition.files
    return {
        file.address: setter(newsroom.station.language).file(file)
        for file in files
        if isinstance(file, CalendarFile)
    }


def local(newsroom: Newsroom, text: str) -> datetime:
    """A local time of the station's, such as `2026-12-01 12:00`, as an instant."""
    return read_moment(text, zone_named(newsroom.station.time_zone)).astimezone(UTC)
