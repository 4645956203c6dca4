"""Laws of the checks, tried on many stations: doors against a walk through every half hour, positions, work done."""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from types import FrameType

from hypothesis import assume, given
from hypothesis import strategies as st

from sitegen.geography.shapes import distance_metres
from sitegen.newsroom.hours import read_hours
from sitegen.newsroom.records import (
    Ask,
    Confirmed,
    Contact,
    County,
    DropOff,
    Finding,
    Hours,
    Kind,
    Newsroom,
    Origin,
    Place,
    Position,
    Spot,
    Station,
    StationContact,
    Story,
    Town,
    When,
)
from sitegen.newsroom.times import zone_named
from sitegen.proof.copycheck import check_copy

ZONE = zone_named("Australia/Lord_Howe")
HOME = Position(-31.55, 159.08)
STATION = Station(
    "Heron Flats Television", "Bright Side", "https://www.example.com/bright/", "Australia/Lord_Howe", "en",
    StationContact("desk@example.com"), (County("Heron Flats", "heron-flats", "", HOME, (Town("Lowgate", HOME),)),),
)  # fmt: skip
AIRED = date(2027, 3, 27)
"""Clocks there go back by half an hour a week later, on April 4, 2027."""
CODES = ("Mo", "Tu", "We", "Th", "Fr", "Sa", "Su")


def hours(text: str) -> Hours:
    read = read_hours(text).hours
    assert read is not None
    return read


@st.composite
def written_hours(draw: st.DrawFn) -> tuple[set[int], int, int]:
    """(weekdays, start, end) in half hours from a day's 00:00; past midnight when the end comes first."""
    days = draw(st.sets(st.integers(0, 6), min_size=1, max_size=3))
    start = draw(st.integers(0, 47))
    return days, start, draw(st.integers(1, 48).filter(lambda end: end != start))


def findings(ask: Ask, as_of: datetime) -> list[Finding]:
    told = Story("2027/coats", "Coats for all", When(AIRED), ("heron-flats",), asks=(ask,), body="Body.")
    return list(check_copy(Newsroom(STATION, stories=(told,)), as_of))


@st.composite
def windows(draw: st.DrawFn) -> tuple[date, date, date, date]:
    """(from, until, starts, deadline), none of which shuts another out."""
    first = draw(st.integers(-3, 14))
    last = draw(st.integers(first, 16))
    starts = draw(st.integers(-3, last))
    deadline = draw(st.integers(max(first, starts, 0), 18))

    def day(number: int) -> date:
        return AIRED + timedelta(days=number)

    return day(first), day(last), day(starts), day(deadline)


@given(written_hours(), windows())
def test_a_place_is_never_open_exactly_when_no_half_hour_of_its_window_is(
    weekly: tuple[set[int], int, int], window: tuple[date, date, date, date]
) -> None:
    days, start, end = weekly
    first, last, starts, deadline = window
    clock = f"{start // 2:02d}:{start % 2 * 30:02d}-{end // 2:02d}:{end % 2 * 30:02d}"
    text = f"{','.join(CODES[day] for day in sorted(days))} {clock}"
    place = Place("", "Lowgate Hall", "Lowgate", "heron-flats", hours(text), position=HOME)
    ask = Ask(
        "Bring a coat", Kind.BRING, "coat", When(starts), When(deadline), confirmed=Confirmed(AIRED - timedelta(days=4)),
        contact=Contact("Friends", "2375550142"), drop_off=(DropOff(place, When(first), When(last)),),
    )  # fmt: skip
    begins = datetime.combine(max(first, starts, AIRED), datetime.min.time(), ZONE).astimezone(UTC)
    finish = datetime.combine(min(last, deadline) + timedelta(days=1), datetime.min.time(), ZONE).astimezone(
        UTC
    )
    open_ever = False
    moment = begins
    while moment < finish and not open_ever:
        local = moment.astimezone(ZONE)
        half = local.hour * 2 + local.minute // 30
        today, before = local.weekday() in days, (local.weekday() - 1) % 7 in days
        if end > start:
            open_ever = today and start <= half < end
        else:
            open_ever = (today and half >= start) or (before and half < end)
        moment += timedelta(minutes=30)
    # The week the clocks change has half hours that come twice; a door may shut in the first of them.
    turns = min(last, deadline) >= date(2027, 4, 3) >= max(first, starts, AIRED) - timedelta(days=1)
    assume(not turns or not {start, end} & {3, 4})
    as_of = datetime.combine(AIRED - timedelta(days=4), datetime.min.time(), ZONE).astimezone(UTC)
    said = {each.check for each in findings(ask, as_of)} - {"deadline-outlives-doors"}
    # What is open when its last day ends, and not only from then on, is cut there.
    cut = open_ever and end < start and min(last, deadline).weekday() in days
    assert said == (set() if open_ever else {"never-open"}) | ({"night-cut-short"} if cut else set())


POSITIONS = st.tuples(st.floats(-85, 85), st.floats(-85, 85))


@given(POSITIONS, st.floats(-0.5, 0.5), st.floats(-0.5, 0.5))
def test_swapping_a_position_is_noticed_wherever_it_shows(
    home: tuple[float, float], north: float, east: float
) -> None:
    town = Position(*home)
    right = Position(home[0] + north, home[1] + east)
    wrong = Position(right.longitude, right.latitude)
    station = replace(
        STATION, counties=(County("Heron Flats", "heron-flats", towns=(Town("Lowgate", town),)),)
    )

    def said(position: Position) -> list[str]:
        place = Place("hall", "Hall", "Lowgate", "heron-flats", hours("Mo 09:00-10:00"), position=position)
        return [
            each.check for each in check_copy(Newsroom(station, (place,)), datetime(2027, 4, 1, tzinfo=UTC))
        ]

    assert said(right) == []
    far = distance_metres(wrong, town)
    near = distance_metres(right, town)
    if far > 1_000_000:
        # No place is more than 80 km from its town here, so swapping the numbers back brings it far nearer.
        assert near < 80_000
        assert said(wrong) == ["swapped-position"]
    elif far < 150_000:
        assert said(wrong) == []


def test_checking_takes_work_in_proportion_to_the_archive() -> None:
    body = "They hung coats on Friday, Dec. 12, 2025, and the rail held. Nobody had asked it to.\n\n" * 12
    place = Place("hall", "Hall", "Lowgate", "heron-flats", hours("Mo-Fr 09:00-17:00"), position=HOME)
    contact = Contact("Friends", "237-555-0142", "coats@example.org", "https://friends.example.org/")
    stories = []
    for number in range(1_000):
        aired = date(2020, 1, 1) + timedelta(days=number)
        ask = Ask(
            "Bring a coat", Kind.BRING, "coat", None, When(aired + timedelta(days=20)), contact=contact,
            drop_off=(DropOff(place), DropOff(place)),
        )  # fmt: skip
        stories.append(
            Story(
                f"{aired.year}/{number:05d}", "Coats", When(aired), ("heron-flats",), asks=(ask, ask), body=body,
                origin=Origin(Spot("content/stories/x.md")),
            )
        )  # fmt: skip

    def calls(count: int) -> int:
        """How many functions are called: the same number however busy the machine is."""
        newsroom = Newsroom(STATION, (place,), tuple(stories[-count:]))
        called = 0

        def count_one(frame: FrameType, event: str, argument: object) -> None:
            nonlocal called
            called += event in ("call", "c_call")

        sys.setprofile(count_one)
        try:
            check_copy(newsroom, datetime(2025, 6, 24, tzinfo=UTC))
        finally:
            sys.setprofile(None)
        return called

    calls(100)
    assert calls(1_000) < 4.5 * calls(250)
