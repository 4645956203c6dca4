"""Opening hours: every writing is one reading or a plain problem, and canonical text is a fixed point."""

from __future__ import annotations

from calendar import monthrange
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.newsroom.hours import (
    DAY_NAMES,
    days_text,
    opening_ranges,
    read_days,
    read_hours,
    read_ranges,
    rules_text,
)
from sitegen.newsroom.records import Hours, Mode, Rule

DAY = 1440
WEEKDAYS = (0, 1, 2, 3, 4)


def rules_of(text: str) -> tuple[Rule, ...]:
    reading = read_hours(text)
    assert reading.hours is not None, reading.problem
    assert (reading.problem, reading.instead) == ("", "")
    return reading.hours.rules


# --- canonical writing -----------------------------------------------------------------------

CANONICAL: dict[str, tuple[Rule, ...]] = {
    "Mo-Fr 09:00-17:00; Sa 10:00-14:00": (
        Rule(WEEKDAYS, (), ((540, 1020),)),
        Rule((5,), (), ((600, 840),)),
    ),
    "Mo,We,Fr 09:00-12:00": (Rule((0, 2, 4), (), ((540, 720),)),),
    "Tu 09:00-12:00,13:00-17:00": (Rule((1,), (), ((540, 720), (780, 1020))),),
    "Sa 18:00-24:00": (Rule((5,), (), ((1080, DAY),)),),
    "Fr 22:00-02:00": (Rule((4,), (), ((1320, DAY + 120),)),),
    "Sa-Mo 10:00-12:00": (Rule((0, 5, 6), (), ((600, 720),)),),
    "Mo-Su 00:00-24:00": (Rule(tuple(range(7)), (), ((0, DAY),)),),
    "2nd and 4th Th 10:00-12:00": (Rule((3,), (2, 4), ((600, 720),)),),
    "1st,3rd and 5th Sa 10:00-12:00": (Rule((5,), (1, 3, 5), ((600, 720),)),),
    "1st and last Fr 18:00-20:00": (Rule((4,), (1, -1), ((1080, 1200),)),),
    "Mo-Sa 09:00-17:00; Su closed": (Rule((0, 1, 2, 3, 4, 5), (), ((540, 1020),)), Rule((6,), (), ())),
}


@pytest.mark.parametrize("text", CANONICAL)
def test_canonical_text_is_read_as_it_stands(text: str) -> None:
    reading = read_hours(text)
    assert reading.hours == Hours(Mode.REGULAR, CANONICAL[text], text)
    assert not reading.loose


@pytest.mark.parametrize(
    ("text", "canonical"),
    [
        ("1st,3rd Sa 09:00-12:00", "1st and 3rd Sa 09:00-12:00"),
        ("Mo,Tu,We,Fr 09:00-12:00", "Mo-We,Fr 09:00-12:00"),
        ("Mo 22:00-00:00", "Mo 22:00-24:00"),
        ("Mo 13:00-17:00,09:00-12:00", "Mo 09:00-12:00,13:00-17:00"),
        ("Mo 09:00-12:00,11:00-14:00", "Mo 09:00-14:00"),
    ],
)
def test_other_orders_of_the_canonical_grammar_are_not_loose(text: str, canonical: str) -> None:
    reading = read_hours(text)
    assert reading.hours is not None and reading.hours.text == canonical
    assert not reading.loose


def test_modes_without_ranges() -> None:
    assert read_hours("by appointment").hours == Hours(Mode.BY_APPOINTMENT, (), "by appointment")
    assert read_hours("unknown").hours == Hours(Mode.UNKNOWN, (), "unknown")
    assert not read_hours("unknown").loose
    assert read_hours("By appointment only").hours == Hours(Mode.BY_APPOINTMENT, (), "by appointment")
    assert read_hours("By appointment only").loose


def test_days_alone_are_all_day_and_read_back_to_the_producer() -> None:
    reading = read_hours("Mo-Su")
    assert reading.hours is not None and reading.hours.text == "Mo-Su 00:00-24:00"
    assert reading.loose


# --- loose writing ---------------------------------------------------------------------------

LOOSE = [
    ("24/7", "Mo-Su 00:00-24:00"),
    ("Mon-Fri 9-5", "Mo-Fr 09:00-17:00"),
    ("Mon–Fri 9–5", "Mo-Fr 09:00-17:00"),
    ("Mon — Fri 9 — 5", "Mo-Fr 09:00-17:00"),
    ("Monday through Friday, 9 a.m. to 5 p.m.", "Mo-Fr 09:00-17:00"),
    ("mo-fr 09:00-17:00", "Mo-Fr 09:00-17:00"),
    ("Tue 9 a.m.-noon", "Tu 09:00-12:00"),
    ("Tue noon-4pm", "Tu 12:00-16:00"),
    ("Tue noon-midnight", "Tu 12:00-24:00"),
    ("Mon 9am to 5pm", "Mo 09:00-17:00"),
    ("Mon 9 A. M. - 5 P.M.", "Mo 09:00-17:00"),
    ("Mon, Wed & Fri 9-5", "Mo,We,Fr 09:00-17:00"),
    ("Mon, Wed, and Fri 9-5", "Mo,We,Fr 09:00-17:00"),
    ("Tues and Thurs 9:30-1", "Tu,Th 09:30-13:00"),
    ("weekdays 9-5, weekends 10-2", "Mo-Fr 09:00-17:00; Sa-Su 10:00-14:00"),
    ("daily 9-5", "Mo-Su 09:00-17:00"),
    ("Every day 10-4", "Mo-Su 10:00-16:00"),
    ("Open daily from 9 to 5", "Mo-Su 09:00-17:00"),
    ("Second Thursday 10-noon", "2nd Th 10:00-12:00"),
    ("2nd & 4th Thursdays of the month: 10am-12pm", "2nd and 4th Th 10:00-12:00"),
    ("last Friday of each month 6pm-8pm", "last Fr 18:00-20:00"),
    ("1st Th and 3rd Fr 10-12", "1st Th 10:00-12:00; 3rd Fr 10:00-12:00"),
    ("9-5 Mon-Fri, 10-2 Sat", "Mo-Fr 09:00-17:00; Sa 10:00-14:00"),
    ("Mon-Fri: 9-5\nSat: 10-2", "Mo-Fr 09:00-17:00; Sa 10:00-14:00"),
    ("Mon-Sat 9-5, closed Sunday", "Mo-Sa 09:00-17:00; Su closed"),
    ("Mon-Sat 9-5, Sunday closed", "Mo-Sa 09:00-17:00; Su closed"),
    ("Fri 10pm-2am", "Fr 22:00-02:00"),
    ("Mo 9-9", "Mo 09:00-21:00"),
    ("Mo-Fr 0900-1700", "Mo-Fr 09:00-17:00"),
    ("Mo-Fr 9:00-17:00", "Mo-Fr 09:00-17:00"),
    ("Open 24 hours, 7 days a week", "Mo-Su 00:00-24:00"),
    ("Sat 9-12", "Sa 09:00-12:00"),
    ("Mon 12am-12pm, Tue 12pm-12am", "Mo 00:00-12:00; Tu 12:00-24:00"),
]


@pytest.mark.parametrize(("text", "canonical"), LOOSE)
def test_one_reading_is_understood_and_marked(text: str, canonical: str) -> None:
    reading = read_hours(text)
    assert reading.hours is not None, reading.problem
    assert reading.hours.text == canonical
    assert reading.loose


@pytest.mark.parametrize(
    ("text", "in_instead"),
    [
        ("Tue 1-5", ("`01:00-05:00`", "`01:00-17:00`", "`13:00-17:00`")),
        ("Tue 1-5pm", ("`01:00-17:00`", "`13:00-17:00`")),
        ("Sat 12-4", ("`12:00-16:00`", "`00:00-04:00`", "`00:00-16:00`")),
        ("Mo-Su 5:30 to 10", ("`05:30-10:00`", "`05:30-22:00`", "`17:30-22:00`")),
        ("Mo 10pm-2", ("`22:00-02:00`",)),
        ("2nd Th and Fr 10-12", ("`2nd Th 10:00-12:00; Fr 10:00-12:00`",)),
        ("first weekend 10-12", ("`1st Sa 10:00-12:00; 1st Su 10:00-12:00`",)),
        ("9-5", ("`Mo-Su 09:00-17:00`",)),
        ("weekends", ("`Sa-Su 00:00-24:00`",)),
        ("T 9-5", ("`Tu`", "`Th`")),
    ],
)
def test_several_readings_are_a_problem_that_names_them(text: str, in_instead: tuple[str, ...]) -> None:
    reading = read_hours(text)
    assert reading.hours is None and reading.problem and not reading.loose
    for candidate in in_instead:
        assert candidate in reading.instead


@pytest.mark.parametrize(
    ("text", "in_instead"),
    [
        ("", "`unknown`"),
        ("   ", "`unknown`"),
        ("TBD", "`unknown`"),
        ("Mo 25:00-26:00", "`01:00`"),
        ("Mo 10:00-25:00", "`01:00`"),
        ("Mo 09:00-17:60", "`17:59`"),
        ("Mo 24:00-02:00", "`00:00`"),
        ("Mo 09:00-09:00", "`00:00-24:00`"),
        ("Mo 9am-9am", "`00:00-24:00`"),
        ("Sa 13pm-15pm", "`13:00`"),
        ("Thrusday 9-5", "`Th`"),
        ("6th Sa 10:00-12:00", "`5th`"),
        ("22nd Sa 10:00-12:00", "`2nd`"),
        ("Mo-Mo 9-5", "`Mo-Fr`"),
        ("Mon-Fri 9-5 or by appointment", "`note`"),
        ("Mo-Fr 09:00-17:00; PH closed", "`closed`"),
        ("sunrise-sunset daily", "`Mo-Su 08:00-16:30`"),
        ("Mon 9-5 (ring the bell)", "`note`"),
        ("every other Monday 9-5", "`Mo-Fr 09:00-17:00"),
        ("Mo of each month 9-12", "`Mo-Fr 09:00-17:00"),
        ("Closed Sundays", "`unknown`"),
        ("Mon 9-5, Tue", "`Tu 09:00-17:00`"),
        ("Mon 9", "`09:00-17:00`"),
        ("Mon 9-5 closed 12:30-13:30", "`Su closed`"),
        (";", "`Mo-Fr 09:00-17:00"),
        ("open", "`Mo-Fr 09:00-17:00"),
        ("Mo-Fr 09:00-17:00" * 50, "`Mo-Fr 09:00-17:00"),
    ],
)
def test_what_cannot_be_read_says_what_to_write(text: str, in_instead: str) -> None:
    reading = read_hours(text)
    assert reading.hours is None
    assert reading.problem
    assert in_instead in reading.instead


@pytest.mark.parametrize(
    ("text", "instead"),
    [
        ("Mo-Su 09:00-17:00; Su closed", "Mo-Sa 09:00-17:00"),
        ("Sa 09:00-12:00; 1st Sa closed", "2nd,3rd,4th and 5th Sa 09:00-12:00"),
        ("Mo-Sa 09:00-12:00; 1st Sa closed", "Mo-Fr 09:00-12:00; 2nd,3rd,4th and 5th Sa 09:00-12:00"),
    ],
)
def test_a_day_both_closed_and_open_is_a_problem_with_the_right_way_out(text: str, instead: str) -> None:
    reading = read_hours(text)
    assert reading.hours is None
    assert f"`{instead}`" in reading.instead
    assert rules_of(instead)


def test_the_last_week_may_be_the_fourth_or_the_fifth() -> None:
    assert read_hours("4th Sa 09:00-12:00; last Sa closed").hours is None
    assert read_hours("1st Sa 09:00-12:00; last Sa closed").hours is not None


def test_a_problem_shows_what_the_producer_wrote() -> None:
    assert "'Thrusday'" in read_hours("Thrusday 9-5").problem


# --- laws ------------------------------------------------------------------------------------


@st.composite
def ranges(draw: st.DrawFn) -> tuple[tuple[int, int], ...]:
    """Ranges as a canonical rule may hold them: ascending, apart, at most a day long."""
    edges = draw(st.lists(st.integers(0, DAY), min_size=2, max_size=6, unique=True).map(sorted))
    pairs = [(edges[n], edges[n + 1]) for n in range(0, len(edges) - 1, 2)]
    if draw(st.booleans()):
        start = draw(st.integers(pairs[-1][1] + 1, DAY - 1)) if pairs[-1][1] < DAY - 1 else None
        if start is not None:
            pairs.append((start, DAY + draw(st.integers(1, start - 1))) if start > 1 else (start, DAY))
    return tuple(pairs)


@st.composite
def rules(draw: st.DrawFn) -> Rule:
    if draw(st.booleans()):
        weeks = draw(st.sets(st.sampled_from([1, 2, 3, 4, 5, -1]), min_size=1))
        days: tuple[int, ...] = (draw(st.integers(0, 6)),)
        return Rule(days, tuple(sorted(weeks, key=lambda week: week % 7)), draw(ranges()))
    return Rule(tuple(sorted(draw(st.sets(st.integers(0, 6), min_size=1)))), (), draw(ranges()))


@given(st.lists(rules(), min_size=1, max_size=4).map(tuple))
def test_canonical_text_reads_back_as_the_same_record(written: tuple[Rule, ...]) -> None:
    text = rules_text(written)
    reading = read_hours(text)
    assert reading.hours == Hours(Mode.REGULAR, written, text)
    assert not reading.loose


@given(
    st.text(st.characters(codec="utf-8"), max_size=60)
    | st.text("MoTuWeThFrSaSu 0123456789:-,;apmnd/", max_size=40)
)
def test_every_text_is_hours_or_a_problem_and_what_is_read_is_canonical(text: str) -> None:
    reading = read_hours(text)
    assert (reading.hours is None) == bool(reading.problem) == bool(reading.instead)
    if reading.hours is not None:
        again = read_hours(reading.hours.text)
        assert again.hours == reading.hours
        assert not again.loose
        for rule in reading.hours.rules:
            assert list(rule.days) == sorted(set(rule.days)) and rule.days
            assert all(0 <= start < DAY and start < end <= 2 * DAY for start, end in rule.ranges)


@given(st.integers(1, 12), st.integers(1, 12))
def test_bare_hours_are_read_only_when_one_pair_of_halves_fits(first: int, last: int) -> None:
    starts, ends = ([hour % 12 * 60, hour % 12 * 60 + 720] for hour in (first, last))
    readings = {(start, end) for start in starts for end in ends if start < end}
    reading = read_hours(f"Mon {first}-{last}")
    if len(readings) == 1:
        assert reading.hours is not None
        assert set(reading.hours.rules[0].ranges) == readings
    else:
        assert reading.hours is None
        assert len(readings) == reading.instead.count("`") // 2 or not readings


@given(st.sets(st.integers(0, 6), min_size=1))
def test_days_are_written_so_that_they_read_back(days: set[int]) -> None:
    assert read_days(days_text(days)) == (tuple(sorted(days)), "", "")


# --- ranges and days alone -------------------------------------------------------------------


def test_special_hours_are_ranges_without_days() -> None:
    assert read_ranges("08:00-12:00") == (((480, 720),), "", "")
    assert read_ranges("9 a.m.-noon, 1pm-3pm") == (((540, 720), (780, 900)), "", "")
    assert read_ranges("22:00-02:00") == (((1320, 1560),), "", "")
    assert read_ranges("closed") == ((), "", "")


@pytest.mark.parametrize(
    "text", ["", "Mo 08:00-12:00", "08:00-12:00 Mo", "unknown", "8", "8-10", "08:00-08:00"]
)
def test_special_hours_that_cannot_be_read(text: str) -> None:
    found, problem, instead = read_ranges(text)
    assert found == ()
    assert problem and instead


def test_days_of_a_list() -> None:
    assert read_days("Mo-Th") == ((0, 1, 2, 3), "", "")
    assert read_days("weekends") == ((5, 6), "", "")
    assert read_days("Mon, Wed & Fri") == ((0, 2, 4), "", "")
    assert read_days("Fr-Mo") == ((0, 4, 5, 6), "", "")


@pytest.mark.parametrize("text", ["", "2nd Th", "Mo-Th 9-5", "often", "-"])
def test_days_that_cannot_be_read(text: str) -> None:
    days, problem, instead = read_days(text)
    assert days == ()
    assert problem and instead


# --- opening on a date -----------------------------------------------------------------------


@given(
    st.lists(rules(), min_size=1, max_size=4).map(tuple),
    st.dates(date(2024, 1, 1), date(2028, 12, 31)),
)
def test_opening_ranges_cover_the_minutes_of_the_rules_that_hold(
    written: tuple[Rule, ...], day: date
) -> None:
    """Against a minute-by-minute count, with the week of the month found by counting weekdays."""
    month = [date(day.year, day.month, n) for n in range(1, monthrange(day.year, day.month)[1] + 1)]
    same = [other for other in month if other.weekday() == day.weekday()]
    weeks = {same.index(day) + 1} | ({-1} if same[-1] == day else set())
    minutes: set[int] = set()
    for rule in written:
        if day.weekday() in rule.days and (not rule.weeks or weeks & set(rule.weeks)):
            for start, end in rule.ranges:
                minutes.update(range(start, end))
    found = opening_ranges(Hours(Mode.REGULAR, written), day)
    assert {minute for start, end in found for minute in range(start, end)} == minutes
    assert all(start < end for start, end in found)
    assert all(before[1] < after[0] for before, after in pairwise(found))


def test_nth_weekdays_of_a_known_month() -> None:
    """November 2026 begins on a Sunday: its Thursdays are 5, 12, 19, 26."""
    hours = read_hours("2nd and 4th Th 10:00-12:00; last Mo 09:00-10:00").hours
    assert hours is not None
    month = [date(2026, 11, 1) + timedelta(days=n) for n in range(30)]
    assert [day.day for day in month if opening_ranges(hours, day)] == [12, 26, 30]


def test_no_ranges_by_appointment() -> None:
    hours = read_hours("by appointment").hours
    assert hours is not None
    assert opening_ranges(hours, date(2026, 11, 26)) == ()


def test_day_names_are_the_standard_s() -> None:
    assert DAY_NAMES == ("Mo", "Tu", "We", "Th", "Fr", "Sa", "Su")
