"""Dates and times as written: what is read, what is refused with what to write instead, and no overflow anywhere."""

from __future__ import annotations

from datetime import UTC, date, datetime, time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.newsroom.records import When
from sitegen.newsroom.times import (
    TimeError,
    day_end,
    day_start,
    end_of,
    is_in_gap,
    is_twice,
    minute_of,
    read_clock,
    read_date,
    read_moment,
    read_when,
    start_of,
    zone_named,
    zone_names,
)
from tests.counts import tries

NEW_YORK = zone_named("America/New_York")


def test_what_is_read() -> None:
    assert read_date("2026-12-15") == date(2026, 12, 15)
    assert read_when("2026-12-15") == When(date(2026, 12, 15))
    assert read_when("2026-12-15 17:30") == When(date(2026, 12, 15), time(17, 30))
    assert read_when("2026-12-15T17:30:05") == When(date(2026, 12, 15), time(17, 30, 5))
    assert read_clock("07:05") == time(7, 5)


@pytest.mark.parametrize(
    ("text", "instead"),
    [
        ("Dec. 15, 2026", "2026-12-15"),
        ("December 15th, 2026, 5:30 p.m.", "2026-12-15 17:30"),
        ("15 December 2026", "2026-12-15"),
        ("12/15/2026", "2026-12-15"),
        ("2026/12/5", "2026-12-05"),
        ("2026-12-15 5:30 pm", "2026-12-15 17:30"),
        ("2026-12-15 24:00", "2026-12-15"),
        ("2026-12-15 noon", "2026-12-15 12:00"),
    ],
)
def test_loose_dates_are_refused_with_what_they_most_likely_mean(text: str, instead: str) -> None:
    with pytest.raises(TimeError, match=rf"Write instead: {instead}(?!\d)"):
        read_when(text)


@pytest.mark.parametrize(
    "text",
    ["", "tomorrow", "2026-02-30", "2025-02-29", "2026-13-01", "2026-00-10", "2026-04-31", "26-12-15", "0026-12-15", "1899-12-31",
     "9999-12-31", "2026-12-15 25:00", "2026-12-15 17:60", "2026-12-15 17:30:99", "2026-12-15 24:01", "2026-12-1517:30", "٢٠٢٦-١٢-١٥"],
)  # fmt: skip
def test_what_does_not_exist_or_cannot_be_read(text: str) -> None:
    with pytest.raises(TimeError):
        read_when(text)


@pytest.mark.parametrize("text", ["", "7:05", "24:00", "17:60", "5 pm", "noon", "17.30"])
def test_clocks_that_cannot_be_read(text: str) -> None:
    with pytest.raises(TimeError):
        read_clock(text)


@pytest.mark.parametrize(
    ("text", "utc"),
    [
        ("2026-12-01", "2026-12-01T05:00"),
        ("2026-12-01 12:00", "2026-12-01T17:00"),
        ("2026-12-01T12:00:00Z", "2026-12-01T12:00"),
        ("2026-12-01T12:00-05:00", "2026-12-01T17:00"),
        ("2026-12-01 12:00 +0530", "2026-12-01T06:30"),
        ("2026-11-01 01:30", "2026-11-01T05:30"),  # the first of two
        ("2026-11-01T01:30-05:00", "2026-11-01T06:30"),  # the second can be said with an offset
    ],
)
def test_moments(text: str, utc: str) -> None:
    assert read_moment(text, NEW_YORK) == datetime.fromisoformat(utc).replace(tzinfo=UTC)


@pytest.mark.parametrize(
    "text",
    [
        "2026-03-08 02:30",
        "2026-12-01T12:00+99:00",
        "2026-12-01T12:00-05:75",
        "2026-12-01T24:30Z",
        "now",
        "12:00",
    ],
)
def test_moments_that_cannot_be(text: str) -> None:
    with pytest.raises(TimeError):
        read_moment(text, NEW_YORK)


@settings(max_examples=tries(300), deadline=None)
@given(st.text(max_size=30) | st.text("0123456789-: TZ+/.apmnoDec,", max_size=26) | st.datetimes().map(str))
def test_any_text_is_a_time_or_a_time_error(text: str) -> None:
    for reader in (read_date, read_clock, read_when, lambda each: read_moment(each, NEW_YORK)):
        try:
            reader(text)
        except TimeError as error:
            assert str(error)


@pytest.mark.parametrize(
    "zone_name", ["Pacific/Kiritimati", "Pacific/Niue", "America/New_York", "Asia/Kathmandu"]
)
@given(st.dates())
def test_whatever_is_read_can_be_reckoned_with(zone_name: str, day: date) -> None:
    """From the first to the last date that is read nothing overflows, in the zones farthest from UTC."""
    zone = zone_named(zone_name)
    for each in (day, date.min, date.max, date(1900, 1, 1), date(2999, 12, 31)):
        try:
            when = read_when(f"{each.isoformat()} 23:59:59")
        except TimeError:
            continue
        wall = datetime.combine(when.day, when.clock or time())
        assert not (is_in_gap(wall, zone) and is_twice(wall, zone))
        assert day_start(each, zone) <= start_of(when, zone) == end_of(when, zone) <= day_end(each, zone)
        minute_of(each, 2880, zone)


def test_zones_come_by_their_iana_names_only() -> None:
    assert "America/New_York" in zone_names() and len(zone_names()) > 400
    for name in (
        "",
        "New York",
        "../../etc/passwd",
        "/America/New_York",
        "America",
        "EST5EDT,M3.2.0,M11.1.0",
        "America/New_york",
        "tzdata.zi",
        "zone.tab",
    ):
        with pytest.raises(TimeError):
            zone_named(name)
