"""Words of the desk: dates and files as its pages and bars name them. English, as findings are."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

from sitegen.proof.copychecks.base import clock_words, day_words

NO_BREAK = "\xa0"
WRITE = "/_desk/write/"
"""Below it a file's path under content/ is the address at which it can be edited."""


def moment_words(moment: datetime, zone: ZoneInfo) -> str:
    """Such as `Wednesday, December 2, 2026, noon`, in parts that stay together."""
    local = moment.astimezone(zone)
    return f"{date_words(local.date())}, {clock_words(local).replace(' ', NO_BREAK)}"


def date_words(day: date) -> str:
    """Such as `Wednesday, December 2, 2026`."""
    weekday, month_and_day, year = day_words(day).split(", ")
    return f"{weekday}, {month_and_day.replace(' ', NO_BREAK)}, {year}"


def write_address(path: str) -> str:
    """Where a file under content/ can be edited; empty for one that cannot."""
    inside = path.removeprefix("content/")
    folder = inside.partition("/")[0]
    return WRITE + inside if folder in ("stories", "places", "episodes", "pages") and inside != path else ""
