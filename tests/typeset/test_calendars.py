"""Calendars as bytes: lines, folds and escapes of RFC 5545, properties of RFC 7986, and nothing that must not travel."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from sitegen.newsroom.records import Newsroom
from tests.samples.calendar_bytes import calendars, local, newsroom_of
from tests.samples.read_calendars import entries_of, lines_of, open_in_calendar, plain
from tests.samples.station_folder import asking, story, write_folder

CHECKOUT = Path(__file__).parents[2]
OWN = "stories/2026/coats/bring-a-coat.ics"


def coats(tmp_path: Path, front: str = asking()) -> Newsroom:
    return newsroom_of(write_folder(tmp_path, {"stories/2026/coats.md": story(front)}))


def at(newsroom: Newsroom, moment: str = "2026-12-01 12:00") -> dict[str, bytes]:
    return calendars(newsroom, local(newsroom, moment))


def hurdles() -> str:
    """A title in which any fold and every escape is a trap."""
    return "Bring “coats”; scarves, hats \\ gloves — " + "🧤é漢" * 40


def check_lines(data: bytes) -> None:
    assert data.endswith(b"\r\n")
    assert b"\n" not in data.replace(b"\r\n", b"")
    assert b"\r" not in data.replace(b"\r\n", b"")
    for line in data.split(b"\r\n"):
        assert len(line) <= 75  # RFC 5545, 3.1: octets, without the line break
        line.decode("utf-8")  # a fold within a character would not decode
        assert not any((octet < 32 and octet != 9) or octet == 127 for octet in line)


def test_lines_are_short_whole_and_end_as_the_standard_says(tmp_path: Path) -> None:
    newsroom = coats(tmp_path, asking(title=f"'{hurdles()}'", more="deadline: 2026-12-15\nkey: bring-a-coat"))
    files = at(newsroom)
    for data in files.values():
        check_lines(data)
    (entry,) = entries_of(files[OWN])
    assert plain(entry["SUMMARY"]) == f"Closes: {hurdles()}"
    assert "\\;" in entry["SUMMARY"]
    assert "\\," in entry["SUMMARY"]
    assert "\\\\" in entry["SUMMARY"]


def test_every_calendar_of_the_demonstration_has_good_lines() -> None:
    newsroom = newsroom_of(CHECKOUT)
    for data in at(newsroom, "2026-12-02 12:00").values():
        check_lines(data)


def test_equal_content_gives_equal_bytes_whenever_it_is_built(tmp_path: Path) -> None:
    newsroom = coats(tmp_path)
    moment = local(newsroom, "2026-12-01 12:00")
    first = calendars(newsroom, moment)
    assert first == calendars(newsroom, moment + timedelta(days=3, minutes=7))
    (entry,) = entries_of(first[OWN])
    assert entry["DTSTAMP"] == "20261121T050000Z"  # the story's release, not the build


def test_a_calendar_to_follow_says_what_it_is_and_where_it_comes_from(tmp_path: Path) -> None:
    data = at(coats(tmp_path))["counties/heron-flats/deadlines.ics"]
    head = {line.name: line for line in lines_of(data) if line.name != "BEGIN"}
    assert head["VERSION"].value == "2.0"
    assert head["NAME"].value == "Bright Side: Heron Flats County"
    assert (head["REFRESH-INTERVAL"].parameters, head["REFRESH-INTERVAL"].value) == (
        ";VALUE=DURATION",
        "PT6H",
    )
    assert head["SOURCE"].value == "https://www.example.com/bright/counties/heron-flats/deadlines.ics"
    assert ";VALUE=URI" in head["SOURCE"].parameters
    assert "METHOD" not in head  # it would make DTSTAMP the moment of the build


def test_a_calendar_to_take_once_is_not_followed(tmp_path: Path) -> None:
    names = {line.name for line in lines_of(at(coats(tmp_path))[OWN])}
    assert not names & {"METHOD", "SOURCE", "REFRESH-INTERVAL", "NAME"}


def test_an_empty_calendar_still_has_a_component(tmp_path: Path) -> None:
    data = at(newsroom_of(write_folder(tmp_path)))["deadlines.ics"]
    check_lines(data)
    assert b"BEGIN:VTIMEZONE\r\n" in data
    assert not entries_of(data)


def test_what_travels_names_no_phone_and_no_withheld_door(tmp_path: Path) -> None:
    more = "deadline: 2026-12-15\ncontact: {phone: 237-555-0142, email: coats@example.org}"
    front = asking(more=more).replace(
        "[lowgate-hall]",
        "[{name: The Refuge, street: 9 Secret Row, town: Lowgate, county: Heron Flats, postal_code: HF-9, "
        "position: [34.123, -60.456], phone: 237-555-0199, hours: unknown, address: withheld}]",
    )
    for data in at(coats(tmp_path, front)).values():
        text = b"".join(data.split(b"\r\n ")).decode()
        for word in ("237-555", "coats@", "Secret", "Refuge", "HF-9", "34.123", "GEO"):
            assert word not in text
    (entry,) = entries_of(at(coats(tmp_path, front))[OWN])
    assert entry["LOCATION"] == "Lowgate"


def test_an_alarm_comes_at_an_instant_of_the_day_before(tmp_path: Path) -> None:
    (entry,) = entries_of(at(coats(tmp_path))[OWN])
    assert entry["DTSTART"] == "20261215T170000"
    assert entry["ALARM TRIGGER"] == "20261214T140000Z"  # 9 a.m. Eastern Standard Time
    assert entry["ALARM ACTION"] == "DISPLAY"


def test_giving_is_never_asked_without_its_cautions(tmp_path: Path) -> None:
    front = "asks: [{title: Give, kind: give, deadline: 2026-12-15, payee: The Hall, goal: {number: 900, unit: $}}]"
    (entry,) = entries_of(at(coats(tmp_path, front))["stories/2026/coats/give.ics"])
    assert "$" not in entry["DESCRIPTION"]
    assert len(plain(entry["DESCRIPTION"]).split("\n")) == 5


def test_what_is_called_off_says_so_and_what_to_do_instead(tmp_path: Path) -> None:
    stop = "stopped: {when: 2026-12-01, say: full, instead: ask the hall}"
    newsroom = coats(tmp_path, asking(more=f"deadline: 2026-12-15\n{stop}"))
    data = at(newsroom)["deadlines.ics"]
    (entry,) = entries_of(data)
    assert entry["STATUS"] == "CANCELLED"
    assert "Ask the hall" in plain(entry["DESCRIPTION"])
    assert not {"LOCATION", "ALARM TRIGGER", "GEO"} & set(entry)
    assert not open_in_calendar(data)
    assert entry["DTSTAMP"] == "20261201T050000Z"


@pytest.mark.parametrize(
    ("language", "words"), [("es", "Cierra: Traiga un abrigo"), ("fr", "Closes: Traiga un abrigo")]
)
def test_an_entry_speaks_its_storys_language_where_the_theme_does(
    tmp_path: Path, language: str, words: str
) -> None:
    front = (
        asking(title="Traiga un abrigo", more="deadline: 2026-12-15\nkey: bring-a-coat")
        + f"language: {language}\n"
    )
    data = at(coats(tmp_path, front))[OWN]
    (entry,) = entries_of(data)
    assert entry["SUMMARY"] == words
    assert f"SUMMARY;LANGUAGE={language}:".encode() in data


def test_addresses_lead_back_to_the_ask(tmp_path: Path) -> None:
    assert open_in_calendar(at(coats(tmp_path))["deadlines.ics"]) == {
        "https://www.example.com/bright/stories/2026/coats/#ask-bring-a-coat"
    }
