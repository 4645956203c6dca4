"""Days as they are said, against the day of the broadcast, a Saturday."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.intake.dates import MONTHS, WEEKDAYS, find_days
from sitegen.intake.feasts import clock_change, feast
from sitegen.intake.plain import plain
from sitegen.newsroom.times import zone_named
from tests.intake.said import AIRED


@pytest.mark.parametrize(
    ("said", "day"),
    [
        ("December 15th", "2026-12-15"), ("this Saturday", "2026-11-28"), ("tomorrow", "2026-11-22"), ("tonight", "2026-11-21"),
        ("the day before Thanksgiving", "2026-11-25"), ("the Wednesday before Christmas", "2026-12-23"), ("two weeks before Christmas", "2026-12-11"),
        ("the Friday after Thanksgiving", "2026-11-27"), ("Halloween", "2027-10-31"), ("Labor Day", "2027-09-06"), ("Good Friday", "2027-03-26"),
        ("the end of the month", "2026-11-30"), ("the end of February", "2027-02-28"), ("the last day of December", "2026-12-31"),
        ("the first Saturday in December", "2026-12-05"), ("the last Friday of January", "2027-01-29"), ("the twenty-eighth of this month", "2026-11-28"),
        ("five weeks from tonight", "2026-12-26"), ("two weeks from yesterday", "2026-12-04"), ("a week from Tuesday", "2026-12-01"),
        ("Monday week", "2026-11-30"), ("in ten days", "2026-12-01"), ("Jan. 9", "2027-01-09"), ("12/18", "2026-12-18"),
        ("Saturday the twelfth", "2026-12-12"), ("the twentieth", "2026-12-20"), ("October 3, 2027", "2027-10-03"), ("the third of March", "2027-03-03"),
        ("October thirtieth", "2026-10-30"), ("the Monday before the second of December", "2026-11-30"), ("the day before Black Friday", "2026-11-26"),
        ("three days before the ninth of December", "2026-12-06"), ("a week on Thursday", "2026-12-03"), ("a week today", "2026-11-28"), ("two weeks Saturday", "2026-12-12"),
        ("a week from the fifth", "2026-12-12"), ("a week from Friday, the fourth", "2026-12-04"), ("Tuesday of next week", "2026-11-24"), ("next week Thursday", "2026-11-26"),
        ("three Fridays from now", "2026-12-11"), ("the eleventh now", "2026-12-11"), ("the ninth December", "2026-12-09"), ("the ides of March", "2027-03-15"), ("the ides", "2026-12-13"),
        ("the first day of spring", "2027-03-20"), ("the start of next month", "2026-12-01"), ("St. Nicholas' Day", "2026-12-06"), ("Election Day", "2027-11-02"), ("Giving Tuesday", "2026-12-01"),
        ("the Thursday before Ash Wednesday", "2027-02-04"), ("the first Monday after Thanksgiving", "2026-11-30"), ("Leap Day", "2028-02-29"), ("year's end", "2026-12-31"), ("mid-January", "2027-01-15"), ("the middle of next week", "2026-11-25"), ("the first of the year", "2027-01-01"),
        ("Mothers Day", "2027-05-09"), ("MLK Day", "2027-01-18"), ("the day before Rosh Hashanah", "2027-10-01"), ("Christmas morning", "2026-12-25"), ("Thanksgiving weekend", "2026-11-28"), ("the Friday of Memorial Day weekend", "2027-05-28"), ("Labor Day weekend", "2027-09-04"), ("another ten days", "2026-12-01"),
        ("the Friday of Thanksgiving week", "2026-11-27"), ("the Wednesday of Holy Week", "2027-03-24"), ("the Thursday night before Christmas", "2026-12-24"),
    ],
)  # fmt: skip
def test_days_are_resolved(said: str, day: str) -> None:
    found = find_days(plain(f"It is {said}."), AIRED)
    assert [each.day for each in found] == [date.fromisoformat(day)]


@pytest.mark.parametrize(
    "said", ["the 30th annual parade", "last Friday", "in May", "the second of two", "he may 15 times", "the sixth grade", "24 Church Street", "Sunday's paper", "Christmas dinner"]
)  # fmt: skip
def test_other_words_are_no_days_ahead(said: str) -> None:
    assert [
        each
        for each in find_days(plain(f"It was {said} again"), AIRED)
        if each.day and each.day >= AIRED and not each.vague
    ] == []


@pytest.mark.parametrize(
    ("said", "day"),
    [
        ("The race is on the fifth, so sign up the day before.", "2026-12-04"), ("It sails on the tenth of December. They load it the Monday of that week.", "2026-12-07"),
        ("The supper is Christmas Day. They all come. Call us by the Sunday before.", "2026-12-20"), ("It's on Friday, December 4th. Let them know two days ahead.", "2026-12-02"),
        ("He leaves on the twentieth. He wants it by the Saturday, the day before.", "2026-12-19"), ("The market is the second of December. It's over by the Thursday after.", "2026-12-03"),
        ("The fair is on the ninth of December. It's over by the following Monday.", "2026-12-14"), ("Until the twenty-fifth of December, that's a Friday.", "2026-12-25"), ("The sale is on Saturday the fifth of December. So bring it on the Saturday.", "2026-12-05"),
        ("They bake on Saturday the twelfth. They want it by the Thursday night before.", "2026-12-10"),
    ],
)  # fmt: skip
def test_days_are_counted_from_days_named_before(said: str, day: str) -> None:
    named: list[date] = []
    for sentence in said.split(". "):
        named += [each.day for each in find_days(plain(sentence), AIRED, named=named) if each.day]
    assert named[-1] == date.fromisoformat(day)


def test_churches_days_keep_their_distance_from_easter() -> None:
    """Against other rules of the calendar: Ash Wednesday and Pentecost by what other countries' laws say."""
    import holidays

    for year in range(2024, 2036):
        brazil = holidays.country_holidays(
            "BR", years=year, categories=("public", "optional"), language="en_US"
        )
        germany = holidays.country_holidays("DE", years=year, language="en_US")
        for name, listed in (("ash wednesday", brazil.get_named("Ash Wednesday")), ("whit monday", germany.get_named("Pentecost Monday")), ("ascension day", germany.get_named("Ascension Day"))):  # fmt: skip
            assert [each.day for each in find_days(name, date(year, 1, 1))] == listed


@pytest.mark.parametrize("said", ["twice a week on Friday", "any day before Monday noon", "the weekend before Christmas", "a Tuesday", "a week ago Saturday", "every Thursday"])  # fmt: skip
def test_words_before_a_day_that_do_not_count_from_it(said: str) -> None:
    assert [each.day for each in find_days(said.lower(), AIRED) if not each.vague] == []


def test_a_day_of_another_country_is_not_ours() -> None:
    assert find_days("by thanksgiving", date(2026, 9, 1), "CA")[0].day == date(2026, 10, 12)
    assert find_days("by thanksgiving", date(2026, 9, 1), "AU") == ()
    assert find_days("until 5/12", AIRED, "AU")[0].day == date(2026, 12, 5)


@pytest.mark.parametrize(
    ("said", "clock"),
    [
        ("by noon on Friday", time(12)), ("Friday at 5 p.m.", time(17)), ("at seven in the evening on December 3", time(19)), ("this Friday at half past five", time(17, 30)),
        ("by midnight tomorrow", None), ("December 5 at 9:30 a.m.", time(9, 30)), ("5 o'clock Friday", None), ("by 5 o'clock Friday", time(17)),
    ],
)  # fmt: skip
def test_hours_beside_days(said: str, clock: time | None) -> None:
    assert find_days(plain(said), AIRED)[0].clock == clock


def test_next_friday_is_told_to_be_unsure() -> None:
    tuesday = date(2026, 11, 17)
    assert find_days("next friday", tuesday)[0].unsure
    assert find_days("this friday", tuesday)[0].day == date(2026, 11, 20)


DAYS = st.dates(date(2020, 1, 1), date(2040, 12, 31))


@given(DAYS, st.integers(0, 250))
def test_a_month_and_day_ahead_are_found_in_the_right_year(aired: date, ahead: int) -> None:
    day = aired + timedelta(days=ahead)
    name = next(name for name, number in MONTHS.items() if number == day.month)
    weekday = next(name for name, number in WEEKDAYS.items() if number == day.weekday())
    found = find_days(plain(f"until {weekday}, {name} {day.day}"), aired)
    assert [(each.day, each.unsure) for each in found] == [(day, "")]


@given(DAYS, st.sampled_from(sorted(WEEKDAYS)))
def test_a_weekday_lies_in_the_coming_week(aired: date, weekday: str) -> None:
    day = find_days(f"this {weekday}", aired)[0].day
    assert day is not None and day.weekday() == WEEKDAYS[weekday]
    assert aired < day <= aired + timedelta(days=7)


@given(st.text(max_size=120), DAYS)
def test_any_text_can_be_searched(text: str, aired: date) -> None:
    for each in find_days(plain(text), aired):
        assert each.day is not None or each.latest is not None


@pytest.mark.parametrize(
    ("said", "day"),
    [
        ("They cook on the tenth of December, so I want them by the Tuesday.", "2026-12-08"),
        ("The van comes on Saturday the twelfth, so Friday is the end of it.", "2026-12-11"),
        ("She starts on the tenth of December, by the Friday ahead of that.", "2026-12-04"),
        ("They have you by the Friday before that, the eleventh.", "2026-12-11"),
        ("It's open to the middle of December, the fifteenth.", "2026-12-15"),
        ("Come in before the month is out.", "2026-11-30"),
        ("You've got the rest of the month.", "2026-11-30"),
        ("They shut on Thanksgiving Eve.", "2026-11-25"),
        ("It's the first week of December, Friday.", "2026-12-04"),
        ("They pack on the eighth of December, and it has to be in before the Monday's over.", "2026-12-07"),
        ("She sails on the eighth of December, I want it all on deck on the Monday.", "2026-12-07"),
        ("They pick it up a week from Friday, no, two weeks, the eleventh.", "2026-12-11"),
        ("They're telling me the first itself is good.", "2026-12-01"),
        ("She wants them by the Saturday before the clocks go ahead.", "2027-03-13"),
        ("Come by the Saturday we set our clocks back.", "2027-11-06"),
        ("Have it in by the night the clocks change.", "2027-03-13"),
        ("We shut when daylight saving time ends.", "2027-11-07"),
        (
            "The judge rides in on the thirtieth of January, so have it with them by the Friday before that, which would be the twenty-second.",
            "2027-01-22",
        ),
        ("The race is on the sixteenth of January, so sign up by the ninth.", "2027-01-09"),
        ("The race is on the sixteenth of January, so sign up by the twentieth.", "2026-12-20"),
        ("Twelfth Night, the sixth of January.", "2027-01-06"),
        (
            "They open the kiln in January, and they want your bowls by the second Saturday of it.",
            "2027-01-09",
        ),
        ("This year you've got all of December.", "2026-12-31"),
        ("Not this Friday, I'm away, the one after.", "2026-12-04"),
        ("She sails on the ninth of December, and it closes two days sooner.", "2026-12-07"),
        ("Have them in by the Saturday of the long weekend.", "2027-01-16"),
        ("I want it full by the long weekend, so, the Sunday.", "2027-01-17"),
        ("They shut on Tax Day.", "2027-04-15"),
        ("Have it there by the first of the month.", "2026-12-01"),
        ("Up to the last minute of November.", "2026-11-30"),
        ("Not past Thursday.", "2026-11-26"),
        ("By the end of next week.", "2026-11-27"),
        ("Before Advent.", "2026-11-29"),
        ("Before the new year.", "2027-01-01"),
        ("It's the twenty-fourth and then the first, and that's that.", "2026-12-01"),
        ("They sort on the second, so the first.", "2026-12-01"),
        ("By that Wednesday, May fifth.", "2027-05-05"),
        ("She wants them before Christmas, on the eighteenth.", "2026-12-18"),
    ],
)
def test_days_lean_on_days_beside_them(said: str, day: str) -> None:
    assert find_days(plain(said), AIRED)[-1].day == date.fromisoformat(day)


@pytest.mark.parametrize(
    "said",
    [
        "Have a lovely Thanksgiving.",
        "Merry Christmas, everybody.",
        "She sings Tuesday evenings.",
        "He took the Friday boat.",
        "Bring it to Candlemas Boatyard.",
        "She's there the back end of the week.",
        "He's in every evening but Wednesday.",
        "It's open all week except Monday.",
        "They knit for the Easter lambs.",
        "You set your watch by her.",
        "You made somebody's Christmas.",
    ],
)
def test_greetings_and_habits_name_no_day(said: str) -> None:
    assert find_days(plain(said), AIRED) == ()


@pytest.mark.parametrize(
    ("country", "zone"), [("US", "America/Chicago"), ("CA", "America/Halifax"), ("GB", "Europe/London"), ("DE", "Europe/Berlin")]
)  # fmt: skip
@pytest.mark.parametrize("way", ["ahead", "back"])
def test_clocks_change_when_the_zone_data_say(country: str, zone: str, way: str) -> None:
    day = clock_change(way, AIRED, country)
    assert day is not None
    steps = [datetime.combine(day + timedelta(days=on), time(), zone_named(zone)).utcoffset() for on in (0, 1)]  # fmt: skip
    assert steps[0] is not None and steps[1] is not None
    assert steps[1] - steps[0] == timedelta(hours=1 if way == "ahead" else -1)


@pytest.mark.parametrize(
    ("year", "day"),
    [(2022, 18), (2023, 18), (2024, 15), (2025, 15), (2017, 18), (2011, 18), (2007, 17)],
)
def test_taxes_are_due_when_the_revenue_service_said(year: int, day: int) -> None:
    """The service's own calendars of these years (Publication 509), from memory."""
    assert feast("tax day", date(year, 2, 1), "US") == date(year, 4, day)


def test_clocks_of_countries_without_a_known_rule_never_change() -> None:
    assert clock_change("", AIRED, "JP") is None


def test_a_counted_day_said_once_more_is_the_same_day() -> None:
    named = (date(2026, 12, 10), date(2026, 12, 4))
    assert [each.day for each in find_days("the friday before.", AIRED, named=named)] == [date(2026, 12, 4)]
