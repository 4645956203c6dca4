"""A zone's clock changes as a calendar states them: VTIMEZONE (RFC 5545, 3.6.5), from the zone data this program carries.

The calendar library's own writer (icalendar 7.3.2) puts the start of summer time an hour late, since it takes for DTSTART the
wall time after the change; the standard wants the one before, in TZOFFSETFROM.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo


@dataclass(frozen=True, slots=True)
class Change:
    """One change of the clocks."""

    at: datetime
    """UTC."""
    before: timedelta
    """Offset from UTC until then."""
    after: timedelta
    name: str
    """Such as `EST`, of the time after."""
    is_summer: bool


def changes(zone: ZoneInfo, first: datetime, last: datetime) -> Iterator[Change]:
    """The changes after `first` and up to `last` (UTC), to the second, in order."""
    known = first
    while known < last:
        # No zone changes its clocks twice within a day.
        following = min(known + timedelta(days=1), last)
        if _state(zone, known) != _state(zone, following):
            at = _between(zone, known, following)
            local = at.astimezone(zone)
            yield Change(
                at, _state(zone, known)[0], _state(zone, at)[0], local.tzname() or "", bool(local.dst())
            )
        known = following


def _between(zone: ZoneInfo, before: datetime, after: datetime) -> datetime:
    """The first second of the state that holds at `after`."""
    old = _state(zone, before)
    while after - before > timedelta(seconds=1):
        middle = before + timedelta(seconds=int((after - before).total_seconds()) // 2)
        if _state(zone, middle) == old:
            before = middle
        else:
            after = middle
    return after


def _state(zone: ZoneInfo, moment: datetime) -> tuple[timedelta, str]:
    local = moment.astimezone(zone)
    return local.utcoffset() or timedelta(), local.tzname() or ""


@lru_cache(maxsize=64)
def timezone_bytes(zone: ZoneInfo, first_year: int, last_year: int) -> bytes:
    """The zone as it is through some local years, both included, as a component of a calendar."""
    from icalendar import Timezone, TimezoneDaylight, TimezoneStandard, vUTCOffset

    start = datetime(first_year, 1, 1, tzinfo=UTC) - timedelta(days=2)
    end = datetime(last_year + 1, 1, 1, tzinfo=UTC) + timedelta(days=2)
    here = start.astimezone(zone)
    offset = here.utcoffset() or timedelta()
    found = [Change(start, offset, offset, here.tzname() or "", bool(here.dst())), *changes(zone, start, end)]
    component = Timezone()
    component.add("TZID", zone.key)
    # Each change has a part of its own: a reader in wide use (ical.js 2.2.1) forgets DTSTART where RDATE follows it.
    for each in found:
        part = TimezoneDaylight() if each.is_summer else TimezoneStandard()
        # RFC 5545, 3.6.5: the onset as a wall time by the offset that held before it.
        part.add("DTSTART", (each.at + each.before).replace(tzinfo=None))
        part.add("TZOFFSETFROM", vUTCOffset(each.before))
        part.add("TZOFFSETTO", vUTCOffset(each.after))
        part.add("TZNAME", each.name)
        component.add_component(part)
    written: bytes = component.to_ical()
    return written
