"""When a venue of an event is open for it, as the hours of a door: so that whoever knows the present can say it."""

from __future__ import annotations

from datetime import date, timedelta

from msgspec import Struct

from sitegen.clock.asks import visit_door
from sitegen.clock.openings import Door, ranges_on
from sitegen.newsroom.records import Ask, DayHours, DropOff, Hours, Mode

MOST_DAYS = 120
"""Single days that are told one by one; of an event with more than these nothing is told."""


class Visits(Struct, frozen=True):
    """Hours that count from a day on. Where they end, the venue's last chance says."""

    door: Door
    begins: date


def visits(ask: Ask, entry: DropOff) -> Visits | None:
    """When one venue of a go ask is open for it; None when its hours are not known or its dates carry times of their
    own, whose ends nobody wrote."""
    door, _ = visit_door(ask, entry)
    spans = ask.dates
    if not door.has_hours or any(
        when.clock is not None for span in spans for when in (span.first, span.last)
    ):
        return None
    begins = min(span.first.day for span in spans)
    if len(spans) == 1 and spans[0].first != spans[0].last:
        return Visits(door, begins)
    days = sorted(
        {
            span.first.day + timedelta(days=ahead)
            for span in spans
            for ahead in range((span.last.day - span.first.day).days + 1)
        }
    )
    if len(days) > MOST_DAYS:
        return None
    told = tuple(DayHours(day, ranges_on(door, day)) for day in days)
    return Visits(Door(Hours(Mode.REGULAR, (), ""), (), told), begins)
