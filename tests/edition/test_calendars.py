"""What stands in calendars: which asks, under which names, when, where, and for how long as called off."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from sitegen.edition.calendars import CalendarEntry, CalendarFile, Purpose
from sitegen.edition.compose import compose_edition
from sitegen.newsroom.records import Newsroom
from sitegen.newsroom.times import zone_named
from tests.samples.calendar_bytes import local, newsroom_of
from tests.samples.station_folder import STATION, asking, story, write_folder

NEW_YORK = zone_named("America/New_York")
BASE = "tag:www.example.com,2026-11-21:/bright/stories/2026/coats/"


def station(tmp_path: Path, front: str) -> Newsroom:
    return newsroom_of(write_folder(tmp_path, {"stories/2026/coats.md": story(front)}))


def files_at(newsroom: Newsroom, moment: str) -> dict[str, CalendarFile]:
    files = compose_edition(newsroom, local(newsroom, moment)).edition.files
    return {file.address: file for file in files if isinstance(file, CalendarFile)}


def whole(newsroom: Newsroom, moment: str) -> tuple[CalendarEntry, ...]:
    return files_at(newsroom, moment)["deadlines.ics"].entries


def only(newsroom: Newsroom, moment: str) -> CalendarEntry:
    (entry,) = whole(newsroom, moment)
    return entry


def wall(moment: datetime | None) -> str:
    return f"{moment.astimezone(NEW_YORK):%Y-%m-%d %H:%M}" if moment is not None else ""


def starts(entry: CalendarEntry) -> list[str]:
    return [wall(each.opens) for each in entry.series.occasions]


# --- closings --------------------------------------------------------------------------------


def test_a_closing_is_the_last_minute_of_the_last_door(tmp_path: Path) -> None:
    # Dec. 13, 2026 is a Sunday; the hall shuts on Friday at five.
    entry = only(station(tmp_path, asking(more="deadline: 2026-12-13")), "2026-12-01 12:00")
    assert (entry.uid, entry.purpose, entry.sequence) == (BASE + "bring-a-coat", Purpose.CLOSING, 0)
    assert starts(entry) == ["2026-12-11 17:00"]
    assert wall(entry.reminder) == "2026-12-10 09:00"
    assert entry.place is not None
    assert (entry.place.name, entry.place.street) == ("Lowgate Hall", "4 Pier Lane")


def test_a_whole_last_day_is_marked_as_that_day(tmp_path: Path) -> None:
    front = "asks: [{title: Give, kind: give, deadline: 2026-12-15, payee: The Hall}]"
    entry = only(station(tmp_path, front), "2026-12-01 12:00")
    assert starts(entry) == ["2026-12-15 00:00"]
    assert wall(entry.series.occasions[0].closes) == "2026-12-16 00:00"
    assert wall(entry.reminder) == "2026-12-14 09:00"


def test_an_ask_whose_last_door_has_shut_goes_on_to_its_own_end(tmp_path: Path) -> None:
    front = asking(more="deadline: 2026-12-13\ncontact: {phone: 237-555-0142}")
    newsroom = station(tmp_path, front)
    before, after = only(newsroom, "2026-12-11 16:59"), only(newsroom, "2026-12-11 17:00")
    assert starts(after) == ["2026-12-13 00:00"]
    assert after.uid == before.uid
    assert after.sequence > before.sequence
    assert after.place is None


def test_an_ask_without_a_closing_date_is_marked_where_it_must_be_checked_again(tmp_path: Path) -> None:
    more = "deadline: ongoing\ncheck_again_by: 2026-12-20\ncontact: {phone: 237-555-0142}"
    newsroom = station(tmp_path, asking(more=more))
    entry = only(newsroom, "2026-12-01 12:00")
    assert (entry.purpose, starts(entry), entry.closes) == (Purpose.CHECK, ["2026-12-20 00:00"], None)
    assert not whole(newsroom, "2026-12-21 00:00")


def test_a_coming_ask_is_there_and_says_when_it_opens(tmp_path: Path) -> None:
    newsroom = station(tmp_path, asking(more="starts: 2026-12-03\ndeadline: 2026-12-15"))
    coming, there = only(newsroom, "2026-12-02 23:59"), only(newsroom, "2026-12-03 00:00")
    assert coming.opens is not None
    assert coming.opens.day.isoformat() == "2026-12-03"
    assert there.opens is None
    assert starts(coming) == starts(there)


def test_an_ended_ask_leaves_everything_and_calendars_to_follow_stay(tmp_path: Path) -> None:
    newsroom = station(tmp_path, asking())
    own = "stories/2026/coats/bring-a-coat.ics"
    assert own in files_at(newsroom, "2026-12-15 16:59")
    files = files_at(newsroom, "2026-12-16 00:00")
    assert set(files) == {
        "deadlines.ics", "counties/heron-flats/deadlines.ics", "counties/gull-bank/deadlines.ics",
        "counties/beyond/deadlines.ics",
    }  # fmt: skip
    assert not any(file.entries for file in files.values())


def test_an_ask_is_in_the_calendars_of_the_counties_it_helps(tmp_path: Path) -> None:
    more = "deadline: 2026-12-15\nhelps: [Gull Bank]\ncontact: {phone: 237-555-0142}"
    files = files_at(station(tmp_path, asking(more=more)), "2026-12-01 12:00")
    full = {address for address, file in files.items() if file.entries}
    assert full == {
        "deadlines.ics", "counties/heron-flats/deadlines.ics", "counties/gull-bank/deadlines.ics",
        "stories/2026/coats/bring-a-coat.ics",
    }  # fmt: skip
    late = {
        address
        for address, file in files_at(station(tmp_path, asking(more=more)), "2026-12-15 17:00").items()
        if file.entries
    }
    assert "counties/heron-flats/deadlines.ics" not in late  # its only place there has shut
    assert "counties/gull-bank/deadlines.ics" in late


# --- names -----------------------------------------------------------------------------------


def test_a_name_survives_a_moved_story_and_a_new_title(tmp_path: Path) -> None:
    front = asking(title="Bring a warm coat", more="deadline: 2026-12-15\nkey: bring-a-coat")
    files = {"stories/2026/closet.md": story(f"{front}\nold_addresses: [/stories/2026/coats/]")}
    newsroom = newsroom_of(write_folder(tmp_path, files))
    assert only(newsroom, "2026-12-01 12:00").uid == BASE + "bring-a-coat"


def test_every_name_is_used_once(tmp_path: Path) -> None:
    front = """asks:
  - {title: See the lights, kind: go, dates: 2026-11-27..2026-12-26, hours: "Fr 17:30-22:00; Sa-Su 17:30-23:00", where: [lowgate-hall, lowgate-hall]}
  - {title: Watch, kind: tune in, dates: [2026-12-18 19:00, 2026-12-21 15:00], minutes: 60}
listing: parades.csv"""
    rows = "what,town,county,date\nParade,Lowgate,Heron Flats,2026-12-05\nParade,Lowgate,Heron Flats,2026-12-12\n"
    files = {"stories/2026/coats.md": story(front), "listings/parades.csv": rows}
    newsroom = newsroom_of(write_folder(tmp_path, files))
    uids = [entry.uid for entry in whole(newsroom, "2026-11-25 12:00")]
    assert len(uids) == len(set(uids)) == 8
    assert BASE + "see-the-lights" in uids
    assert BASE + "listing/lowgate-parade-2" in uids


def test_a_correction_raises_the_sequence_on_its_day(tmp_path: Path) -> None:
    front = (
        asking() + "corrections: [{date: 2026-12-03, kind: correction, text: The closing time was wrong.}]\n"
    )
    newsroom = station(tmp_path, front)
    before, after = only(newsroom, "2026-12-02 12:00"), only(newsroom, "2026-12-03 00:00")
    assert (before.sequence, after.sequence) == (0, 1)
    assert wall(before.revised) == "2026-11-21 00:00"
    assert wall(after.revised) == "2026-12-03 00:00"


# --- events ----------------------------------------------------------------------------------

LIGHTS = 'dates: 2026-12-01..2026-12-08\nhours: "Mo-Su 17:30-22:00"\nclosed: [2026-12-04]'


def test_an_event_is_a_series_without_its_closed_days(tmp_path: Path) -> None:
    longer = LIGHTS.replace("2026-12-08", "2026-12-11")
    entry = only(station(tmp_path, asking("go", "See the lights", longer)), "2026-11-25 12:00")
    assert starts(entry) == [f"2026-12-{day:02} 17:30" for day in (1, 2, 3, 5, 6, 7, 8, 9, 10, 11)]
    assert [wall(moment) for moment in entry.series.left_out] == ["2026-12-04 17:30"]
    assert wall(entry.reminder) == "2026-12-10 09:00"


def test_a_series_stays_whole_while_one_of_its_days_is_ahead(tmp_path: Path) -> None:
    newsroom = station(tmp_path, asking("go", "See the lights", LIGHTS))
    assert only(newsroom, "2026-11-25 12:00") == only(newsroom, "2026-12-08 21:59")
    assert not whole(newsroom, "2026-12-08 22:00")


def test_single_dates_leave_one_by_one(tmp_path: Path) -> None:
    more = "dates: [2026-12-01 19:00, 2026-12-04 15:00]\nminutes: 60"
    front = asking("tune in", "Watch", more).replace("    where: [lowgate-hall]\n", "")
    newsroom = station(tmp_path, front)
    assert [starts(entry) for entry in whole(newsroom, "2026-11-25 12:00")] == [
        ["2026-12-01 19:00"],
        ["2026-12-04 15:00"],
    ]
    late = only(newsroom, "2026-12-01 20:00")
    assert (late.uid, starts(late)) == (BASE + "watch/2", ["2026-12-04 15:00"])


def test_each_place_of_an_event_has_an_entry_at_its_own_hours(tmp_path: Path) -> None:
    front = """asks:
  - title: See the lights
    kind: go
    dates: 2026-12-01..2026-12-03
    where:
      - lowgate-hall
      - {name: Pier, town: Sandy End, county: Gull Bank, hours: "Mo-Su 18:00-20:00", until: 2026-12-02}
"""
    newsroom = station(tmp_path, front)
    entries = {entry.uid: entry for entry in whole(newsroom, "2026-11-25 12:00")}
    assert starts(entries[BASE + "see-the-lights"])[0] == "2026-12-01 09:00"
    assert starts(entries[BASE + "see-the-lights/pier"]) == ["2026-12-01 18:00", "2026-12-02 18:00"]
    assert [entry.uid for entry in whole(newsroom, "2026-12-02 20:00")] == [BASE + "see-the-lights"]


def test_an_event_with_no_place_left_is_still_an_event(tmp_path: Path) -> None:
    more = LIGHTS + "\ncontact: {phone: 237-555-0142}"
    front = asking("go", "See the lights", more).replace(
        "[lowgate-hall]", "[{place: lowgate-hall, until: 2026-12-02}]"
    )
    entry = only(station(tmp_path, front), "2026-12-03 12:00")
    assert entry.uid == BASE + "see-the-lights"
    assert entry.place is None
    assert starts(entry)[-1] == "2026-12-08 17:30"


def test_an_event_whose_hours_never_fall_on_its_dates_is_there_until_it_is_over(tmp_path: Path) -> None:
    front = asking("go", "See the lights", 'dates: 2026-12-05\nhours: "Mo 10:00-12:00"')
    newsroom = station(tmp_path, front)
    assert only(newsroom, "2026-12-01 12:00").called_off is None
    assert not whole(newsroom, "2026-12-05 00:00")


# --- called off ------------------------------------------------------------------------------


def test_what_is_called_off_stays_until_it_would_have_been_over(tmp_path: Path) -> None:
    stop = "stopped: {when: 2026-12-03 12:00, say: the lights are out, instead: come next year}"
    newsroom = station(tmp_path, asking("go", "See the lights", f"{LIGHTS}\n{stop}"))
    before = only(newsroom, "2026-12-02 12:00")
    assert (before.called_off, starts(before)) == (None, ["2026-12-01 17:30", "2026-12-02 17:30"])
    off = only(newsroom, "2026-12-03 12:00")
    assert off.called_off is not None
    assert (off.uid, off.called_off.instead, off.place, off.reminder) == (
        before.uid,
        "come next year",
        None,
        None,
    )
    assert starts(off)[0] == "2026-12-03 17:30"
    assert off.sequence >= 1
    assert only(newsroom, "2026-12-08 21:59") == off
    assert not whole(newsroom, "2026-12-08 22:00")
    assert "stories/2026/coats/see-the-lights.ics" not in files_at(newsroom, "2026-12-03 12:00")


def test_a_full_drive_stays_as_stopped_until_its_last_door_would_have_shut(tmp_path: Path) -> None:
    newsroom = station(tmp_path, asking(more="deadline: 2026-12-13\nstopped: {when: 2026-12-03, say: full}"))
    off = only(newsroom, "2026-12-03 00:00")
    assert off.called_off is not None
    assert starts(off) == ["2026-12-11 17:00"]
    assert not whole(newsroom, "2026-12-14 00:00")


def test_one_place_of_an_event_is_called_off_alone(tmp_path: Path) -> None:
    front = asking("go", "See the lights", LIGHTS).replace(
        "[lowgate-hall]",
        "[lowgate-hall, {name: Pier, town: Sandy End, county: Gull Bank, hours: unknown, stopped: {when: 2026-12-03, say: storm}}]",
    )
    entries = {entry.uid: entry for entry in whole(station(tmp_path, front), "2026-12-03 12:00")}
    assert entries[BASE + "see-the-lights"].called_off is None
    assert entries[BASE + "see-the-lights/pier"].called_off is not None


def test_a_row_of_a_round_up_is_called_off_until_its_day_is_over(tmp_path: Path) -> None:
    rows = "what,town,county,date,starts,ends,place,note,stopped\nParade,Lowgate,Heron Flats,2026-12-05,18:00,19:00,Pier,,snow\n"
    files = {"stories/2026/coats.md": story("listing: parades.csv"), "listings/parades.csv": rows}
    newsroom = newsroom_of(write_folder(tmp_path, files))
    entry = only(newsroom, "2026-12-05 18:59")
    assert entry.called_off is not None
    assert entry.place is None
    assert not whole(newsroom, "2026-12-05 19:00")


def test_a_withdrawn_story_leaves_calendars_without_a_trace(tmp_path: Path) -> None:
    front = asking() + "withdrawn: {date: 2026-12-01, notice: Withdrawn.}\n"
    assert not whole(station(tmp_path, front), "2026-12-01 00:00")


# --- places and time -------------------------------------------------------------------------


def test_a_withheld_place_shows_its_town_alone(tmp_path: Path) -> None:
    front = asking(more="deadline: 2026-12-15").replace(
        "[lowgate-hall]",
        "[{name: The Refuge, street: 9 Secret Row, town: Lowgate, county: Heron Flats, position: [34.1, -60.1], hours: unknown, address: withheld}]",
    )
    entry = only(station(tmp_path, front), "2026-12-01 12:00")
    assert entry.place is not None
    assert (entry.place.town, entry.place.name, entry.place.street, entry.place.latitude) == (
        "Lowgate",
        "",
        "",
        None,
    )


@pytest.mark.parametrize("front", (asking("go", "See the lights", LIGHTS), asking()))
def test_calendars_hold_until_the_edition_says(tmp_path: Path, front: str) -> None:
    stop = "    stopped: {when: 2026-12-03 12:00, say: out}\n"
    newsroom = station(tmp_path, front + stop)
    moment = local(newsroom, "2026-11-25 12:00")
    for _ in range(20):
        composition = compose_edition(newsroom, moment)
        until = composition.edition.true_until
        if until is None:
            break
        inside = compose_edition(newsroom, moment + (until - moment) / 2).edition
        assert inside.files == composition.edition.files
        moment = until.astimezone(UTC)
    else:
        raise AssertionError("never true for good")


def test_the_station_without_stories_has_empty_calendars(tmp_path: Path) -> None:
    newsroom = newsroom_of(write_folder(tmp_path, station=STATION))
    assert not whole(newsroom, "2026-12-01 12:00")
