"""Occasions of events against the walk through every minute, around changes of the clocks."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.clock.asks import plan_ask
from sitegen.clock.events import Extent, called_off, occasions, reminder, still_ahead
from sitegen.newsroom.records import Ask, DropOff, Kind, Mode, Span, When
from sitegen.newsroom.times import zone_named
from tests.clock.minute_walk import (
    MINUTE,
    WINDOWS,
    Walk,
    close_of,
    days_of,
    examples,
    open_minutes,
    span_end,
    span_window,
    special_of,
    walk_of,
)
from tests.clock.test_against_minute_walk import asks


@pytest.fixture(params=WINDOWS, ids=lambda window: f"{window[0]} {window[1]}")
def walk(request: pytest.FixtureRequest) -> Walk:
    return walk_of(*request.param)


def visited(walk: Walk, ask: Ask, entry: DropOff | None) -> bytearray:
    """1 for each minute in which somebody can come, stops left out."""
    found = bytearray(len(walk))
    start = walk.begins(ask.starts) if ask.starts is not None else 0
    end = close_of(walk, ask)
    if ask.kind is Kind.TUNE_IN:
        for span in ask.dates:
            first = walk.begins(span.first)
            for index in range(first, min(first + (ask.minutes or 0), len(walk))):
                found[index] = 1
        return found
    if entry is not None and entry.from_ is not None:
        start = max(start, walk.begins(entry.from_))
    if entry is not None and entry.until is not None:
        end = min(end, walk.ends(entry.until))
    hours = ask.hours
    closed: tuple[date, ...] = ask.closed
    special = []
    if entry is not None:
        closed = (*closed, *entry.place.closed)
        if entry.own_hours or ask.hours is None:
            hours, special = entry.place.hours, special_of(entry.place)
    for span in ask.dates:
        mask = bytearray(len(walk))
        if hours is not None and hours.mode is Mode.REGULAR:
            first, final = span_window(walk, span)
            is_open = open_minutes(walk, hours, closed, special, days_of(span))
            for index in range(max(start, first), min(end, final, len(walk))):
                mask[index] = is_open[index]
        regular = hours is not None and hours.mode is Mode.REGULAR
        at_own_time = (
            span.first.clock is not None and ask.hours is None and not (entry is not None and entry.own_hours)
        )
        if not any(mask) and (not regular or at_own_time):
            for index in range(
                max(start, walk.begins(span.first)), min(span_end(walk, span), end, len(walk))
            ):
                if span.first.clock is not None or walk.furthest[index].date() not in ask.closed:
                    mask[index] = 1
        found = bytearray(a | b for a, b in zip(found, mask, strict=True))
    return found


def test_occasions_are_the_minutes_in_which_somebody_can_come(walk: Walk) -> None:
    @examples(8)
    @given(asks(walk).filter(lambda ask: ask.kind in (Kind.GO, Kind.TUNE_IN)))
    def law(ask: Ask) -> None:
        times = plan_ask(replace(ask, stopped=None), 3, walk.zone)
        for entry in (None, *ask.drop_off):
            found = bytearray(len(walk))
            for occasion in occasions(ask, entry, times, walk.zone):
                assert occasion.opens < occasion.closes
                first, end = (
                    min(max((moment - walk.minutes[0]) // MINUTE, 0), len(walk))
                    for moment in (occasion.opens, occasion.closes)
                )
                found[first:end] = b"\1" * (end - first)
            assert found == visited(walk, ask, entry)

    law()


def test_the_last_occasion_at_a_door_with_hours_ends_with_its_last_chance(walk: Walk) -> None:
    @examples(8)
    @given(asks(walk).filter(lambda ask: ask.kind is Kind.GO))
    def law(ask: Ask) -> None:
        entries = tuple(replace(entry, stopped=None) for entry in ask.drop_off)
        ask = replace(ask, stopped=None, drop_off=entries)
        times = plan_ask(ask, 3, walk.zone)
        for entry, place in zip(entries, times.places, strict=True):
            found = occasions(ask, entry, times, walk.zone)
            if all(each.extent is Extent.HOURS for each in found):
                assert max((each.closes for each in found), default=None) == place.last_chance

    law()


NEW_YORK = zone_named("America/New_York")


def go(*dates: Span, closed: tuple[date, ...] = ()) -> Ask:
    return Ask("See the boats", Kind.GO, "see-the-boats", dates=dates, closed=closed)


def extents(ask: Ask) -> list[tuple[str, str, Extent]]:
    times = plan_ask(ask, 3, NEW_YORK)
    return [
        (
            f"{each.opens.astimezone(NEW_YORK):%m-%d %H:%M}",
            f"{each.closes.astimezone(NEW_YORK):%m-%d %H:%M}",
            each.extent,
        )
        for each in occasions(ask, None, times, NEW_YORK)
    ]


def test_days_without_hours_leave_out_those_that_are_closed() -> None:
    ask = go(Span(When(date(2026, 12, 1)), When(date(2026, 12, 4))), closed=(date(2026, 12, 3),))
    assert extents(ask) == [
        ("12-01 00:00", "12-03 00:00", Extent.DAYS),
        ("12-04 00:00", "12-05 00:00", Extent.DAYS),
    ]


def test_a_time_without_an_end_says_only_when_it_begins() -> None:
    when = When(date(2026, 12, 1), time(19))
    assert extents(go(Span(when, when))) == [("12-01 19:00", "12-02 00:00", Extent.START)]


def test_times_that_are_written_are_its_hours() -> None:
    span = Span(When(date(2026, 12, 1), time(19)), When(date(2026, 12, 1), time(21)))
    assert extents(go(span)) == [("12-01 19:00", "12-01 21:00", Extent.HOURS)]


@given(st.datetimes(datetime(2026, 1, 1), datetime(2027, 1, 1)))
def test_a_reminder_comes_in_the_morning_of_the_day_before(wall: datetime) -> None:
    last = wall.replace(tzinfo=NEW_YORK).astimezone(UTC)
    local = reminder(last, NEW_YORK).astimezone(NEW_YORK)
    day = (last - timedelta(microseconds=1)).astimezone(NEW_YORK).date()
    assert local.date() == day - timedelta(days=1)
    assert (local.hour, local.minute) == (9, 0)


def test_what_is_called_off_is_so_until_it_would_have_been_over() -> None:
    stop, close = datetime(2026, 12, 1, tzinfo=UTC), datetime(2026, 12, 9, tzinfo=UTC)
    before, inside, after = (stop - timedelta(1), stop + timedelta(1), close)
    assert called_off(stop, close, before) == (False, stop)
    assert called_off(stop, close, stop) == (True, close)
    assert called_off(stop, close, inside) == (True, close)
    assert called_off(stop, close, after) == (False, None)
    assert called_off(close, close, inside) == (False, None)
    assert called_off(None, close, inside) == (False, None)
    assert still_ahead(close, inside) == (True, close)
    assert still_ahead(close, after) == (False, None)
