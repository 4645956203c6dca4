"""`data/asks.json` by its schema: whole, without what is withheld, and with instants that say their offset."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from importlib import resources
from pathlib import Path
from random import Random
from typing import Any

import pytest
from jsonschema import Draft202012Validator, FormatChecker

from sitegen.site.content import read_content
from tests.samples.outlet_files import CHECKOUT, Outlets
from tests.samples.random_station import write_random_station
from tests.samples.station_folder import asking, story, write_folder

NOW = datetime(2026, 12, 1, 12, tzinfo=UTC)
SCHEMA = json.loads(resources.files("sitegen").joinpath("schemas/asks.schema.json").read_text("utf-8"))
VALIDATOR = Draft202012Validator(SCHEMA, format_checker=FormatChecker())

WITHHELD = """name: The Gull House
street: 77 Hidden Lane
postal_code: HF-SECRET
town: Lowgate
county: Heron Flats
position: [34.98765, -60.12345]
hours: unknown
address: withheld
"""


def asks_data(root: Path, now: datetime = NOW) -> dict[str, Any]:
    newsroom = read_content(root).newsroom
    assert newsroom is not None
    outlets = Outlets(newsroom)
    data: dict[str, Any] = json.loads(outlets.files(outlets.edition(now))["data/asks.json"])
    return data


def problems(data: object) -> list[str]:
    return [f"{list(error.absolute_path)}: {error.message}" for error in VALIDATOR.iter_errors(data)]


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("now", [datetime(2026, 12, 2, 17, tzinfo=UTC), datetime(2025, 11, 25, tzinfo=UTC)])
def test_the_demonstrations_data_keep_the_schema(now: datetime) -> None:
    data = asks_data(CHECKOUT, now)
    assert not problems(data) and data["asks"]


def test_a_station_made_by_chance_keeps_the_schema(tmp_path: Path, chance: Random) -> None:
    root = write_random_station(tmp_path, chance, 30)
    for month in (2, 5, 8, 11):
        assert not problems(asks_data(root, datetime(2026, month, 1, tzinfo=UTC)))


def test_nothing_to_do_is_an_empty_list(tmp_path: Path) -> None:
    data = asks_data(write_folder(tmp_path, {"stories/2026/a.md": story()}))
    assert data["asks"] == [] and not problems(data)
    assert (data["language"], data["time_zone"]) == ("en-US", "America/New_York")


def test_a_record_says_what_when_and_where(tmp_path: Path) -> None:
    more = "deadline: 2026-12-13\naccepts: [coats]\ngoal: {number: 400, unit: coats, so_far: 0}\ncontact: {phone: 237-555-0142}"
    (ask,) = asks_data(write_folder(tmp_path, {"stories/2026/a.md": story(asking(more=more))}))["asks"]
    assert (ask["kind"], ask["title"], ask["standing"]) == ("bring", "Bring a coat", "open")
    assert ask["closes"] == "2026-12-14T00:00:00-05:00"
    assert ask["goal"] == {"number": 400, "unit": "coats", "so_far": 0}
    assert ask["when"][0] == "through Sunday, Dec. 13, 2026" and "Dec. 11, 2026, 5 p.m." in ask["when"][1]
    (place,) = ask["places"]
    assert (place["street"], place["hours"]) == ("4 Pier Lane", "Mo-Fr 09:00-17:00")
    assert place["last_chance"] == "2026-12-11T17:00:00-05:00"
    assert place["position"]["of"] == "town"
    assert ask["true_until"] == "2026-12-11T00:00:00-05:00"  # its last days begin


def test_a_withheld_place_says_its_town_alone(tmp_path: Path) -> None:
    front = "asks:\n  - {title: Bring blankets, kind: bring, deadline: 2026-12-15, where: [gull-house]}"
    files = {"stories/2026/a.md": story(front), "places/gull-house.yaml": WITHHELD}
    data = asks_data(write_folder(tmp_path, files))
    (place,) = data["asks"][0]["places"]
    assert place["withheld"] and place["town"] == "Lowgate"
    assert not {"street", "postal_code", "position"} & set(place)
    place["street"] = "77 Hidden Lane"
    assert problems(data), "the schema must refuse what may never be in it"


def test_the_schema_refuses_what_readers_must_never_meet(tmp_path: Path) -> None:
    data = asks_data(write_folder(tmp_path, {"stories/2026/a.md": story(asking())}))
    for key, wrong in (
        ("standing", "ended"),
        ("kind", "sell"),
        ("closes", "2026-12-14"),
        ("desk", "x"),
        ("when", []),
    ):
        broken = json.loads(json.dumps(data))
        broken["asks"][0][key] = wrong
        assert problems(broken), key
    for key in ("id", "true_until", "address", "when"):
        broken = json.loads(json.dumps(data))
        del broken["asks"][0][key]
        assert problems(broken), key


def test_the_day_of_checking_again_is_not_told_as_a_last_chance(tmp_path: Path) -> None:
    more = "deadline: ongoing\ncheck_again_by: 2026-12-13"
    (ask,) = asks_data(write_folder(tmp_path, {"stories/2026/a.md": story(asking(more=more))}))["asks"]
    assert ask["when"] == ["no closing date; we check again by Sunday, Dec. 13, 2026"]
    assert ask["places"][0]["name"] == "Lowgate Hall" and "last_chance" not in ask["places"][0]
    # The doors are shut for the week end, and the offer stands.
    sunday = datetime(2026, 12, 13, 18, tzinfo=UTC)
    (ask,) = asks_data(tmp_path, sunday)["asks"]
    assert ask["places"] and ask["true_until"] == "2026-12-14T00:00:00-05:00"
    late = f"{more}\nstopped: {{when: 2026-12-12, say: full}}"
    (ask,) = asks_data(write_folder(tmp_path, {"stories/2026/a.md": story(asking(more=late))}))["asks"]
    assert ask["places"][0]["last_chance"] == "2026-12-11T17:00:00-05:00"
