"""Asks in time: when each opens, ends, stops, and when each of its places shuts for the last time.

`plan_ask` turns what was written into instants once; the answers as of a moment are then comparisons.
A span includes its first instant and excludes its last: at its deadline an ask has ended.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from enum import StrEnum
from zoneinfo import ZoneInfo

from msgspec import Struct
from msgspec.structs import replace

from sitegen.clock.openings import Door, last_opening, last_opening_on
from sitegen.clock.timed import Timed, earliest, latest, next_after
from sitegen.newsroom.records import Ask, DropOff, Kind, ListingEntry, Span, When
from sitegen.newsroom.times import day_end, day_start, end_of, instant, local_day, minute_of, start_of

EVER = datetime(1, 1, 1, tzinfo=UTC)
"""Before everything: the effect of a stop that does not say when, or that leaves nothing of an event. No wall shows it."""


class Standing(StrEnum):
    """What an ask is at a moment."""

    COMING = "coming"
    OPEN = "open"
    LAST_DAYS = "last days"
    ENDED = "ended"
    LAPSED = "lapsed"


class PlaceTimes(Struct, frozen=True):
    """One drop-off or venue of an ask, as instants (UTC)."""

    opens: datetime | None
    """When its own window begins, if later than the ask's opening; else None."""
    last_chance: datetime | None
    """The instant its door shuts for the last time inside every window that binds it; None when it is
    never open there. Where nothing but the day of checking again ends it, that day's end: the door opens on."""
    stops: datetime | None
    """When its own `stopped` takes effect."""


class AskTimes(Struct, frozen=True, array_like=True):
    """One ask as instants (UTC)."""

    opens: datetime | None
    """First instant of `starts`; None when it is open from the beginning."""
    closes: datetime
    """The end by its deadline or dates; for an ongoing ask the instant it lapses."""
    stops: datetime | None
    """When `stopped` takes effect; for an event when the last occasion that it leaves is over, `EVER` where it leaves none."""
    last_days_from: datetime | None
    """When its last days begin; None for ongoing asks and where the station has none."""
    lapses: bool
    """True for an ongoing ask: at `closes` it lapses rather than ends."""
    places: tuple[PlaceTimes, ...]
    """In the order of the ask's entries; none where only the end was planned."""

    @property
    def ends(self) -> datetime:
        """The effective end: the earlier of close and stop."""
        return self.closes if self.stops is None else min(self.closes, self.stops)

    @property
    def stopped_early(self) -> bool:
        """True when the stop, not the close, ends it."""
        return self.stops is not None and self.stops < self.closes


def plan_ask(ask: Ask, last_days: int, zone: ZoneInfo) -> AskTimes:
    """An ask's instants. `last_days`: days before the close in which it counts as in its last days."""
    return with_places(plan_end(ask, last_days, zone), ask, zone)


def plan_end(ask: Ask, last_days: int, zone: ZoneInfo) -> AskTimes:
    """An ask's instants without those of its places: enough for its standing, and most of an archive is over."""
    opens = start_of(ask.starts, zone) if ask.starts is not None else None
    closes = _close(ask, zone)
    stops = (
        start_of(ask.stopped.when, zone) if ask.stopped is not None and ask.stopped.when is not None else None
    )
    if stops is not None and stops < closes and ask.deadline is None and not ask.ongoing:
        stops = _last_before(ask, stops, zone) or EVER
    last_days_from = None
    if last_days > 0 and not ask.ongoing:
        last_days_from = _days_before(closes, last_days, zone)
    return AskTimes(opens, closes, stops, last_days_from, ask.ongoing, ())


def with_places(times: AskTimes, ask: Ask, zone: ZoneInfo) -> AskTimes:
    """An ask's planned end, and the instants of its places."""
    places = tuple(_plan_place(ask, entry, times.opens, times.ends, zone) for entry in ask.drop_off)
    return replace(times, places=places)


def _days_before(moment: datetime, days: int, zone: ZoneInfo) -> datetime:
    """The same wall time some days earlier; a day's first instant stands for its 00:00 where clocks skip that."""
    day = local_day(moment, zone)
    if moment == day_start(day, zone):
        return day_start(day - timedelta(days=days), zone)
    return instant(moment.astimezone(zone).replace(tzinfo=None) - timedelta(days=days), zone)


def _close(ask: Ask, zone: ZoneInfo) -> datetime:
    if ask.deadline is not None:
        return end_of(ask.deadline, zone)
    if ask.check_again_by is not None:
        return end_of(ask.check_again_by, zone)
    if ask.kind is Kind.TUNE_IN:
        length = timedelta(minutes=ask.minutes or 0)
        return max(start_of(span.first, zone) + length for span in ask.dates)
    door = _event_door(ask)
    if door is not None:
        # A go ask ends at its last opening; one that never opens is over before it begins.
        last = _last_on_dates(door, ask.dates, zone)
        return last if last is not None else start_of(ask.dates[0].first, zone)
    return max(span_end(span, zone) for span in ask.dates)


def _last_before(ask: Ask, stops: datetime, zone: ZoneInfo) -> datetime | None:
    """When the last occasion of an event before its stop is over, at the stop at the latest; None when there is none."""
    door = _event_door(ask)
    if ask.kind is not Kind.TUNE_IN and door is not None:
        return latest(*(_last_on_span(door, span, None, stops, zone) for span in ask.dates))
    length = timedelta(minutes=ask.minutes or 0)
    found: datetime | None = None
    for span in ask.dates:
        begin = start_of(span.first, zone)
        if begin < stops:
            end = begin + length if ask.kind is Kind.TUNE_IN else span_end(span, zone)
            found = latest(found, min(end, stops))
    return found


def dates_left(ask: Ask, times: AskTimes, zone: ZoneInfo) -> tuple[Span, ...]:
    """The entries of an event's dates, as far as its stop leaves them."""
    if not times.stopped_early:
        return ask.dates
    found = (_span_until(ask, span, times.ends, zone) for span in ask.dates)
    return tuple(span for span in found if span is not None)


def _span_until(ask: Ask, span: Span, ends: datetime, zone: ZoneInfo) -> Span | None:
    if start_of(span.first, zone) >= ends:
        return None
    if span.last == span.first or span_end(span, zone) <= ends:
        return span
    door = _event_door(ask)
    if door is None:
        day = local_day(ends - timedelta(microseconds=1), zone)
        wall = ends.astimezone(zone)
        return Span(span.first, When(day) if day_end(day, zone) == ends else When(wall.date(), wall.time()))
    count = (span.last.day - span.first.day).days + 1
    days = (span.last.day - timedelta(days=back) for back in range(count))
    opening = last_opening_on(door, days, start_of(span.first, zone), ends, zone)
    if opening is None:
        return None
    # Who opens past midnight opens on the day before.
    day = local_day(opening.opens, zone)
    return Span(span.first, When(day) if day > span.first.day else span.first)


def span_end(span: Span, zone: ZoneInfo) -> datetime:
    """The end of an entry of `dates` without hours: of its last date, or its own last time."""
    if span.last.clock is not None and span.last != span.first:
        return end_of(span.last, zone)
    return day_end(span.last.day, zone)


def _event_door(ask: Ask) -> Door | None:
    """The hours a go ask itself says, or None."""
    if ask.hours is None:
        return None
    door = Door(ask.hours, ask.closed)
    return door if door.has_hours else None


def _last_on_dates(door: Door, spans: tuple[Span, ...], zone: ZoneInfo) -> datetime | None:
    """The close of the last opening that starts on one of an event's dates."""
    return latest(*(_last_on_span(door, span, None, None, zone) for span in spans))


def _last_on_span(
    door: Door, span: Span, start: datetime | None, end: datetime | None, zone: ZoneInfo
) -> datetime | None:
    """The close of the last opening on one entry of `dates`, inside its times and the window [start, end)."""
    count = (span.last.day - span.first.day).days + 1
    days = (span.last.day - timedelta(days=back) for back in range(count))
    if span.first.clock is not None:
        start = latest(start, start_of(span.first, zone))
    if span.last.clock is not None and span.last != span.first:
        end = earliest(end, end_of(span.last, zone))
    last = last_opening_on(door, days, start, end, zone)
    return last.closes if last is not None else None


def _plan_place(
    ask: Ask, entry: DropOff, opens: datetime | None, ends: datetime, zone: ZoneInfo
) -> PlaceTimes:
    own_start = start_of(entry.from_, zone) if entry.from_ is not None else None
    own_stop = (
        start_of(entry.stopped.when, zone)
        if entry.stopped is not None and entry.stopped.when is not None
        else None
    )
    own_end = earliest(end_of(entry.until, zone) if entry.until is not None else None, own_stop)
    start = latest(opens, own_start)
    end = ends if own_end is None else min(ends, own_end)
    shown_from = own_start if own_start is not None and (opens is None or own_start > opens) else None
    return PlaceTimes(shown_from, _last_chance(ask, entry, start, end, zone), own_stop)


def _goes_on(ask: Ask, end: datetime, zone: ZoneInfo) -> bool:
    """True where a window ends for no other reason than that nobody has asked again: no door shuts for good then."""
    return ask.deadline is None and ask.check_again_by is not None and end == end_of(ask.check_again_by, zone)


def _last_chance(
    ask: Ask, entry: DropOff, start: datetime | None, end: datetime, zone: ZoneInfo
) -> datetime | None:
    if end == EVER or (start is not None and start >= end):
        return None
    place = entry.place
    if ask.kind is Kind.GO:
        return _last_visit(ask, entry, start, end, zone)
    door = Door(place.hours, place.closed, place.special_hours)
    if not door.has_hours or _goes_on(ask, end, zone):
        return end
    last = last_opening(door, start, end, zone)
    return last.closes if last is not None else None


def _last_visit(
    ask: Ask, entry: DropOff, start: datetime | None, end: datetime, zone: ZoneInfo
) -> datetime | None:
    """The last chance at one venue of a go ask, inside the window [start, end).

    The hours that an entry writes for a shared place come first, then the ask's, then the place's. Where
    neither says any, and where an event has a time of its own outside the place's hours, the door is open
    for the event: its dates alone count.
    """
    door, hours_bind = visit_door(ask, entry)
    best: datetime | None = None
    for span in ask.dates:
        closes = _last_on_span(door, span, start, end, zone) if door.has_hours else None
        at_its_own_time = span.first.clock is not None and not hours_bind
        if closes is None and (at_its_own_time or not door.has_hours):
            begin = latest(start, start_of(span.first, zone))
            finish = min(span_end(span, zone), end)
            closes = finish if begin is not None and begin < finish else None
        best = latest(best, closes)
    return best


def visit_door(ask: Ask, entry: DropOff) -> tuple[Door, bool]:
    """The door of one venue of a go ask; and whether its hours were written for the event, not for the place alone."""
    place = entry.place
    closed = (*place.closed, *ask.closed)
    if entry.own_hours:
        return Door(place.hours, closed, place.special_hours), True
    if ask.hours is None:
        return Door(place.hours, closed, place.special_hours), False
    return Door(ask.hours, closed), True


# --- as of a moment --------------------------------------------------------------------------


def standing(times: AskTimes, as_of: datetime) -> Timed[Standing]:
    """What an ask is at a moment."""
    if as_of >= times.ends:
        # A stop before the close is an end also for an ongoing ask; it never turns into a lapse.
        if times.lapses and not times.stopped_early:
            return Timed(Standing.LAPSED, None)
        return Timed(Standing.ENDED, None)
    until = next_after(as_of, (times.opens, times.last_days_from, times.ends))
    if times.opens is not None and as_of < times.opens:
        return Timed(Standing.COMING, next_after(as_of, (times.opens, times.ends)))
    if times.last_days_from is not None and as_of >= times.last_days_from:
        return Timed(Standing.LAST_DAYS, until)
    return Timed(Standing.OPEN, until)


class PlaceState(Struct, frozen=True):
    """What one place of a live ask is at a moment."""

    live: bool
    """Its last chance is still to come."""
    opens_later: bool
    """Its own window has not begun; only told while live."""
    stopped: bool
    """Its own stop has taken effect."""


def place_state(times: PlaceTimes, as_of: datetime) -> Timed[PlaceState]:
    """Whether a place still stands on the pages at a moment."""
    live = times.last_chance is not None and as_of < times.last_chance
    stopped = times.stops is not None and as_of >= times.stops
    later = live and times.opens is not None and as_of < times.opens
    until = next_after(as_of, (times.last_chance, times.stops, times.opens if live else None))
    return Timed(PlaceState(live, later, stopped), until)


# --- listing entries -------------------------------------------------------------------------


class EntryTimes(Struct, frozen=True):
    """One entry of a round-up as instants (UTC)."""

    starts: datetime | None
    ends: datetime
    stops: datetime | None
    """When its stop takes effect; equal to the earliest instant there is when it is not dated."""


def plan_entry(entry: ListingEntry, zone: ZoneInfo) -> EntryTimes:
    """An entry's instants: it ends at `ends` (past midnight when that is not after `starts`), else with its day."""
    starts = instant(datetime.combine(entry.day, entry.starts), zone) if entry.starts is not None else None
    ends = day_end(entry.day, zone)
    if entry.ends is not None:
        overnight = entry.starts is not None and entry.ends <= entry.starts
        minutes = entry.ends.hour * 60 + entry.ends.minute + (1440 if overnight else 0)
        ends = minute_of(entry.day, minutes, zone)
    stops = None
    if entry.stopped is not None:
        stops = EVER if entry.stopped.when is None else start_of(entry.stopped.when, zone)
    return EntryTimes(starts, ends, stops)


class EntryStanding(StrEnum):
    COMING = "coming"
    """Still to come or under way."""
    STOPPED = "stopped"
    """Called off, and its day is not over."""
    ENDED = "ended"


def entry_standing(times: EntryTimes, as_of: datetime) -> Timed[EntryStanding]:
    """What an entry of a round-up is at a moment."""
    if as_of >= times.ends:
        return Timed(EntryStanding.ENDED, None)
    stopped = times.stops is not None and as_of >= times.stops
    return Timed(
        EntryStanding.STOPPED if stopped else EntryStanding.COMING,
        next_after(as_of, (times.stops, times.ends)),
    )
