"""A plain reference for everything the clock says: walk every UTC minute of a window and look at the wall.

Nothing here asks the code under test. Only the direction that has one answer is taken from the zone data
(from an instant to what the wall shows); the other direction is found by searching the walk. The rules are
those of the project's contract: a span holds its first instant and not its last; a bare date that begins
something is the start of that day, one that ends something its end; of a wall time that comes twice the first
is meant; recurring hours that clocks skip move forward by what is skipped; a range of hours belongs to the day
it starts on; `closed` wins over `special_hours`, which replace the day's hours.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Sequence
from datetime import UTC, date, datetime, time, timedelta
from functools import cache
from typing import TypeVar

from hypothesis import HealthCheck, settings

from sitegen.clock.timed import Timed
from sitegen.newsroom.records import (
    Ask,
    DropOff,
    Hours,
    Kind,
    ListingEntry,
    Mode,
    Place,
    Span,
    When,
)
from sitegen.newsroom.times import zone_named
from tests.counts import LONG

T = TypeVar("T")
MINUTE = timedelta(minutes=1)
DAY = timedelta(days=1)
DAYS = 11
"""Length of a window; the change of clocks lies near its middle."""

WINDOWS = (
    ("America/New_York", date(2026, 3, 3)),  # 02:00 becomes 03:00 on March 8
    ("America/New_York", date(2026, 10, 27)),  # 02:00 becomes 01:00 on November 1
    ("Australia/Lord_Howe", date(2026, 3, 31)),  # 02:00 becomes 01:30 on April 5
    ("Australia/Lord_Howe", date(2026, 9, 29)),  # 02:00 becomes 02:30 on October 4
    ("Europe/London", date(2026, 3, 24)),  # 01:00 becomes 02:00 on March 29
    ("Europe/London", date(2026, 10, 20)),  # 02:00 becomes 01:00 on October 25
    ("Asia/Kathmandu", date(2026, 11, 20)),  # no change; 5:45 from UTC
    ("Asia/Kathmandu", date(1985, 12, 27)),  # 1986 began at 00:15
    ("America/Asuncion", date(2024, 10, 1)),  # 00:00 becomes 01:00 on October 6
    ("America/Asuncion", date(2024, 3, 19)),  # 00:00 becomes 23:00 of March 23
    ("Africa/Cairo", date(2026, 4, 19)),  # 00:00 becomes 01:00 on April 24
    ("Africa/Cairo", date(2026, 10, 25)),  # 00:00 becomes 23:00 of October 29
    ("Pacific/Apia", date(2011, 12, 25)),  # December 30 never came
    ("Pacific/Apia", date(2021, 3, 30)),  # 04:00 becomes 03:00 on April 4
)


def examples(count: int) -> settings:
    """How often a law is tried: `count` times, thirty times as often in a long run."""
    return settings(
        max_examples=count * (30 if LONG else 1),
        deadline=None,
        suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
    )


class Walk:
    """The minutes of a window, in UTC, and what the wall shows at each."""

    def __init__(self, zone_name: str, begin: date, days: int = DAYS) -> None:
        self.zone = zone_named(zone_name)
        self.days = [begin + n * DAY for n in range(days)]
        first = datetime.combine(begin, time(), tzinfo=UTC) - timedelta(hours=15)
        self.minutes = [first + n * MINUTE for n in range((days + 1) * 1440)]
        self.walls = [each.astimezone(self.zone).replace(tzinfo=None, fold=0) for each in self.minutes]
        self.first: dict[datetime, int] = {}
        for index, wall in enumerate(self.walls):
            self.first.setdefault(wall, index)
        self.furthest: list[datetime] = []
        for wall in self.walls:
            self.furthest.append(max(wall, self.furthest[-1]) if self.furthest else wall)
        self.shown_days = {wall.date() for wall in self.walls}

    def __len__(self) -> int:
        return len(self.minutes)

    def reached(self, wall: datetime) -> int:
        """The first minute at which the wall shows this time or a later one."""
        return bisect_left(self.furthest, wall)

    def at(self, wall: datetime) -> int:
        """The first minute showing this time; one that is skipped moves forward by what is skipped."""
        if wall in self.first or wall < self.walls[0] or wall > self.furthest[-1]:
            return self.reached(wall)
        after = self.reached(wall)
        skipped = self.walls[after] - self.walls[after - 1] - MINUTE
        return self.reached(wall + skipped)

    def begins(self, when: When) -> int:
        return self.reached(datetime.combine(when.day, when.clock or time()))

    def ends(self, when: When) -> int:
        """The first minute that is too late."""
        if when.clock is None:
            return self.reached(datetime.combine(when.day + DAY, time()))
        return self.reached(datetime.combine(when.day, when.clock))

    def days_before(self, index: int, days: int) -> int:
        """The minute a number of days earlier on the wall; the first minute of a day counts as its 00:00."""
        if index >= len(self):
            return len(self)
        wall = self.walls[index]
        if index and self.furthest[index - 1].date() < wall.date():
            wall = datetime.combine(wall.date(), time())
        return self.at(wall - days * DAY)


@cache
def walk_of(zone_name: str, begin: date) -> Walk:
    return Walk(zone_name, begin)


# --- doors -----------------------------------------------------------------------------------


def ranges_on(
    hours: Hours,
    closed: Sequence[date],
    special: Sequence[tuple[date, tuple[tuple[int, int], ...]]],
    day: date,
) -> list[tuple[int, int]]:
    """The ranges that start on a day, in wall minutes from its 00:00."""
    if day in closed:
        return []
    for special_day, ranges in special:
        if special_day == day:
            return list(ranges)
    before = sum(1 for n in range(1, day.day) if date(day.year, day.month, n).weekday() == day.weekday())
    is_last = (day + 7 * DAY).month != day.month
    found: list[tuple[int, int]] = []
    for rule in hours.rules:
        in_week = not rule.weeks or before + 1 in rule.weeks or (-1 in rule.weeks and is_last)
        if day.weekday() in rule.days and in_week:
            found.extend(rule.ranges)
    return joined(found)


def joined(ranges: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Ranges that overlap or touch are one: nobody shuts a door at the minute it opens."""
    minutes = sorted({minute for start, end in ranges for minute in range(start, end)})
    found: list[tuple[int, int]] = []
    for minute in minutes:
        if found and found[-1][1] == minute:
            found[-1] = (found[-1][0], minute + 1)
        else:
            found.append((minute, minute + 1))
    return found


def open_minutes(
    walk: Walk,
    hours: Hours,
    closed: Sequence[date],
    special: Sequence[tuple[date, tuple[tuple[int, int], ...]]],
    days: Iterable[date] | None = None,
) -> bytearray:
    """1 for each minute of the walk in which the door is open, for openings that start on some days."""
    found = bytearray(len(walk))
    for day in [walk.days[0] - DAY, *walk.days] if days is None else days:
        if day not in walk.shown_days:
            continue
        midnight = datetime.combine(day, time())
        for start, end in ranges_on(hours, closed, special, day):
            for index in range(walk.at(midnight + start * MINUTE), walk.at(midnight + end * MINUTE)):
                found[index] = 1
    return found


def last_open(is_open: bytearray, start: int, end: int) -> int:
    """The first minute after the last open one in [start, end), walking backward; -1 when there is none."""
    for index in range(min(end, len(is_open)) - 1, max(start, 0) - 1, -1):
        if is_open[index]:
            return index + 1
    return -1


def special_of(place: Place) -> list[tuple[date, tuple[tuple[int, int], ...]]]:
    return [(each.day, each.ranges) for each in place.special_hours]


# --- asks ------------------------------------------------------------------------------------


def days_of(span: Span) -> list[date]:
    return [span.first.day + n * DAY for n in range((span.last.day - span.first.day).days + 1)]


def span_window(walk: Walk, span: Span) -> tuple[int, int]:
    """The minutes an entry of `dates` allows an opening to be in."""
    begin = walk.begins(span.first) if span.first.clock is not None else 0
    end = len(walk)
    if span.last.clock is not None and span.last != span.first:
        end = walk.reached(datetime.combine(span.last.day, span.last.clock))
    return begin, end


def span_end(walk: Walk, span: Span) -> int:
    """Without hours: the end of the last date, or the last time written as an end."""
    if span.last.clock is not None and span.last != span.first:
        return walk.reached(datetime.combine(span.last.day, span.last.clock))
    return walk.reached(datetime.combine(span.last.day + DAY, time()))


def close_of(walk: Walk, ask: Ask) -> int:
    """The first minute at which an ask is over by its deadline, its checking date, or its dates."""
    if ask.ongoing:
        assert ask.check_again_by is not None
        return walk.ends(ask.check_again_by)
    if ask.deadline is not None:
        return walk.ends(ask.deadline)
    if ask.kind is Kind.TUNE_IN:
        return max(walk.begins(span.first) + (ask.minutes or 0) for span in ask.dates)
    if ask.hours is None or ask.hours.mode is not Mode.REGULAR:
        return max(span_end(walk, span) for span in ask.dates)
    last = -1
    for span in ask.dates:
        is_open = open_minutes(walk, ask.hours, ask.closed, (), days_of(span))
        last = max(last, last_open(is_open, *span_window(walk, span)))
    return last if last >= 0 else walk.begins(ask.dates[0].first)


def end_of(walk: Walk, ask: Ask) -> int:
    close = close_of(walk, ask)
    if ask.stopped is None or ask.stopped.when is None:
        return close
    stop = walk.begins(ask.stopped.when)
    if stop >= close or ask.kind not in (Kind.GO, Kind.TUNE_IN):
        return min(close, stop)
    # An event that is stopped is over with the last occasion before that; where there was none it never began.
    last = 0
    for span in ask.dates:
        begin = walk.begins(span.first)
        if ask.kind is Kind.TUNE_IN:
            occasion = begin + (ask.minutes or 0)
        elif ask.hours is not None and ask.hours.mode is Mode.REGULAR:
            is_open = open_minutes(walk, ask.hours, ask.closed, (), days_of(span))
            first, final = span_window(walk, span)
            last = max(last, last_open(is_open, first, min(final, stop)))
            continue
        else:
            occasion = span_end(walk, span)
        if begin < stop:
            last = max(last, min(occasion, stop))
    return last


def standing_at(walk: Walk, ask: Ask, last_days: int) -> Callable[[int], str]:
    """What the ask is at each minute of the walk."""
    close, end = close_of(walk, ask), end_of(walk, ask)
    opens = walk.begins(ask.starts) if ask.starts is not None else 0
    soon = walk.days_before(close, last_days)

    def standing(index: int) -> str:
        if index >= end:
            return "lapsed" if ask.ongoing and end == close else "ended"
        if index < opens:
            return "coming"
        if last_days > 0 and not ask.ongoing and index >= soon:
            return "last days"
        return "open"

    return standing


def last_chance_of(walk: Walk, ask: Ask, entry: DropOff) -> int:
    """The first minute after the last one in which somebody finds the door open; -1 when nobody ever does."""
    start = walk.begins(ask.starts) if ask.starts is not None else 0
    if entry.from_ is not None:
        start = max(start, walk.begins(entry.from_))
    end = end_of(walk, ask)
    if entry.until is not None:
        end = min(end, walk.ends(entry.until))
    if entry.stopped is not None and entry.stopped.when is not None:
        end = min(end, walk.begins(entry.stopped.when))
    place = entry.place
    if ask.kind is Kind.GO:
        return _last_visit(walk, ask, entry, start, end)
    # Whoever opens until further notice does not shut for good on the day of checking.
    until_further_notice = ask.ongoing and end == close_of(walk, ask)
    if place.hours.mode is not Mode.REGULAR or until_further_notice:
        return end if start < end else -1
    return last_open(open_minutes(walk, place.hours, place.closed, special_of(place)), start, end)


def _last_visit(walk: Walk, ask: Ask, entry: DropOff, start: int, end: int) -> int:
    """An event's door: the entry's own hours, else the event's, else the place's; only on the event's dates."""
    place, closed = entry.place, (*entry.place.closed, *ask.closed)
    of_place = entry.own_hours or ask.hours is None
    hours = place.hours if ask.hours is None or entry.own_hours else ask.hours
    best = -1
    for span in ask.dates:
        last = -1
        if hours.mode is Mode.REGULAR:
            is_open = open_minutes(walk, hours, closed, special_of(place) if of_place else (), days_of(span))
            first, final = span_window(walk, span)
            last = last_open(is_open, max(start, first), min(end, final))
        # A door is opened for an event with a time of its own, whatever hours the building keeps.
        for_event = span.first.clock is not None and ask.hours is None and not entry.own_hours
        if last < 0 and (hours.mode is not Mode.REGULAR or for_event):
            final = min(span_end(walk, span), end)
            last = final if max(start, walk.begins(span.first)) < final else -1
        best = max(best, last)
    return best


def place_at(walk: Walk, ask: Ask, entry: DropOff) -> Callable[[int], tuple[bool, bool, bool]]:
    """(live, opens later, stopped) of one place of an ask at each minute of the walk."""
    last = last_chance_of(walk, ask, entry)
    opens = walk.begins(ask.starts) if ask.starts is not None else -1
    own = walk.begins(entry.from_) if entry.from_ is not None else -1
    stop = walk.begins(entry.stopped.when) if entry.stopped and entry.stopped.when else len(walk)

    def state(index: int) -> tuple[bool, bool, bool]:
        live = index < last
        return (live, live and own > opens and index < own, index >= stop)

    return state


def entry_at(walk: Walk, entry: ListingEntry) -> Callable[[int], str]:
    """What an entry of a round-up is at each minute of the walk."""
    end = walk.reached(datetime.combine(entry.day + DAY, time()))
    if entry.ends is not None:
        overnight = entry.starts is not None and entry.ends <= entry.starts
        end = walk.at(datetime.combine(entry.day + DAY if overnight else entry.day, entry.ends))
    stop = len(walk)
    if entry.stopped is not None:
        stop = walk.begins(entry.stopped.when) if entry.stopped.when is not None else 0
    return lambda index: "ended" if index >= end else "stopped" if index >= stop else "coming"


# --- comparing -------------------------------------------------------------------------------


def walked(walk: Walk, value_at: Callable[[int], T]) -> list[tuple[datetime, T]]:
    """Where the reference's answer changes: (first minute, answer), for the whole window."""
    steps: list[tuple[datetime, T]] = []
    for index, minute in enumerate(walk.minutes):
        value = value_at(index)
        if not steps or steps[-1][1] != value:
            steps.append((minute, value))
    return steps


def followed(walk: Walk, answer: Callable[[datetime], Timed[T]]) -> list[tuple[datetime, T]]:
    """The answers found by going from one `true_until` to the next, each held against its neighbours."""
    moment = walk.minutes[0]
    steps: list[tuple[datetime, T]] = []
    while True:
        value, until = answer(moment)
        steps.append((moment, value))
        assert until is None or (until > moment and until.tzinfo is UTC)
        if until is not None:
            # It holds to the very last instant, and says so all along; at its end it is another.
            for inside in (moment + (until - moment) / 2, until - timedelta(microseconds=1)):
                assert answer(inside) == (value, until)
            assert answer(until).value != value
        if until is None or until > walk.minutes[-1]:
            return steps
        moment = until
