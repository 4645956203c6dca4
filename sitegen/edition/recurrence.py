"""Occasions to series: the times of an event as few recurring rules, each with the days it leaves out (RFC 5545, 3.3.10).

A series is made of occasions that begin at one wall time and run for one length, by the clock too, so that a rule in wall time,
with the length of its first occasion, says every one of them also where clocks change. A night that a change makes longer or shorter
is a series of its own.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from msgspec import Struct

from sitegen.clock.events import Extent, Occasion
from sitegen.newsroom.times import day_start, instant, is_in_gap, is_twice, local_day

DAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
"""Weekdays as RFC 5545 writes them, Monday first."""


class Rule(Struct, frozen=True):
    """How a series recurs. Its last occasion ends it."""

    frequency: str
    """`DAILY`, `WEEKLY` or `MONTHLY`."""
    days: tuple[str, ...]
    """Empty for `DAILY`; weekdays for `WEEKLY`; for `MONTHLY` weekdays with their number, such as `2TH` or `-1SA`."""


class Series(Struct, frozen=True):
    """Occasions that one rule says; a single one has no rule."""

    occasions: tuple[Occasion, ...]
    """In time order, one or more."""
    rule: Rule | None
    left_out: tuple[datetime, ...]
    """Instants (UTC) at which the rule would have an occasion too and there is none."""


def series_of(occasions: Iterable[Occasion], zone: ZoneInfo) -> tuple[Series, ...]:
    """All of some occasions as series, in the order of their first."""
    groups: dict[tuple[object, ...], list[Occasion]] = {}
    for each in sorted(occasions):
        groups.setdefault(_kind(each, zone), []).append(each)
    found: list[Series] = []
    for group in groups.values():
        days = [local_day(each.opens, zone) for each in group]
        rule = _rule_for(days)
        clock = group[0].opens.astimezone(zone).time()
        if rule is not None and any(
            is_in_gap(wall := datetime.combine(day, clock), zone) or is_twice(wall, zone)
            for day in _days_of(rule, days[0], days[-1])
        ):
            # Readers of a rule do not agree on an occasion at a time that clocks skip or show twice.
            rule = None
        runs = [tuple(group)] if rule is not None else [(each,) for each in group]
        found += [_series(run, rule, zone) for run in runs]
    return tuple(sorted(found, key=lambda each: each.occasions))


def part_of(series: Series, kept: Iterable[Occasion], zone: ZoneInfo) -> Series | None:
    """The series with only some of its occasions, by the same rule; None when none of them is left."""
    occasions = tuple(kept)
    if not occasions:
        return None
    return _series(occasions, series.rule if len(occasions) > 1 else None, zone)


def _kind(occasion: Occasion, zone: ZoneInfo) -> tuple[object, ...]:
    """What the occasions of one series have in common."""
    start = occasion.opens.astimezone(zone)
    if occasion.extent is Extent.DAYS:
        # A day has 23, 24 or 25 hours and is a day all the same.
        length: object = (local_day(occasion.closes, zone) - start.date()).days
    elif occasion.extent is Extent.HOURS:
        # An end at a time that clocks skip is told as a later one, and some readers count from clock to clock.
        wall = occasion.closes.astimezone(zone).replace(tzinfo=None) - start.replace(tzinfo=None)
        length = (occasion.closes - occasion.opens, wall)
    else:
        length = None
    return (occasion.extent, start.time(), length)


def _series(occasions: tuple[Occasion, ...], rule: Rule | None, zone: ZoneInfo) -> Series:
    if rule is None:
        return Series(occasions, None, ())
    days = [local_day(each.opens, zone) for each in occasions]
    clock = occasions[0].opens.astimezone(zone).time()
    missing = sorted(set(_days_of(rule, days[0], days[-1])) - set(days))
    whole = occasions[0].extent is Extent.DAYS
    return Series(occasions, rule, tuple(_at(day, clock, whole, zone) for day in missing))


def _at(day: date, clock: time, whole: bool, zone: ZoneInfo) -> datetime:
    return day_start(day, zone) if whole else instant(datetime.combine(day, clock), zone)


def _rule_for(days: list[date]) -> Rule | None:
    """The shortest rule that says these days, counting what it leaves out; None when a list of them is shorter than any rule."""
    if len(days) < 2:
        return None
    weekdays = sorted({day.weekday() for day in days})
    weekly = Rule("DAILY", ()) if len(weekdays) == 7 else Rule("WEEKLY", tuple(DAYS[day] for day in weekdays))
    monthly = [
        Rule("MONTHLY", tuple(sorted({f"{nth(day)}{DAYS[day.weekday()]}" for day in days})))
        for nth in (_week_of_month, _week_from_end)
    ]
    known = set(days)
    lengths = []
    for rule in (weekly, *monthly):
        left_out = sum(day not in known for day in _days_of(rule, days[0], days[-1]))
        # A rule by the weeks of the month has to name every one of its days.
        lengths.append((left_out + (len(rule.days) if rule.frequency == "MONTHLY" else 0), rule))
    shortest, rule = min(lengths, key=lambda pair: pair[0])
    return rule if shortest < len(days) else None


def _week_of_month(day: date) -> int:
    return (day.day - 1) // 7 + 1


def _week_from_end(day: date) -> int:
    after = (day.replace(day=28) + timedelta(days=4)).replace(day=1)
    return -(((after - day).days - 1) // 7 + 1)


def _days_of(rule: Rule, first: date, last: date) -> list[date]:
    """The days a rule says from a first to a last, both included."""
    found = []
    for count in range((last - first).days + 1):
        day = first + timedelta(days=count)
        name = DAYS[day.weekday()]
        names = {name, f"{_week_of_month(day)}{name}", f"{_week_from_end(day)}{name}"}
        if rule.frequency == "DAILY" or names & set(rule.days):
            found.append(day)
    return found
