"""Over a year of weekly moments every output names the same open asks, and they are those that the clock names.

`READERS` lists the outputs. Each reader is given an edition's bytes and gives the asks it found in them, by the address of
the story's page and the fragment of the ask; `holds` says which asks an output has at all.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from html import unescape
from random import Random
from xml.etree import ElementTree

import pytest

from sitegen.clock.asks import Standing, place_state, plan_ask, standing
from sitegen.clock.stories import Visibility, plan_story, visibility
from sitegen.edition.identity import story_id
from sitegen.edition.models import CountyPage, DeadlinesPage, GetHelpPage, LeadPage, StoryPage
from sitegen.newsroom.records import Kind, Newsroom
from sitegen.newsroom.slugs import slug
from sitegen.newsroom.times import day_start, zone_named
from sitegen.site.content import read_content
from tests.counts import LONG, SEED
from tests.samples.outlet_files import CHECKOUT, Outlets
from tests.samples.random_station import BEGINS, canary, write_random_station
from tests.samples.read_calendars import open_in_calendar
from tests.samples.read_linked import open_in_linked_data
from tests.samples.search_reader import SearchReader

WEEKS = 53
ENOUGH = 3 * WEEKS
"""Asks, counted anew each week."""
STORIES = 120 if LONG else 40

Address = tuple[str, str]
"""(site address of the story's page, fragment of the ask)."""


@dataclass(frozen=True)
class LiveAsk:
    """An ask that the clock calls open or coming."""

    address: Address
    kind: Kind
    has_place: bool
    """One of its places has a last chance to come."""


@dataclass(frozen=True)
class Told:
    """An edition as bytes."""

    pages: dict[str, bytes]
    files: dict[str, bytes]


Reader = Callable[[Told], set[Address]]
Holds = Callable[[LiveAsk], bool]

_LINK = re.compile(r'href="[^"]*?(stories/[^"#]+)#(ask-[^"]+)"')
_TAG = re.compile(r'<section class="tag" id="(ask-[^"]+)"')
_ROW = re.compile(
    r'<p class="what"><span class="kind">[^<]*<span class="unseen">:</span></span> <a href="[^"]*?(stories/[^"#]+)#(ask-[^"]+)"'
)

_HELP = re.compile(
    r'<section class="tag"[^>]*>\s*<h4><span class="kind">[^<]*<span class="unseen">:</span></span> (.*?)</h4>.*?href="[^"]*?(stories/[^"#]+)">.*?</section>',
    re.DOTALL,
)
_MARKUP = re.compile("<[^>]+>")


def on_story_pages(told: Told) -> set[Address]:
    return {
        (path.removesuffix("index.html"), anchor)
        for path, data in told.pages.items()
        if path.startswith("stories/")
        for anchor in _TAG.findall(data.decode())
    }


def on_pages_below(folder: str) -> Reader:
    def read(told: Told) -> set[Address]:
        rows = (_ROW.findall(data.decode()) for path, data in told.pages.items() if path.startswith(folder))
        return {address for found in rows for address in found}

    return read


def on_help_page(told: Told) -> set[Address]:
    """The page shows asks in full, under their titles; a title's slug is the key of an ask that has no other."""
    pages = (data.decode() for path, data in told.pages.items() if path.startswith("get-help/"))
    found = (asking for page in pages for asking in _HELP.findall(page))
    return {(story, f"ask-{slug(_MARKUP.sub('', unescape(title)))}") for title, story in found}


def in_feeds(wanted: Callable[[str], bool]) -> Reader:
    def read(told: Told) -> set[Address]:
        found: set[Address] = set()
        for path, data in told.files.items():
            if path.endswith("feed.atom") and wanted(path):
                root = ElementTree.fromstring(data)
                for content in root.iter("{http://www.w3.org/2005/Atom}content"):
                    found |= set(_LINK.findall(unescape(content.text or "")))
        return found

    return read


def in_asks_data(told: Told) -> set[Address]:
    return {_split(ask["address"]) for ask in json.loads(told.files["data/asks.json"])["asks"]}


def in_finder_data(told: Told) -> set[Address]:
    return {_split(ask["address"]) for ask in json.loads(told.files["data/places.json"])["asks"]}


def in_calendars(wanted: Callable[[str], bool]) -> Reader:
    def read(told: Told) -> set[Address]:
        calendars = (data for path, data in told.files.items() if path.endswith(".ics") and wanted(path))
        return {_split(address) for data in calendars for address in open_in_calendar(data)}

    return read


def in_linked_data(told: Told) -> set[Address]:
    stories = (data for path, data in told.pages.items() if path.startswith("stories/"))
    return {_split(address) for data in stories for address in open_in_linked_data(data)}


def in_search(told: Told) -> set[Address]:
    directory = told.files.get("data/search.json")
    # An archive without a story has no search.
    return SearchReader(directory, told.files.__getitem__).asks() if directory is not None else set()


def _split(address: str) -> Address:
    page, _, anchor = address.partition("#")
    return page[page.index("stories/") :], anchor


def every(ask: LiveAsk) -> bool:
    return True


READERS: dict[str, tuple[Reader, Holds]] = {
    "story pages": (on_story_pages, every),
    "county pages": (on_pages_below("counties/"), every),
    "deadlines pages": (on_pages_below("deadlines/"), lambda ask: ask.kind is not Kind.GET_HELP),
    "help page": (on_help_page, lambda ask: ask.kind is Kind.GET_HELP),
    "feed": (in_feeds(lambda path: path == "feed.atom"), every),
    "county feeds": (in_feeds(lambda path: path != "feed.atom"), every),
    "asks data": (in_asks_data, every),
    "the calendar": (in_calendars(lambda path: path == "deadlines.ics"), every),
    "county calendars": (in_calendars(lambda path: path.startswith("counties/")), every),
    "asks' own calendars": (in_calendars(lambda path: path.startswith("stories/")), every),
    "linked data": (in_linked_data, every),
    "search": (in_search, every),
    "finder data": (in_finder_data, lambda ask: ask.has_place or ask.kind is Kind.GET_HELP),
}
"""For each output its reader, and which asks it has at all: the finder's data have what is somewhere, and whom to call."""


def by_the_clock(newsroom: Newsroom, moment: datetime) -> Iterator[LiveAsk]:
    """What is open or coming at a moment, asked of the clock alone."""
    zone = zone_named(newsroom.station.time_zone)
    episodes = {episode.id: episode for episode in newsroom.episodes}
    for story in newsroom.stories:
        if visibility(plan_story(story, episodes, zone), moment).value is not Visibility.PUBLISHED:
            continue
        for ask in story.asks:
            times = plan_ask(ask, newsroom.station.last_days, zone)
            if standing(times, moment).value in (Standing.ENDED, Standing.LAPSED):
                continue
            has_place = any(place_state(place, moment).value.live for place in times.places)
            yield LiveAsk((f"stories/{story.id}/", f"ask-{ask.key}"), ask.kind, has_place)


def weekly(first: date, chance: Random) -> list[datetime]:
    """Moments a week apart, each at some minute of its day."""
    start = datetime(first.year, first.month, first.day, tzinfo=UTC)
    return [start + timedelta(weeks=week, minutes=chance.randrange(1440)) for week in range(WEEKS)]


def needed(page: object) -> bool:
    return isinstance(page, StoryPage | CountyPage | DeadlinesPage | GetHelpPage | LeadPage)


@pytest.fixture(scope="module", params=["the demonstration", "a station made by chance"])
def station(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[Outlets, date]:
    pick = Random(SEED)
    for _ in range(20):
        root = CHECKOUT
        if request.param != "the demonstration":
            root = write_random_station(tmp_path_factory.mktemp("station"), pick, STORIES)
        reading = read_content(root)
        assert not reading.faults and reading.newsroom is not None
        newsroom = reading.newsroom
        # With some seeds the first station has few asks.
        if sum(len(list(by_the_clock(newsroom, moment))) for moment in weekly(BEGINS, Random(SEED))) > ENOUGH:
            return Outlets(newsroom), BEGINS
    raise AssertionError("too few asks for this to mean anything")


def test_every_output_names_the_asks_that_the_clock_names(station: tuple[Outlets, date]) -> None:
    outlets, first = station
    print(f"seed {SEED}")
    seen = 0
    for moment in weekly(first, Random(SEED)):
        edition = outlets.edition(moment)
        told = Told(outlets.pages(edition, needed), outlets.files(edition))
        asks = list(by_the_clock(outlets.newsroom, moment))
        seen += len(asks)
        for name, (reader, holds) in READERS.items():
            assert reader(told) == {ask.address for ask in asks if holds(ask)}, (name, moment)
    assert seen > ENOUGH, "too few asks for this to mean anything"


def test_what_is_hidden_leaves_by_no_way(tmp_path_factory: pytest.TempPathFactory) -> None:
    root = write_random_station(tmp_path_factory.mktemp("station"), Random(SEED + 1), STORIES)
    newsroom = read_content(root).newsroom
    assert newsroom is not None
    zone = zone_named(newsroom.station.time_zone)
    outlets = Outlets(newsroom)
    hidden = 0
    for moment in weekly(BEGINS, Random(SEED)):
        edition = outlets.edition(moment)
        whole = b"\n".join(outlets.files(edition).values())
        for secret in (b"Canarydesk", b"Canaryporch", b"34.98", b"-60.12"):
            assert secret not in whole, (secret, moment)
        for number, story in enumerate(
            sorted(newsroom.stories, key=lambda each: int(each.id.rpartition("-")[2]))
        ):
            if visibility(plan_story(story, {}, zone), moment).value is Visibility.PUBLISHED:
                continue
            hidden += 1
            word = canary(number)
            assert word.encode() not in whole and word.lower().encode() not in whole, (story.id, moment)
            assert f"{story.id}/".encode() not in whole, (story.id, moment)
    assert hidden > WEEKS


def test_the_feeds_date_of_a_story_changes_only_with_the_story(station: tuple[Outlets, date]) -> None:
    outlets, first = station
    zone = zone_named(outlets.newsroom.station.time_zone)
    corrected = {
        story_id(story, outlets.newsroom.station): [day_start(each.date, zone) for each in story.corrections]
        for story in outlets.newsroom.stories
    }
    atom = "{http://www.w3.org/2005/Atom}"
    dates: dict[str, set[str]] = {}
    contents: dict[str, set[str]] = {}
    for moment in weekly(first, Random(SEED))[:: 1 if LONG else 3]:
        root = ElementTree.fromstring(outlets.files(outlets.edition(moment))["feed.atom"])
        for entry in root.iter(f"{atom}entry"):
            name = entry.findtext(f"{atom}id") or ""
            dates.setdefault(name, set()).add(entry.findtext(f"{atom}updated") or "")
            contents.setdefault(name, set()).add(entry.findtext(f"{atom}content") or "")
            assert datetime.fromisoformat(entry.findtext(f"{atom}updated") or "") <= moment
    assert len(dates) > 20
    for name, found in dates.items():
        assert len(found) <= 1 + len(set(corrected[name])), name
    # Asks open and end all the time, and say so, without making the story news again.
    assert sum(len(found) > 1 for found in contents.values()) > 10
