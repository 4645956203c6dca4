"""When an event is, as it is said on air: its next dates with their hours, or the weekly hours of one long run.

A page has room for dates, and below them for hours and closed days. A host and a graphic say it in one breath, so here the
three are brought together: nothing that is said claims a day or an hour at which nobody can come.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from sitegen.clock.asks import dates_left, visit_door
from sitegen.clock.events import Extent, Occasion, occasions
from sitegen.edition.models import DatesView, Moment
from sitegen.edition.moments import end_moment, moment, start_moment
from sitegen.edition.published import PublishedAsk
from sitegen.newsroom.hours import opening_ranges
from sitegen.newsroom.records import DropOff, Hours, Kind, Mode, Span
from sitegen.newsroom.times import day_end, day_start

MOST_DATES = 3
"""Of an event, that are said one by one. Of one with more, the weekly hours are said, or the first date and how many follow."""
_DAY = 24 * 60


@dataclass(frozen=True, slots=True)
class Happening:
    """One date of an event, or several days on end without hours."""

    view: DatesView
    ranges: tuple[tuple[int, int], ...] = ()
    """(start, end) in minutes from 00:00 of the day, as in `Rule.ranges`; empty where the view says all that is known."""
    goes_on: bool = False
    """Of several days the first is over: the last alone is said."""

    @property
    def days(self) -> int:
        """How many days it takes."""
        return (self.view.last.day - self.view.first.day).days + 1 if not self.ranges else 1


@dataclass(frozen=True, slots=True)
class Weekly:
    """More dates than are said one by one, of one run at the same hours every week."""

    hours: Hours
    opens: Moment | None
    """When it opens first; None once that day has come."""
    last: Moment
    """The last day that it opens."""
    closed: tuple[date, ...]
    """Days still to come at which its hours would have it open and it is not."""


@dataclass(frozen=True, slots=True)
class Event:
    """What is still to come of an event."""

    dates: tuple[Happening, ...]
    """In time order; empty where `weekly` says them."""
    weekly: Weekly | None
    turns: tuple[datetime, ...]
    """The instants (UTC) at which what is said here becomes something else, as far as its dates go."""


def event_of(each: PublishedAsk, when: datetime, zone: ZoneInfo) -> Event | None:
    """When an event is, as of a moment (UTC); None for an ask without dates, and where no date is left."""
    spans = dates_left(each.ask, each.times, zone) if each.is_live else ()
    entries: list[DropOff | None] = [place.entry for place in each.live_places] or [None]
    told = [[_told(each, entry, span, zone) for span in spans] for entry in entries]
    if any(other != told[0] for other in told):
        # Each place has times of its own: only the dates are said, and callers hear each door's hours.
        told = [[_told_without_hours(each, span, zone) for span in spans]]
    left = sorted(
        (happening for found in told[0] for happening in found if _ends(happening) > when),
        key=lambda happening: happening.view.first.iso,
    )
    if not left:
        return None
    if len(left) > MOST_DATES and len(spans) == 1:
        begins = day_start(told[0][0][0].view.first.day, zone)
        weekly = _weekly(_hours_of(each, entries[0]), left, begins if begins > when else None)
        if weekly is not None:
            return weekly
    # A run that has begun is said by its end.
    begun = [day_end(one.view.first.day, zone) for one in left if one.days > 1]
    left = [_as_begun(one, when, zone) for one in left]
    turns = (_ends(left[0]), *(each for each in begun if each > when))
    return Event(tuple(left), None, turns)


def _ends(happening: Happening) -> datetime:
    return datetime.fromisoformat(happening.view.ends)


def _as_begun(happening: Happening, when: datetime, zone: ZoneInfo) -> Happening:
    """Several days on end, from the second of them on, as those up to the last alone."""
    view = happening.view
    if happening.days == 1 or day_end(view.first.day, zone) > when:
        return happening
    return replace(happening, view=DatesView(view.last, view.last, view.ends), goes_on=True)


def _told(each: PublishedAsk, entry: DropOff | None, span: Span, zone: ZoneInfo) -> tuple[Happening, ...]:
    """One entry of `dates` at one place."""
    if each.ask.kind is not Kind.GO:
        return _told_without_hours(each, span, zone)
    binds = visit_door(each.ask, entry)[1] if entry is not None else each.ask.hours is not None
    if span.first.clock is not None and not binds:
        # It has a time of its own, and the place shuts whenever it does.
        return _told_without_hours(each, span, zone)
    found = occasions(replace(each.ask, dates=(span,)), entry, each.times, zone)
    return _by_day((one for one in found if one.opens < each.times.ends), zone)


def _told_without_hours(each: PublishedAsk, span: Span, zone: ZoneInfo) -> tuple[Happening, ...]:
    """One entry of `dates` as it is written."""
    bare = replace(each.ask, dates=(span,), hours=None)
    found = [one for one in occasions(bare, None, each.times, zone) if one.opens < each.times.ends]
    if span.first.clock is None:
        return _by_day(found, zone)
    first = start_moment(span.first, zone)
    return tuple(
        Happening(
            DatesView(
                first,
                first if span.last == span.first else end_moment(one.closes, zone),
                moment(min(one.closes, each.times.ends), zone).iso,
            )
        )
        for one in found
    )


def _by_day(found: Iterable[Occasion], zone: ZoneInfo) -> tuple[Happening, ...]:
    """Occasions with all hours of a day together."""
    told: list[Happening] = []
    for one in found:
        ends = moment(one.closes, zone).iso
        first, last = moment(one.opens, zone), end_moment(one.closes, zone)
        ranges = _ranges(one, zone)
        if one.extent is Extent.HOURS and ranges:
            before = told[-1] if told else None
            if before is not None and before.ranges and before.view.first.day == first.day:
                told[-1] = Happening(
                    DatesView(before.view.first, last, max(before.view.ends, ends)),
                    (*before.ranges, *ranges),
                )
            else:
                told.append(Happening(DatesView(first, last, ends), ranges))
        elif one.extent is Extent.DAYS:
            start = Moment(first.iso, first.day)
            told.append(Happening(DatesView(start, last if last.day > start.day else start, ends)))
        else:
            told.append(Happening(DatesView(first, first if one.extent is Extent.START else last, ends)))
    return tuple(told)


def _ranges(one: Occasion, zone: ZoneInfo) -> tuple[tuple[int, int], ...]:
    """An occasion in minutes of its day; empty where it goes on beyond the next."""
    opens, closes = one.opens.astimezone(zone), one.closes.astimezone(zone)
    start = opens.hour * 60 + opens.minute
    end = closes.hour * 60 + closes.minute + _DAY * (closes.date() - opens.date()).days
    return ((start, end),) if start < end <= 2 * _DAY else ()


def _hours_of(each: PublishedAsk, entry: DropOff | None) -> Hours | None:
    """The weekly hours that count for an event."""
    return visit_door(each.ask, entry)[0].hours if entry is not None else each.ask.hours


def _weekly(hours: Hours | None, left: list[Happening], begins: datetime | None) -> Event | None:
    """The dates as weekly hours, where they are just that but for days that are closed. `begins` is None once it has come."""
    if hours is None or hours.mode is not Mode.REGULAR or not all(one.ranges for one in left):
        return None
    ranges = {one.view.first.day: one.ranges for one in left}
    closed: list[date] = []
    day, last = left[0].view.first.day, left[-1].view.first.day
    while day <= last:
        usual = opening_ranges(hours, day)
        if usual != ranges.get(day, ()):
            if day in ranges:
                return None
            closed.append(day)
        day += timedelta(days=1)
    weekly = Weekly(
        hours=hours,
        opens=left[0].view.first if begins is not None else None,
        last=Moment(left[-1].view.ends, last),
        closed=tuple(closed),
    )
    turns = [_ends(left[-1 - MOST_DATES])]
    turns += [begins] if begins is not None else []
    if closed:
        # Once the next date lies behind it, a closed day goes without saying.
        turns.append(_ends(next(one for one in reversed(left) if one.view.first.day < closed[0])))
    return Event((), weekly, tuple(turns))
