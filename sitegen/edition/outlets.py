"""What leaves the pages: feeds, the data for other rooms, the sitemap and the files that robots read.

Made from the same models as the pages, so that they say the same and end with them. A copy in somebody's reader cannot be
called back: feeds say what is asked, until when and where to read on, but no street, no hours and no number.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import UTC, datetime
from urllib.parse import urljoin

from msgspec import Struct

from sitegen.clock.asks import place_state, standing
from sitegen.clock.stories import has_come
from sitegen.clock.timed import Timed, Until
from sitegen.edition import addresses
from sitegen.edition.digests import digest_of
from sitegen.edition.identity import ask_id, story_id
from sitegen.edition.models import (
    AskLine,
    AskView,
    Body,
    CorrectionView,
    DatesView,
    File,
    Frame,
    LeadPage,
    Moment,
    NotFoundPage,
    Page,
    PictureView,
    Ref,
    RobotsFile,
    SecurityFile,
    SitemapFile,
    StoryPage,
    WithdrawnPage,
)
from sitegen.edition.moments import moment
from sitegen.edition.paging import chunks
from sitegen.edition.published import Published, PublishedAsk, PublishedStory
from sitegen.edition.views import Views, story_order
from sitegen.newsroom.records import Kind
from sitegen.newsroom.times import day_start, start_of

NEWEST_IN_FEED = 30
"""Stories a feed carries whatever their age, besides every story with something to do."""
MOST_IN_SITEMAP = 50_000
"""The sitemaps protocol 0.9 allows no more addresses, and no more than 52,428,800 bytes, in one file
(https://www.sitemaps.org/protocol.html); so many addresses reach that size only at a thousand characters each."""
NEVER = datetime(1970, 1, 1, tzinfo=UTC)
"""The change of a feed that has not held anything yet: RFC 4287 wants a date, and every other would be invented."""


# --- records ---------------------------------------------------------------------------------


class AskTiming(Struct, frozen=True):
    """When one can do what an ask wants, as it is said in a line."""

    opens: Moment | None
    """Set while coming."""
    dates: tuple[DatesView, ...]
    closes: Moment | None
    check_again_by: Moment | None
    last_place: Moment | None
    """When the last of its places takes for the last time, where that is before the ask's own end."""
    places: int = 0
    """How many it has."""
    no_places_left: bool = False
    """As in `AskView`."""


class FeedAsk(Struct, frozen=True):
    """A live ask as a feed tells it."""

    kind: Kind
    title: str
    address: str
    """Site address of the ask on its story's page."""
    timing: AskTiming


class FeedEntry(Struct, frozen=True):
    """A story in a feed."""

    id: str
    """URI."""
    address: str
    headline: str
    summary: str
    language: str
    """BCP 47, the story's own."""
    published: datetime
    """UTC: its release."""
    updated: datetime
    """UTC: the later of release and newest correction."""
    aired: Moment
    some_ended: bool
    reporter: str
    topics: tuple[Ref, ...]
    sponsored_by: str
    corrections: tuple[CorrectionView, ...]
    """Newest first."""
    asks: tuple[FeedAsk, ...]
    help: tuple[FeedAsk, ...]
    body: Body
    photo: PictureView | None


class FeedMark(Struct, frozen=True):
    """What stands for an entry where nobody looks into it."""

    id: str
    published: datetime
    """UTC."""
    updated: datetime
    """UTC."""
    page: bytes
    """A digest of the story's page where that rests, and else of the entry."""


class FeedFile(File, frozen=True, dict=True):
    """An Atom feed (RFC 4287) of the whole site or of one county."""

    frame: Frame
    county: Ref | None
    """None for the whole site; with an empty label for stories from beyond."""
    updated: datetime
    """UTC: the newest of its entries'."""
    marks: tuple[FeedMark, ...]
    """Of its entries."""

    def with_entries(self, entries: Callable[[], tuple[FeedEntry, ...]]) -> FeedFile:
        """The same, which gives its entries. They are no part of the model: marks stand for them."""
        self.__dict__["told"] = entries
        return self

    @property
    def entries(self) -> tuple[FeedEntry, ...]:
        """Newest first."""
        told: Callable[[], tuple[FeedEntry, ...]] = self.__dict__["told"]
        return told()


class StoryPages(Struct, frozen=True):
    """The pages of an edition's stories, as far as a feed needs them."""

    page: Callable[[str], StoryPage]
    """The page at an address."""
    at_rest: Callable[[str], bytes | None]
    """The digest of the page at an address, where its story is at rest; else None."""
    are_held: bool
    """What is composed for a feed is held, so that the feed need not come back here. Else it is composed once more for a feed that
    has to be made, which few have to."""


class AskRecord(Struct, frozen=True):
    """A live ask for other rooms of the station."""

    id: str
    """URI, the same for the ask's whole life."""
    view: AskView
    timing: AskTiming
    counties: tuple[Ref, ...]
    """Those it helps and those in which one of its places stands."""
    true_until: str
    """The first instant at which this record would differ, as `Moment.iso`; empty when none is known."""


class AsksFile(File, frozen=True):
    """Every ask that is open or coming, with its places: for on-screen text, the app, the newsletter."""

    frame: Frame
    asks: tuple[AskRecord, ...]
    """Soonest end first."""


class SitemapIndexFile(File, frozen=True):
    """The list of a large site's sitemaps."""

    base: str
    parts: tuple[str, ...]
    """Site addresses."""


# --- all of them -----------------------------------------------------------------------------


def outlets(
    published: Published,
    views: Views,
    frame: Frame,
    pages: StoryPages,
    listed: Sequence[str],
) -> tuple[File, ...]:
    """Every file that is made from an edition's stories and pages. `listed` are the addresses that a search may show, sorted."""
    files: list[File] = [*_feeds(published, views, frame, pages), _asks(published, views, frame)]
    files += sitemaps(published.newsroom.station.address, _with_changes(published, listed))
    files += _for_robots(published)
    return tuple(files)


def last_change(each: PublishedStory, published: Published) -> datetime:
    """The later of a story's release and its newest published correction (UTC). Nothing else changes a story: that an ask
    opens or ends was said in it from the beginning."""
    moments = [each.release]
    for correction in each.story.corrections:
        start = day_start(correction.date, published.zone)
        if published.until(has_come(start, published.as_of)):
            moments.append(start)
    return max(moments)


# --- feeds -----------------------------------------------------------------------------------


def _feeds(published: Published, views: Views, frame: Frame, pages: StoryPages) -> list[File]:
    newest = sorted(published.stories.values(), key=story_order)
    held: dict[str, FeedEntry] = {}
    marks: dict[str, FeedMark] = {}

    def entry(each: PublishedStory) -> FeedEntry:
        found = held.get(each.story.id)
        if found is None:
            found = _entry(each, pages.page(addresses.story(each.story.id)), published)
            if pages.are_held or each.has_live_ask:
                held[each.story.id] = found
        return found

    def mark(each: PublishedStory) -> FeedMark:
        found = marks.get(each.story.id)
        if found is None:
            page = pages.at_rest(addresses.story(each.story.id)) or digest_of(entry(each))
            name = story_id(each.story, published.newsroom.station)
            found = FeedMark(name, each.release, last_change(each, published), page)
            marks[each.story.id] = found
        return found

    def feed(address: str, county: Ref | None, stories: Sequence[PublishedStory]) -> FeedFile:
        chosen = [each for place, each in enumerate(stories) if place < NEWEST_IN_FEED or each.has_live_ask]
        told = tuple(map(mark, chosen))
        file = FeedFile(address, frame, county, max((each.updated for each in told), default=NEVER), told)
        if pages.are_held:
            entries = tuple(map(entry, chosen))
            return file.with_entries(lambda: entries)
        return file.with_entries(lambda: tuple(map(entry, chosen)))

    files: list[File] = [feed(addresses.FEED, None, newest)]
    of_county: dict[str, list[PublishedStory]] = {key: [] for key in views.county_refs}
    for each in newest:
        live = (key for ask in each.asks if ask.is_live for key in ask.counties)
        for key in dict.fromkeys((*each.story.counties, *live)):
            of_county[key].append(each)
    for key, ref in views.county_refs.items():
        files.append(feed(addresses.county_feed(key), ref, of_county[key]))
    return files


def _entry(each: PublishedStory, page: StoryPage, published: Published) -> FeedEntry:
    return FeedEntry(
        id=story_id(each.story, published.newsroom.station),
        address=page.address,
        headline=page.headline,
        summary=page.summary,
        language=page.language,
        published=each.release,
        updated=last_change(each, published),
        aired=page.aired,
        some_ended=page.some_ended,
        reporter=page.reporter,
        topics=page.topics,
        sponsored_by=page.sponsored_by,
        corrections=page.corrections,
        asks=tuple(_feed_ask(ask) for ask in page.asks),
        help=tuple(_feed_ask(ask) for ask in page.help),
        body=page.body,
        photo=page.photo,
    )


def _feed_ask(ask: AskView) -> FeedAsk:
    return FeedAsk(ask.kind, ask.title, f"{ask.story.address}#{ask.anchor}", timing(ask))


def timing(ask: AskView | AskLine) -> AskTiming:
    """When one can do what a live ask wants."""
    return AskTiming(
        ask.opens,
        ask.dates,
        ask.closes,
        ask.check_again_by,
        ask.last_place_closes,
        ask.places if isinstance(ask, AskLine) else len(ask.places),
        ask.no_places_left,
    )


# --- data for other rooms --------------------------------------------------------------------


def _asks(published: Published, views: Views, frame: Frame) -> AsksFile:
    return AsksFile(
        addresses.ASKS_DATA, frame, tuple(_record(each, published, views) for each in published.asks)
    )


def _record(each: PublishedAsk, published: Published, views: Views) -> AskRecord:
    until = Until()
    until(standing(each.times, published.as_of))
    for place in each.places:
        until(place_state(place.times, published.as_of))
    if each.story.withdrawn is not None:
        until(has_come(day_start(each.story.withdrawn.date, published.zone), published.as_of))
    view = views.collecting(until).ask(each)
    published.until(Timed(view, until.first))
    return AskRecord(
        id=ask_id(each.story, each.ask, published.newsroom.station),
        view=view,
        timing=timing(view),
        counties=views.counties(each.counties),
        true_until=moment(until.first, published.zone).iso if until.first is not None else "",
    )


# --- for robots ------------------------------------------------------------------------------


def addresses_to_list(pages: Iterable[Page]) -> Iterator[str]:
    """The addresses of those pages that a search may show."""
    return (page.address for page in pages if not isinstance(page, WithdrawnPage | LeadPage | NotFoundPage))


def _with_changes(published: Published, listed: Iterable[str]) -> tuple[tuple[str, str], ...]:
    """(address, last change or empty) of pages. Only a story's change is known for certain: every other page is made of many
    things that come and go."""
    changed = {
        addresses.story(each.story.id): last_change(each, published).strftime("%Y-%m-%dT%H:%M:%SZ")
        for each in published.stories.values()
    }
    return tuple((address, changed.get(address, "")) for address in listed)


def sitemaps(base: str, entries: Sequence[tuple[str, str]]) -> list[File]:
    """One sitemap; or, for more addresses than one may hold, several and the index of them at the one's address."""
    runs = chunks(entries, MOST_IN_SITEMAP)
    if len(runs) == 1:
        return [SitemapFile(addresses.SITEMAP, base, runs[0])]
    parts = tuple(addresses.sitemap_part(number) for number in range(1, len(runs) + 1))
    return [
        SitemapIndexFile(addresses.SITEMAP, base, parts),
        *(SitemapFile(part, base, run) for part, run in zip(parts, runs, strict=True)),
    ]


def _for_robots(published: Published) -> list[File]:
    station = published.newsroom.station
    files: list[File] = [RobotsFile(addresses.ROBOTS, station.address + addresses.SITEMAP)]
    if station.security is not None:
        expires = start_of(station.security.expires, published.zone)
        # RFC 9116, section 3: the file counts at the host's root, so that is where it says it belongs.
        canonical = urljoin(station.address, "/" + addresses.SECURITY)
        files.append(SecurityFile(addresses.SECURITY, station.security.contact, expires, canonical))
    return files
