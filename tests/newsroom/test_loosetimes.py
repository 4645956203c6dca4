"""Dates and times in a newsroom's usual writing: what is advised is what was meant, and nothing is where two things may be."""

from __future__ import annotations

import re
from datetime import date, datetime, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.newsroom.times import FIRST_YEAR, LAST_YEAR, TimeError, read_clock, read_date, read_when

AIRED = date(2026, 11, 21)
ANSWER = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}(?: [0-9]{2}:[0-9]{2})?")
MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December")  # fmt: skip
DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def refused(text: str, ends: bool = True, near: date | None = AIRED) -> TimeError:
    with pytest.raises(TimeError) as caught:
        read_when(text, ends, near)
    return caught.value


def answers(text: str, ends: bool = True, near: date | None = AIRED) -> list[str]:
    """The dates that a producer could copy from what is said of a text, the text itself left out."""
    return ANSWER.findall(str(refused(text, ends, near)).replace(f"'{text}'", ""))


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("5 p.m. Dec. 15, 2026", "2026-12-15 17:00"),
        ("5 p.m. Tuesday, December 15, 2026", "2026-12-15 17:00"),
        ("noon December 15, 2026", "2026-12-15 12:00"),
        ("12:00 p.m. on Dec 15 2026", "2026-12-15 12:00"),
        ("5 o'clock p.m., 15 December 2026", "2026-12-15 17:00"),
        ("2026-12-15 1700", "2026-12-15 17:00"),
        ("1700 Dec. 15, 2026", "2026-12-15 17:00"),
        ("by 5 p.m. Dec. 15, 2026", "2026-12-15 17:00"),
        ("2026-12-15, 12:30 a.m.", "2026-12-15 00:30"),
        ("2026-12-15, 09:00", "2026-12-15 09:00"),
        ("2026-12-15T5:30pm", "2026-12-15 17:30"),
        ("15th of December, 2026 at 17:30", "2026-12-15 17:30"),
        ("12/15/26", "2026-12-15"),
        ("12-15-2026", "2026-12-15"),
        ("Tues., Dec. 15, 2026", "2026-12-15"),
        ("2026-12-15 24:00", "2026-12-15"),
    ],
)
def test_the_only_reading_is_advised(text: str, meant: str) -> None:
    assert answers(text) == [meant]


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("2026-12-15 5 o'clock", ["2026-12-15 05:00", "2026-12-15 17:00"]),
        ("2026-12-15, 5:00", ["2026-12-15 05:00", "2026-12-15 17:00"]),
        ("Dec. 15, 2026, 10:30", ["2026-12-15 10:30", "2026-12-15 22:30"]),
        ("Dec. 15, 2026, 12:00", ["2026-12-15 12:00", "2026-12-15", "2026-12-14"]),
    ],
)
def test_two_readings_are_both_named(text: str, meant: list[str]) -> None:
    assert answers(text) == meant


@pytest.mark.parametrize(
    "midnight", ["12:00 midnight", "12 midnight", "midnight", "12am", "12:00 a.m.", "0000", "0:00"]
)
def test_each_of_a_days_midnights_is_named(midnight: str) -> None:
    """A bare date counts to its end where something ends, so neither answer there has to be looked at again."""
    for text in (f"2026-12-15 {midnight}", f"{midnight} Dec. 15, 2026"):
        assert answers(text, ends=True) == ["2026-12-15", "2026-12-14"]
        assert answers(text, ends=False) == ["2026-12-15 00:00", "2026-12-16 00:00"]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("Tuesday December 16, 2026", "is a Wednesday, not a Tuesday"),
        ("Sat 2026-12-13", "is a Sunday, not a Saturday"),
        ("5 p.m. Wednesday, December 15, 2026", "is a Tuesday, not a Wednesday"),
        ("2026-12-15 5 pm EST", "'EST'"),
        ("before 5 pm Dec. 15, 2026", "'before'"),
        ("5-7 p.m. Dec. 15, 2026", "'5-7'"),
        ("2026-12-15 17:30-05:00", "offset"),
        ("2026-12-15T22:30:00Z", "offset"),
        ("Dec. 15, 2026 or Dec. 16, 2026", "'or'"),
        ("Dec. 15, 2026, Dec. 16, 2026", "more than one date"),
        ("Dec. 15, 1700", "may be a year or a time"),
        ("2026 Dec. 15", "may be a year or a time"),
        ("12/15/99", "either century"),
        ("15/12/2026", "no month 15"),
        ("15-12-2026", "no month 15"),
        ("Feb. 30, 2027", "no 30 February"),
        ("Nov. 31", "no 31 November"),
        ("2026-12-15 17:00 pm", "no time of day"),
        ("Thursday, Dec. 18", "is a Friday, not a Thursday"),
        ("2026-12-15 25:00", "does not exist"),
        ("tomorrow", "not a date"),
        ("the week of Decoration Day 15, 2026", "not a date"),
    ],
)
def test_no_date_that_looks_like_an_answer_where_none_is_certain(text: str, says: str) -> None:
    said = str(refused(text))
    assert says in said and answers(text) == []
    assert refused(text).instead


@pytest.mark.parametrize(
    ("text", "near", "meant"),
    [
        ("Friday, Dec. 18", AIRED, ["2026-12-18"]),
        ("Dec 12", AIRED, ["2026-12-12"]),
        ("12/15", AIRED, ["2026-12-15"]),
        ("noon, Jan. 5", AIRED, ["2027-01-05 12:00"]),
        ("Oct. 30", AIRED, ["2026-10-30"]),
        ("Dec 12", None, []),
        ("Feb. 29", AIRED, []),
    ],
)
def test_a_date_without_a_year_is_the_nearest_to_a_day_that_is_known(
    text: str, near: date | None, meant: list[str]
) -> None:
    assert answers(text, near=near) == meant
    assert "no year" in str(refused(text, near=near))


@pytest.mark.parametrize(
    ("text", "name"),
    [("2026‑12‑15", "non-breaking hyphen"), ("2026–12–15", "en dash"), ("2026-12-15\u00a017:30", "space")],
)
def test_a_sign_that_only_looks_right_is_named(text: str, name: str) -> None:
    assert name in str(refused(text))
    assert len(answers(text)) == 1


def test_where_only_a_day_can_stand_no_time_is_advised() -> None:
    with pytest.raises(TimeError, match=r"time of day cannot stand here.* Write instead: 2026-12-25\Z"):
        read_date("Dec. 25, 2026, 5 p.m.")


@pytest.mark.parametrize(
    ("text", "says"),
    [("5:00", "05:00 .*17:00"), ("5 pm", "17:00"), ("12 midnight", "00:00"), ("9 to 5", "HH:MM")],
)
def test_a_time_of_day_alone(text: str, says: str) -> None:
    with pytest.raises(TimeError, match=says):
        read_clock(text)


def _date_writings(day: date) -> list[str]:
    month = MONTHS[day.month - 1]
    return [
        f"{month} {day.day}, {day.year}",
        f"{month[:3]}. {day.day} {day.year}",
        f"{DAYS[day.weekday()]}, {day.day} {month} {day.year}",
        f"{day.month}/{day.day}/{day.year}",
        f"{day.year}/{day.month}/{day.day}",
    ]


def _clock_writings(clock: time) -> list[str]:
    half = "p.m." if clock.hour >= 12 else "a.m."
    hour = (clock.hour + 11) % 12 + 1
    writings = [f"{hour}:{clock.minute:02d} {half}", f"{hour}:{clock.minute:02d}{half[0]}m", f"{clock:%H%M}"]
    return writings + ([f"{hour} {half}"] if clock.minute == 0 else [])


@given(
    st.data(),
    st.datetimes(datetime(1960, 1, 1), datetime(1999, 12, 31))
    | st.datetimes(datetime(2024, 1, 1), datetime(2029, 12, 31)),
)
def test_date_and_time_in_either_order_come_back(data: st.DataObject, moment: datetime) -> None:
    day, clock = moment.date(), moment.time().replace(second=0, microsecond=0)
    written = data.draw(st.sampled_from(_date_writings(day)))
    meant = [str(day)]
    if clock != time(0) and data.draw(st.booleans()):
        at = data.draw(st.sampled_from(_clock_writings(clock)))
        written = data.draw(st.sampled_from([f"{at} {written}", f"{written}, {at}", f"{written} at {at}"]))
        meant = [f"{day} {clock:%H:%M}"]
    assert answers(written) == meant


@given(
    st.lists(
        st.sampled_from(
            ["Dec.", "15", "2026", "2026-12-15", "12-15-2026", "12/15", "5", "5:00", "1700", "p.m.", "noon", "midnight", "Tuesday", "12", ",", "at", "by", "–", "T", "EST"]
        ),
        max_size=6,
    ).flatmap(lambda words: st.sampled_from([" ".join(words), "".join(words)])),
    st.booleans(),
    st.none() | st.dates(date(FIRST_YEAR, 1, 1), date(LAST_YEAR, 12, 31)),
)  # fmt: skip
def test_whatever_is_advised_can_be_read(text: str, ends: bool, near: date | None) -> None:
    try:
        read_when(text, ends, near)
    except TimeError as error:
        if error.instead.startswith("Write instead: "):
            found = ANSWER.findall(error.instead)
            assert found
            for each in found:
                read_when(each)
