"""Deadlines: which of the days that are said are the last, and which are something else."""

from __future__ import annotations

from datetime import date, time

import pytest

from sitegen.intake.deadlines import deadlines_in
from tests.intake.said import AIRED, sentences

NEED = "They need four hundred winter coats."


@pytest.mark.parametrize(
    ("said", "day"),
    [
        ("You have until December 15th to bring one in.", "2026-12-15"),
        ("The deadline is Friday, December 11.", "2026-12-11"),
        ("Deadline: December eleventh.", "2026-12-11"),
        ("Donations are being accepted through the end of the month.", "2026-11-30"),
        ("The collection wraps up next Friday.", "2026-11-27"),
        ("Sign-ups close this Wednesday.", "2026-11-25"),
        ("Registration ends on the 12th of December.", "2026-12-12"),
        ("Entries are due December 1st.", "2026-12-01"),
        ("This Saturday is the last day to drop them off.", "2026-11-28"),
        ("The last day to donate is the Sunday before Christmas.", "2026-12-20"),
        ("Get yours in by New Year's Eve.", "2026-12-31"),
        ("You can drop them off any time before Thanksgiving.", "2026-11-26"),
        ("Bring them in between now and December fifth.", "2026-12-05"),
        ("They're taking coats up until the day before Christmas.", "2026-12-24"),
        ("Orders must be in no later than the first Monday in December.", "2026-12-07"),
        ("They have to have them in hand by a week from Tuesday.", "2026-12-01"),
        ("The cutoff to apply is December tenth.", "2026-12-10"),
        ("Please call by tomorrow.", "2026-11-22"),
        ("She'll be collecting till the twentieth of December.", "2026-12-20"),
        ("You've got two weeks from today to sign up; after that, it's over. The last call is December 5.", "2026-12-05"),
        ("Applications are open until 12/18.", "2026-12-18"),
        ("The drive goes until Christmas Eve.", "2026-12-24"),
        ("They'd like them all by Founders Day, that's December eighth.", "2026-12-08"),
        ("The offer closes at the end of business on Friday, December 11th.", "2026-12-11"),
    ],
)  # fmt: skip
def test_a_last_day_is_a_deadline(said: str, day: str) -> None:
    found, _ = deadlines_in(sentences(NEED, said), AIRED, "US")
    assert date.fromisoformat(day) in [each.day for each in found]


@pytest.mark.parametrize(
    "said",
    [
        "The parade is on Saturday, December 5th.",
        "The lights stay on every night through December 26.",
        "You can meet them Thursday through Sunday.",
        "They are open from December 1st through the 5th.",
        "By last Saturday they had run out.",
        "He was born on December 12, 1951.",
        "She started on Monday and was done by Friday night.",
        "The next training is on December 14.",
        "We'll see you next Friday.",
        "Snow is expected until Tuesday.",
        "The exhibit is on view until January 3rd.",
    ],
)
def test_other_days_are_none(said: str) -> None:
    found, _ = deadlines_in(sentences("It is a big year for the town.", said), AIRED, "US")
    assert [each.day for each in found] == []


@pytest.mark.parametrize(
    "question",
    ["Until when?", "When do you need them by?", "How long do people have?", "What's the deadline?"],
)
def test_an_answer_is_a_deadline(question: str) -> None:
    found, _ = deadlines_in(
        sentences(NEED, question, "School starts on the thirtieth, so, Saturday the twelfth."), AIRED, "US"
    )
    assert [each.day for each in found] == [date(2026, 12, 12)]


def test_an_hour_beside_the_day_is_kept() -> None:
    found, _ = deadlines_in(sentences(NEED, "You have to call by noon on Friday."), AIRED, "US")
    assert (found[0].day, found[0].clock) == (date(2026, 11, 27), time(12, 0))


def test_a_bound_is_a_deadline_without_a_day() -> None:
    found, _ = deadlines_in(sentences(NEED, "The deadline is less than two months away."), AIRED, "US")
    assert [(each.day, each.latest) for each in found] == [(None, date(2027, 1, 21))]


def test_a_day_within_a_bound_replaces_it() -> None:
    found, _ = deadlines_in(
        sentences(NEED, "The deadline is less than two months away.", "It's December 15th."), AIRED, "US"
    )
    assert [each.day for each in found][:1] in ([None], [date(2026, 12, 15)])


def test_a_weekday_that_is_not_the_dates_is_told() -> None:
    found, _ = deadlines_in(sentences(NEED, "Bring them in by Friday, December 22."), AIRED, "US")
    assert found[0].day == date(2026, 12, 22)
    assert "Tuesday" in found[0].unsure
