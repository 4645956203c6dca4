"""Occasions as series: expanded by someone else's recurrence rules, they are the same occasions again."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from dateutil.rrule import rrulestr
from hypothesis import given
from hypothesis import strategies as st

from sitegen.clock.events import Extent, Occasion
from sitegen.edition.recurrence import Rule, Series, part_of, series_of
from sitegen.newsroom.times import day_end, day_start, instant, zone_named

ZONES = ("America/New_York", "Australia/Lord_Howe", "Africa/Cairo")
MARCH = date(2026, 3, 1)


def evening(day: date, zone: ZoneInfo, clock: time = time(17, 30), minutes: int = 270) -> Occasion:
    opens = instant(datetime.combine(day, clock), zone)
    return Occasion(opens, opens + timedelta(minutes=minutes), Extent.HOURS)


def expanded(series: Series, zone: ZoneInfo) -> list[Occasion]:
    """What a reader of the rule comes to: the wall times of the rule, less those left out, of the first one's length."""
    first = series.occasions[0]
    if series.rule is None:
        return [first]
    start = first.opens.astimezone(zone).replace(tzinfo=None)
    until = series.occasions[-1].opens.astimezone(zone).replace(tzinfo=None)
    days = f";BYDAY={','.join(series.rule.days)}" if series.rule.days else ""
    rule = rrulestr(f"FREQ={series.rule.frequency};UNTIL={until:%Y%m%dT%H%M%S}{days}", dtstart=start)
    found = []
    for wall in rule:
        opens = instant(wall, zone)
        if opens in series.left_out:
            continue
        closes = (
            day_end(wall.date(), zone)
            if first.extent is Extent.DAYS
            else opens + (first.closes - first.opens)
        )
        found.append(Occasion(opens, closes, first.extent))
    return found


@pytest.mark.parametrize("name", ZONES)
def test_series_say_every_occasion_once(name: str) -> None:
    zone = zone_named(name)

    @given(
        st.sets(st.integers(0, 120), max_size=60),
        st.sampled_from((time(2, 30), time(17, 30), time(23, 0))),
        st.sampled_from((60, 270, 600)),
        st.booleans(),
    )
    def law(offsets: set[int], clock: time, minutes: int, whole: bool) -> None:
        days = [MARCH + timedelta(days=offset) for offset in sorted(offsets)]
        if whole:
            wanted = [Occasion(day_start(day, zone), day_end(day, zone), Extent.DAYS) for day in days]
        else:
            wanted = [evening(day, zone, clock, minutes) for day in days]
        found = series_of(wanted, zone)
        assert sorted(each for series in found for each in series.occasions) == sorted(wanted)
        assert sorted(each for series in found for each in expanded(series, zone)) == sorted(wanted)

    law()


def test_an_end_at_a_time_that_clocks_skip_is_a_series_of_its_own() -> None:
    """On 2024-10-06 clocks in Asuncion went from midnight to one, so the day before ended at one o'clock by the clock."""
    zone = zone_named("America/Asuncion")
    before, after = (
        Occasion(day_start(day, zone), day_start(day, zone) + timedelta(hours=24), Extent.HOURS)
        for day in (date(2024, 10, 5), date(2024, 10, 7))
    )
    assert [each.rule for each in series_of([before, after], zone)] == [None, None]


NEW_YORK = zone_named("America/New_York")


def days(*numbers: int) -> list[Occasion]:
    return [evening(date(2026, 12, number), NEW_YORK) for number in numbers]


def rules(occasions: list[Occasion]) -> list[tuple[Rule | None, int]]:
    return [(each.rule, len(each.left_out)) for each in series_of(occasions, NEW_YORK)]


def test_evenings_recur_daily_but_for_the_closed_ones() -> None:
    assert rules(days(*range(1, 24), *range(26, 31))) == [(Rule("DAILY", ()), 2)]


def test_weekends_recur_weekly() -> None:
    assert rules(days(5, 6, 12, 13, 19, 20)) == [(Rule("WEEKLY", ("SA", "SU")), 0)]


def test_a_pantry_recurs_by_the_weeks_of_the_month() -> None:
    thursdays = [
        evening(date(2026, month, day), NEW_YORK) for month, day in ((9, 10), (9, 24), (10, 8), (10, 22))
    ]
    assert rules(thursdays) == [(Rule("MONTHLY", ("2TH", "4TH")), 0)]


def test_the_last_saturday_of_the_month() -> None:
    saturdays = [
        evening(date(2026, month, day), NEW_YORK) for month, day in ((8, 29), (9, 26), (10, 31), (11, 28))
    ]
    assert rules(saturdays) == [(Rule("MONTHLY", ("-1SA",)), 0)]


def test_what_does_not_recur_stands_alone() -> None:
    assert rules(days(1, 10, 21)) == [(None, 0)] * 3
    assert rules(days(4)) == [(None, 0)]


def test_different_hours_are_different_series() -> None:
    late = [evening(date(2026, 12, day), NEW_YORK, time(14), 90) for day in (6, 13)]
    assert rules([*days(4, 5, 11, 12), *late]) == [
        (Rule("WEEKLY", ("FR", "SA")), 0),
        (Rule("WEEKLY", ("SU",)), 0),
    ]


def test_a_night_that_clocks_lengthen_is_its_own() -> None:
    nights = []
    for day in range(28, 36):
        first = date(2026, 10, 1) + timedelta(days=day - 1)
        opens = instant(datetime.combine(first, time(20)), NEW_YORK)
        closes = instant(datetime.combine(first + timedelta(days=1), time(7)), NEW_YORK)
        nights.append(Occasion(opens, closes, Extent.HOURS))
    found = series_of(nights, NEW_YORK)
    assert [len(each.occasions) for each in found] == [7, 1]
    assert sorted(each for series in found for each in expanded(series, NEW_YORK)) == nights


def test_part_of_a_series_keeps_its_rule() -> None:
    series = series_of(days(*range(1, 12)), NEW_YORK)[0]
    part = part_of(series, series.occasions[:4], NEW_YORK)
    assert part is not None
    assert (part.rule, part.occasions) == (series.rule, series.occasions[:4])
    assert part_of(series, (), NEW_YORK) is None
    alone = part_of(series, series.occasions[:1], NEW_YORK)
    assert alone is not None
    assert alone.rule is None
