"""Wall times and instants: the station's zone applied to what was written.

Zone data come from the `tzdata` package, never from the machine, so that every machine agrees. Folds and
gaps are those of PEP 495 (https://peps.python.org/pep-0495/): `fold=0` is the first of two.
"""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache
from importlib import resources
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from sitegen.newsroom.when import When

if TYPE_CHECKING:
    from sitegen.newsroom.loosetimes import Advice

_ZONE_NAME = re.compile(r"[A-Za-z0-9_+-]+(?:/[A-Za-z0-9_+-]+)*\Z")
MIDNIGHT = time(0, 0)


class TimeError(ValueError):
    """A time that cannot be read; the text says why in plain words, and what to write instead."""

    def __init__(self, problem: str, instead: str = "") -> None:
        super().__init__(f"{problem} {instead}".strip())
        self.problem = problem
        self.instead = instead
        """A sentence; empty where there is nothing to say."""


@lru_cache(maxsize=64)
def zone_named(name: str) -> ZoneInfo:
    """The zone of an IANA name; raises TimeError for a name the zone data do not have."""
    if _ZONE_NAME.match(name):
        try:
            file = resources.files("tzdata").joinpath("zoneinfo", *name.split("/"))
            if file.is_file():
                with file.open("rb") as data:
                    return ZoneInfo.from_file(data, key=name)
        except (OSError, ValueError):
            pass
    raise TimeError(f"No time zone is called '{name}'.")


def zone_names() -> tuple[str, ...]:
    """Every zone name the zone data list."""
    listed = resources.files("tzdata").joinpath("zones").read_text("utf-8")
    return tuple(listed.split())


def is_in_gap(wall: datetime, zone: ZoneInfo) -> bool:
    """True for a wall time that clocks skip when they go forward."""
    aware = wall.replace(tzinfo=zone, fold=0)
    return aware.astimezone(UTC).astimezone(zone).replace(tzinfo=None) != wall


def is_twice(wall: datetime, zone: ZoneInfo) -> bool:
    """True for a wall time that clocks show twice when they go back."""
    first, second = (wall.replace(tzinfo=zone, fold=fold).utcoffset() for fold in (0, 1))
    return first != second and not is_in_gap(wall, zone)


@lru_cache(maxsize=65536)
def instant(wall: datetime, zone: ZoneInfo) -> datetime:
    """The instant (UTC) of a wall time: the first of two; in a gap, moved forward by the gap.

    PEP 495: in a gap, fold=0 uses the offset before it, which lands just past the gap by its length.
    """
    return wall.replace(tzinfo=zone, fold=0).astimezone(UTC)


def day_start(day: date, zone: ZoneInfo) -> datetime:
    """The first instant (UTC) of a local day, also where its 00:00 is skipped."""
    return instant(datetime.combine(day, MIDNIGHT), zone)


def day_end(day: date, zone: ZoneInfo) -> datetime:
    """The first instant (UTC) after a local day: the next day's start. A day has 23, 24 or 25 hours."""
    return day_start(day + timedelta(days=1), zone)


def start_of(when: When, zone: ZoneInfo) -> datetime:
    """The instant at which something written with `when` begins."""
    if when.clock is None:
        return day_start(when.day, zone)
    return instant(datetime.combine(when.day, when.clock), zone)


def end_of(when: When, zone: ZoneInfo) -> datetime:
    """The first instant at which something written to end with `when` is over."""
    if when.clock is None:
        return day_end(when.day, zone)
    return instant(datetime.combine(when.day, when.clock), zone)


def minute_of(day: date, minutes: int, zone: ZoneInfo) -> datetime:
    """The instant of a wall-clock minute counted from a day's 00:00; 1440 and more lie on later days."""
    days, minute = divmod(minutes, 1440)
    return instant(datetime.combine(day + timedelta(days=days), time(minute // 60, minute % 60)), zone)


def local_day(moment: datetime, zone: ZoneInfo) -> date:
    """The local date of an instant."""
    return moment.astimezone(zone).date()


# --- reading ---------------------------------------------------------------------------------

FIRST_YEAR, LAST_YEAR = 1900, 2999
"""Years outside are slips of the hand, and the last that Python knows overflow when a day is added."""
_DATE = re.compile(r"(\d{4})-(\d{2})-(\d{2})\Z", re.ASCII)
_DATE_TIME = re.compile(r"(\d{4}-\d{2}-\d{2})[ T]+(\d{2}):(\d{2})(?::(\d{2}))?\Z", re.ASCII)
_INSTANT = re.compile(
    r"(\d{4}-\d{2}-\d{2})[ T](\d{2}):(\d{2})(?::(\d{2})(?:\.\d+)?)? ?(Z|[+-](?:[01]\d|2[0-3]):?[0-5]\d)\Z",
    re.ASCII,
)
_CLOCK = re.compile(r"(\d{2}):(\d{2})\Z", re.ASCII)


MONTH_NAMES = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
WEEKDAY_NAMES = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
CLOCK_SHAPE = "Write hours from 00 to 23 and minutes from 00 to 59: HH:MM."


def read_date(text: str, near: date | None = None) -> date:
    """A date written `2026-12-15`; raises TimeError with what to write instead where it can be told.

    `near` is as in `read_when`.
    """
    match = _DATE.match(text)
    if match is None:
        from sitegen.newsroom.loosetimes import advise_date  # See _unread.

        raise _unread(f"'{text}' is not a date", advise_date(text, near))
    year, month, day = (int(part) for part in match.groups())
    if not 1 <= month <= 12:
        turned = f"{year}-{day:02}-{month:02}" if 1 <= day <= 12 and month <= 31 else "YYYY-MM-DD"
        raise TimeError(
            f"'{text}' is not a date: there is no month {month}.", f"Write year, month and day: {turned}"
        )
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise TimeError(f"'{text}' is not a date of this archive: years go from {FIRST_YEAR} to {LAST_YEAR}.")
    try:
        return date(year, month, day)
    except ValueError:
        raise TimeError(f"{day} {MONTH_NAMES[month - 1]} {year} does not exist.") from None


def read_clock(text: str) -> time:
    """A time of day written `17:30`."""
    match = _CLOCK.match(text)
    if match is None or int(match[1]) > 23 or int(match[2]) > 59:
        from sitegen.newsroom.loosetimes import advise_clock  # See _unread.

        raise _unread(f"'{text}' is not a time of day", advise_clock(text))
    return time(int(match[1]), int(match[2]))


def read_when(text: str, ends: bool = False, near: date | None = None) -> When:
    """A date, or a date and a wall time: `2026-12-15` or `2026-12-15 17:30`.

    For what to write instead of another text, `ends` says that something ends with it, and `near` is a day beside which
    a date without a year is looked for.
    """
    match = _DATE_TIME.match(text)
    if match is None:
        if _DATE.match(text):
            return When(read_date(text))
        from sitegen.newsroom.loosetimes import advise_when  # See _unread.

        raise _unread(f"'{text}' is not a date or a date and time", advise_when(text, ends, near))
    day = read_date(match[1])
    hour, minute, second = int(match[2]), int(match[3]), int(match[4] or 0)
    if (hour, minute, second) == (24, 0, 0):
        from sitegen.newsroom.loosetimes import advise_when  # See _unread.

        raise TimeError(f"'{text}' ends a day.", advise_when(f"{day} 24:00", ends).instead)
    if hour > 23 or minute > 59 or second > 59:
        raise TimeError(f"'{text}' has a time of day that does not exist.", CLOCK_SHAPE)
    return When(day, time(hour, minute, second))


def _unread(problem: str, advice: Advice) -> TimeError:
    # What knows loose writings is loaded where there is one: making its pattern costs a build with nothing to do more
    # than all else here.
    return TimeError(
        f"{problem}: {advice.reason}".rstrip(".") + "." if advice.reason else f"{problem}.", advice.instead
    )


def read_moment(text: str, zone: ZoneInfo) -> datetime:
    """An instant (UTC) from a date (its start), a local date and time, or a date-time with an offset."""
    match = _INSTANT.match(text.strip())
    if match is None:
        when = read_when(text.strip())
        if when.clock is not None and is_in_gap(datetime.combine(when.day, when.clock), zone):
            raise TimeError(f"'{text}' does not exist in {zone.key}: clocks go forward past it.")
        return start_of(when, zone)
    day = read_date(match[1])
    hour, minute, second = int(match[2]), int(match[3]), int(match[4] or 0)
    if hour > 23 or minute > 59 or second > 59:
        raise TimeError(f"'{text}' has a time of day that does not exist.")
    offset = timedelta()
    if match[5] != "Z":
        digits = match[5].replace(":", "")
        offset = timedelta(hours=int(digits[1:3]), minutes=int(digits[3:5])) * (-1 if digits[0] == "-" else 1)
    return datetime.combine(day, time(hour, minute, second), tzinfo=UTC) - offset
