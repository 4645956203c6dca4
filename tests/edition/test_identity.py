"""Names that last: the same through a move, never the same for two things, and URIs whatever the host is called."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import pytest

from sitegen.edition.identity import ask_id, story_id
from sitegen.newsroom.records import Ask, County, Kind, Station, StationContact, Story, When

STATION = Station(
    station="Heron Flats Television",
    programme="Bright Side",
    address="https://www.example.com/bright/",
    time_zone="America/New_York",
    language="en-US",
    contact=StationContact(email="desk@example.com"),
    counties=(County("Heron Flats", "heron-flats"),),
)
COATS = Story("2026/coats", "Coats", When(date(2026, 11, 21)), ("heron-flats",))
# RFC 4151, 2.1: taggingEntity = authorityName "," date, and "tag:" taggingEntity ":" specific of pchar, "/" and "?".
TAG_URI = re.compile(
    r"tag:[a-z0-9](?:[a-z0-9.-]*[a-z0-9])?,\d{4}-\d\d-\d\d:(?:[A-Za-z0-9._~!$&'()*+,;=:@/?-]|%[0-9A-F]{2})*\Z"
)


def test_a_story_is_named_by_host_first_air_date_and_first_address() -> None:
    assert story_id(COATS, STATION) == "tag:www.example.com,2026-11-21:/bright/stories/2026/coats/"


def test_a_name_survives_a_moved_address() -> None:
    moved = replace(COATS, id="2026/winter-coats", old_addresses=("stories/2026/coats/",))
    again = replace(
        moved, id="2026/warm-coats", old_addresses=(*moved.old_addresses, "stories/2026/winter-coats/")
    )
    assert story_id(COATS, STATION) == story_id(moved, STATION) == story_id(again, STATION)


def test_an_ask_is_named_within_its_story() -> None:
    coats, hats = (Ask(key, Kind.BRING, key) for key in ("coats", "hats"))
    assert ask_id(COATS, coats, STATION) == story_id(COATS, STATION) + "coats"
    assert ask_id(COATS, coats, STATION) != ask_id(COATS, hats, STATION)


def test_two_sites_of_one_host_share_no_name() -> None:
    other = replace(STATION, address="https://www.example.com/other/")
    assert story_id(COATS, STATION) != story_id(COATS, other)


@pytest.mark.parametrize(
    "address",
    [
        "https://www.example.com/",
        "https://WWW.Example.COM/bright/",
        "https://www.example.com:8443/bright/",
        "https://señales.example.org/año/",
        "https://xn--seales-zwa.example.org/",
    ],
)
def test_a_name_is_a_tag_uri(address: str) -> None:
    assert TAG_URI.match(story_id(COATS, replace(STATION, address=address)))
