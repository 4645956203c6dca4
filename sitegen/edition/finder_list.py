"""The plain list behind the finder: every place that takes something, by county and town.

A list too long for one page is divided by county, which a reader knows, rather than by number. The finder's own page
then holds an index of counties, towns and postal codes alone, each leading to its place in the list.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

from sitegen.clock.timed import latest
from sitegen.edition import addresses
from sitegen.edition.located import Located, located_places, place_takes
from sitegen.edition.models import (
    FindCounty,
    FindIndex,
    FindPage,
    FindTown,
    Frame,
    PlacesFile,
    TownRef,
)
from sitegen.edition.moments import end_moment
from sitegen.edition.paging import chunks, pagings, regroup
from sitegen.edition.published import PublishedAsk
from sitegen.edition.views import Views
from sitegen.newsroom.slugs import slug

PLACES_ON_A_PAGE = 24
"""What a first view of 14,600 bytes holds beside the finder's form, at some 220 bytes a place."""


def finder_list(
    asks: Iterable[PublishedAsk], views: Views, frame: Frame, finder: PlacesFile
) -> list[FindPage]:
    """The finder's page and, where the places of some asks do not all fit on it, the pages of their counties."""
    located = located_places(asks, views)
    (whole,) = pagings(addresses.FIND, 1)
    by_county = regroup((each.place.county, each) for each in located)
    if len(located) <= PLACES_ON_A_PAGE:
        counties = _counties(located, views)
        index = tuple(
            _index(key, here, f"{addresses.FIND}#{county.anchor}", [(addresses.FIND, county)], views)
            for (key, here), county in zip(by_county, counties, strict=True)
        )
        return [FindPage(frame, addresses.FIND, whole, counties, finder, None, index)]
    pages: list[FindPage] = []
    entries: list[FindIndex] = []
    for key, here in by_county:
        base = addresses.find_county(key)
        runs = chunks(here, PLACES_ON_A_PAGE)
        shown: list[tuple[str, FindCounty]] = []
        for run, paging in zip(runs, pagings(base, len(runs)), strict=True):
            address = addresses.part(base, paging.number)
            (county,) = _counties(run, views)
            pages.append(FindPage(frame, address, paging, (county,), None, county.county))
            shown.append((address, county))
        entries.append(_index(key, here, base, shown, views))
    return [FindPage(frame, addresses.FIND, whole, (), finder, None, tuple(entries)), *pages]


def _counties(located: Sequence[Located], views: Views) -> tuple[FindCounty, ...]:
    counties = []
    used: set[str] = set()
    for key, here in regroup((each.place.county, each) for each in located):
        towns = tuple(
            FindTown(
                town,
                views.postal_codes(key, town),
                tuple(place_takes(each, views) for each in group),
                _anchor(key, town, used),
            )
            for town, group in regroup((each.place.town, each) for each in here)
        )
        counties.append(FindCounty(views.county_refs[key], towns, _anchor(key, "", used)))
    return tuple(counties)


def _anchor(county: str, town: str, used: set[str]) -> str:
    """A fragment id that stays the same while other places come and go; two names of one spelling get a number."""
    plain = "-".join(part for part in ("in", county, slug(town)) if part)
    found, number = plain, 1
    while found in used:
        number += 1
        found = f"{plain}-{number}"
    used.add(found)
    return found


def _index(
    key: str,
    located: Iterable[Located],
    begins: str,
    shown: Iterable[tuple[str, FindCounty]],
    views: Views,
) -> FindIndex:
    """Where a county's list `begins` and where the towns of a county's places are `shown`, as (address of a page, what stands there); a town that goes over
    two pages is found where it begins, and stands in the index as long as any place of it."""
    ends: dict[str, datetime] = {}
    for each in located:
        last = latest(ends.get(each.place.town), *(entry.times.last_chance for _, entry in each.takes))
        assert last is not None  # only live places are listed
        ends[each.place.town] = last
    towns: dict[str, TownRef] = {}
    for address, county in shown:
        for town in county.towns:
            ref = TownRef(
                town.town,
                town.postal_codes,
                f"{address}#{town.anchor}",
                end_moment(ends[town.town], views.zone),
            )
            towns.setdefault(town.town, ref)
    return FindIndex(views.county_refs[key], begins, tuple(towns.values()))
