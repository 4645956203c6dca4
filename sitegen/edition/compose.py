"""The whole edition: every page's model as of one moment, and what the addresses gave away on the way."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct

from sitegen.edition import addresses
from sitegen.edition.calendars import calendar_files
from sitegen.edition.finding import finder_data
from sitegen.edition.linked import with_linked_data
from sitegen.edition.lists import Lists
from sitegen.edition.maps import Maps
from sitegen.edition.models import (
    Edition,
    Frame,
    Page,
    Ref,
)
from sitegen.edition.outlets import outlets
from sitegen.edition.pictures import Gallery
from sitegen.edition.published import Published, PublishedAsk, PublishedPlace, publish
from sitegen.edition.routes import Routes
from sitegen.edition.searching import search_data, search_view
from sitegen.edition.singles import Singles
from sitegen.edition.views import Views
from sitegen.newsroom.keeping import Drawer, NoDrawer
from sitegen.newsroom.records import Finding, Newsroom, Place

_PAGE_ORDER = ("about", "send-a-story", "corrections", "giving-safely")
GIVING_SAFELY = "giving-safely"
WORDS_ON_404 = 40


class Composition(Struct, frozen=True):
    """An edition, and the findings that only the whole could show."""

    edition: Edition
    findings: tuple[Finding, ...]


def compose_edition(newsroom: Newsroom, as_of: datetime, drawer: Drawer | None = None) -> Composition:
    """Everything the site holds as of a moment (UTC). Pure: the same records and moment give equal models, whatever is in
    `drawer`, which only saves work."""
    drawer = drawer or NoDrawer()
    published = publish(newsroom, as_of)
    views = Views(published)
    routes = Routes(published)
    gallery = Gallery(published)
    frame = make_frame(newsroom)
    finder = finder_data(published, views)
    search = search_data(published, views, drawer)
    maps = Maps(newsroom)
    lists = Lists(published, views, frame, finder, maps)
    singles = Singles(published, views, frame, gallery, routes, maps)
    shared = _shared_places(published)
    pages: list[Page] = [
        lists.home(),
        *lists.counties(),
        *lists.get_help(),
        *lists.find(),
        *lists.deadlines(),
        *lists.archive(search_view(search)),
        *lists.topics(),
        *lists.episodes(),
        *lists.places([place for place, _ in shared]),
        *(singles.place(place, takes) for place, takes in shared),
        *(singles.withdrawn(story) for story in published.withdrawn),
        *(singles.lead(address, story) for address, story in sorted(routes.leads.items())),
        singles.not_found(_words(published, routes)),
    ]
    # Bodies link to other pages, so the pages that have one come after every address is known.
    routes.known = {page.address for page in pages}
    routes.known |= {addresses.story(story) for story in published.stories}
    routes.known |= {addresses.episode(episode.id) for episode in published.episodes}
    routes.known |= {f"{page.id}/" for page in newsroom.pages}
    pages += [singles.story(story) for story in published.stories.values()]
    pages += [singles.episode(episode) for episode in published.episodes]
    for page in newsroom.pages:
        pages += singles.text(page)
    calendars = calendar_files(published, views, frame)
    pages = with_linked_data(pages, calendars)
    pages.sort(key=lambda page: page.address)
    once = _once(pages)
    edition = Edition(
        pages=once,
        files=(
            *outlets(published, views, frame, once),
            finder,
            *calendars,
            *([search] if search is not None else []),
        ),
        assets=tuple(gallery.assets[address] for address in sorted(gallery.assets)),
        true_until=published.until.first,
    )
    return Composition(edition, tuple(routes.findings))


def _once(pages: list[Page]) -> tuple[Page, ...]:
    """Each address once; a second page at one address is a fault found elsewhere, and not published."""
    found: dict[str, Page] = {}
    for page in pages:
        found.setdefault(page.address, page)
    return tuple(found.values())


def make_frame(newsroom: Newsroom) -> Frame:
    """What stands around every page; nothing in it comes from a story."""
    station = newsroom.station
    ranks = {name: rank for rank, name in enumerate(_PAGE_ORDER)}
    pages = sorted(newsroom.pages, key=lambda page: (ranks.get(page.id, len(ranks)), page.title, page.id))
    refs = {page.id: Ref(page.title, f"{page.id}/") for page in pages}
    return Frame(
        station=station.station,
        programme=station.programme,
        address=station.address,
        language=station.language,
        area_word=station.area_word,
        email=station.contact.email,
        phone=station.contact.phone,
        answers=station.contact.answers,
        mail=station.contact.mail,
        counties=tuple(Ref(county.name, addresses.county(county.key)) for county in station.counties),
        beyond=Ref("", addresses.BEYOND_PAGE),
        pages=tuple(refs.values()),
        giving_safely=refs.get(GIVING_SAFELY),
        demonstration=bool(station.as_of),
        time_zone=station.time_zone,
    )


def _shared_places(published: Published) -> list[tuple[Place, list[tuple[PublishedAsk, PublishedPlace]]]]:
    """The shared places that a published story names, in id order, with their live entries.

    A place that only unpublished stories name has no page: it would say that they exist.
    """
    named = {
        entry.place.id
        for story in published.stories.values()
        for ask in story.story.asks
        for entry in ask.drop_off
        if entry.place.id
    }
    takes: dict[str, list[tuple[PublishedAsk, PublishedPlace]]] = {name: [] for name in named}
    for ask in published.asks:
        for place in ask.live_places:
            if place.entry.place.id:
                takes[place.entry.place.id].append((ask, place))
    return [(place, takes[place.id]) for place in published.newsroom.places if place.id in named]


def _words(published: Published, routes: Routes) -> tuple[Ref, ...]:
    """Short addresses of stories with something to do, for the page that helps the lost."""
    found = [
        Ref(address.rstrip("/"), address)
        for address, story in sorted(routes.leads.items())
        if address == f"{story.say_on_air}/" and published.stories[story.id].has_live_ask
    ]
    return tuple(found[:WORDS_ON_404])
