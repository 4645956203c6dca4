"""Asks, places and entries at known moments: the contract's own examples, and edges a walk would seldom meet."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise

import pytest

from sitegen.clock.asks import (
    EVER,
    EntryStanding,
    PlaceState,
    Standing,
    dates_left,
    entry_standing,
    place_state,
    plan_ask,
    plan_entry,
    standing,
)
from sitegen.newsroom.hours import read_days, read_hours
from sitegen.newsroom.records import (
    Ask,
    DayHours,
    DropOff,
    Hours,
    Kind,
    ListingEntry,
    Mode,
    Place,
    Span,
    Stop,
    When,
)
from sitegen.newsroom.times import zone_named

NEW_YORK = zone_named("America/New_York")


def local(text: str) -> datetime:
    """An instant from New York's wall time."""
    return datetime.fromisoformat(text).replace(tzinfo=NEW_YORK).astimezone(UTC)


def when(text: str) -> When:
    moment = datetime.fromisoformat(text)
    return When(moment.date(), moment.time() if len(text) > 10 else None)


def hours(text: str) -> Hours:
    found = read_hours(text).hours
    assert found is not None
    return found


def place(text: str, closed: str = "", special: tuple[DayHours, ...] = ()) -> Place:
    return Place(
        "hall",
        "Lowgate Hall",
        "Lowgate",
        "heron-flats",
        hours(text),
        closed=tuple(date.fromisoformat(day) for day in closed.split()),
        special_hours=special,
    )


def bring(deadline: str, *drop_off: DropOff, starts: str = "") -> Ask:
    return Ask(
        "Bring a coat",
        Kind.BRING,
        "coat",
        starts=when(starts) if starts else None,
        deadline=when(deadline),
        drop_off=drop_off,
    )


def last_chance(ask: Ask) -> datetime | None:
    return plan_ask(ask, 3, NEW_YORK).places[0].last_chance


def at(ask: Ask, text: str, last_days: int = 3) -> Standing:
    return standing(plan_ask(ask, last_days, NEW_YORK), local(text)).value


# --- the contract's own examples -------------------------------------------------------------


def test_a_deadline_on_sunday_at_a_shop_that_shuts_on_saturday() -> None:
    """The contract: "If the deadline is a Sunday and the shop shuts at Saturday 14:00, the page says Saturday"."""
    assert date(2026, 12, 13).strftime("%A") == "Sunday"
    ask = bring("2026-12-13", DropOff(place("Mo-Fr 09:00-17:00; Sa 10:00-14:00")))
    assert last_chance(ask) == local("2026-12-12 14:00")
    times = plan_ask(ask, 3, NEW_YORK)
    assert place_state(times.places[0], local("2026-12-12 13:59")).value.live
    assert not place_state(times.places[0], local("2026-12-12 14:00")).value.live
    assert standing(times, local("2026-12-13 23:59")).value is Standing.LAST_DAYS
    assert standing(times, local("2026-12-14 00:00")).value is Standing.ENDED


def test_at_its_deadline_an_ask_has_ended() -> None:
    ask = bring("2026-12-15 17:30")
    assert at(ask, "2026-12-15 17:29:59") is Standing.LAST_DAYS
    assert at(ask, "2026-12-15 17:30") is Standing.ENDED


def test_a_bare_deadline_is_the_end_of_its_day_and_a_bare_start_the_start() -> None:
    ask = bring("2026-12-15", starts="2026-11-15")
    times = plan_ask(ask, 3, NEW_YORK)
    assert (times.opens, times.closes) == (local("2026-11-15 00:00"), local("2026-12-16 00:00"))
    assert at(ask, "2026-11-14 23:59") is Standing.COMING
    assert at(ask, "2026-11-15 00:00") is Standing.OPEN


def test_the_last_days_are_whole_days_up_to_a_bare_deadline() -> None:
    """Three last days before the end of the 15th: the 13th, 14th and 15th."""
    ask = bring("2026-12-15")
    assert at(ask, "2026-12-12 23:59") is Standing.OPEN
    assert at(ask, "2026-12-13 00:00") is Standing.LAST_DAYS
    assert at(ask, "2026-12-15 12:00", last_days=0) is Standing.OPEN


def test_last_days_are_counted_on_the_wall_across_a_change_of_clocks() -> None:
    """From Wednesday 17:30 three days back to Sunday 17:30, though Sunday had 25 hours."""
    times = plan_ask(bring("2026-11-03 17:30"), 3, NEW_YORK)
    assert times.last_days_from == local("2026-10-31 17:30")


def test_last_days_are_whole_also_before_a_day_that_has_no_midnight() -> None:
    """In Cairo April 24, 2026 begins at 01:00; the days before it begin at 00:00 as ever."""
    cairo = zone_named("Africa/Cairo")
    times = plan_ask(bring("2026-04-23"), 3, cairo)
    assert times.closes == datetime(2026, 4, 23, 22, tzinfo=UTC)
    assert times.last_days_from == datetime(2026, 4, 20, 22, tzinfo=UTC)


def test_an_ongoing_ask_lapses_and_a_stopped_one_ends() -> None:
    ongoing = Ask("Bring food", Kind.BRING, "food", ongoing=True, check_again_by=when("2026-12-15"))
    assert at(ongoing, "2026-12-15 23:59") is Standing.OPEN  # never in its last days
    assert at(ongoing, "2026-12-16 00:00") is Standing.LAPSED
    full = Ask(
        "Bring food", Kind.BRING, "food", ongoing=True, check_again_by=when("2026-12-15"),
        stopped=Stop(when("2026-12-10 15:00"), "The shelves are full."),
    )  # fmt: skip
    assert at(full, "2026-12-10 14:59") is Standing.OPEN
    assert at(full, "2026-12-10 15:00") is Standing.ENDED
    assert at(full, "2026-12-20 00:00") is Standing.ENDED  # it does not turn into a lapse


def test_an_ask_that_starts_after_its_end_is_never_open() -> None:
    ask = bring("2026-12-01", starts="2026-12-10")
    assert at(ask, "2026-11-20") is Standing.COMING
    assert at(ask, "2026-12-02") is Standing.ENDED
    assert at(ask, "2026-12-20") is Standing.ENDED


# --- drop-offs -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "deadline", "last"),
    [
        ("Mo-Fr 09:00-17:00", "2026-12-15 12:00", "2026-12-15 12:00"),  # cut by the deadline, mid-opening
        ("Mo-Fr 09:00-17:00", "2026-12-15 09:00", "2026-12-14 17:00"),  # it shuts before it opens
        ("Mo-Fr 09:00-17:00", "2026-12-15 09:01", "2026-12-15 09:01"),
        ("Fr 22:00-02:00", "2026-12-12", "2026-12-12 02:00"),  # Friday's range, on Saturday
        ("Fr 22:00-02:00", "2026-12-12 01:15", "2026-12-12 01:15"),
        ("Sa 18:00-24:00", "2026-12-12", "2026-12-13 00:00"),
        ("Mo-Su 00:00-24:00", "2026-12-12 13:13", "2026-12-12 13:13"),
        ("2nd and 4th Th 10:00-12:00", "2026-12-23", "2026-12-10 12:00"),
        ("last Fr 18:00-20:00", "2026-12-24", "2026-11-27 20:00"),
        ("Sa 09:00-17:00; Fr 22:00-02:00", "2026-12-12 09:00", "2026-12-12 02:00"),
        ("unknown", "2026-12-13", "2026-12-14 00:00"),  # by the window alone
        ("by appointment", "2026-12-13 15:00", "2026-12-13 15:00"),
    ],
)
def test_last_chance_by_hours(text: str, deadline: str, last: str) -> None:
    assert last_chance(bring(deadline, DropOff(place(text)))) == local(last)


def test_a_closed_last_day_moves_the_last_chance_to_the_day_before() -> None:
    assert last_chance(
        bring("2026-12-15", DropOff(place("Mo-Fr 09:00-17:00", "2026-12-14 2026-12-15")))
    ) == local("2026-12-11 17:00")


def test_special_hours_replace_a_day_and_closed_wins_over_them() -> None:
    special = (DayHours(date(2026, 12, 12), ((480, 720),)),)
    assert last_chance(bring("2026-12-12", DropOff(place("Mo-Sa 09:00-17:00", special=special)))) == local(
        "2026-12-12 12:00"
    )
    shut = place("Mo-Sa 09:00-17:00", "2026-12-12", special)
    assert last_chance(bring("2026-12-12", DropOff(shut))) == local("2026-12-11 17:00")
    emptied = place("Mo-Sa 09:00-17:00", special=(DayHours(date(2026, 12, 12), ()),))
    assert last_chance(bring("2026-12-12", DropOff(emptied))) == local("2026-12-11 17:00")


def test_a_drop_off_has_its_own_window_inside_the_ask_s() -> None:
    own = DropOff(place("Mo-Sa 07:00-13:00"), from_=when("2026-11-18"), until=when("2026-12-12"))
    ask = bring("2026-12-15", own, starts="2026-11-15")
    times = plan_ask(ask, 3, NEW_YORK)
    assert times.places[0].opens == local("2026-11-18 00:00")
    assert times.places[0].last_chance == local("2026-12-12 13:00")
    assert place_state(times.places[0], local("2026-11-17 12:00")).value == PlaceState(True, True, False)
    # A window that begins no later than the ask itself is not worth saying.
    early = bring("2026-12-15", DropOff(place("unknown"), from_=when("2026-11-15")), starts="2026-11-15")
    assert plan_ask(early, 3, NEW_YORK).places[0].opens is None


def test_a_drop_off_never_open_in_its_window_has_no_last_chance() -> None:
    weekend = DropOff(place("Mo-Fr 09:00-17:00"), from_=when("2026-12-12"), until=when("2026-12-13"))
    assert last_chance(bring("2026-12-15", weekend)) is None
    backward = DropOff(place("unknown"), from_=when("2026-12-12"), until=when("2026-12-01"))
    assert last_chance(bring("2026-12-15", backward)) is None


def test_a_stop_ends_a_drop_off_and_a_stopped_ask_ends_them_all() -> None:
    full = DropOff(place("Mo-Fr 09:00-17:00"), stopped=Stop(when("2026-12-10 15:00"), "Full."))
    assert last_chance(bring("2026-12-15", full)) == local("2026-12-10 15:00")
    ask = Ask(
        "Bring a coat", Kind.BRING, "coat", deadline=when("2026-12-15"),
        stopped=Stop(when("2026-12-08 12:00"), "Called off."), drop_off=(DropOff(place("Mo-Fr 09:00-17:00")),),
    )  # fmt: skip
    assert last_chance(ask) == local("2026-12-08 12:00")


def test_the_day_of_checking_again_is_no_last_chance() -> None:
    """Only an end that somebody wrote shuts a door for good; until that day is over the door is shown."""
    hall = place("2nd and 4th Th 10:00-12:00")

    def food(*drop_off: DropOff, stopped: Stop | None = None) -> Ask:
        return Ask(
            "Shop here", Kind.GET_HELP, "shop", ongoing=True, check_again_by=when("2027-01-31"),
            drop_off=drop_off, stopped=stopped,
        )  # fmt: skip

    assert last_chance(food(DropOff(hall))) == local("2027-02-01 00:00")
    assert last_chance(food(DropOff(hall, until=when("2027-03-01")))) == local("2027-02-01 00:00")
    assert last_chance(food(DropOff(hall, until=when("2027-01-20")))) == local("2027-01-14 12:00")
    full = Stop(when("2027-01-27 09:00"), "The freezer is being moved.")
    assert last_chance(food(DropOff(hall), stopped=full)) == local("2027-01-14 12:00")
    # It does not open before it must be checked again, and it has not shut.
    assert last_chance(food(DropOff(hall, from_=when("2027-01-29")))) == local("2027-02-01 00:00")


def test_rare_hours_are_found_however_far_back() -> None:
    """A window without a beginning: the fifth Monday before March 2027 is November 30, 2026."""
    assert last_chance(bring("2027-03-01", DropOff(place("5th Mo 10:00-12:00")))) == local("2026-11-30 12:00")
    # The only opening there ever was is a special day years before.
    special = (DayHours(date(2021, 5, 3), ((600, 720),)),)
    never = replace(place("unknown", special=special), hours=Hours(Mode.REGULAR))
    assert last_chance(bring("2026-12-15", DropOff(never))) == local("2021-05-03 12:00")
    assert last_chance(bring("2026-12-15", DropOff(never), starts="2026-11-01")) is None


# --- days of 23 and 25 hours -----------------------------------------------------------------


def test_doors_on_a_day_of_23_hours() -> None:
    """2026-03-08: 02:00 to 03:00 does not come. What is written there moves forward by an hour."""
    assert last_chance(bring("2026-03-08", DropOff(place("Su 00:00-02:30")))) == datetime(
        2026, 3, 8, 7, 30, tzinfo=UTC
    )
    # Swallowed: it would open at 03:00 and shut at 03:00.
    assert last_chance(bring("2026-03-08", DropOff(place("Su 02:00-03:00")), starts="2026-03-02")) is None
    assert last_chance(bring("2026-03-08", DropOff(place("unknown")))) == datetime(2026, 3, 9, 4, tzinfo=UTC)


def test_doors_on_a_day_of_25_hours() -> None:
    """2026-11-01: 01:00 to 02:00 comes twice; the first is meant."""
    assert last_chance(bring("2026-11-01", DropOff(place("Su 00:00-01:30")))) == datetime(
        2026, 11, 1, 5, 30, tzinfo=UTC
    )
    assert last_chance(bring("2026-11-01", DropOff(place("Su 01:30-02:30")))) == datetime(
        2026, 11, 1, 7, 30, tzinfo=UTC
    )
    assert plan_ask(bring("2026-11-01 01:30"), 3, NEW_YORK).closes == datetime(2026, 11, 1, 5, 30, tzinfo=UTC)


def test_a_day_that_never_came_opens_no_door() -> None:
    """In Apia Friday, December 30, 2011 was left out; Friday's hours are not Saturday's."""
    apia = zone_named("Pacific/Apia")
    ask = bring("2011-12-31", DropOff(place("Fr 09:00-17:00")))
    last = plan_ask(ask, 3, apia).places[0].last_chance
    assert last == datetime(2011, 12, 24, 3, tzinfo=UTC)  # Friday the 23rd, 17:00, ten hours behind UTC


def test_a_night_before_a_day_that_never_came_ends_on_the_day_after_it() -> None:
    """Thursday, December 29, 22:00, and three hours on it is Saturday, 01:00."""
    apia = zone_named("Pacific/Apia")
    night = DropOff(place("Th 22:00-01:00"))
    for ask in (bring("2011-12-31", night, starts="2011-12-30"), bring("2011-12-31", night)):
        assert plan_ask(ask, 3, apia).places[0].last_chance == datetime(2011, 12, 30, 11, tzinfo=UTC)
    both = DropOff(place("Th 22:00-01:00; Sa 00:15-00:30"))
    assert plan_ask(bring("2011-12-31", both), 3, apia).places[0].last_chance == datetime(
        2011, 12, 30, 11, tzinfo=UTC
    )


# --- go and tune in --------------------------------------------------------------------------


def lights(closed: str = "2026-12-24", *where: DropOff) -> Ask:
    """Common practice, no source: a light display open 5:30 to 10 nightly, with Monday to Thursday quieter."""
    quieter, problem, _ = read_days("Mo-Th")
    assert not problem
    return Ask(
        "See the lights",
        Kind.GO,
        "lights",
        dates=(Span(when("2026-11-27"), when("2026-12-26")),),
        hours=hours("Mo-Su 17:30-22:00"),
        closed=tuple(date.fromisoformat(day) for day in closed.split()),
        quieter=quieter,
        drop_off=where,
    )


def test_a_light_display_ends_at_its_last_opening() -> None:
    ask = lights()
    assert ask.quieter == (0, 1, 2, 3)
    assert at(ask, "2026-11-20") is Standing.OPEN  # before its first date it is open
    assert at(ask, "2026-12-26 21:59") is Standing.LAST_DAYS
    assert at(ask, "2026-12-26 22:00") is Standing.ENDED


def called_off(stop: str, dates: tuple[Span, ...], text: str = "", kind: Kind = Kind.GO) -> Ask:
    return Ask(
        "Climb the tower", kind, "climb", dates=dates, hours=hours(text) if text else None,
        minutes=30 if kind is Kind.TUNE_IN else None, stopped=Stop(when(stop), "The stairs are wet."),
    )  # fmt: skip


def single(*days: str) -> tuple[Span, ...]:
    return tuple(Span(when(day), when(day)) for day in days)


@pytest.mark.parametrize(
    ("ask", "ends", "left"),
    [
        # Nothing is left: it is over at once, not on the day of the stop.
        (called_off("2026-11-28 09:00", single("2026-12-11", "2026-12-12"), "Fr-Sa 18:00-20:00"), "", ()),
        (called_off("2026-12-11 12:00", single("2026-12-11", "2026-12-12"), "Fr-Sa 18:00-20:00"), "", ()),
        (called_off("2026-12-11", single("2026-12-11")), "", ()),
        (called_off("2026-12-10 20:00", single("2026-12-10 20:00"), kind=Kind.TUNE_IN), "", ()),
        # Something is left: it ends with that.
        (called_off("2026-12-12 09:00", single("2026-12-11", "2026-12-12"), "Fr-Sa 18:00-20:00"), "2026-12-11 20:00", single("2026-12-11")),
        (called_off("2026-12-04", single("2026-12-03 20:00", "2026-12-10 20:00"), kind=Kind.TUNE_IN), "2026-12-03 20:30", single("2026-12-03 20:00")),
        (called_off("2026-12-03 20:10", single("2026-12-03 20:00"), kind=Kind.TUNE_IN), "2026-12-03 20:10", single("2026-12-03 20:00")),
        (called_off("2026-12-10 09:00", (Span(when("2026-11-27"), when("2026-12-26")),), "Mo-Su 17:30-22:00"), "2026-12-09 22:00", (Span(when("2026-11-27"), when("2026-12-09")),)),
        (called_off("2026-12-10 09:00", (Span(when("2026-11-27"), when("2026-12-26")),), "Mo-Su 20:00-02:00"), "2026-12-10 02:00", (Span(when("2026-11-27"), when("2026-12-09")),)),
        (called_off("2026-12-10", (Span(when("2026-11-27"), when("2026-12-26")),)), "2026-12-10", (Span(when("2026-11-27"), when("2026-12-09")),)),
        (called_off("2026-12-10 09:00", (Span(when("2026-11-27"), when("2026-12-26")),)), "2026-12-10 09:00", (Span(when("2026-11-27"), when("2026-12-10 09:00")),)),
        (called_off("2026-11-28", (Span(when("2026-11-27"), when("2026-12-26")),)), "2026-11-28", single("2026-11-27")),
        # A stop behind the last occasion changes nothing.
        (called_off("2026-12-30", single("2026-12-11"), "Fr 18:00-20:00"), "2026-12-11 20:00", single("2026-12-11")),
    ],
)  # fmt: skip
def test_a_stop_ends_an_event_with_the_last_occasion_that_it_leaves(
    ask: Ask, ends: str, left: tuple[Span, ...]
) -> None:
    times = plan_ask(ask, 3, NEW_YORK)
    assert times.ends == (local(ends) if ends else EVER)
    assert dates_left(ask, times, NEW_YORK) == left
    assert at(ask, "2026-11-01") is (Standing.OPEN if left else Standing.ENDED)


def test_a_light_display_closed_on_its_last_nights_ends_before_them() -> None:
    assert plan_ask(lights("2026-12-25 2026-12-26"), 3, NEW_YORK).closes == local("2026-12-24 22:00")


def test_the_display_s_own_hours_count_at_its_venue_and_the_entry_s_before_them() -> None:
    market = place("Mo-Sa 07:00-13:00", "2026-12-26")
    assert last_chance(lights("", DropOff(market))) == local("2026-12-25 22:00")  # the market's closed day
    early = place("Mo-Su 17:30-20:00")
    assert last_chance(lights("", DropOff(early, own_hours=True))) == local("2026-12-26 20:00")


def test_a_closed_day_of_the_event_shuts_its_venues_whatever_their_hours() -> None:
    """Without hours of its own an event lasts to the end of its last date; its venues keep theirs, but not that day."""
    fair = Ask(
        "See the fair",
        Kind.GO,
        "fair",
        dates=(Span(when("2026-12-11"), when("2026-12-12")),),
        closed=(date(2026, 12, 12),),
        drop_off=(DropOff(place("Mo-Su 10:00-16:00")),),
    )
    assert last_chance(fair) == local("2026-12-11 16:00")


def test_an_event_without_hours_ends_with_its_last_date() -> None:
    parade = Ask("See the parade", Kind.GO, "parade", dates=(Span(when("2026-12-05"), when("2026-12-05")),))
    assert plan_ask(parade, 3, NEW_YORK).closes == local("2026-12-06 00:00")
    timed = Ask(
        "See the parade", Kind.GO, "parade", dates=(Span(when("2026-12-05 10:00"), when("2026-12-05 12:30")),)
    )
    assert plan_ask(timed, 3, NEW_YORK).closes == local("2026-12-05 12:30")
    evening = Ask(
        "Hear the choir", Kind.GO, "choir", dates=(Span(when("2026-12-05 19:00"), when("2026-12-05 19:00")),)
    )
    assert plan_ask(evening, 3, NEW_YORK).closes == local("2026-12-06 00:00")


def test_an_event_on_several_dates_lasts_until_the_latest_ends() -> None:
    nights = Ask(
        "Hear the choir",
        Kind.GO,
        "choir",
        dates=tuple(Span(when(day), when(day)) for day in ("2026-12-05", "2026-12-12")),
        hours=hours("Sa 22:00-01:00"),
    )
    assert plan_ask(nights, 3, NEW_YORK).closes == local("2026-12-13 01:00")


def test_an_airing_ends_after_its_minutes() -> None:
    airing = Ask(
        "Watch the hour",
        Kind.TUNE_IN,
        "hour",
        dates=tuple(Span(when(text), when(text)) for text in ("2026-12-18 19:00", "2026-12-20 23:30")),
        minutes=60,
    )
    assert plan_ask(airing, 3, NEW_YORK).closes == local("2026-12-21 00:30")
    # Real minutes: half an hour from 01:45 on the night of 25 hours ends at 01:15, the second time.
    night = Ask(
        "Watch",
        Kind.TUNE_IN,
        "watch",
        dates=(Span(when("2026-11-01 01:45"), when("2026-11-01 01:45")),),
        minutes=30,
    )
    assert plan_ask(night, 0, NEW_YORK).closes == datetime(2026, 11, 1, 6, 15, tzinfo=UTC)


# --- one group after another -----------------------------------------------------------------


def test_a_toy_drive_with_a_week_for_each_age_leaves_no_moment_out_and_counts_none_twice() -> None:
    """Each ask ends with its Sunday, and the next starts on its Monday: at every moment exactly one is open."""
    starts = [
        date(2026, 11, 2),
        date(2026, 11, 9),
        date(2026, 11, 16),
        date(2026, 11, 23),
        date(2026, 11, 30),
    ]
    plans = [
        plan_ask(
            Ask(
                "Bring toys",
                Kind.BRING,
                "toys",
                starts=When(first),
                deadline=When(first + timedelta(days=6)),
            ),
            0,
            NEW_YORK,
        )
        for first in starts
    ]
    for before, after in pairwise(plans):
        assert before.closes == after.opens
        for moment in (before.closes - timedelta(microseconds=1), before.closes):
            assert [standing(plan, moment).value for plan in plans].count(Standing.OPEN) == 1


# --- round-ups -------------------------------------------------------------------------------


def parade(starts: str = "", ends: str = "", stopped: Stop | None = None) -> ListingEntry:
    return ListingEntry(
        "Lantern parade",
        "Lowgate",
        "heron-flats",
        date(2026, 12, 5),
        time.fromisoformat(starts) if starts else None,
        time.fromisoformat(ends) if ends else None,
        stopped=stopped,
    )


@pytest.mark.parametrize(
    ("starts", "ends", "over"),
    [
        ("", "", "2026-12-06 00:00"),
        ("18:00", "", "2026-12-06 00:00"),
        ("18:00", "20:30", "2026-12-05 20:30"),
        ("", "20:30", "2026-12-05 20:30"),
        ("22:00", "01:00", "2026-12-06 01:00"),  # past midnight
        ("22:00", "00:00", "2026-12-06 00:00"),
        ("00:00", "23:59", "2026-12-05 23:59"),
    ],
)
def test_an_entry_ends_by_itself(starts: str, ends: str, over: str) -> None:
    times = plan_entry(parade(starts, ends), NEW_YORK)
    assert times.ends == local(over)
    assert times.starts == (local(f"2026-12-05 {starts}") if starts else None)
    answer = entry_standing(times, local("2026-12-05 00:30"))
    assert answer == (EntryStanding.COMING, local(over))
    assert entry_standing(times, local(over)) == (EntryStanding.ENDED, None)


def test_an_entry_called_off_without_a_date_is_off_from_the_start() -> None:
    times = plan_entry(parade("18:00", "20:00", Stop(None, "Called off.")), NEW_YORK)
    assert times.stops == EVER
    assert entry_standing(times, local("2026-11-01")).value is EntryStanding.STOPPED
    dated = plan_entry(parade("18:00", "20:00", Stop(when("2026-12-04"), "Called off.")), NEW_YORK)
    assert entry_standing(dated, local("2026-12-03 23:59")) == (EntryStanding.COMING, local("2026-12-04"))
    assert entry_standing(dated, local("2026-12-04")) == (EntryStanding.STOPPED, local("2026-12-05 20:00"))
