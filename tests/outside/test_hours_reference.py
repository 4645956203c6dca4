"""Opening hours against opening-hours-py, over the grammar that both share.

The reference reads the openingHours syntax with `Th[2,4]` for nth weekdays and a comma before a rule that
adds to the ones before it (its semicolon replaces them). It calls `09:00-09:00` a whole day and takes
`25:00`; ours refuses both, so neither is in the shared grammar. Both call the closing minute closed.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st
from opening_hours import OpeningHours

from sitegen.newsroom.hours import DAY_NAMES, opening_ranges, ranges_text, read_hours
from tests.counts import tries

DAY = 1440
WEEKS = {1: "1st", 2: "2nd", 3: "3rd", 4: "4th", 5: "5th", -1: "last"}


@st.composite
def shared_rules(draw: st.DrawFn) -> tuple[str, str]:
    """One rule in our writing and in the reference's."""
    starts = draw(st.lists(st.integers(0, DAY - 1), min_size=1, max_size=3, unique=True).map(sorted))
    ranges: list[tuple[int, int]] = []
    for start, after in zip(starts, [*starts[1:], None], strict=True):
        if after is not None:
            ranges.append((start, draw(st.integers(start + 1, after))))
        else:
            ranges.append((start, draw(st.integers(start + 1, DAY + max(start - 1, 0)))))
    times = ranges_text(ranges)
    if draw(st.booleans()):
        day = DAY_NAMES[draw(st.integers(0, 6))]
        weeks = draw(st.lists(st.sampled_from(list(WEEKS)), min_size=1, max_size=3, unique=True))
        ours = f"{','.join(WEEKS[week] for week in weeks)} {day}"
        theirs = f"{day}[{','.join(str(week) for week in weeks)}]"
    else:
        first, last = draw(st.integers(0, 6)), draw(st.integers(0, 6))
        ours = DAY_NAMES[first] if first == last else f"{DAY_NAMES[first]}-{DAY_NAMES[last]}"
        theirs = ours
    return f"{ours} {times}", f"{theirs} {times}"


@settings(max_examples=tries(150))
@given(
    st.lists(shared_rules(), min_size=1, max_size=3),
    st.dates(date(2020, 1, 1), date(2035, 12, 31)),
    st.data(),
)
def test_open_at_the_same_minutes(rules: list[tuple[str, str]], monday: date, data: st.DataObject) -> None:
    reading = read_hours("; ".join(ours for ours, _ in rules))
    assert reading.hours is not None, reading.problem
    reference = OpeningHours(", ".join(theirs for _, theirs in rules))
    for days in range(8):
        day = monday + timedelta(days=days)
        today = opening_ranges(reading.hours, day)
        yesterday = opening_ranges(reading.hours, day - timedelta(days=1))
        spans = [*today, *((start - DAY, end - DAY) for start, end in yesterday)]
        edges = {minute for span in spans for edge in span for minute in (edge - 1, edge, edge + 1)}
        edges |= set(data.draw(st.lists(st.integers(0, DAY - 1), max_size=4)))
        for minute in sorted(minute for minute in edges if 0 <= minute < DAY):
            wall = datetime(day.year, day.month, day.day, minute // 60, minute % 60)
            ours = any(start <= minute < end for start, end in spans)
            assert ours == reference.is_open(wall), f"{reading.hours.text} at {wall}"
