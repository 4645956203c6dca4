"""Walking through the moments of change, both ways."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from sitegen.desk.stepping import EARLIEST, Steps, Truth

LATEST = datetime(2090, 1, 1, tzinfo=UTC)
MINUTES = int((LATEST - EARLIEST).total_seconds() // 60)
moments = st.integers(1, MINUTES).map(lambda minute: EARLIEST + timedelta(minutes=minute))
near = st.integers(0, 500_000).map(
    lambda minute: datetime(2026, 1, 1, tzinfo=UTC) + timedelta(minutes=minute)
)
changes = st.lists(moments | near, unique=True, max_size=30).map(sorted)


def truth_of(found: list[datetime]) -> Truth:
    return lambda moment: found[place] if (place := bisect_right(found, moment)) < len(found) else None


@given(changes, st.lists(moments | near, max_size=12))
def test_both_ways_give_the_neighbours(found: list[datetime], asked: list[datetime]) -> None:
    steps = Steps()
    for moment in (*asked, *found):
        place = bisect_right(found, moment)
        assert steps.after(moment, "site", truth_of(found)) == (found[place] if place < len(found) else None)
        place = bisect_left(found, moment)
        assert steps.before(moment, "site", truth_of(found)) == (found[place - 1] if place else None)


@given(changes, near)
def test_forward_and_back_is_the_same_walk(found: list[datetime], begin: datetime) -> None:
    steps, truth = Steps(), truth_of(found)
    forward: list[datetime] = []
    moment: datetime | None = begin
    while moment is not None and (moment := steps.after(moment, "site", truth)) is not None:
        forward.append(moment)
    back: list[datetime] = []
    last = LATEST + timedelta(days=1)
    while (earlier := steps.before(last, "site", truth)) is not None and earlier > begin:
        back.append(last := earlier)
    assert back[::-1] == forward


def test_another_site_is_asked_anew() -> None:
    steps, day = Steps(), datetime(2026, 12, 2, tzinfo=UTC)
    assert steps.after(day, 1, truth_of([day + timedelta(days=1)])) == day + timedelta(days=1)
    assert steps.after(day, 2, truth_of([])) is None


def test_what_is_known_is_not_asked_again() -> None:
    steps, day = Steps(), datetime(2026, 12, 2, tzinfo=UTC)
    asked: list[datetime] = []

    def truth(moment: datetime) -> datetime | None:
        asked.append(moment)
        return truth_of([day, day + timedelta(days=3)])(moment)

    steps.after(day, "site", truth)
    steps.after(day + timedelta(hours=1), "site", truth)
    assert asked == [day]
