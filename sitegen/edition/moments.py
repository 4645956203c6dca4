"""Instants as pages say them: the wall time in the station's zone, with the instant for machines."""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from sitegen.edition.models import Moment
from sitegen.newsroom.records import When
from sitegen.newsroom.times import day_start, start_of


def start_moment(when: When, zone: ZoneInfo) -> Moment:
    """When something begins, as it was written: a bare date is said as a day."""
    return Moment(_iso(start_of(when, zone), zone), when.day, when.clock)


def moment(instant: datetime, zone: ZoneInfo) -> Moment:
    """An instant said with its wall time."""
    local = instant.astimezone(zone)
    return Moment(local.isoformat(), local.date(), local.time().replace(tzinfo=None))


def end_moment(instant: datetime, zone: ZoneInfo) -> Moment:
    """An end (the first instant that is too late). One at a day's start is said as the end of the day before."""
    local = instant.astimezone(zone)
    if instant == day_start(local.date(), zone):
        return Moment(local.isoformat(), local.date() - timedelta(days=1))
    return Moment(local.isoformat(), local.date(), local.time().replace(tzinfo=None))


def _iso(instant: datetime, zone: ZoneInfo) -> str:
    return instant.astimezone(zone).isoformat()
