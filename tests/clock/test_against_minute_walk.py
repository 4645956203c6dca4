"""The clock against a walk through every minute, around changes of the clocks in seven zones."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.clock.asks import PlaceTimes, entry_standing, place_state, plan_ask, plan_entry, standing
from sitegen.clock.stories import episode_visible, plan_story, rights_run, visibility
from sitegen.clock.timed import Timed
from sitegen.newsroom.records import (
    Ask,
    DayHours,
    DropOff,
    Episode,
    Hours,
    Kind,
    ListingEntry,
    Mode,
    Place,
    Rule,
    Span,
    Stop,
    Story,
    When,
    Withdrawn,
)
from tests.clock.minute_walk import (
    WINDOWS,
    Walk,
    close_of,
    entry_at,
    examples,
    followed,
    last_chance_of,
    place_at,
    standing_at,
    walk_of,
    walked,
)

CLOCKS = (
    0, 1, 15, 30, 45, 59, 60, 75, 90, 105, 119, 120, 130, 135, 150, 165, 179, 180, 195, 210, 240,
    420, 540, 720, 840, 1050, 1200, 1320, 1380, 1410, 1439,
)  # fmt: skip
"""Minutes of a day: those that clocks skip or repeat somewhere, their neighbours, and shop hours."""


def days(walk: Walk, first: int = 2, last: int = -3) -> st.SearchStrategy[date]:
    return st.sampled_from(walk.days[first:last])


@st.composite
def whens(draw: st.DrawFn, walk: Walk) -> When:
    """A date, or a date and a time that the wall shows (others are faults and never become records)."""
    day = draw(days(walk))
    minute = draw(st.none() | st.sampled_from(CLOCKS))
    if minute is None or datetime.combine(day, time(*divmod(minute, 60))) not in walk.first:
        return When(day)
    return When(day, time(*divmod(minute, 60)))


@st.composite
def ranges(draw: st.DrawFn) -> tuple[tuple[int, int], ...]:
    found = []
    for _ in range(draw(st.integers(1, 2))):
        start = draw(st.sampled_from(CLOCKS))
        length = draw(st.sampled_from((1, 15, 29, 30, 45, 60, 90, 120, 240, 480, 720, 1440)))
        found.append((start, start + length))
    return tuple(sorted(found))


@st.composite
def regular(draw: st.DrawFn) -> Hours:
    rules = []
    for _ in range(draw(st.integers(1, 3))):
        weekdays = tuple(sorted(draw(st.sets(st.integers(0, 6), min_size=1, max_size=7))))
        weeks = tuple(draw(st.sets(st.sampled_from((1, 2, 3, 4, 5, -1)), max_size=2)))
        rules.append(Rule(weekdays, weeks, draw(ranges())))
    return Hours(Mode.REGULAR, tuple(rules))


def hours() -> st.SearchStrategy[Hours]:
    return st.one_of(
        regular(), regular(), regular(), st.sampled_from((Hours(Mode.UNKNOWN), Hours(Mode.BY_APPOINTMENT)))
    )


@st.composite
def drop_offs(draw: st.DrawFn, walk: Walk) -> DropOff:
    closed = tuple(sorted(draw(st.sets(days(walk, 0, -1), max_size=3))))
    special_days = sorted(draw(st.sets(days(walk, 0, -1), max_size=2)))
    special = tuple(DayHours(day, draw(ranges() | st.just(()))) for day in special_days)
    place = Place("", "Hall", "Lowgate", "heron-flats", draw(hours()), closed=closed, special_hours=special)
    return DropOff(
        place,
        from_=draw(st.none() | whens(walk)),
        until=draw(st.none() | whens(walk)),
        stopped=draw(st.none() | st.none() | whens(walk).map(lambda when: Stop(when, "Full."))),
        own_hours=draw(st.booleans()),
    )


@st.composite
def spans(draw: st.DrawFn, walk: Walk, timed: bool) -> Span:
    first = draw(whens(walk))
    if timed:
        return Span(first, first)
    last = draw(st.just(first) | whens(walk))
    a, b = sorted((first, last), key=lambda when: (when.day, when.clock or time()))
    return Span(a, b)


@st.composite
def asks(draw: st.DrawFn, walk: Walk) -> Ask:
    kind = draw(st.sampled_from(Kind))
    by_dates = kind in (Kind.GO, Kind.TUNE_IN)
    ongoing = not by_dates and draw(st.integers(0, 3)) == 0
    dates: tuple[Span, ...] = ()
    if by_dates:
        found = draw(st.lists(spans(walk, kind is Kind.TUNE_IN), min_size=1, max_size=3))
        if kind is Kind.TUNE_IN:
            found = [
                Span(each.first, each.first)
                if each.first.clock
                else Span(When(each.first.day, time(19)), When(each.first.day, time(19)))
                for each in found
                if each.first.clock or datetime.combine(each.first.day, time(19)) in walk.first
            ] or [Span(When(walk.days[2], time(19)), When(walk.days[2], time(19)))]
        dates = tuple(
            sorted(
                found,
                key=lambda span: (span.first.day, span.first.clock is not None, span.first.clock or time()),
            )
        )
    return Ask(
        title="Bring a coat",
        kind=kind,
        key="bring-a-coat",
        starts=draw(st.none() | whens(walk)),
        deadline=None if by_dates or ongoing else draw(whens(walk)),
        ongoing=ongoing,
        check_again_by=draw(whens(walk)) if ongoing else None,
        stopped=draw(st.none() | st.none() | whens(walk).map(lambda when: Stop(when, "Full."))),
        dates=dates,
        hours=draw(st.none() | hours()) if kind is Kind.GO else None,
        closed=tuple(sorted(draw(st.sets(days(walk), max_size=2)))) if kind is Kind.GO else (),
        minutes=draw(st.sampled_from((1, 30, 60, 150))) if kind is Kind.TUNE_IN else None,
        drop_off=tuple(draw(st.lists(drop_offs(walk), max_size=2))),
    )


@pytest.fixture(params=WINDOWS, ids=lambda window: f"{window[0]} {window[1]}")
def walk(request: pytest.FixtureRequest) -> Walk:
    return walk_of(*request.param)


def check_last_chance(walk: Walk, ask: Ask, entry: DropOff, found: datetime | None) -> None:
    last = last_chance_of(walk, ask, entry)
    if last >= 0:
        assert found == walk.minutes[last]
    else:
        # Only a window without a beginning reaches further back than the walk.
        assert found is None or (ask.starts is None and entry.from_ is None)
        assert found is None or found <= walk.minutes[0] + timedelta(days=1)


def test_asks_and_their_places(walk: Walk) -> None:
    """Standing and places minute by minute; the last chance is the last minute somebody finds the door open."""

    @examples(20)
    @given(asks(walk), st.integers(0, 4))
    def law(ask: Ask, last_days: int) -> None:
        times = plan_ask(ask, last_days, walk.zone)
        assert times.closes == walk.minutes[close_of(walk, ask)]
        truth = standing_at(walk, ask, last_days)
        assert followed(walk, lambda moment: standing(times, moment)) == walked(walk, truth)
        for entry, place in zip(ask.drop_off, times.places, strict=True):
            check_last_chance(walk, ask, entry, place.last_chance)

            def state(moment: datetime, place: PlaceTimes = place) -> Timed[tuple[bool, bool, bool]]:
                found = place_state(place, moment)
                value = found.value
                return Timed((value.live, value.opens_later, value.stopped), found.true_until)

            assert followed(walk, state) == walked(walk, place_at(walk, ask, entry))

    law()


@st.composite
def entries(draw: st.DrawFn, walk: Walk) -> ListingEntry:
    day = draw(days(walk))

    def shown(minute: int, on: date) -> bool:
        return datetime.combine(on, time(*divmod(minute, 60))) in walk.first

    minute = draw(st.none() | st.sampled_from(CLOCKS).filter(lambda each: shown(each, day)))
    starts = time(*divmod(minute, 60)) if minute is not None else None
    last = draw(st.none() | st.sampled_from(CLOCKS))
    ends = time(*divmod(last, 60)) if last is not None else None
    stopped = draw(
        st.none() | st.just(Stop(None, "Called off.")) | whens(walk).map(lambda when: Stop(when, "Off."))
    )
    return ListingEntry("Parade", "Lowgate", "heron-flats", day, starts, ends, stopped=stopped)


def test_listing_entries(walk: Walk) -> None:
    @examples(15)
    @given(entries(walk))
    def law(entry: ListingEntry) -> None:
        times = plan_entry(entry, walk.zone)
        assert followed(walk, lambda moment: entry_standing(times, moment)) == walked(
            walk, entry_at(walk, entry)
        )

    law()


@st.composite
def stories(draw: st.DrawFn, walk: Walk) -> tuple[Story, dict[str, Episode]]:
    episodes = {
        name: Episode(name, draw(whens(walk)), hold=draw(st.booleans()))
        for name in draw(st.lists(st.sampled_from(("one", "two", "three")), max_size=2, unique=True))
    }
    withdrawn = draw(st.none() | days(walk).map(lambda day: Withdrawn(day, "Withdrawn.")))
    story = Story(
        "2026/coats",
        "Coats",
        draw(whens(walk)),
        ("heron-flats",),
        embargo=draw(st.none() | whens(walk)),
        hold=draw(st.integers(0, 4)) == 0,
        withdrawn=withdrawn,
        episodes=tuple(episodes),
    )
    return story, episodes


def check_episode(walk: Walk, episode: Episode) -> None:
    aired = walk.begins(episode.aired)
    assert followed(walk, lambda moment: episode_visible(episode, moment, walk.zone)) == walked(
        walk, lambda index: not episode.hold and index >= aired
    )


def test_stories_are_held_released_and_withdrawn(walk: Walk) -> None:
    @examples(15)
    @given(stories(walk))
    def law(case: tuple[Story, dict[str, Episode]]) -> None:
        story, episodes = case
        times = plan_story(story, episodes, walk.zone)

        held = story.hold or (bool(episodes) and all(each.hold for each in episodes.values()))
        if story.embargo is not None:
            release = walk.begins(story.embargo)
        elif episodes:
            release = min((walk.begins(each.aired) for each in episodes.values() if not each.hold), default=0)
        else:
            release = walk.begins(story.aired)
        gone = walk.begins(When(story.withdrawn.date)) if story.withdrawn else len(walk)
        # Taken back on a day that was over when it would have come out: nobody has ever seen it.
        never_out = story.withdrawn is not None and walk.ends(When(story.withdrawn.date)) <= release

        def truth(index: int) -> str:
            if held or never_out or index < release:
                return "nothing"
            return "notice" if index >= gone else "published"

        assert followed(walk, lambda moment: visibility(times, moment)) == walked(walk, truth)
        for episode in episodes.values():
            check_episode(walk, episode)

    law()


def test_rights_run_to_their_end(walk: Walk) -> None:
    @examples(10)
    @given(st.none() | whens(walk))
    def law(rights_end: When | None) -> None:
        end = len(walk) if rights_end is None else walk.ends(rights_end)
        assert followed(walk, lambda moment: rights_run(rights_end, moment, walk.zone)) == walked(
            walk, lambda index: index < end
        )

    law()
