"""Calendars read back by readers that did not write them, and expanded over a year: they say what the clock says.

Readers: vobject 0.9.9 and recurring-ical-events 3.8.2 (in Python), ical.js 2.2.1 (in JavaScript, its VTIMEZONE registered and
the machine's zone UTC, so that no guess about the zone can help it).
"""

from __future__ import annotations

import dataclasses
import json
import os
import subprocess
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from shutil import which
from typing import Any
from zoneinfo import ZoneInfo

import pytest
import recurring_ical_events
import vobject
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from icalendar import Calendar
from msgspec.structs import replace

from sitegen.clock.events import Extent, Occasion, occasions
from sitegen.edition.published import Published, PublishedAsk, publish
from sitegen.newsroom.records import County, Kind, Newsroom, Station, StationContact, Story, When
from sitegen.newsroom.times import day_start, zone_named
from tests.clock.minute_walk import WINDOWS, Walk, examples, walk_of
from tests.clock.test_against_minute_walk import asks
from tests.samples.calendar_bytes import calendars, local, newsroom_of
from tests.samples.read_calendars import entries_of, open_in_calendar

CHECKOUT = Path(__file__).parents[2]
ICAL_JS = CHECKOUT / "node_modules" / "ical.js" / "dist" / "ical.js"
YEAR = timedelta(days=366)

Found = tuple[str, datetime, datetime]
"""(address of the ask, start, end); days count from their first instant to that of the day after the last."""


@pytest.fixture(scope="module")
def demonstration() -> Newsroom:
    return newsroom_of(CHECKOUT)


# --- what the clock says -----------------------------------------------------------------------


def truth(newsroom: Newsroom, as_of: datetime) -> set[Found]:
    """Every closing and every occasion still ahead, as the clock alone has them."""
    published = publish(newsroom, as_of)
    found: set[Found] = set()
    for ask in published.asks:
        address = f"{newsroom.station.address}stories/{ask.story.id}/#ask-{ask.ask.key}"
        found |= {(address, *_span(each)) for each in _times(published, ask) if _is_ahead(each, as_of)}
    return found


def _is_ahead(occasion: Occasion, as_of: datetime) -> bool:
    return occasion.closes > as_of


def _times(published: Published, ask: PublishedAsk) -> Iterator[Occasion]:
    zone = published.zone
    if ask.ask.kind in (Kind.GO, Kind.TUNE_IN):
        ends = ask.times.ends
        known = [
            occasion
            for place in ask.live_places
            for occasion in occasions(ask.ask, place.entry, replace(ask.times, stops=None), zone)
            if place.times.stops is None or occasion.opens < place.times.stops
        ]
        on = [each for each in known if each.opens < ends and each.closes > published.as_of]
        if not on:
            on = [each for each in occasions(ask.ask, None, ask.times, zone) if each.opens < ends]
            on = [each for each in on if each.closes > published.as_of]
        yield from on or [_end(ask.times.ends, zone)]
        return
    doors = [place.times.last_chance for place in ask.live_places if place.times.last_chance is not None]
    ongoing = ask.times.lapses and not ask.times.stopped_early
    yield _end(ask.times.ends if ongoing else max(doors, default=ask.times.ends), zone)


def _end(last: datetime, zone: ZoneInfo) -> Occasion:
    """An end as it is marked: as its day, when it is a day's end."""
    day = (last - timedelta(microseconds=1)).astimezone(zone).date()
    if last == day_start(last.astimezone(zone).date(), zone):
        return Occasion(day_start(day, zone), last, Extent.DAYS)
    return Occasion(last, last, Extent.START)


def _span(occasion: Occasion) -> tuple[datetime, datetime]:
    return occasion.opens, occasion.opens if occasion.extent is Extent.START else occasion.closes


# --- what readers say --------------------------------------------------------------------------


def by_recurring(data: bytes, zone: ZoneInfo, as_of: datetime) -> set[Found]:
    """Expanded by recurring-ical-events."""
    calendar = Calendar.from_ical(data)
    assert not [component.errors for component in calendar.walk() if component.errors]
    found = set()
    for event in recurring_ical_events.of(calendar).between(as_of - timedelta(days=3), as_of + YEAR):
        if event["STATUS"] == "CONFIRMED":
            start = event["DTSTART"].dt
            end = event["DTEND"].dt if "DTEND" in event else start
            found.add((str(event["URL"]), _instant(start, zone), _instant(end, zone)))
    return found


def _instant(moment: date, zone: ZoneInfo) -> datetime:
    return moment.astimezone(UTC) if isinstance(moment, datetime) else day_start(moment, zone)


EXPAND = """
import { readFileSync } from 'node:fs';
const ICAL = (await import(process.argv[1])).default;
const [texts, last] = JSON.parse(readFileSync(0, 'utf8'));
console.log(JSON.stringify(texts.map((text) => {
  const calendar = new ICAL.Component(ICAL.parse(text));
  for (const zone of calendar.getAllSubcomponents('vtimezone')) ICAL.TimezoneService.register(zone);
  const said = (time) => time.isDate ? time.toString() : time.toUnixTime();
  const found = [];
  for (const component of calendar.getAllSubcomponents('vevent')) {
    const event = new ICAL.Event(component);
    if (component.getFirstPropertyValue('status') !== 'CONFIRMED') continue;
    const ended = component.hasProperty('dtend');
    const each = event.iterator();
    for (let start = each.next(); start; start = each.next()) {
      if (start.toUnixTime() > last) break;
      const end = event.isRecurring() ? event.getOccurrenceDetails(start).endDate : event.endDate;
      found.push([component.getFirstPropertyValue('url'), said(start), said(ended ? end : start)]);
      if (!event.isRecurring()) break;
    }
  }
  ICAL.TimezoneService.reset();
  return found;
})));
"""

needs_ical_js = pytest.mark.skipif(
    not ICAL_JS.is_file() or which("node") is None,
    reason="ical.js 2.2.1 is not in node_modules: npm install --no-save it",
)


def by_ical_js(texts: list[bytes], zone: ZoneInfo, last: datetime) -> list[set[Found]]:
    """Expanded by ical.js, all in one run."""
    run = subprocess.run(
        ["node", "--input-type=module", "-e", EXPAND, ICAL_JS.as_uri()],
        input=json.dumps([[text.decode() for text in texts], last.timestamp()]),
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "TZ": "UTC"},
    )
    assert run.returncode == 0, run.stderr
    answers: list[list[tuple[str, Any, Any]]] = json.loads(run.stdout)
    return [{(url, _of_js(start, zone), _of_js(end, zone)) for url, start, end in found} for found in answers]


def _of_js(said: str | float, zone: ZoneInfo) -> datetime:
    if isinstance(said, str):
        return day_start(date.fromisoformat(said), zone)
    return datetime.fromtimestamp(said, UTC)


def within(found: set[Found], as_of: datetime) -> set[Found]:
    """Those that a viewer can still come to, or that are marked still to come, in the year from a moment on."""
    return {each for each in found if (each[2] > as_of or each[1] == each[2]) and each[1] < as_of + YEAR}


def of_asks(found: set[Found]) -> set[Found]:
    return {each for each in found if "#ask-" in each[0]}


# --- the demonstration through a year ----------------------------------------------------------


def moments(newsroom: Newsroom, step: int) -> list[datetime]:
    first = local(newsroom, "2026-02-03 12:00")
    return [first + timedelta(days=days) for days in range(0, 364, step)]


def told(data: bytes, expected: set[Found], found: set[Found], as_of: datetime) -> None:
    """What is read equals the truth, but for occasions that began and whose end is not said."""
    begun = {each for each in found if each[1] == each[2] and each[1] <= as_of}
    assert within(of_asks(found), as_of) - begun == within(expected, as_of) - begun
    assert open_in_calendar(data) >= {address for address, _, _ in expected}


@pytest.fixture(scope="module")
def year(demonstration: Newsroom) -> dict[datetime, dict[str, bytes]]:
    """Every calendar of the demonstration at weekly moments of a year."""
    return {as_of: calendars(demonstration, as_of) for as_of in moments(demonstration, 7)}


def test_python_reads_what_the_clock_says_through_a_year(
    demonstration: Newsroom, year: dict[datetime, dict[str, bytes]]
) -> None:
    zone = zone_named(demonstration.station.time_zone)
    seen = 0
    for as_of, files in year.items():
        data = files["deadlines.ics"]
        expected = truth(demonstration, as_of)
        seen += len(expected)
        told(data, expected, by_recurring(data, zone, as_of), as_of)
    assert seen > 500


@needs_ical_js
def test_javascript_reads_what_the_clock_says_through_a_year(
    demonstration: Newsroom, year: dict[datetime, dict[str, bytes]]
) -> None:
    zone = zone_named(demonstration.station.time_zone)
    at = list(year)
    texts = [files["deadlines.ics"] for files in year.values()]
    for as_of, data, found in zip(at, texts, by_ical_js(texts, zone, at[-1] + YEAR), strict=True):
        told(data, truth(demonstration, as_of), found, as_of)


def test_open_asks_are_those_of_the_clock_through_a_year(
    demonstration: Newsroom, year: dict[datetime, dict[str, bytes]]
) -> None:
    """In the whole calendar, and in the counties' and the asks' own together."""
    base = demonstration.station.address
    for as_of, files in year.items():
        live = {
            f"{base}stories/{ask.story.id}/#ask-{ask.ask.key}" for ask in publish(demonstration, as_of).asks
        }
        own = {address: data for address, data in files.items() if address.startswith("stories/")}
        assert open_in_calendar(files["deadlines.ics"]) == live
        assert set().union(*(open_in_calendar(data) for data in own.values())) == live
        assert len(own) == len(live)
        counties = (data for address, data in files.items() if address.startswith("counties/"))
        assert set().union(*(open_in_calendar(data) for data in counties)) == live


def test_vobject_reads_every_calendar(demonstration: Newsroom) -> None:
    for data in calendars(demonstration, local(demonstration, "2026-12-02 12:00")).values():
        calendar = vobject.readOne(data.decode())
        assert calendar.validate(raiseException=True)
        events = getattr(calendar, "vevent_list", [])
        assert [event.uid.value for event in events] == [
            entry["UID"].replace("\\,", ",") for entry in entries_of(data)
        ]


# --- any asks, around changes of the clocks ----------------------------------------------------


@pytest.fixture(params=WINDOWS, ids=lambda window: f"{window[0]} {window[1]}")
def walk(request: pytest.FixtureRequest) -> Walk:
    return walk_of(*request.param)


def newsroom_with(walk: Walk, found: list[Any]) -> Newsroom:
    county = County("Heron Flats", "heron-flats")
    station = Station(
        "Heron Flats Television", "Bright Side", "https://www.example.com/", walk.zone.key, "en-US",
        StationContact(), (county,),
    )  # fmt: skip
    numbered = tuple(
        dataclasses.replace(ask, key=f"ask-{number}", title=f"Ask {number}", helps=("heron-flats",))
        for number, ask in enumerate(found)
    )
    return Newsroom(
        station, stories=(Story("2026/any", "Any", When(walk.days[0]), ("heron-flats",), asks=numbered),)
    )


@needs_ical_js
def test_all_readers_say_what_the_clock_says_around_changes(walk: Walk) -> None:
    @settings(
        examples(4), phases=[Phase.explicit, Phase.reuse, Phase.generate]
    )  # the smallest example takes hours
    @given(st.lists(asks(walk), min_size=4, max_size=4), st.integers(24, 200))
    def law(found: list[Any], hours: int) -> None:
        newsroom = newsroom_with(walk, found)
        as_of = day_start(walk.days[0], walk.zone) + timedelta(hours=hours)
        data = calendars(newsroom, as_of)["deadlines.ics"]
        expected = truth(newsroom, as_of)
        told(data, expected, by_recurring(data, walk.zone, as_of), as_of)
        told(data, expected, by_ical_js([data], walk.zone, as_of + YEAR)[0], as_of)
        vobject.readOne(data.decode()).validate(raiseException=True)

    law()
