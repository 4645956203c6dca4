"""Towns against the station's list: in which county each lies, and slips in their names."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.newsroom.context import is_slip
from sitegen.newsroom.records import Finding, Weight
from sitegen.site.content import read_content
from tests.samples.checked_copy import ask, check, checks, story
from tests.samples.station_folder import write_folder

STATION = """station: Heron Flats Television
programme: Bright Side
address: https://www.example.com/bright/
time_zone: America/New_York
language: en-US
contact: {email: desk@example.com, phone: 237-555-0100}
counties:
  - {name: Oldfleet, position: [34.6, -60.6], towns: [{name: Bellwether, position: [34.5, -60.5]}, {name: Vista Peña}]}
  - {name: Pellam, position: [35.1, -61.2], towns: [{name: Pellam Cross, position: [35.2, -61.3]}, {name: Rye}, {name: Upton}]}
  - {name: Tidewick, position: [35.2, -61.4], towns: [{name: Millrace, position: [35.2, -61.4]}, {name: Upton}]}
"""
STORY = "stories/2026/coats.md"
Files = Callable[[str, str], dict[str, str]]
TOWNS = ("town-elsewhere", "town-misspelt", "missing")


def told(root: Path, files: dict[str, str]) -> list[Finding]:
    found = read_content(write_folder(root, files, STATION)).findings
    return [each for each in found if each.check in TOWNS]


def of_story(town: str, county: str) -> dict[str, str]:
    return {STORY: story(f"town: {town}").replace("county: Heron Flats", f"county: {county}")}


def of_place(town: str, county: str) -> dict[str, str]:
    return {"places/hall.yaml": f"name: Hall\ntown: {town}\ncounty: {county}\nhours: unknown\n"}


def of_drop_off(town: str, county: str) -> dict[str, str]:
    where = f"[{{name: Fire house 3, town: {town}, county: {county}, hours: unknown}}]"
    return {STORY: story(asks=ask(drop_off=where)).replace("county: Heron Flats", "county: Tidewick")}


ALL = pytest.mark.parametrize("files", [of_story, of_place, of_drop_off])


@ALL
def test_the_county_that_a_town_lies_in_is_named(files: Files, tmp_path: Path) -> None:
    (found,) = told(tmp_path, files("Bellwether", "Tidewick"))
    assert (found.weight, found.check) == (Weight.CONCERN, "town-elsewhere")
    assert "county: Oldfleet" in found.instead
    lines = (tmp_path / found.spot.path).read_text("utf-8").splitlines()
    assert lines[found.spot.line - 1][found.spot.column - 1 :].startswith("Bellwether")


@ALL
@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("Milrace", "Millrace"), ("Millraec", "Millrace"), ("Millrave", "Millrace"), ("millrace", "Millrace"), ("Vista Pena", "Vista Peña"),
        ("Pellam Cros", "Pellam Cross"), ("Pellam-Cross", "Pellam Cross"),
    ],
)  # fmt: skip
def test_a_slip_in_a_towns_name(files: Files, written: str, meant: str, tmp_path: Path) -> None:
    (found,) = told(tmp_path, files(written, "Tidewick"))
    assert (found.weight, found.check) == (Weight.CONCERN, "town-misspelt")
    assert f"'{meant}'" in found.instead


@ALL
@pytest.mark.parametrize(
    ("town", "county"),
    [
        ("Bellwether", "Oldfleet"), ("Upton", "Pellam"), ("Upton", "Tidewick"), ("Brackish Cove", "Tidewick"), ("Millrace Park", "Tidewick"),
        ("Bye", "Tidewick"), ("Ryes", "Pellam"), ("Lupton", "Pellam"), ("Hillrace", "Tidewick"),
    ],
)  # fmt: skip
def test_towns_of_other_names_are_left_alone(files: Files, town: str, county: str, tmp_path: Path) -> None:
    assert told(tmp_path, files(town, county)) == []


def test_a_story_from_beyond_may_come_from_a_town_of_a_like_name(tmp_path: Path) -> None:
    assert told(tmp_path, of_story("Milrace", "beyond")) == []


@pytest.mark.parametrize("files", [of_place, of_drop_off])
def test_a_county_that_is_missing_is_the_towns(files: Files, tmp_path: Path) -> None:
    (found,) = told(tmp_path, files("Pellam Cross", ""))
    assert found.check == "missing" and "county: Pellam" in found.instead


@pytest.mark.parametrize("town", ["Bellwether", "Milrace", "Vista Pena"])
def test_nothing_untrue_is_said_of_the_position_of_a_town_that_is_not_there(
    town: str, tmp_path: Path
) -> None:
    where = f"[{{name: Fire house 3, town: {town}, county: Tidewick, hours: 'Mo-Fr 09:00-17:00', closed: [2026-12-25]}}]"
    files = {STORY: story(asks=ask(drop_off=where)).replace("county: Heron Flats", "county: Tidewick")}
    files["places/lowgate-hall.yaml"] = of_place("Bellwether", "Oldfleet")["places/hall.yaml"]
    found = check(tmp_path, files, station=STATION + "holidays: [2026-12-25]\n")
    assert "place-without-position" not in checks(found)


@given(st.text("abc", min_size=5, max_size=8), st.text("abc", min_size=5, max_size=8))
def test_slips_go_both_ways(one: str, other: str) -> None:
    assert is_slip(one, other) == is_slip(other, one)
    assert not is_slip(one, one)


@given(st.text("abcd", min_size=6, max_size=9), st.data())
def test_every_single_change_is_a_slip(name: str, data: st.DataObject) -> None:
    at = data.draw(st.integers(1, len(name) - 1))
    for changed in (
        name[:at] + name[at + 1 :],
        name[:at] + "x" + name[at:],
        name[:at] + "x" + name[at + 1 :],
    ):
        assert is_slip(changed, name)
    if at + 1 < len(name) and name[at] != name[at + 1]:
        assert is_slip(name[:at] + name[at + 1] + name[at] + name[at + 2 :], name)
