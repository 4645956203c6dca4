"""Which maps an edition has, what stands in them, and what never does."""

from __future__ import annotations

import dataclasses
from datetime import UTC, datetime, timedelta
from math import cos, radians
from pathlib import Path

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from sitegen.edition.compose import compose_edition, make_frame
from sitegen.edition.maps import Maps, direction_from
from sitegen.edition.models import (
    CountyPage,
    Frame,
    HomePage,
    IndexPage,
    LocatorView,
    MapView,
    OutlineView,
    Page,
    PlacePage,
)
from sitegen.newsroom.records import Newsroom, Position
from sitegen.site.content import read_content
from tests.samples.page_models import LIBRARY

ROOT = Path(__file__).parents[2]
NOW = datetime(2026, 12, 2, 17, tzinfo=UTC)


@pytest.fixture(scope="module")
def room() -> Newsroom:
    reading = read_content(ROOT)
    assert reading.newsroom is not None
    return reading.newsroom


@pytest.fixture(scope="module")
def pages(room: Newsroom) -> dict[str, Page]:
    return {page.address: page for page in compose_edition(room, NOW).edition.pages}


def test_home_and_the_list_of_counties_have_the_same_map_of_all(
    room: Newsroom, pages: dict[str, Page]
) -> None:
    home, index = pages[""], pages["counties/"]
    assert isinstance(home, HomePage) and isinstance(index, IndexPage)
    assert home.map is not None and home.map == index.map
    assert [area.page for area in home.map.areas] == [entry.ref.address for entry in home.counties]
    assert [area.number for area in home.map.areas] == list(range(1, 13))
    assert home.map.all_named and all(area.large_number is not None for area in home.map.areas)


def test_every_county_is_shown_among_the_others(pages: dict[str, Page]) -> None:
    counties = [page for page in pages.values() if isinstance(page, CountyPage) and page.paging.number == 1]
    beside = {page.address: page.outline for page in counties if page.name}
    assert len(beside) == 12
    for address, outline in beside.items():
        assert outline is not None
        for other in outline.neighbours:
            mutual = beside[other.address]
            assert mutual is not None
            assert address in [ref.address for ref in mutual.neighbours]
    beyond = pages["counties/beyond/"]
    assert isinstance(beyond, CountyPage) and beyond.outline is None


def test_live_places_with_a_position_are_located_and_no_others(pages: dict[str, Page]) -> None:
    places = [page for page in pages.values() if isinstance(page, PlacePage)]
    located = {page.address for page in places if page.locator is not None}
    assert located == {
        page.address for page in places if page.place is not None and page.place.latitude is not None
    }
    assert len(located) > 10
    withheld = [page for page in places if page.place is not None and page.place.withheld]
    assert withheld and not [page for page in withheld if page.locator is not None]


def test_a_withheld_address_is_never_located_whatever_else_is_known(room: Newsroom) -> None:
    maps = Maps(room)
    assert maps.locator("tidewick", LIBRARY) is not None
    assert maps.locator("tidewick", replace(LIBRARY, withheld=True)) is None
    assert maps.locator("tidewick", replace(LIBRARY, latitude=None)) is None
    # A position far from its county would be drawn at sea or not at all.
    assert maps.locator("tidewick", replace(LIBRARY, latitude=10.0)) is None


def test_a_place_in_the_seat_says_so(room: Newsroom) -> None:
    found = Maps(room).locator("tidewick", replace(LIBRARY, town="Port Tidewick"))
    assert found is not None
    assert (found.seat, found.direction) == ("Port Tidewick", "in")
    assert sum(town.is_seat for town in found.towns) == 1


def test_the_frame_holds_no_map(room: Newsroom) -> None:
    frame = make_frame(room)
    for field in msgspec.structs.fields(Frame):
        assert not isinstance(getattr(frame, field.name), MapView | OutlineView | LocatorView)


def test_time_and_stories_change_no_outline(room: Newsroom, pages: dict[str, Page]) -> None:
    later = compose_edition(dataclasses.replace(room, stories=()), NOW + timedelta(days=400)).edition.pages
    for page in later:
        if isinstance(page, HomePage | IndexPage) and page.map is not None:
            before = pages[page.address]
            assert isinstance(before, HomePage | IndexPage) and page.map == before.map
            break
    else:
        pytest.fail("no map")


def test_without_a_map_or_with_one_county_there_is_none(room: Newsroom) -> None:
    for areas in ((), room.areas[:1]):
        maps = Maps(dataclasses.replace(room, areas=areas))
        assert maps.all_counties is None
        assert maps.outline("skerry") is None
    assert Maps(dataclasses.replace(room, areas=())).locator("skerry", LIBRARY) is None


def test_a_county_without_a_shape_keeps_its_number_in_the_list(room: Newsroom) -> None:
    maps = Maps(dataclasses.replace(room, areas=room.areas[1:]))
    assert maps.all_counties is not None
    assert [area.number for area in maps.all_counties.areas] == list(range(2, 13))
    assert maps.outline("skerry") is None


def test_a_name_too_long_for_its_county_gives_way_to_the_number(room: Newsroom) -> None:
    counties = (
        dataclasses.replace(room.station.counties[0], name="The Lower Northern Skerries"),
        *room.station.counties[1:],
    )
    maps = Maps(dataclasses.replace(room, station=dataclasses.replace(room.station, counties=counties)))
    assert maps.all_counties is not None
    first = maps.all_counties.areas[0]
    assert first.label is not None and first.label.words == "1" and not first.is_named
    assert not maps.all_counties.all_named


@pytest.mark.parametrize(
    ("north", "east", "direction"),
    [
        (1, 0, "n"),
        (1, 1, "ne"),
        (0, 1, "e"),
        (-1, 1, "se"),
        (-1, 0, "s"),
        (-1, -1, "sw"),
        (0, -1, "w"),
        (1, -1, "nw"),
    ],
)
def test_directions_are_those_of_the_compass(north: int, east: int, direction: str) -> None:
    start = Position(60.0, 179.95)
    end_longitude = (start.longitude + 0.1 * east / cos(radians(60)) + 180) % 360 - 180
    assert direction_from(start, Position(60.0 + 0.1 * north, end_longitude)) == direction


@given(
    st.builds(Position, st.floats(-70, 70), st.floats(-179, 179)),
    st.floats(-0.4, 0.4),
    st.floats(-0.4, 0.4),
)
def test_the_way_back_is_the_opposite_way(start: Position, north: float, east: float) -> None:
    if abs(north) + abs(east) < 1e-3:
        return
    end = Position(start.latitude + north, start.longitude + east)
    opposite = {"n": "s", "ne": "sw", "e": "w", "se": "nw", "s": "n", "sw": "ne", "w": "e", "nw": "se"}
    there, back = direction_from(start, end), direction_from(end, start)
    ring = ["n", "ne", "e", "se", "s", "sw", "w", "nw"]
    # On the border between two directions rounding may give either.
    assert (ring.index(opposite[there]) - ring.index(back)) % 8 in (0, 1, 7)
