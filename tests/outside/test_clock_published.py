"""The clock against published dates and reference libraries: RFC 5545, PEP 495, the Gregorian calendar, zone data."""

from __future__ import annotations

from collections import Counter
from datetime import UTC, date, datetime, time, timedelta

import pytest
from dateutil import tz
from dateutil.rrule import MO, MONTHLY, SU, rrule, rrulestr
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.clock.openings import Door, Opening, last_opening, openings_on
from sitegen.newsroom.hours import read_hours
from sitegen.newsroom.records import Hours, Mode, Rule, When
from sitegen.newsroom.times import (
    TimeError,
    day_end,
    day_start,
    end_of,
    instant,
    is_in_gap,
    is_twice,
    read_date,
    start_of,
    zone_named,
)
from tests.counts import tries

NEW_YORK = zone_named("America/New_York")


def door(text: str) -> Door:
    hours = read_hours(text).hours
    assert hours is not None
    return Door(hours)


def openings(of: Door, first: date, last: date) -> list[Opening]:
    days = [first + timedelta(days=n) for n in range((last - first).days + 1)]
    return [opening for day in days for opening in openings_on(of, day, NEW_YORK)]


# --- RFC 5545, section 3.8.5.3, worked examples -----------------------------------------------
# https://www.rfc-editor.org/rfc/rfc5545#section-3.8.5.3: DTSTART;TZID=America/New_York, 9:00 AM.
# (hours, DTSTART's day, rule, day to look up to, days listed in the RFC as EDT, days listed as EST)

RFC_5545 = {
    "monthly on the first Friday for 10 occurrences": (
        "1st Fr 09:00-10:00",
        "1997-09-05",
        "FREQ=MONTHLY;COUNT=10;BYDAY=1FR",
        "1998-06-30",
        "1997-09-05 1997-10-03 1998-05-01 1998-06-05",
        "1997-11-07 1997-12-05 1998-01-02 1998-02-06 1998-03-06 1998-04-03",
    ),
    "monthly on the first Friday until December 24, 1997": (
        "1st Fr 09:00-10:00",
        "1997-09-05",
        "FREQ=MONTHLY;UNTIL=19971224T000000Z;BYDAY=1FR",
        "1997-12-23",
        "1997-09-05 1997-10-03",
        "1997-11-07 1997-12-05",
    ),
    "weekly on Tuesday and Thursday for five weeks": (
        "Tu,Th 09:00-10:00",
        "1997-09-02",
        "FREQ=WEEKLY;COUNT=10;WKST=SU;BYDAY=TU,TH",
        "1997-10-02",
        "1997-09-02 1997-09-04 1997-09-09 1997-09-11 1997-09-16 1997-09-18 1997-09-23 1997-09-25 1997-09-30 1997-10-02",
        "",
    ),
    "weekly for 10 occurrences": (
        "Tu 09:00-10:00",
        "1997-09-02",
        "FREQ=WEEKLY;COUNT=10",
        "1997-11-04",
        "1997-09-02 1997-09-09 1997-09-16 1997-09-23 1997-09-30 1997-10-07 1997-10-14 1997-10-21",
        "1997-10-28 1997-11-04",
    ),
    "daily for 10 occurrences": (
        "Mo-Su 09:00-10:00",
        "1997-09-02",
        "FREQ=DAILY;COUNT=10",
        "1997-09-11",
        " ".join(f"1997-09-{day:02d}" for day in range(2, 12)),
        "",
    ),
}


@pytest.mark.parametrize("name", RFC_5545)
def test_recurring_hours_fall_on_the_dates_of_rfc_5545(name: str) -> None:
    text, begin, rule, end, summer, winter = RFC_5545[name]
    first, last = date.fromisoformat(begin), date.fromisoformat(end)
    listed = {date.fromisoformat(day): 4 for day in summer.split()}  # hours behind UTC: EDT
    listed |= {date.fromisoformat(day): 5 for day in winter.split()}  # EST
    published = [datetime.combine(day, time(9 + listed[day]), tzinfo=UTC) for day in sorted(listed)]
    assert [opening.opens for opening in openings(door(text), first, last)] == published
    # The reference library, asked in wall time as the RFC is.
    reference = rrulestr(f"DTSTART:{first:%Y%m%d}T090000\nRRULE:{rule.replace('T000000Z', 'T000000')}")
    assert [moment.date() for moment in reference] == sorted(listed)
    # Walking backward from one last opening to the one before meets the same dates.
    found, moment = [], day_end(last, NEW_YORK)
    for _ in published:
        opening = last_opening(door(text), None, moment, NEW_YORK)
        assert opening is not None
        found.append(opening.opens)
        moment = opening.opens
    assert found == published[::-1]


def test_first_and_last_sunday_of_rfc_5545() -> None:
    """ "Every other month on the first and last Sunday of the month for 10 occurrences": the months it names."""
    published = "1997-09-07 1997-09-28 1997-11-02 1997-11-30 1998-01-04 1998-01-25 1998-03-01 1998-03-29 1998-05-03 1998-05-31"
    sundays = door("1st and last Su 09:00-10:00")
    found = [
        opening.opens.astimezone(NEW_YORK).date()
        for opening in openings(sundays, date(1997, 9, 7), date(1998, 5, 31))
    ]
    assert [day for day in found if day.month % 2 == 1] == [
        date.fromisoformat(day) for day in published.split()
    ]
    every_month = rrule(
        MONTHLY, byweekday=(SU(1), SU(-1)), dtstart=datetime(1997, 9, 7), until=datetime(1998, 5, 31)
    )
    assert found == [moment.date() for moment in every_month]


DATEUTIL_DAYS = [MO, *(type(MO)(number) for number in range(1, 7))]


@settings(max_examples=tries(60), deadline=None)
@given(
    st.integers(0, 6),
    st.sets(st.sampled_from((1, 2, 3, 4, 5, -1)), min_size=1),
    st.integers(1995, 2035),
)
def test_nth_weekdays_are_those_of_dateutil(weekday: int, weeks: set[int], year: int) -> None:
    rule = Rule((weekday,), tuple(weeks), ((540, 600),))
    of = Door(Hours(Mode.REGULAR, (rule,)))
    reference = rrule(
        MONTHLY,
        byweekday=[DATEUTIL_DAYS[weekday](week) for week in weeks],
        dtstart=datetime(year, 1, 1),
        until=datetime(year, 12, 31),
    )
    found = openings(of, date(year, 1, 1), date(year, 12, 31))
    assert [opening.opens.astimezone(NEW_YORK).date() for opening in found] == [
        moment.date() for moment in reference
    ]


# --- PEP 495 ---------------------------------------------------------------------------------


def test_ambiguous_and_missing_times_are_those_of_pep_495() -> None:
    """https://peps.python.org/pep-0495/, "Conversion to POSIX seconds": US/Eastern, fold=0 of each pair."""
    twice, missing = datetime(2014, 11, 2, 1, 30), datetime(2015, 3, 8, 2, 30)
    assert is_twice(twice, NEW_YORK) and not is_in_gap(twice, NEW_YORK)
    assert is_in_gap(missing, NEW_YORK) and not is_twice(missing, NEW_YORK)
    assert instant(twice, NEW_YORK).timestamp() == 1414906200.0
    assert instant(missing, NEW_YORK).timestamp() == 1425799800.0
    # "All intervals should be treated as closed on the left and open on the right."
    minute = timedelta(minutes=1)
    for first, last, holds in (
        (datetime(2014, 11, 2, 1), datetime(2014, 11, 2, 2), is_twice),
        (datetime(2015, 3, 8, 2), datetime(2015, 3, 8, 3), is_in_gap),
    ):
        assert [holds(wall, NEW_YORK) for wall in (first - minute, first, last - minute, last)] == [
            False, True, True, False,
        ]  # fmt: skip


ZONES = (
    "America/New_York", "Australia/Lord_Howe", "Europe/London", "Asia/Kathmandu", "America/Asuncion", "Africa/Cairo",
    "Pacific/Apia", "America/St_Johns", "Africa/Casablanca", "Europe/Dublin",
)  # fmt: skip


@settings(max_examples=tries(300), deadline=None)
@given(st.sampled_from(ZONES), st.datetimes(datetime(1985, 1, 1), datetime(2036, 12, 31)), st.data())
def test_walls_are_judged_as_by_dateutil(name: str, wall: datetime, data: st.DataObject) -> None:
    zone = zone_named(name)
    # Most times lie far from a change: half of them are moved to the next one, give or take two hours.
    if data.draw(st.booleans()):
        moment, step = wall.replace(tzinfo=UTC), timedelta(days=1)
        offset = moment.astimezone(zone).utcoffset()
        for _ in range(400):
            if (moment + step).astimezone(zone).utcoffset() != offset:
                break
            moment += step
        while step > timedelta(minutes=1):
            step /= 2
            if (moment + step).astimezone(zone).utcoffset() == offset:
                moment += step
        near = moment.astimezone(zone).replace(tzinfo=None, fold=0)
        wall = near + timedelta(minutes=data.draw(st.integers(-120, 120)))
    aware = wall.replace(tzinfo=zone)
    assert is_in_gap(wall, zone) == (not tz.datetime_exists(aware))
    if not is_in_gap(wall, zone):
        assert is_twice(wall, zone) == tz.datetime_ambiguous(aware)
        assert instant(wall, zone).astimezone(zone).replace(tzinfo=None) == wall
    else:
        # Forward by the gap, as dateutil resolves what does not exist.
        assert instant(wall, zone) == tz.resolve_imaginary(aware).astimezone(UTC)


# --- the Gregorian calendar ------------------------------------------------------------------


def test_leap_days_are_those_of_the_gregorian_calendar() -> None:
    """The bull Inter gravissimas (1582): of the centuries only those divisible by 400 keep their leap day."""
    for year in (1904, 2000, 2024, 2400):
        assert read_date(f"{year}-02-29") == date(year, 2, 29)
    for year in (1900, 2023, 2026, 2100, 2200, 2300):
        with pytest.raises(TimeError):
            read_date(f"{year}-02-29")


def test_the_thirteenth_is_most_often_a_friday() -> None:
    """In the 400 years after which weekdays repeat, the 13th falls on Friday 688 times of 4,800.

    B. H. Brown, American Mathematical Monthly 40 (1933), 607; the figures from memory.
    """
    counts: Counter[str] = Counter()
    names = ("Mo", "Tu", "We", "Th", "Fr", "Sa", "Su")
    doors = {name: door(f"{name} 09:00-10:00") for name in names}
    for year in range(1901, 2301):
        for month in range(1, 13):
            day = date(year, month, 13)
            counts.update(name for name in names if openings_on(doors[name], day, NEW_YORK))
    assert counts == {"Su": 687, "Mo": 685, "Tu": 685, "We": 687, "Th": 684, "Fr": 688, "Sa": 684}


@given(st.dates(date(1900, 1, 1), date(2999, 12, 30)))
def test_weekdays_by_zeller_s_congruence(day: date) -> None:
    """Chr. Zeller, Acta Mathematica 9 (1886), 131-136: h = 0 for Saturday."""
    month, year = (day.month, day.year) if day.month > 2 else (day.month + 12, day.year - 1)
    century, rest = divmod(year, 100)
    h = (day.day + 13 * (month + 1) // 5 + rest + rest // 4 + century // 4 + 5 * century) % 7
    name = ("Sa", "Su", "Mo", "Tu", "We", "Th", "Fr")[h]
    assert openings_on(door(f"{name} 09:00-10:00"), day, NEW_YORK)


# --- instants worked out from zone data ------------------------------------------------------
# Taken from the IANA zone data, release 2026f (https://www.iana.org/time-zones), as they were read with
# the standard library. (zone, last second of a span, the same in UTC)

INSTANTS = [
    ("America/New_York", "2024-11-03 01:30:00", "2024-11-03T05:30:00"),  # the first of two
    ("America/New_York", "2024-12-31 23:59:59", "2025-01-01T04:59:59"),
    ("America/New_York", "2024-03-10 23:59:59", "2024-03-11T03:59:59"),  # a day of 23 hours
    ("America/New_York", "2024-11-03 23:59:59", "2024-11-04T04:59:59"),  # a day of 25 hours
    ("America/Chicago", "2024-02-29 23:59:59", "2024-03-01T05:59:59"),
    ("America/Phoenix", "2024-07-01 17:00:00", "2024-07-02T00:00:00"),  # no summer time in Arizona
    ("America/Denver", "2024-07-01 17:00:00", "2024-07-01T23:00:00"),
    ("America/Anchorage", "2024-12-31 23:59:59", "2025-01-01T08:59:59"),
    ("America/New_York", "2007-03-20 12:00:00", "2007-03-20T16:00:00"),  # the rules of 2007
    ("America/New_York", "2006-03-20 12:00:00", "2006-03-20T17:00:00"),  # and those before
]  # fmt: skip


@pytest.mark.parametrize(("name", "wall", "expected"), INSTANTS)
def test_instants_of_known_wall_times(name: str, wall: str, expected: str) -> None:
    zone, written = zone_named(name), datetime.fromisoformat(wall)
    utc = datetime.fromisoformat(expected).replace(tzinfo=UTC)
    when = When(written.date(), written.time())
    assert instant(written, zone) == start_of(when, zone) == end_of(when, zone) == utc
    if written.time() == time(23, 59, 59):
        # A bare date ends one second after its last one.
        assert (
            end_of(When(written.date()), zone) == day_end(written.date(), zone) == utc + timedelta(seconds=1)
        )


def test_a_time_that_does_not_exist_is_told() -> None:
    """New York, 2024-03-10 02:30: clocks go from 02:00 to 03:00; with the offset before, it is 07:30 UTC."""
    missing = datetime(2024, 3, 10, 2, 30)
    assert is_in_gap(missing, NEW_YORK)
    assert instant(missing, NEW_YORK) == datetime(2024, 3, 10, 7, 30, tzinfo=UTC)


@pytest.mark.parametrize(
    ("name", "day", "hours"),
    [
        ("America/New_York", date(2024, 3, 10), 23),
        ("America/New_York", date(2024, 11, 3), 25),
        ("America/New_York", date(2024, 7, 4), 24),
        ("Australia/Lord_Howe", date(2026, 4, 5), 24.5),
        ("Australia/Lord_Howe", date(2026, 10, 4), 23.5),
        ("America/Asuncion", date(2024, 10, 6), 23),  # it has no 00:00
        ("America/Asuncion", date(2024, 3, 23), 25),
        ("Asia/Kathmandu", date(1986, 1, 1), 23.75),
        ("Pacific/Apia", date(2011, 12, 30), 0),  # it never came
    ],
)
def test_a_day_is_as_long_as_its_clocks_make_it(name: str, day: date, hours: float) -> None:
    zone = zone_named(name)
    assert day_end(day, zone) - day_start(day, zone) == timedelta(hours=hours)
    assert day_start(day + timedelta(days=1), zone) == day_end(day, zone)
