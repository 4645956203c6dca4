"""When an event is, as it is said on air: dates with their hours, weekly hours, and nothing that is not so."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from sitegen.edition.happenings import MOST_DATES, Event, event_of
from sitegen.edition.published import publish
from sitegen.geography.shapes import read_map
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.times import zone_named
from tests.samples.station_folder import asking, story, write_folder

AIRED = datetime(2026, 11, 21, 23, 30, tzinfo=UTC)
ZONE = zone_named("America/New_York")
SHED = "name: Pier Shed\nstreet: 1 Pier Lane\ntown: Lowgate\ncounty: Heron Flats\n"


def event(
    tmp_path: Path, more: str, when: datetime = AIRED, where: str = "lowgate-hall", places: str = ""
) -> Event | None:
    """When an event at some places is; `places` is the text of one more, the pier shed."""
    text = story(asking("go", "See the fair", more).replace("[lowgate-hall]", f"[{where}]"))
    files = {"stories/2026/fair.md": text, **({"places/pier-shed.yaml": places} if places else {})}
    reading = read_newsroom(write_folder(tmp_path / "station", files), read_map)
    assert reading.newsroom is not None and not reading.faults, reading.faults
    (ask,) = publish(reading.newsroom, when).stories["2026/fair"].asks
    return event_of(ask, when, ZONE)


def told(found: Event | None) -> list[tuple[str, str, tuple[tuple[int, int], ...]]]:
    assert found is not None
    return [(str(each.view.first.day), str(each.view.last.day), each.ranges) for each in found.dates]


def test_a_day_has_the_hours_written_for_it(tmp_path: Path) -> None:
    found = event(
        tmp_path, 'dates: [2026-12-04, 2026-12-05]\nhours: "Fr 17:00-22:00; Sa 10:00-12:00,14:00-16:00"'
    )
    assert told(found) == [
        ("2026-12-04", "2026-12-04", ((1020, 1320),)),
        ("2026-12-05", "2026-12-05", ((600, 720), (840, 960))),
    ]  # fmt: skip


def test_a_day_without_hours_of_its_own_has_the_place_s(tmp_path: Path) -> None:
    assert told(event(tmp_path, "dates: 2026-12-04")) == [("2026-12-04", "2026-12-04", ((540, 1020),))]


def test_an_event_at_an_hour_does_not_last_until_the_place_shuts(tmp_path: Path) -> None:
    found = event(tmp_path, "dates: 2026-12-04 10:00")
    assert found is not None and not found.dates[0].ranges
    assert found.dates[0].view.first == found.dates[0].view.last


def test_weekly_hours_stand_for_many_dates_with_the_days_that_are_closed(tmp_path: Path) -> None:
    more = 'dates: 2026-12-05..2027-01-24\nhours: "Sa-Su 10:00-16:00"\nclosed: [2026-12-26, 2026-12-27, 2026-12-29]'
    found = event(tmp_path, more)
    assert found is not None and found.weekly is not None and not found.dates
    weekly = found.weekly
    assert weekly.opens is not None and weekly.opens.iso == "2026-12-05T10:00:00-05:00"
    assert str(weekly.last.day) == "2027-01-24"
    # A Tuesday is closed anyway.
    assert [str(day) for day in weekly.closed] == ["2026-12-26", "2026-12-27"]
    begun = event(tmp_path, more, datetime(2026, 12, 28, 17, tzinfo=UTC))
    assert begun is not None and begun.weekly is not None
    assert begun.weekly.opens is None and not begun.weekly.closed
    # The last few are said by their dates.
    late = event(tmp_path, more, datetime(2027, 1, 16, 22, tzinfo=UTC))
    assert [each[0] for each in told(late)] == ["2027-01-17", "2027-01-23", "2027-01-24"]


def test_dates_that_are_not_weekly_are_not_said_to_be(tmp_path: Path) -> None:
    # One day has other hours at the place itself.
    shed = f'{SHED}hours: "Mo-Su 10:00-16:00"\nspecial_hours: {{2026-12-08: "10:00-12:00"}}\n'
    found = event(tmp_path, "dates: 2026-12-05..2026-12-12", where="pier-shed", places=shed)
    assert found is not None and found.weekly is None and len(found.dates) == 8
    assert found.dates[3].ranges == ((600, 720),)


def test_places_with_hours_that_differ_leave_the_dates(tmp_path: Path) -> None:
    shed = f'{SHED}hours: "Mo-Su 10:00-12:00"\n'
    found = event(tmp_path, "dates: 2026-12-04", where="lowgate-hall, pier-shed", places=shed)
    assert told(found) == [("2026-12-04", "2026-12-04", ())]


def test_what_a_stop_takes_away_is_not_said(tmp_path: Path) -> None:
    more = "dates: [2026-12-04 19:00, 2026-12-05 19:00]\nstopped: {when: 2026-12-05, say: The hall is cold, instead: Come next year}"
    assert [each[0] for each in told(event(tmp_path, more))] == ["2026-12-04"]


def test_several_days_on_end_are_said_by_their_last_once_they_have_begun(tmp_path: Path) -> None:
    shed, more = f"{SHED}hours: unknown\n", "dates: 2026-12-05..2026-12-12"
    before = event(tmp_path, more, where="pier-shed", places=shed)
    assert told(before) == [("2026-12-05", "2026-12-12", ())]
    begun = event(tmp_path, more, datetime(2026, 12, 7, 17, tzinfo=UTC), "pier-shed", shed)
    assert begun is not None and begun.dates[0].goes_on and told(begun) == [("2026-12-12", "2026-12-12", ())]


@pytest.mark.parametrize(
    "more",
    [
        'dates: 2026-11-27..2026-12-26\nhours: "Mo-Su 17:30-22:00"\nclosed: [2026-12-24, 2026-12-25]',
        'dates: 2026-12-01..2026-12-20\nhours: "Sa 22:00-02:00; Su 10:00-12:00"',
        "dates: [2026-12-12 19:00, 2026-12-13 15:00, 2026-12-19 19:00, 2026-12-20 15:00]",
        "dates: [2026-11-25..2026-11-27, 2026-12-02..2026-12-03]",
    ],
)
def test_it_says_when_it_turns(tmp_path: Path, more: str) -> None:
    """The law: between two of its turns nothing that is said changes, and it never says more than a few dates of a week's hours."""
    when, steps = AIRED, 0
    while (found := event(tmp_path, more, when)) is not None:
        turn = min(turn for turn in found.turns if turn > when)
        for between in (when + (turn - when) / 2, turn - timedelta(seconds=1)):
            assert event(tmp_path, more, between) == found
        assert found.weekly is None or not found.dates
        when, steps = turn, steps + 1
    assert steps >= MOST_DATES
