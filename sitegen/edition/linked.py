"""Linked data: what a page is about, in the terms of https://schema.org, from what the page itself shows and nothing more.

Types are those that are true of the thing: something wanted is a Demand (an announcement by someone who seeks goods or
services), help on offer is an Offer, money asked for is a DonateAction, never with an amount. What is over is not there;
what was called off is an Event that says so until it would have been over.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from zoneinfo import ZoneInfo

from msgspec.structs import replace

from sitegen.clock.events import Extent, Occasion
from sitegen.edition import addresses
from sitegen.edition.calendars import CalendarEntry, CalendarFile, CalendarPlace, Purpose
from sitegen.edition.models import (
    AskView,
    CountyPage,
    EpisodePage,
    Frame,
    HomePage,
    Moment,
    Page,
    PictureView,
    PlacePage,
    PlaceView,
    StoryPage,
    VideoView,
)
from sitegen.edition.recurrence import DAYS, Rule, Series
from sitegen.edition.vocabulary import Address, Node, One, Said, Term, node
from sitegen.newsroom.records import CorrectionKind, DayHours, Hours, Kind, Mode
from sitegen.newsroom.times import WEEKDAY_NAMES, local_day, zone_named

_EVERY = {"DAILY": "P1D", "WEEKLY": "P1W", "MONTHLY": "P1M"}
_DAY = 1440


def events_by_page(calendars: Iterable[CalendarFile]) -> dict[str, list[CalendarEntry]]:
    """What the whole site's calendar holds, by the address of the story's page."""
    events: dict[str, list[CalendarEntry]] = {}
    for file in calendars:
        if file.address == addresses.CALENDAR:
            for entry in file.entries:
                events.setdefault(entry.story.address.partition("#")[0], []).append(entry)
    return events


def with_linked_data(pages: Iterable[Page], events: Mapping[str, Sequence[CalendarEntry]]) -> list[Page]:
    """The pages, those that have something to say in linked data with it. `events` are those of `events_by_page`."""
    return [linked_page(page, events.get(page.address, ())) for page in pages]


def with_story_data(page: StoryPage, events: Iterable[CalendarEntry]) -> StoryPage:
    """A story's page with what it says in linked data; `events` are what the site's calendar holds of it."""
    return replace(page, linked=_story(page, events))


def linked_page(page: Page, events: Iterable[CalendarEntry] = ()) -> Page:
    """One page with what it says in linked data; `events` are what the site's calendar holds of a story's."""
    match page:
        case StoryPage():
            return with_story_data(page, events)
        case EpisodePage():
            return replace(page, linked=(_episode(page),))
        case PlacePage():
            trail = _trail(page.frame, (page.county.label, page.county.address), (page.name, page.address))
            return replace(page, linked=(_door(page.place), trail) if page.place is not None else (trail,))
        case CountyPage() if page.paging.number == 1:
            return replace(page, linked=(_trail(page.frame, (page.name, page.address)),))
        case HomePage():
            return replace(page, linked=(_site(page.frame),))
        case _:
            return page


# --- the site and the way to a page ------------------------------------------------------------


def _station(frame: Frame) -> Node:
    return node("NewsMediaOrganization", name=frame.station, url=Address(addresses.HOME))


def _site(frame: Frame) -> Node:
    return node(
        "WebSite",
        name=frame.programme,
        url=Address(addresses.HOME),
        inLanguage=frame.language,
        publisher=_station(frame),
    )


def _trail(frame: Frame, *steps: tuple[str, str]) -> Node:
    """The way from the home page. A step without a name is the page of news from beyond."""
    named = ((frame.programme, addresses.HOME), *steps)
    return node(
        "BreadcrumbList",
        itemListElement=tuple(
            node("ListItem", position=number, name=name or Said("county.beyond"), item=Address(address))
            for number, (name, address) in enumerate(named, 1)
        ),
    )


# --- stories -----------------------------------------------------------------------------------


def _story(page: StoryPage, events: Iterable[CalendarEntry]) -> tuple[Node, ...]:
    zone = zone_named(page.frame.time_zone)
    where = [(page.from_county.label, page.from_county.address)] if page.from_county else []
    return (
        _article(page),
        *(_ask(ask) for ask in (*page.asks, *page.help) if ask.kind not in (Kind.GO, Kind.TUNE_IN)),
        *(_event(entry, zone) for entry in events if entry.kind in (None, Kind.GO, Kind.TUNE_IN)),
        _trail(page.frame, *where, (page.headline, page.address)),
    )


def _article(page: StoryPage) -> Node:
    corrections = tuple(
        node("CorrectionComment", text=each.text, datePublished=each.date.isoformat())
        for each in page.corrections
        if each.kind is not CorrectionKind.UPDATE  # an update tells what is new; nothing was wrong
    )
    areas = tuple(node("AdministrativeArea", name=ref.label) for ref in page.counties if ref.label)
    return node(
        "NewsArticle",
        url=Address(page.address),
        headline=page.headline,
        description=page.summary,
        inLanguage=page.language,
        datePublished=page.aired.iso,
        dateModified=page.corrections[0].date.isoformat() if page.corrections else None,
        author=node("Person", name=page.reporter) if page.reporter else _station(page.frame),
        publisher=_station(page.frame),
        image=Address(page.photo.address) if page.photo is not None else None,
        video=_video(page.video, page.headline, page.summary, page.aired) if page.video is not None else None,
        contentLocation=(*((node("Place", name=page.town),) if page.town else ()), *areas),
        keywords=tuple(ref.label for ref in page.topics),
        correction=corrections,
    )


def _video(video: VideoView, name: str, summary: str, aired: Moment) -> Node:
    return node(
        "VideoObject",
        name=name,
        description=summary,
        contentUrl=video.src,
        uploadDate=aired.iso,
        duration=f"PT{video.runs}S" if video.runs is not None else None,
        thumbnailUrl=_picture(video.poster),
        caption=node(
            "MediaObject",
            contentUrl=Address(video.captions),
            encodingFormat="text/vtt",
            inLanguage=video.captions_language,
        ),
    )


def _picture(picture: PictureView | None) -> Address | None:
    return Address(picture.address) if picture is not None else None


def _episode(page: EpisodePage) -> Node:
    frame = page.frame
    return node(
        "TVEpisode",
        name=page.title or frame.programme,
        url=Address(page.address),
        datePublished=page.aired.iso,
        partOfSeries=node("TVSeries", name=frame.programme, url=Address(addresses.HOME)),
        publisher=_station(frame),
        video=_video(page.video, page.title or frame.programme, "", page.aired)
        if page.video is not None
        else None,
    )


# --- asks --------------------------------------------------------------------------------------


def _ask(ask: AskView) -> Node:
    """What an ask in force wants or offers, and until when. It never says how much money."""
    url = Address(f"{ask.story.address}#{ask.anchor}")
    opens = ask.opens.iso if ask.opens is not None else None
    ends = ask.closes or ask.check_again_by
    if ask.kind is Kind.GIVE:
        recipient = "Person" if ask.goes_to == "named person" else "Organization"
        return node(
            "DonateAction",
            name=ask.title,
            # The cautions travel with it.
            description=(Said("care.check"), Said("care.record")),
            url=url,
            target=url,
            recipient=node(recipient, name=ask.payee) if ask.payee else None,
            startTime=opens,
            endTime=ends.iso if ends is not None else None,
            actionStatus=Term("PotentialActionStatus"),
        )
    return node(
        "Offer" if ask.kind is Kind.GET_HELP else "Demand",
        name=ask.title,
        url=url,
        availabilityStarts=opens,
        availabilityEnds=ends.iso if ends is not None else None,
        areaServed=tuple(ref.label for ref in ask.helps if ref.label),
        availableAtOrFrom=tuple(_place(entry.place) for entry in ask.places),
    )


# --- places ------------------------------------------------------------------------------------


def _place(place: PlaceView) -> Node:
    return node(
        "Place",
        name=place.name,
        url=Address(place.page) if place.page else None,
        address=_address(place.street, place.town, place.postal_code),
    )


def _address(street: str, town: str, postal_code: str) -> Node:
    return node("PostalAddress", streetAddress=street, addressLocality=town, postalCode=postal_code)


def _door(place: PlaceView) -> Node:
    """A place with its position and hours, on its own page."""
    at_door = place.latitude is not None and not place.position_is_towns
    return node(
        "Place",
        name=place.name,
        url=Address(place.page),
        address=_address(place.street, place.town, place.postal_code),
        geo=node("GeoCoordinates", latitude=place.latitude, longitude=place.longitude) if at_door else None,
        telephone=place.phone,
        openingHoursSpecification=_hours(place.hours),
        specialOpeningHoursSpecification=(
            *(said for day in place.closed for said in _day_hours(DayHours(day, ()))),
            *(said for each in place.special_hours for said in _day_hours(each)),
        ),
    )


def _hours(hours: Hours) -> tuple[Node, ...]:
    """The hours of every week. The vocabulary cannot say `2nd Thursday`, and half of the hours would be untrue."""
    if hours.mode is not Mode.REGULAR or any(rule.weeks for rule in hours.rules):
        return ()
    return tuple(
        node(
            "OpeningHoursSpecification",
            dayOfWeek=tuple(Term(WEEKDAY_NAMES[day]) for day in rule.days),
            opens=_clock(start),
            closes=_closing(start, end),
        )
        for rule in hours.rules
        for start, end in rule.ranges
    )


def _day_hours(day: DayHours) -> tuple[Node, ...]:
    """A date's own hours. Closed all day is said as opening and closing at 00:00 (common practice, no source)."""
    said = day.day.isoformat()
    return tuple(
        node(
            "OpeningHoursSpecification",
            opens=_clock(start),
            closes=_closing(start, end) if end else "00:00",
            validFrom=said,
            validThrough=said,
        )
        for start, end in day.ranges or ((0, 0),)
    )


def _clock(minutes: int) -> str:
    hour, minute = divmod(minutes % _DAY, 60)
    return f"{hour:02}:{minute:02}"


def _closing(start: int, end: int) -> str:
    """A closing time before the opening one is of the next day; a whole day ends at its last minute."""
    return "23:59" if end - start >= _DAY else _clock(end)


# --- events ------------------------------------------------------------------------------------


def _event(entry: CalendarEntry, zone: ZoneInfo) -> Node:
    series = entry.series
    first, last = series.occasions[0], series.occasions[-1]
    is_closing = entry.purpose is not Purpose.EVENT
    on_air = entry.kind is Kind.TUNE_IN
    if entry.kind is None and entry.called_off is None:
        # A round-up has many, and its page is their address: each says only what is its own.
        return node(
            "Event",
            name=entry.title,
            startDate=_start(first, zone),
            endDate=_end(last, zone),
            location=_location(entry.place) if entry.place is not None else None,
        )
    return node(
        "BroadcastEvent" if on_air else "Event",
        name=entry.title,
        url=Address(entry.story.address),
        eventStatus=Term("EventCancelled" if entry.called_off is not None else "EventScheduled"),
        eventAttendanceMode=None if on_air else Term("OfflineEventAttendanceMode"),
        startDate=None if is_closing else _start(first, zone),
        endDate=_start(last, zone) if is_closing else _end(last, zone),
        eventSchedule=_schedule(series, series.rule, zone) if series.rule is not None else None,
        location=_location(entry.place) if entry.place is not None else None,
    )


def _location(place: CalendarPlace) -> Node:
    return node("Place", name=place.name, address=_address(place.street, place.town, place.postal_code))


def _start(occasion: Occasion, zone: ZoneInfo) -> str:
    if occasion.extent is Extent.DAYS:
        return local_day(occasion.opens, zone).isoformat()
    return occasion.opens.astimezone(zone).isoformat()


def _end(occasion: Occasion, zone: ZoneInfo) -> str | None:
    if occasion.extent is Extent.START:
        return None
    if occasion.extent is Extent.DAYS:
        return _last_day(occasion, zone).isoformat()
    return occasion.closes.astimezone(zone).isoformat()


def _last_day(occasion: Occasion, zone: ZoneInfo) -> date:
    return local_day(occasion.closes - timedelta(microseconds=1), zone)


def _schedule(series: Series, rule: Rule, zone: ZoneInfo) -> Node:
    """How an event recurs, in wall times of the station's zone."""
    first, last = series.occasions[0], series.occasions[-1]
    whole = first.extent is Extent.DAYS
    days: tuple[One, ...] = tuple(
        Term(WEEKDAY_NAMES[DAYS.index(day)]) if day in DAYS else day for day in rule.days
    )
    return node(
        "Schedule",
        startDate=local_day(first.opens, zone).isoformat(),
        endDate=local_day(last.opens, zone).isoformat(),
        startTime=None if whole else _time(first.opens.astimezone(zone).strftime("%H:%M")),
        endTime=_time(first.closes.astimezone(zone).strftime("%H:%M"))
        if first.extent is Extent.HOURS
        else None,
        repeatFrequency=_EVERY[rule.frequency],
        byDay=days,
        exceptDate=tuple(local_day(moment, zone).isoformat() for moment in series.left_out),
        scheduleTimezone=zone.key,
    )


def _time(clock: str) -> str:
    return f"{clock}:00"
