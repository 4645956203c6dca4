"""Calendars: what closes and what happens, for the whole site, for each county and for each ask.

Names of entries last and dates move only with the story: nothing here changes merely because time goes by, but what is over
leaves, and what was called off stays as called off until it would have been over.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable
from datetime import datetime, timedelta
from enum import StrEnum

from msgspec import Struct
from msgspec.structs import replace

from sitegen.clock.asks import AskTimes, Standing, plan_ask
from sitegen.clock.events import Extent, Occasion, called_off, occasions, reminder, still_ahead
from sitegen.clock.stories import has_come
from sitegen.clock.timed import earliest, latest
from sitegen.edition import addresses
from sitegen.edition.identity import ask_id, story_id
from sitegen.edition.models import Ending, File, Frame, Moment, Ref
from sitegen.edition.moments import end_moment, start_moment
from sitegen.edition.published import Published, PublishedAsk, PublishedEntry, PublishedStory
from sitegen.edition.recurrence import Series, part_of, series_of
from sitegen.edition.views import Views
from sitegen.newsroom.records import DropOff, Kind, Place, Stop
from sitegen.newsroom.slugs import slug
from sitegen.newsroom.times import day_start, local_day, start_of

# --- records ---------------------------------------------------------------------------------


class Purpose(StrEnum):
    """What an entry marks."""

    CLOSING = "closing"
    """The last chance to do something."""
    CHECK = "check"
    """The day through which an ask without a closing date is known to be open."""
    EVENT = "event"


class CalendarPlace(Struct, frozen=True):
    """Where an entry happens; of a withheld place only the town is here."""

    name: str
    street: str
    town: str
    postal_code: str
    latitude: float | None
    """Of the door itself, else None."""
    longitude: float | None


class CalendarEntry(Struct, frozen=True):
    """One closing, one event or one series of events."""

    uid: str
    """Lasting, and different for every entry of a site."""
    sequence: int
    """How often the story has been changed in public, 0 or more: it grows with every date that moves."""
    revised: datetime
    """UTC: when what it says was last changed."""
    purpose: Purpose
    kind: Kind | None
    """None for an entry of a round-up."""
    title: str
    story: Ref
    """To the ask on its story's page."""
    series: Series
    place: CalendarPlace | None = None
    towns: tuple[str, ...] = ()
    """Of its live places, when it has several."""
    places: int = 0
    """How many live places it has."""
    opens: Moment | None = None
    """Set while coming."""
    closes: Moment | None = None
    """The end of the ask, for a closing."""
    last_place: Moment | None = None
    """When its last place takes for the last time, for a closing where that is before the ask's own end."""
    no_places_left: bool = False
    """As in `AskView`."""
    note: str = ""
    reminder: datetime | None = None
    """UTC: when to remind somebody of the last chance."""
    called_off: Ending | None = None
    """When set, nothing says where it would have been."""


class CalendarFile(File, frozen=True):
    """One calendar, read by programs."""

    frame: Frame
    page: str
    """Site address of the page that says the same to people."""
    county: Ref | None
    """Set for a county's calendar."""
    ask: str
    """The title, for the calendar of one ask; then it is for taking once, not for following."""
    years: tuple[int, int]
    """The first and the last local year it reaches."""
    entries: tuple[CalendarEntry, ...]
    """By their first moments. May be empty: those who follow a calendar keep following it."""


# --- making them -----------------------------------------------------------------------------


def calendar_files(published: Published, views: Views, frame: Frame) -> tuple[CalendarFile, ...]:
    """Every calendar of an edition. One ask's own is there only while it is open or coming."""
    return _Making(published, views, frame).files()


def story_entries(
    published: Published, views: Views, frame: Frame, story: PublishedStory
) -> tuple[CalendarEntry, ...]:
    """What the site's calendar holds of one story, in the calendar's order."""
    making = _Making(published, views, frame)
    entries = [entry for ask in story.asks for entry in making.entries_of(story, ask)]
    entries += [entry for each in making.listing(story) for entry in each.entries]
    return _in_order(entries)


def _in_order(entries: Iterable[CalendarEntry]) -> tuple[CalendarEntry, ...]:
    return tuple(sorted(entries, key=lambda entry: (entry.series.occasions, entry.uid)))


class _Entered(Struct, frozen=True):
    """Entries and the counties in whose calendars they stand."""

    counties: tuple[str, ...]
    entries: tuple[CalendarEntry, ...]


class _Making:
    def __init__(self, published: Published, views: Views, frame: Frame) -> None:
        self.published = published
        self.views = views
        self.frame = frame
        self.zone = published.zone
        self.as_of = published.as_of
        self.until = published.until
        self.station = published.newsroom.station
        newest = (each.story.aired.day.year for each in published.stories.values())
        self._year_when_empty = max(newest, default=2000)

    def files(self) -> tuple[CalendarFile, ...]:
        entered: list[_Entered] = []
        own: list[CalendarFile] = []
        for story in self.published.stories.values():
            for ask in story.asks:
                entries = self.entries_of(story, ask)
                if not entries:
                    continue
                counties = (*ask.ask.helps, *(entry.place.county for entry in ask.ask.drop_off))
                entered.append(_Entered(ask.counties if ask.is_live else counties, entries))
                if ask.is_live:
                    own.append(
                        self._file(
                            addresses.ask_calendar(ask.story.id, ask.ask.key),
                            addresses.ask(ask.story.id, ask.ask.key),
                            (entry for entry in entries if entry.called_off is None),
                            ask=ask.ask.title,
                        )
                    )
            entered += self.listing(story)
        whole = (entry for each in entered for entry in each.entries)
        files = [self._file(addresses.CALENDAR, addresses.DEADLINES, whole)]
        for key, ref in self.views.county_refs.items():
            here = (entry for each in entered if key in each.counties for entry in each.entries)
            files.append(self._file(addresses.county_calendar(key), addresses.county(key), here, county=ref))
        return (*files, *own)

    def _file(
        self,
        address: str,
        page: str,
        entries: Iterable[CalendarEntry],
        county: Ref | None = None,
        ask: str = "",
    ) -> CalendarFile:
        ordered = _in_order(entries)
        moments = [
            moment
            for entry in ordered
            for moment in (entry.series.occasions[0].opens, entry.series.occasions[-1].closes)
        ]
        years = [local_day(moment, self.zone).year for moment in moments] or [self._year_when_empty]
        return CalendarFile(address, self.frame, page, county, ask, (min(years), max(years)), ordered)

    # --- stories ---

    def _revised(self, story: PublishedStory) -> tuple[datetime, int]:
        """The later of a story's release and its newest correction, and how many corrections there are."""
        come = [
            start
            for each in story.story.corrections
            if self.until(has_come(start := day_start(each.date, self.zone), self.as_of))
        ]
        return max((story.release, *come)), len(come)

    # --- asks ---

    def entries_of(self, story: PublishedStory, each: PublishedAsk) -> tuple[CalendarEntry, ...]:
        planned = each.times
        if not each.is_live and planned.stops is None:
            return ()  # it was not called off
        if each.ask.stopped is not None:
            planned = plan_ask(dataclasses.replace(each.ask, stopped=None), self.station.last_days, self.zone)
        if not each.is_live and not self.until(called_off(each.times.stops, planned.closes, self.as_of)):
            return ()
        if each.ask.kind in (Kind.GO, Kind.TUNE_IN):
            entries = self._events(story, each, planned)
        else:
            entries = self._closing(story, each, planned)
        return self._reminding(entries)

    def _entry(
        self, story: PublishedStory, each: PublishedAsk, uid: str, purpose: Purpose, series: Series
    ) -> CalendarEntry:
        revised, corrections = self._revised(story)
        ask = each.ask
        stops = sum(stop is not None for stop in (ask.stopped, *(entry.stopped for entry in ask.drop_off)))
        coming = each.standing is Standing.COMING and ask.starts is not None
        return CalendarEntry(
            uid=uid,
            # A stop changes a date as a correction does, and so does the last door that shuts before its ask ends.
            sequence=corrections + stops + each.no_places_left,
            revised=revised,
            purpose=purpose,
            kind=ask.kind,
            title=ask.title,
            story=replace(self.views.story_ref(each.story), address=addresses.ask(each.story.id, ask.key)),
            series=series,
            opens=start_moment(ask.starts, self.zone) if coming and ask.starts is not None else None,
            no_places_left=each.no_places_left,
        )

    def _off(self, entry: CalendarEntry, stop: Stop, stops: datetime) -> CalendarEntry:
        """An entry as called off: what it was and what to do instead, but not where."""
        said = start_moment(stop.when, self.zone) if stop.when is not None else None
        return replace(
            entry,
            revised=max(entry.revised, stops),
            opens=None,
            no_places_left=False,
            called_off=Ending(said, "stopped", stop.say, stop.instead),
        )

    def _closing(
        self, story: PublishedStory, each: PublishedAsk, planned: AskTimes
    ) -> tuple[CalendarEntry, ...]:
        """The last chance: the last door's, or the end of an ask that never had one or has none left.

        Where no closing date is known the last door before the day of checking closes nothing.
        """
        times = each.times if each.is_live else planned
        doors = latest(*(place.last_chance for place in times.places))
        ongoing = times.lapses and not times.stopped_early
        last = times.ends if doors is None or ongoing or each.no_places_left else doors
        purpose = Purpose.CHECK if ongoing else Purpose.CLOSING
        uid = ask_id(each.story, each.ask, self.station)
        entry = self._entry(story, each, uid, purpose, self._instant(last))
        if not each.is_live:
            stop, stops = each.ask.stopped, each.times.stops
            assert stop is not None and stops is not None  # else it would not be called off
            return (self._off(entry, stop, stops),)
        live = each.live_places
        return (
            replace(
                entry,
                place=_shown(live[0].entry.place) if len(live) == 1 else None,
                towns=tuple(dict.fromkeys(place.entry.place.town for place in live)),
                places=len(live),
                closes=None if ongoing else end_moment(times.ends, self.zone),
                last_place=end_moment(last, self.zone) if last < times.ends else None,
            ),
        )

    def _instant(self, end: datetime) -> Series:
        """An end as something to mark: the day it leaves last, or the minute."""
        said = end_moment(end, self.zone)
        if said.clock is None:
            day = local_day(end - timedelta(microseconds=1), self.zone)
            return Series((Occasion(day_start(day, self.zone), end, Extent.DAYS),), None, ())
        return Series((Occasion(end, end, Extent.START),), None, ())

    # --- events ---

    def _events(
        self, story: PublishedStory, each: PublishedAsk, planned: AskTimes
    ) -> tuple[CalendarEntry, ...]:
        found: list[CalendarEntry] = []
        uid = ask_id(each.story, each.ask, self.station)
        used: set[str] = set()
        for number, entry in enumerate(each.ask.drop_off):
            name = uid if number == 0 else _unused(f"{uid}/{entry.place.id or slug(entry.place.name)}", used)
            used.add(name)
            found += self._event(story, each, planned, entry, name)
        if each.is_live and all(entry.called_off for entry in found):
            # No place, or none any more: what is left is the event itself. Where no day of it is left either, as when its
            # hours never fall on its dates, a live ask still ends at some moment.
            event = self._event(story, each, planned, None, uid)
            end = self._entry(story, each, uid, Purpose.CLOSING, self._instant(each.times.ends))
            return (*(event or [end]), *(off for off in found if off.uid != uid))
        return tuple(found)

    def _event(
        self, story: PublishedStory, each: PublishedAsk, planned: AskTimes, entry: DropOff | None, uid: str
    ) -> list[CalendarEntry]:
        """An event at one place, or without one: a series for each way in which it recurs."""
        times = occasions(each.ask, entry, planned, self.zone)
        own = entry.stopped if entry is not None else None
        own_stops = start_of(own.when, self.zone) if own is not None and own.when is not None else None
        stops = earliest(each.times.stops, own_stops)
        stop = own if own_stops is not None and own_stops == stops else each.ask.stopped
        in_effect = stops is not None and self.until(has_come(stops, self.as_of))
        found: list[CalendarEntry] = []
        for number, series in enumerate(series_of(times, self.zone)):
            # What recurs in one way keeps its name when another way is added behind it.
            name = uid if number == 0 else f"{uid}/{number + 1}"
            part = part_of(
                series,
                (each for each in series.occasions if stops is None or (each.opens >= stops) == in_effect),
                self.zone,
            )
            if part is None or not self._ahead(part):
                continue
            known = self._entry(story, each, name, Purpose.EVENT, part)
            if in_effect and stop is not None and stops is not None:
                known = self._off(known, stop, stops)
            else:
                known = replace(known, place=_shown(entry.place) if entry is not None else None)
            found.append(known)
        return found

    def _ahead(self, series: Series) -> bool:
        last = series.occasions[-1]
        return self.until(still_ahead(max(last.closes, last.opens), self.as_of))

    def _reminding(self, entries: tuple[CalendarEntry, ...]) -> tuple[CalendarEntry, ...]:
        """The entries; the one that has the ask's last chance reminds of it. Where no place takes any more that is gone."""
        on = [
            entry
            for entry in entries
            if entry.called_off is None and not (entry.no_places_left and entry.purpose is not Purpose.EVENT)
        ]
        if not on:
            return entries
        last = max(on, key=lambda entry: (entry.series.occasions[-1].closes, entry.uid))
        occasion = last.series.occasions[-1]
        # People are reminded of an event before it begins, of a closing before it is too late.
        moment = occasion.opens if last.purpose is Purpose.EVENT else occasion.closes
        said = replace(last, reminder=reminder(moment, self.zone))
        return tuple(said if entry is last else entry for entry in entries)

    # --- round-ups ---

    def listing(self, story: PublishedStory) -> list[_Entered]:
        """The entries of a round-up; two of one name in one town are told apart by their order in time."""
        if not story.entries:
            return []
        numbers: dict[str, int] = {}
        names: dict[int, str] = {}
        for row in story.story.listing:
            name = slug(f"{row.town} {row.what}") or "entry"
            numbers[name] = numbers.get(name, 0) + 1
            names[id(row)] = name if numbers[name] == 1 else f"{name}-{numbers[name]}"
        base = story_id(story.story, self.station)
        return [
            _Entered(
                (each.entry.county,), (self._row(story, each, f"{base}listing/{names[id(each.entry)]}"),)
            )
            for each in story.entries
        ]

    def _row(self, story: PublishedStory, each: PublishedEntry, uid: str) -> CalendarEntry:
        entry = each.entry
        revised, corrections = self._revised(story)
        ends_said = each.entry.ends is not None
        if each.starts is None:
            day = day_start(entry.day, self.zone)
            times = Occasion(day, max(each.ends, day), Extent.DAYS)
        else:
            times = Occasion(each.starts, each.ends, Extent.HOURS if ends_said else Extent.START)
        found = CalendarEntry(
            uid=uid,
            sequence=corrections + (entry.stopped is not None),
            revised=revised,
            purpose=Purpose.EVENT,
            kind=None,
            title=entry.what,
            story=self.views.story_ref(story.story),
            series=Series((times,), None, ()),
        )
        if each.stopped and entry.stopped is not None:
            when = entry.stopped.when
            stops = start_of(when, self.zone) if when is not None else revised
            return self._off(found, entry.stopped, stops)
        place = CalendarPlace(entry.place, "", entry.town, "", None, None)
        return replace(found, place=place, note=entry.note)


def _shown(place: Place) -> CalendarPlace:
    if place.withheld:
        return CalendarPlace("", "", place.town, "", None, None)
    at = place.position
    return CalendarPlace(
        place.name,
        place.street,
        place.town,
        place.postal_code,
        at.latitude if at is not None else None,
        at.longitude if at is not None else None,
    )


def _unused(name: str, used: set[str]) -> str:
    number = 2
    found = name
    while found in used:
        found, number = f"{name}-{number}", number + 1
    return found
