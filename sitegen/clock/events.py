"""When something happens: every occasion of an event's dates, hours and closed days, as instants.

`sitegen.clock.asks` answers when an event ends; here stand all the times before that at which somebody can come. Stops are
left out, so that what was called off is still known by its times.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum
from zoneinfo import ZoneInfo

from sitegen.clock.asks import AskTimes, span_end
from sitegen.clock.openings import Door, openings_on
from sitegen.clock.timed import Timed, earliest, latest, next_after
from sitegen.newsroom.records import Ask, DropOff, Hours, Kind, Mode, Span
from sitegen.newsroom.times import day_end, day_start, end_of, local_day, minute_of, start_of


class Extent(StrEnum):
    """How much of an occasion's time is said."""

    HOURS = "hours"
    """From a time to a time."""
    START = "start"
    """Only when it begins; `closes` is the end of that day."""
    DAYS = "days"
    """Only its days."""


@dataclass(frozen=True, slots=True, order=True)
class Occasion:
    """From `opens`, included, to `closes`, excluded; both UTC. Equal for an instant that is only marked."""

    opens: datetime
    closes: datetime
    extent: Extent


_NO_DOOR = Door(Hours(Mode.UNKNOWN))


def occasions(ask: Ask, entry: DropOff | None, times: AskTimes, zone: ZoneInfo) -> tuple[Occasion, ...]:
    """Every occasion of a go or tune-in ask in time order, at one of its places or, without one, anywhere.

    They lie inside the ask's window and the place's own, stops left out.
    """
    if ask.kind is Kind.TUNE_IN:
        length = timedelta(minutes=ask.minutes or 0)
        starts = (start_of(span.first, zone) for span in ask.dates)
        return tuple(sorted({Occasion(each, each + length, Extent.HOURS) for each in starts}))
    start, end = times.opens, times.closes
    if entry is not None:
        start = latest(start, start_of(entry.from_, zone) if entry.from_ is not None else None)
        end = min(end, end_of(entry.until, zone)) if entry.until is not None else end
    door, hours_bind = _door(ask, entry)
    found: set[Occasion] = set()
    for span in ask.dates:
        at_its_hours = _at_hours(door, span, start, end, zone) if door.has_hours else []
        if not at_its_hours and (not door.has_hours or (span.first.clock is not None and not hours_bind)):
            # The door is open for the event: its dates alone count.
            at_its_hours = _by_dates(span, ask, start, end, zone)
        found.update(at_its_hours)
    return tuple(sorted(found))


def _door(ask: Ask, entry: DropOff | None) -> tuple[Door, bool]:
    """The hours that count, and whether somebody wrote them for this event."""
    if entry is None or (ask.hours is not None and not entry.own_hours):
        closed = (*(entry.place.closed if entry is not None else ()), *ask.closed)
        # Without any hours the door is one that is not known: then the dates alone count.
        return (Door(ask.hours, closed), True) if ask.hours is not None else (_NO_DOOR, False)
    place = entry.place
    return Door(place.hours, (*place.closed, *ask.closed), place.special_hours), entry.own_hours


def _at_hours(
    door: Door, span: Span, start: datetime | None, end: datetime, zone: ZoneInfo
) -> list[Occasion]:
    """The openings that begin on the days of one entry of `dates`, inside its times and the window."""
    if span.first.clock is not None:
        start = latest(start, start_of(span.first, zone))
    own_end = end_of(span.last, zone) if span.last.clock is not None and span.last != span.first else None
    end = earliest(end, own_end) or end
    found: list[Occasion] = []
    for count in range((span.last.day - span.first.day).days + 1):
        for opening in openings_on(door, span.first.day + timedelta(days=count), zone):
            opens, closes = latest(opening.opens, start), min(opening.closes, end)
            if opens is not None and opens < closes:
                found.append(Occasion(opens, closes, Extent.HOURS))
    return found


def _by_dates(span: Span, ask: Ask, start: datetime | None, end: datetime, zone: ZoneInfo) -> list[Occasion]:
    """One entry of `dates` without hours: its own times, or its days in runs between those that are closed."""
    begin = latest(start, start_of(span.first, zone))
    finish = min(span_end(span, zone), end)
    if begin is None or begin >= finish:
        return []
    if span.first.clock is not None:
        ends_with_the_day = span.last == span.first or span.last.clock is None
        return [Occasion(begin, finish, Extent.START if ends_with_the_day else Extent.HOURS)]
    found: list[Occasion] = []
    day = local_day(begin, zone)
    while day_start(day, zone) < finish:
        opens, closes = max(day_start(day, zone), begin), min(day_end(day, zone), finish)
        if day not in ask.closed and opens < closes:
            if found and found[-1].closes == opens:
                found[-1] = Occasion(found[-1].opens, closes, Extent.DAYS)
            else:
                found.append(Occasion(opens, closes, Extent.DAYS))
        day += timedelta(days=1)
    # A window that begins or ends within a day says a time of that day.
    return [each if _is_whole(each, zone) else replace(each, extent=Extent.HOURS) for each in found]


def _is_whole(occasion: Occasion, zone: ZoneInfo) -> bool:
    return all(
        moment == day_start(local_day(moment, zone), zone) for moment in (occasion.opens, occasion.closes)
    )


def called_off(stops: datetime | None, closes: datetime, as_of: datetime) -> Timed[bool]:
    """True from the stop of something until it would have ended by itself."""
    if stops is None or stops >= closes:
        return Timed(False, None)
    return Timed(stops <= as_of < closes, next_after(as_of, (stops, closes)))


def still_ahead(closes: datetime, as_of: datetime) -> Timed[bool]:
    """True until something ends."""
    return Timed(as_of < closes, next_after(as_of, (closes,)))


REMINDER = 9 * 60
"""When somebody is reminded, in minutes from a day's 00:00: when most are up and an answering machine is not all there is
(common practice, no source)."""


def reminder(last_chance: datetime, zone: ZoneInfo) -> datetime:
    """The instant at which to be told of a last chance: 9 a.m. on the day before its day.

    A last chance at a day's very start belongs to the day that it ends.
    """
    day = local_day(last_chance, zone)
    if last_chance == day_start(day, zone):
        day -= timedelta(days=1)
    return minute_of(day - timedelta(days=1), REMINDER, zone)
