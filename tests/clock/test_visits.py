"""An event's hours at a venue, against the openings of each of its dates and of no other day."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.clock.openings import ranges_on
from sitegen.clock.visits import MOST_DAYS, visits
from sitegen.newsroom.hours import opening_ranges, read_hours
from sitegen.newsroom.records import Ask, DropOff, Hours, Kind, Place, Span, When

FIRST = date(2026, 12, 1)
WRITTEN = ("Mo-Su 17:30-22:00", "Sa 10:00-15:00", "Mo-Fr 09:00-12:00,13:00-17:00; Su 14:00-02:00")
days = st.integers(0, 40).map(lambda ahead: FIRST + timedelta(days=ahead))
spans = st.tuples(days, st.sampled_from([0, 0, 0, 3, 20])).map(
    lambda pair: Span(When(pair[0]), When(pair[0] + timedelta(days=pair[1])))
)


def hours(text: str) -> Hours:
    found = read_hours(text).hours
    assert found is not None
    return found


def event(dates: tuple[Span, ...], own: str | None, closed: tuple[date, ...] = ()) -> Ask:
    return Ask(
        "See the lights", Kind.GO, "lights", dates=dates, hours=hours(own) if own else None, closed=closed
    )


def venue(text: str, closed: tuple[date, ...] = (), own_hours: bool = False) -> DropOff:
    place = Place("hall", "Lowgate Hall", "Lowgate", "heron-flats", hours(text), closed=closed)
    return DropOff(place, own_hours=own_hours)


@given(
    dates=st.lists(spans, min_size=1, max_size=5).map(tuple),
    event_hours=st.sampled_from([None, *WRITTEN]),
    place_hours=st.sampled_from(WRITTEN),
    own_hours=st.booleans(),
    closed=st.lists(days, max_size=3).map(tuple),
    place_closed=st.lists(days, max_size=3).map(tuple),
)
def test_it_is_open_on_its_dates_in_its_hours_and_at_no_other_time(
    dates: tuple[Span, ...],
    event_hours: str | None,
    place_hours: str,
    own_hours: bool,
    closed: tuple[date, ...],
    place_closed: tuple[date, ...],
) -> None:
    found = visits(event(dates, event_hours, closed), venue(place_hours, place_closed, own_hours))
    assert found is not None
    bound = place_hours if own_hours or event_hours is None else event_hours
    last = max(span.last.day for span in dates)
    day = FIRST - timedelta(days=3)
    while day <= last:  # after it the venue's last chance says that it is over
        is_date = any(span.first.day <= day <= span.last.day for span in dates)
        is_open = is_date and day not in closed and day not in place_closed
        told = ranges_on(found.door, day) if day >= found.begins else ()
        assert told == (opening_ranges(hours(bound), day) if is_open else ()), day
        day += timedelta(days=1)


@pytest.mark.parametrize("text", ["by appointment", "unknown"])
def test_nothing_is_told_of_hours_that_nobody_knows(text: str) -> None:
    assert visits(event((Span(When(FIRST), When(FIRST)),), None), venue(text)) is None


def test_nothing_is_told_of_a_date_with_a_time_of_its_own() -> None:
    from datetime import time

    start = When(FIRST, time(19))
    assert visits(event((Span(start, start),), None), venue(WRITTEN[0])) is None


def test_nothing_is_told_of_more_single_days_than_a_page_should_carry() -> None:
    many = tuple(
        Span(When(day), When(day)) for day in (FIRST + timedelta(days=2 * n) for n in range(MOST_DAYS))
    )
    assert visits(event(many, WRITTEN[0]), venue(WRITTEN[0])) is not None
    more = (*many, Span(When(date(2028, 1, 1)), When(date(2028, 1, 1))))
    assert visits(event(more, WRITTEN[0]), venue(WRITTEN[0])) is None
