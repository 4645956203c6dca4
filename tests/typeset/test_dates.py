"""Dates, hours and numbers in words: United States news style in English, written out in Spanish."""

from __future__ import annotations

import re
from datetime import date, time
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.edition.models import DatesView, Moment
from sitegen.newsroom.hours import opening_ranges, read_hours
from sitegen.newsroom.records import DayHours, Hours, Mode, Rule
from sitegen.typeset.dates import Dates, last_day
from sitegen.typeset.theme import load_theme
from sitegen.typeset.words import load_words

ROOT = Path(__file__).parents[2]


@cache
def dates(language: str = "en-US") -> Dates:
    return Dates(load_words(load_theme(ROOT, "tidetable"), language), language)


def at(day: date, clock: time | None = None) -> Moment:
    return Moment("", day, clock)


def test_only_long_months_are_shortened_and_only_beside_a_day() -> None:
    said = [dates().day(date(2026, month, 5)) for month in range(1, 13)]
    assert said == [
        *("Jan. 5", "Feb. 5", "March 5", "April 5", "May 5", "June 5"),
        *("July 5", "Aug. 5", "Sept. 5", "Oct. 5", "Nov. 5", "Dec. 5"),
    ]
    assert dates().month(date(2026, 12, 5)) == "December 2026"


@pytest.mark.parametrize(
    ("language", "weekday", "year", "said"),
    [
        ("en-US", False, False, "Dec. 15"),
        ("en-US", True, False, "Tuesday, Dec. 15"),
        ("en-US", False, True, "Dec. 15, 2026"),
        ("en-US", True, True, "Tuesday, Dec. 15, 2026"),
        ("es", False, False, "15 de diciembre"),
        ("es", True, False, "martes 15 de diciembre"),
        ("es", True, True, "martes 15 de diciembre de 2026"),
    ],
)
def test_day(language: str, weekday: bool, year: bool, said: str) -> None:
    assert dates(language).day(date(2026, 12, 15), weekday=weekday, year=year) == said


@pytest.mark.parametrize(
    ("clock", "english", "spanish"),
    [
        (time(17, 30), "5:30 p.m.", "5:30 p.\u00a0m."),
        (time(9, 0), "9 a.m.", "9 a.\u00a0m."),
        (time(12, 0), "noon", "mediodía"),
        (time(0, 0), "midnight", "medianoche"),
        (time(0, 30), "12:30 a.m.", "12:30 a.\u00a0m."),
        (time(12, 1), "12:01 p.m.", "12:01 p.\u00a0m."),
    ],
)
def test_clock(clock: time, english: str, spanish: str) -> None:
    assert dates().clock(clock) == english
    assert dates("es").clock(clock) == spanish


def test_an_end_at_midnight_is_said_as_the_day_it_ends() -> None:
    day = date(2026, 12, 15)
    assert dates().until(at(day)) == ("date.through", "Tuesday, Dec. 15")
    assert dates().until(at(date(2026, 12, 16), time(0, 0))) == ("date.through", "Tuesday, Dec. 15")
    assert dates().until(at(day, time(17, 0))) == ("date.until", "Tuesday, Dec. 15, 5 p.m.")
    assert dates().ended(at(date(2027, 1, 1), time(0, 0))) == "Dec. 31, 2026"


@given(st.dates(min_value=date(2, 1, 1)), st.times() | st.just(time(0, 0)))
def test_no_end_is_ever_a_bare_midnight(day: date, clock: time) -> None:
    assert "midnight" not in dates().until(at(day, clock.replace(second=0, microsecond=0)))[1]


def test_a_beginning_at_midnight_is_said_as_the_day() -> None:
    assert dates().beginning(at(date(2026, 11, 15), time(0, 0))) == "Sunday, Nov. 15"


@pytest.mark.parametrize(
    ("first", "last", "said"),
    [
        (at(date(2026, 12, 5)), at(date(2026, 12, 5)), ("span.single", "Saturday, Dec. 5", "")),
        (
            at(date(2026, 11, 27)),
            at(date(2026, 12, 26)),
            ("span.days", "Friday, Nov. 27", "Saturday, Dec. 26"),
        ),
        (
            at(date(2026, 12, 5), time(18)),
            at(date(2026, 12, 5), time(20, 30)),
            ("span.same-day", "Saturday, Dec. 5, 6", "8:30 p.m."),
        ),
        (
            at(date(2026, 12, 5), time(11)),
            at(date(2026, 12, 5), time(13)),
            ("span.same-day", "Saturday, Dec. 5, 11 a.m.", "1 p.m."),
        ),
        (
            at(date(2026, 12, 5), time(20)),
            at(date(2026, 12, 6), time(2)),
            ("span.moments", "Saturday, Dec. 5, 8 p.m.", "Sunday, Dec. 6, 2 a.m."),
        ),
    ],
)
def test_span(first: Moment, last: Moment, said: tuple[str, str, str]) -> None:
    assert dates().span(DatesView(first, last)) == said


@pytest.mark.parametrize(
    ("written", "english", "spanish"),
    [
        (
            "Mo-Fr 09:00-17:00",
            ["Monday-Friday 9 a.m.-5 p.m."],
            ["Lunes a viernes, 9 a.\u00a0m. a 5 p.\u00a0m."],
        ),
        ("2nd and 4th Th 10:00-12:00", ["Second and fourth Thursday 10 a.m.-noon"], None),
        (
            "1st Mo 10:00-11:00; 1st Tu 10:00-11:00",
            ["First Monday 10-11 a.m.", "First Tuesday 10-11 a.m."],
            None,
        ),
        ("last Fr 13:00-16:30", ["Last Friday 1-4:30 p.m."], None),
        ("Mo-Su 20:00-07:00", ["Daily 8 p.m.-7 a.m. the next day"], None),
        ("Fr,Sa 18:00-24:00", ["Friday and Saturday 6 p.m.-midnight"], None),
        ("Mo,We,Fr 09:00-12:00,13:00-17:00", ["Monday, Wednesday and Friday 9 a.m.-noon and 1-5 p.m."], None),
        ("Sa-Mo 10:00-14:00", ["Saturday-Monday 10 a.m.-2 p.m."], None),
        ("Mo-Su 00:00-24:00", ["Daily 24 hours"], ["Todos los días, 24 horas"]),
        (
            "Mo-Fr 09:00-17:00; Sa 10:00-14:00",
            ["Monday-Friday 9 a.m.-5 p.m.", "Saturday 10 a.m.-2 p.m."],
            None,
        ),
        ("by appointment", ["By appointment"], ["Con cita previa"]),
        ("unknown", ["Hours not known: call first"], ["Horario desconocido: llame antes"]),
    ],
)
def test_hours(written: str, english: list[str], spanish: list[str] | None) -> None:
    hours = read_hours(written).hours
    assert hours is not None
    assert list(dates().hours(hours)) == english
    if spanish is not None:
        assert list(dates("es").hours(hours)) == spanish


MONDAY = date(2026, 11, 30).toordinal()

_ranges = st.builds(
    lambda start, length: ((start * 15, start * 15 + length * 15),), st.integers(0, 94), st.integers(1, 95)
).filter(lambda ranges: ranges[0][1] <= 1440)
_rules = st.builds(
    Rule,
    st.sets(st.integers(0, 6), min_size=1).map(lambda days: tuple(sorted(days))),
    st.sampled_from([(), (), (1,), (2, 4), (-1,)]),
    _ranges,
)


@given(_rules)
def test_hours_said_in_english_read_back_as_what_they_were(rule: Rule) -> None:
    hours = Hours(Mode.REGULAR, (rule,))
    said = dates().hours(hours)
    # In news style a half of the day said once holds for both ends (common practice, no source).
    both = re.sub(r"(?<![\d:])([\d:]+)-([\d:]+ ([ap]\.m\.))", r"\1 \3-\2", said[0])
    reading = read_hours(both.replace("24 hours", "00:00-24:00").replace("Daily", "every day"))
    assert reading.hours is not None, (said, reading)
    for day in map(date.fromordinal, range(MONDAY, MONDAY + 35)):
        assert opening_ranges(reading.hours, day) == opening_ranges(hours, day)


def test_a_day_of_its_own_hours() -> None:
    day = date(2026, 12, 12)
    assert dates().day_hours(DayHours(day, ((480, 720),))) == "Saturday, Dec. 12: 8 a.m.-noon"
    assert dates().day_hours(DayHours(day, ())) == "Saturday, Dec. 12: closed"


@pytest.mark.parametrize(
    ("days", "said"),
    [
        ((12, 24, 25, 26), "Saturday, Dec. 12; Thursday, Dec. 24, through Saturday, Dec. 26"),
        ((24, 25), "Thursday, Dec. 24 and Friday, Dec. 25"),
        ((24, 25, 26, 28), "Thursday, Dec. 24, through Saturday, Dec. 26; Monday, Dec. 28"),
    ],
)
def test_closed_days_that_follow_one_another_are_said_as_one(days: tuple[int, ...], said: str) -> None:
    closed = [date(2026, 12, day) for day in days]
    assert dates().closed(closed, 2026) == said
    assert dates("es").closed(closed[1:], 2026).count(" al ") == (len(days) > 3 and days[1] == 24)


@pytest.mark.parametrize(
    ("days", "said"),
    [
        ((0, 1, 2, 3), "Monday-Thursday"),
        ((5, 6), "Saturday and Sunday"),
        ((0, 6), "Monday and Sunday"),
        ((0, 5, 6), "Saturday-Monday"),
        ((0, 1, 2, 6), "Sunday-Wednesday"),
        ((0, 1, 2, 4, 6), "Monday-Wednesday, Friday and Sunday"),
        ((0, 1, 3, 5, 6), "Monday, Tuesday, Thursday, Saturday and Sunday"),
        ((3,), "Thursday"),
    ],
)
def test_weekdays(days: tuple[int, ...], said: str) -> None:
    assert dates().weekdays(days) == said


@pytest.mark.parametrize(
    ("language", "number", "unit", "said"),
    [
        ("en-US", 1400, "coats", "1,400 coats"),
        ("en-US", 1250.5, "$", "$1,250.50"),
        ("en-US", 5000, "$", "$5,000"),
        ("en-US", 3, "", "3"),
        ("es-US", 1400, "abrigos", "1,400 abrigos"),
        ("es-ES", 14000, "abrigos", "14.000 abrigos"),
        ("xx-unknown", 1400, "coats", "1,400 coats"),
    ],
)
def test_measure(language: str, number: float, unit: str, said: str) -> None:
    assert dates(language).measure(number, unit) == said


def test_running_times_and_names_of_languages() -> None:
    assert [dates().running(n) for n in (0, 95, 3725)] == ["0:00", "1:35", "1:02:05"]
    assert dates().language_name("es") == "Spanish" and dates("es").language_name("en") == "inglés"
    assert dates().language_name("not a tag") == "not a tag"


def test_the_same_week_is_said_with_each_day() -> None:
    rule = Rule((0, 1), (2, 4), ((600, 660),))
    assert dates().hours(Hours(Mode.REGULAR, (rule,))) == (
        "Second and fourth Monday and second and fourth Tuesday 10-11 a.m.",
    )


@pytest.mark.parametrize(
    ("parts", "said"),
    [
        (["español", "inglés"], "español e inglés"),
        (["agujas", "hilo"], "agujas e hilo"),
        (["agua", "hielo"], "agua y hielo"),
        (["lunes", "martes", "jueves"], "lunes, martes y jueves"),
        (["uno"], "uno"),
        ([], ""),
    ],
)
def test_spanish_lists_join_by_sound(parts: list[str], said: str) -> None:
    assert dates("es").together(parts) == said
    assert " e " not in dates().together(parts)


def test_the_hour_of_an_end_under_its_day() -> None:
    day = date(2026, 12, 15)
    assert dates().closing_hour(at(day, time(17, 30))) == "5:30 p.m."
    assert dates().closing_hour(at(day)) == dates().closing_hour(at(date(2026, 12, 16), time(0, 0)))
    assert last_day(at(day)) == last_day(at(date(2026, 12, 16), time(0, 0))) == day


# --- on a page ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("language", "words", "whole"),
    [
        ("en-US", "Tuesday, Dec. 15, 2026, 5 p.m.", "Tuesday, Dec._15, 2026, 5_p.m."),
        ("en-US", "March 5, noon", "March_5, noon"),
        ("en-US", "Monday-Friday 9 a.m.-noon and 1-5:30 p.m.", "Monday-Friday 9_a.m.-noon and 1-5:30_p.m."),
        ("en-US", "in December 2026", "in December 2026"),
        ("es", "martes 15 de diciembre, 5 p. m.", "martes 15 de diciembre, 5_p._m."),
    ],
)
def test_a_page_breaks_no_line_inside_an_hour_or_a_short_date(language: str, words: str, whole: str) -> None:
    assert dates(language).whole(words).replace(" ", "_") == whole
