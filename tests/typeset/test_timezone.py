"""VTIMEZONE against the zone data it is made from, read by dateutil."""

from __future__ import annotations

import random
from datetime import UTC, datetime, timedelta
from io import StringIO

import pytest
from dateutil.tz import tzical

from sitegen.newsroom.times import is_in_gap, is_twice, zone_named, zone_names
from sitegen.typeset.timezone import timezone_bytes

NAMED = (
    "America/New_York", "Europe/Dublin", "Australia/Lord_Howe", "Africa/Casablanca", "America/Asuncion", "Africa/Cairo",
    "Asia/Kathmandu", "Pacific/Apia", "America/Nuuk", "Antarctica/Troll",
)  # fmt: skip


def disagreements(name: str, chance: random.Random, first: int, last: int) -> list[datetime]:
    zone = zone_named(name)
    data = timezone_bytes(zone, first, last)
    read = tzical(StringIO(data.decode())).get(name)
    assert read is not None
    begin = datetime(first, 1, 1)
    minutes = int((datetime(last + 1, 1, 1) - begin).total_seconds()) // 60
    found = []
    for _ in range(120):
        wall = begin + timedelta(minutes=chance.randrange(minutes))
        found.append(wall)
    # The hours around each change are where one hour makes the difference.
    for day in range((datetime(last + 1, 1, 1) - begin).days):
        noon = begin + timedelta(days=day, hours=12)
        if (
            noon.replace(tzinfo=zone).utcoffset()
            != (noon + timedelta(days=1)).replace(tzinfo=zone).utcoffset()
        ):
            found += [noon + timedelta(minutes=30 * step) for step in range(49)]
    return [
        wall
        for wall in found
        if not is_in_gap(wall, zone)
        and not is_twice(wall, zone)
        and wall.replace(tzinfo=zone).utcoffset() != wall.replace(tzinfo=read).utcoffset()
    ]


@pytest.mark.parametrize("name", NAMED)
def test_a_calendar_states_the_zone_as_the_data_have_it(name: str, chance: random.Random) -> None:
    assert not disagreements(name, chance, 2024, 2028)


def test_any_zone(chance: random.Random) -> None:
    for name in chance.sample(zone_names(), 25):
        first = chance.randrange(1995, 2036)
        assert not disagreements(name, chance, first, first + chance.randrange(3)), name


def test_a_change_begins_at_the_wall_time_before_it() -> None:
    """Clocks went from 02:00 to 03:00 on March 8, 2026: RFC 5545, 3.6.5, wants 02:00."""
    text = timezone_bytes(zone_named("America/New_York"), 2026, 2026).decode()
    assert "BEGIN:DAYLIGHT\r\nDTSTART:20260308T020000\r\n" in text
    assert "BEGIN:STANDARD\r\nDTSTART:20261101T020000\r\n" in text
    assert datetime(2026, 3, 8, 7, tzinfo=UTC).astimezone(zone_named("America/New_York")).hour == 3
