"""Writes a small station, reads it and checks its copy, for tests of the checks."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from sitegen.newsroom.records import Finding, Newsroom
from sitegen.newsroom.times import read_moment, zone_named
from sitegen.proof.copycheck import check_copy
from sitegen.site.content import read_content
from tests.samples.station_folder import write_folder

STATION = """station: Heron Flats Television
programme: Bright Side
address: https://www.example.com/bright/
time_zone: America/New_York
language: en-US
contact: {email: desk@example.com, phone: 237-555-0100}
media_host: https://video.example.com
holidays: [2026-12-25]
counties:
  - {name: Heron Flats, position: [34.6, -60.6], towns: [{name: Lowgate, position: [34.5, -60.5]}]}
  - {name: Gull Bank, position: [35.1, -61.2], towns: [{name: Sandy End, position: [35.2, -61.3]}]}
"""
PLACE = """name: Lowgate Hall
street: 4 Pier Lane
town: Lowgate
county: Heron Flats
position: [34.51, -60.52]
hours: "Mo-Fr 09:00-17:00"
closed: [2026-12-25]
phone: 237-555-0188
web: https://hall.example.org/visit
"""
AS_OF = "2026-11-23 12:00"
"""A Monday, two days after the usual air date."""
ASK = {
    "title": "Bring a coat",
    "kind": "bring",
    "deadline": "2026-12-15",
    "contact": "{name: Friends of Lowgate, phone: 237-555-0142, email: coats@example.org, web: 'https://friends.example.org/'}",
    "confirmed": "{date: 2026-11-20, with: Ida Moss}",
    "drop_off": "[lowgate-hall]",
}
"""An ask that nothing is to be said against."""


def ask(**changes: str | None) -> str:
    """An ask of a story, with some keys changed and those left out that are None."""
    keys = {key: value for key, value in (ASK | changes).items() if value is not None}
    lines = [f"{key}: {value}" for key, value in keys.items()]
    return "  - " + "\n    ".join(lines) + "\n"


def story(front: str = "", body: str = "Body.", asks: str = "", headline: str = "Coats for all") -> str:
    """A story's text."""
    listed = f"asks:\n{asks}" if asks else ""
    aired = "" if "aired:" in front else "aired: 2026-11-21\n"
    return f"---\nheadline: {headline}\n{aired}county: Heron Flats\n{front.strip()}\n{listed}---\n{body}\n"


def newsroom(root: Path, files: dict[str, str], station: str = STATION) -> Newsroom:
    """The records of some files; a fault among them is a mistake of the test."""
    reading = read_content(write_folder(root, {"places/lowgate-hall.yaml": PLACE, **files}, station))
    assert reading.faults == ()
    assert reading.newsroom is not None
    return reading.newsroom


def check(root: Path, files: dict[str, str], as_of: str = AS_OF, station: str = STATION) -> list[Finding]:
    """What the checks say of some files at a moment of the station's."""
    return list(check_copy(newsroom(root, files, station), moment(as_of)))


def moment(text: str) -> datetime:
    return read_moment(text, zone_named("America/New_York"))


def checks(findings: list[Finding]) -> list[str]:
    """The names of the checks that said something."""
    return [finding.check for finding in findings]
