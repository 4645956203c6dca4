"""The finder's plain list: whole on one page or divided by county, and an index that leads to every town of it."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from sitegen.edition.compose import compose_edition
from sitegen.edition.finder_list import PLACES_ON_A_PAGE
from sitegen.edition.models import FindPage
from sitegen.site.content import read_content
from tests.samples.station_folder import story, write_folder

NOW = datetime(2026, 12, 1, 12, tzinfo=UTC)


def drive(places: list[tuple[str, str, str]]) -> str:
    """A story whose ask is taken at some places: (name, town, last day)."""
    entries = "\n".join(
        f"      - {{name: {name}, street: 1 Quay, town: {town}, county: {county}, hours: 'Mo-Su 09:00-17:00', until: {last}}}"
        for name, (town, county), last in ((name, county_of(town), last) for name, town, last in places)
    )
    return story(
        f"asks:\n  - title: Bring a coat\n    kind: bring\n    deadline: 2026-12-30\n    drop_off:\n{entries}\n"
    )


def county_of(town: str) -> tuple[str, str]:
    return (town, "Gull Bank" if town.startswith("Gull") else "Heron Flats")


def find_pages(folder: Path, places: list[tuple[str, str, str]]) -> dict[str, FindPage]:
    reading = read_content(write_folder(folder, {"stories/2026/a.md": drive(places)}))
    assert reading.newsroom is not None and not reading.faults, reading.faults
    pages = compose_edition(reading.newsroom, NOW).edition.pages
    return {page.address: page for page in pages if isinstance(page, FindPage)}


def many(town: str, count: int, last: str = "2026-12-20") -> list[tuple[str, str, str]]:
    return [(f"Hall {number:02}", town, last) for number in range(count)]


def listed(page: FindPage) -> list[tuple[str, str]]:
    return [
        (town.town, stop.place.name)
        for county in page.counties
        for town in county.towns
        for stop in town.places
    ]


def anchors(page: FindPage) -> set[str]:
    found = [county.anchor for county in page.counties]
    found += [town.anchor for county in page.counties for town in county.towns]
    assert len(found) == len(set(found))
    return set(found)


@pytest.mark.parametrize("count", [1, PLACES_ON_A_PAGE, PLACES_ON_A_PAGE + 1, 3 * PLACES_ON_A_PAGE])
def test_every_place_stands_in_the_list_once_and_the_index_leads_to_every_town(
    tmp_path: Path, count: int
) -> None:
    places = [*many("Lowgate", count // 2), *many("Gull Point", count - count // 2)]
    pages = find_pages(tmp_path, places)
    assert sorted(spot for page in pages.values() for spot in listed(page)) == sorted(
        (town, name) for name, town, _ in places
    )
    first = pages["find/"]
    assert (len(pages) == 1) == (count <= PLACES_ON_A_PAGE) == bool(first.counties)
    assert first.data is not None and not [page for page in pages.values() if page.data and page is not first]
    assert all(len(listed(page)) <= PLACES_ON_A_PAGE for page in pages.values())
    named = {town.town for county in first.index for town in county.towns}
    assert named == {town for _, town, _ in places}
    for county in first.index:
        assert county.address.partition("#")[0] in pages
        for town in county.towns:
            address, _, fragment = town.address.partition("#")
            assert fragment in anchors(pages[address])
            # The first of its places stands there.
            assert town.town in {where for where, _ in listed(pages[address])}


def test_a_town_stands_in_the_index_as_long_as_any_of_its_places(tmp_path: Path) -> None:
    places = [*many("Lowgate", PLACES_ON_A_PAGE, "2026-12-20"), ("Zebra Hall", "Lowgate", "2026-12-24")]
    pages = find_pages(tmp_path, places)
    assert "find/heron-flats/page-2/" in pages
    ((town,),) = (county.towns for county in pages["find/"].index)
    assert town.address.startswith("find/heron-flats/#")
    assert town.last.iso == "2026-12-24T17:00:00-05:00"


def test_towns_of_one_spelling_have_anchors_of_their_own(tmp_path: Path) -> None:
    pages = find_pages(tmp_path, [("A", "Saint Ann", "2026-12-20"), ("B", "Saint-Ann", "2026-12-20")])
    assert len(anchors(pages["find/"])) == 3


def test_nothing_to_find(tmp_path: Path) -> None:
    reading = read_content(write_folder(tmp_path, {"stories/2026/a.md": story()}))
    assert reading.newsroom is not None
    (page,) = (
        each for each in compose_edition(reading.newsroom, NOW).edition.pages if isinstance(each, FindPage)
    )
    assert page.data is not None and not page.index and not page.counties
