"""A shared place's special days, where an ask has hours of its own there: they hold as far as these reach."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from sitegen.geography.shapes import read_map
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.records import DayHours, DropOff
from tests.samples.station_folder import PLACE, story, write_folder

SATURDAY, THURSDAY = date(2026, 12, 5), date(2026, 12, 24)
SPECIAL = """special_hours:
  2026-12-05: "10:00-18:00"
  2026-12-24: "10:00-12:00"
"""


def entry(root: Path, more: str, place: str = PLACE + SPECIAL) -> DropOff:
    lines = "".join(f", {line}" for line in more.split("; ") if line)
    front = f"asks:\n  - title: Bring a coat\n    kind: bring\n    deadline: 2026-12-30\n    drop_off:\n      - {{place: lowgate-hall{lines}}}\n"
    write_folder(root, {"stories/2026/one.md": story(front), "places/lowgate-hall.yaml": place})
    newsroom = read_newsroom(root, read_map).newsroom
    assert newsroom is not None
    return newsroom.stories[0].asks[0].drop_off[0]


def test_without_hours_of_its_own_the_door_s_days_hold(tmp_path: Path) -> None:
    found = entry(tmp_path, "").place
    assert found.special_hours == (DayHours(SATURDAY, ((600, 1080),)), DayHours(THURSDAY, ((600, 720),)))


@pytest.mark.parametrize(
    ("hours", "special", "closed"),
    [
        # A table on Wednesday evenings is not there on a long Saturday.
        ("We 17:00-19:00", (), ()),
        # The door is shut when it usually takes.
        ("Tu,Th 17:00-19:00", (), (THURSDAY,)),
        # Only the hours that both have.
        ("We-Su 09:00-11:00", (DayHours(THURSDAY, ((600, 660),)),), ()),
        # A door that is usually shut on that day takes nothing away by being open.
        ("Sa 12:00-19:00", (), ()),
        ("by appointment", (), ()),
    ],
)
def test_hours_of_its_own_bound_them(
    tmp_path: Path, hours: str, special: tuple[DayHours, ...], closed: tuple[date, ...]
) -> None:
    found = entry(tmp_path, f'hours: "{hours}"').place
    assert (found.special_hours, found.closed) == (special, closed)


NIGHTS = PLACE.replace("Mo-Fr 09:00-17:00", "Mo-Su 20:00-07:00")
LONGER = 'special_hours: {2026-12-25: "18:00-07:00"}'
SHORTER = 'special_hours: {2026-12-25: "22:00-02:00"}'


@pytest.mark.parametrize(
    ("door", "hours", "special", "closed"),
    [
        # Whoever sits up from one in the morning is there in the night of the day before.
        (LONGER, "Mo-Su 01:00-07:00", (), ()),
        (SHORTER, "Mo-Su 01:00-07:00", (DayHours(date(2026, 12, 26), ((60, 120),)),), ()),
        (SHORTER, "Mo-Su 03:00-07:00", (), (date(2026, 12, 26),)),
        (SHORTER, "Mo-Su 19:30-01:00", (DayHours(date(2026, 12, 25), ((1320, 1500),)),), ()),
    ],
)
def test_nights_belong_to_both_their_days(
    tmp_path: Path, door: str, hours: str, special: tuple[DayHours, ...], closed: tuple[date, ...]
) -> None:
    found = entry(tmp_path, f'hours: "{hours}"', f"{NIGHTS}{door}\n").place
    assert (found.special_hours, found.closed) == (special, closed)


def test_special_days_of_its_own_stand_as_they_are(tmp_path: Path) -> None:
    found = entry(tmp_path, 'hours: "We 17:00-19:00"; special_hours: {2026-12-05: "08:00-20:00"}').place
    assert found.special_hours == (DayHours(SATURDAY, ((480, 1200),)),)


@pytest.mark.parametrize(
    "closed",
    [
        "2026-12-24..2027-01-01",
        "[2026-12-24..2026-12-30, 2026-12-29 .. 2027-01-01]",
        "[2026-12-24..2026-12-31, 2027-01-01]",
    ],
)
def test_a_place_may_be_closed_from_a_day_to_another(tmp_path: Path, closed: str) -> None:
    days = entry(tmp_path, "", PLACE + f"closed: {closed}\n").place.closed
    assert days == tuple(THURSDAY + timedelta(days=ahead) for ahead in range(9))


@pytest.mark.parametrize(
    ("closed", "says"),
    [
        ("2027-01-01..2026-12-24", "2026-12-24..2027-01-01"),
        ("2026-12-24..2028-01-01", "both years"),
        ("2026-12-24..Jan 1", "01-01"),
        ("2026-12-24..2026-12-25..2026-12-26", "YYYY-MM-DD"),
    ],
)
def test_a_range_of_days_that_cannot_be_meant(tmp_path: Path, closed: str, says: str) -> None:
    write_folder(tmp_path, {"places/lowgate-hall.yaml": PLACE + f"closed: {closed}\n"})
    (told,) = read_newsroom(tmp_path, read_map).faults
    assert told.check == "time" and says in told.instead
