"""When a door is open: weekly hours, closed days and special hours, as instants.

A range belongs to the day it starts on, also when it runs past midnight. `closed` empties a day and wins
over `special_hours`, which replace the day's ordinary hours. A recurring hour that falls in a clock gap
moves forward by the gap; one that comes twice means the first.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta
from itertools import chain
from typing import NamedTuple
from zoneinfo import ZoneInfo

from msgspec import Struct

from sitegen.newsroom.hours import opening_ranges
from sitegen.newsroom.records import DayHours, Hours, Mode
from sitegen.newsroom.times import day_end, day_start, local_day, minute_of

MOST_DAYS_BACK = 800
"""How far a last opening is sought before a window's end. A fifth weekday of the month, the rarest rule
there is, comes at least four times a year."""

DAYS_AN_OPENING_REACHES = timedelta(days=2)
"""A range ends before the next day does; the date after its own may be one that never came."""


class Opening(NamedTuple):
    """From `opens`, included, to `closes`, excluded; both UTC."""

    opens: datetime
    closes: datetime


class Door(Struct, frozen=True):
    """Everything that decides when one door is open."""

    hours: Hours
    closed: tuple[date, ...] = ()
    special_hours: tuple[DayHours, ...] = ()

    @property
    def has_hours(self) -> bool:
        """False for `unknown` and `by appointment`: then only a window counts."""
        return self.hours.mode is Mode.REGULAR


def ranges_on(door: Door, day: date) -> tuple[tuple[int, int], ...]:
    """The ranges that start on a day, in wall minutes from its 00:00."""
    if day in door.closed:
        return ()
    for special in door.special_hours:
        if special.day == day:
            return special.ranges
    return opening_ranges(door.hours, day)


def openings_on(door: Door, day: date, zone: ZoneInfo) -> tuple[Opening, ...]:
    """The openings that start on a local day, in order; those that a clock gap swallows are left out."""
    if day_start(day, zone) >= day_end(day, zone):
        return ()  # a date that never came, where a zone crossed the date line
    pairs = (
        Opening(minute_of(day, start, zone), minute_of(day, end, zone)) for start, end in ranges_on(door, day)
    )
    return tuple(pair for pair in pairs if pair.opens < pair.closes)


def last_opening(door: Door, start: datetime | None, end: datetime, zone: ZoneInfo) -> Opening | None:
    """The part of the window [start, end) in which the door is open last; None when it never is.

    `start` None means a window without a beginning.
    """
    if start is not None and start >= end:
        return None
    last = local_day(end, zone)
    count = MOST_DAYS_BACK
    if start is not None:
        first = local_day(start, zone) - DAYS_AN_OPENING_REACHES
        count = min(count, max((last - first).days + 1, 0))
    oldest = last - timedelta(days=max(count - 1, 0))
    # Made one by one: nearly every door is open within a week, and there may be hundreds of days to go back.
    days = (last - timedelta(days=back) for back in range(count))
    rare = sorted((each.day for each in door.special_hours if each.day < oldest), reverse=True)
    return _last(door, chain(days, rare), start, end, zone)


def last_opening_on(
    door: Door, days: Iterable[date], start: datetime | None, end: datetime | None, zone: ZoneInfo
) -> Opening | None:
    """The last opening that starts on one of some days, given latest first, cut to [start, end)."""
    return _last(door, days, start, end, zone)


def _last(
    door: Door, days: Iterable[date], start: datetime | None, end: datetime | None, zone: ZoneInfo
) -> Opening | None:
    best: Opening | None = None
    found_on: date | None = None
    for day in days:
        # Once an opening is found, only the days that reach into its day can hold one that closes later.
        if found_on is not None and day < found_on - DAYS_AN_OPENING_REACHES:
            break
        for opening in openings_on(door, day, zone):
            opens = opening.opens if start is None else max(opening.opens, start)
            closes = opening.closes if end is None else min(opening.closes, end)
            if opens < closes and (best is None or closes > best.closes):
                best = Opening(opens, closes)
        if best is not None and found_on is None:
            found_on = day
    return best
