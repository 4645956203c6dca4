"""The whole edition: every page's model as of one moment, and what the addresses gave away on the way."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from datetime import datetime
from functools import cached_property

from msgspec import Struct

from sitegen.edition import addresses
from sitegen.edition.calendars import calendar_files, story_entries
from sitegen.edition.digests import digest_of
from sitegen.edition.finding import finder_data
from sitegen.edition.linked import events_by_page, linked_page, with_linked_data, with_story_data
from sitegen.edition.lists import Lists
from sitegen.edition.maps import Maps
from sitegen.edition.models import (
    Edition,
    File,
    Frame,
    Page,
    PlacesFile,
    Ref,
    RestingPage,
    StoryPage,
)
from sitegen.edition.outlets import StoryPages, addresses_to_list, outlets
from sitegen.edition.pictures import Gallery
from sitegen.edition.published import Kept, Published, PublishedAsk, PublishedPlace, publish, records_anew
from sitegen.edition.resting import RESTING, ground_of, is_at_rest, key_of, put_to_sleep, wake
from sitegen.edition.routes import Routes
from sitegen.edition.searching import SearchFile, search_data, search_view
from sitegen.edition.singles import Singles
from sitegen.edition.views import Views
from sitegen.newsroom.keeping import Aside, Drawer, MemoryAside, NoDrawer
from sitegen.newsroom.records import Finding, Newsroom, Place, Story

_PAGE_ORDER = ("about", "send-a-story", "corrections", "giving-safely")
GIVING_SAFELY = "giving-safely"
WORDS_ON_404 = 40


class Composition(Struct, frozen=True):
    """An edition, and the findings that only the whole could show."""

    edition: Edition
    findings: tuple[Finding, ...]
    composer: Composer
    """It composes resting pages where they are made, and remembers what the next edition may let rest."""


def compose_edition(
    newsroom: Newsroom,
    as_of: datetime,
    kept: Kept | None = None,
    drawer: Drawer | None = None,
    leaves_resting: bool = False,
    aside: Aside | None = None,
) -> Composition:
    """Everything the site holds as of a moment (UTC). Pure: the same records and moment give equal models, whatever is in
    `kept` and `drawer`, which only save work. With `leaves_resting`, no page of a story at rest is among the models: whoever
    makes pages composes it (`Composer.woken`), so that an archive's worth of them is never held at once. What it is composed of
    is put `aside`."""
    return Composer(newsroom, as_of, kept, drawer, leaves_resting, aside).whole()


class Composer:
    """Composes one edition: all of it, or one page after another as they are asked for."""

    def __init__(
        self,
        newsroom: Newsroom,
        as_of: datetime,
        kept: Kept | None = None,
        drawer: Drawer | None = None,
        leaves_resting: bool = False,
        aside: Aside | None = None,
    ) -> None:
        """`as_of` in UTC; `kept` as in `publish`; `drawer` has what was worked out of the same stories before; `leaves_resting` and
        `aside` as in `compose_edition`."""
        self.newsroom = newsroom
        self.published = publish(newsroom, as_of, kept, drawer)
        self.frame = make_frame(newsroom)
        self.views = Views(self.published)
        self.routes = Routes(self.published)
        self.gallery = Gallery(self.published)
        self._maps = Maps(newsroom)
        self._singles = Singles(self.published, self.views, self.frame, self.gallery, self.routes, self._maps)
        self._groups: dict[str, list[Page]] = {}
        self._drawer = drawer or NoDrawer()
        self._leaves_resting = leaves_resting
        self._aside: Aside = aside or MemoryAside()
        self._anew = records_anew(self.published)
        self._resting: list[RestingPage] = []
        self._keys: dict[str, tuple[Story, bytes]] = {}
        """By the address of a page of a story at rest whose digest is not known: the story, and what else the page is made of."""

    def whole(self) -> Composition:
        """The edition."""
        search = self.search
        pages, files = self._pages_and_files
        assets = self.gallery.assets
        edition = Edition(
            pages=pages,
            files=(*files, *([search] if search is not None else [])),
            assets=tuple(assets[address] for address in sorted(assets)),
            true_until=self.true_until,
            resting=tuple(self._resting),
        )
        # What is composed twice, for a feed too, is told once.
        return Composition(edition, tuple(dict.fromkeys(self.routes.findings)), self)

    @property
    def true_until(self) -> datetime | None:
        """The first instant (UTC) at which the edition would differ. Found without what the search looks in, which changes
        only when pages do."""
        assert self._pages_and_files  # every answer that pages and files rest on is asked for
        return self.published.until.first

    @property
    def pages(self) -> tuple[Page, ...]:
        """Every page, by address."""
        return self._pages_and_files[0]

    @property
    def files(self) -> tuple[File, ...]:
        """Every file that is no page, but what the search looks in."""
        return self._pages_and_files[1]

    def woken(self, page: RestingPage) -> StoryPage:
        """A resting page of the whole edition, composed after all. The calendar has nothing of its story."""
        asleep = wake(self._aside.get(page.aside))
        each = asleep.awoken(self._anew(asleep.story))
        return with_story_data(self._singles.story(each, asleep.around), ())

    def remember(self, digests: Mapping[str, bytes]) -> None:
        """Keeps in the drawer what the next edition needs to know pages at rest. `digests` are of pages of this one, by address."""
        for address, (story, key) in self._keys.items():
            if address in digests:
                self._drawer.put(RESTING, story, key + digests[address])

    @cached_property
    def _pages_and_files(self) -> tuple[tuple[Page, ...], tuple[File, ...]]:
        """Everything but the search's data, and the pages that rest."""
        published, views, frame, routes = self.published, self.views, self.frame, self.routes
        pages: list[Page] = [
            *(page for name in _GROUPS for page in self._group(name)),
            *self._places(),
            *(self._singles.withdrawn(story) for story in published.withdrawn),
            *(self._singles.lead(address, story) for address, story in sorted(routes.leads.items())),
            self._not_found(),
        ]
        # Bodies link to other pages, so the pages that have one come after every address is known.
        routes.known = {page.address for page in pages} | self._with_bodies
        told = self._told()
        pages += told.values()
        pages += [self._singles.episode(episode) for episode in published.episodes]
        for page in self.newsroom.pages:
            pages += self._singles.text(page)
        calendars = calendar_files(published, views, frame)
        pages = with_linked_data(pages, events_by_page(calendars))
        pages.sort(key=lambda page: page.address)
        once = _once(pages)
        self._resting.sort(key=lambda page: page.address)
        resting = {page.address: page for page in self._resting}

        def page_of(address: str) -> StoryPage:
            return told.get(address) or self.woken(resting[address])

        def digest_at_rest(address: str) -> bytes | None:
            if address not in resting and address not in self._keys:
                return None
            known = resting[address].digest if address in resting else b""
            # One that is composed lacks what it says in linked data yet; the calendar has nothing of it.
            return known or digest_of(with_story_data(page_of(address), ()))

        story_pages = StoryPages(page_of, digest_at_rest, are_held=not self._leaves_resting)
        listed = [*addresses_to_list(once), *(page.address for page in self._resting)]
        return once, (
            *outlets(published, views, frame, story_pages, sorted(listed)),
            self.finder,
            *calendars,
        )

    def _told(self) -> dict[str, StoryPage]:
        """The stories' pages by address, but those that rest."""
        found: dict[str, StoryPage] = {}
        ground = ground_of(self.newsroom.station, self.frame)
        for each in self.published.stories.values():
            around = self._singles.around(each)
            address = addresses.story(each.story.id)
            if is_at_rest(each):
                asleep = put_to_sleep(each, around)
                key = key_of(asleep, ground)
                kept = self._drawer.take(RESTING, each.story)
                if kept is not None and kept.startswith(key):
                    self._put_to_rest(address, kept[len(key) :], asleep)
                    continue
                self._keys[address] = each.story, key
                if self._leaves_resting:
                    self._put_to_rest(address, b"", asleep)
                    continue
            found[address] = self._singles.story(each, around)
        return found

    def _put_to_rest(self, address: str, digest: bytes, asleep: bytes) -> None:
        self._resting.append(RestingPage(address, digest, self._aside.put(asleep)))

    def page(self, address: str) -> Page | None:
        """The page that `whole` has at an address, made without most of the others; None where it has none.

        What the routes find and the gallery needs is then only that of the pages asked for.
        """
        self.routes.known = _Known(self)
        try:
            page = self._page(address)
        finally:
            # It holds this composer, which would else hold itself.
            self.routes.known = frozenset()
        if isinstance(page, StoryPage):
            story = self.published.stories[self._story_ids[address]]
            return with_story_data(page, story_entries(self.published, self.views, self.frame, story))
        return linked_page(page) if page is not None else None

    def has(self, address: str) -> bool:
        """Whether the edition has a page at an address."""
        if address in self._with_bodies or address in self._single_addresses:
            return True
        return any(page.address == address for name in _GROUPS for page in self._group(name))

    @cached_property
    def search(self) -> SearchFile | None:
        """What the search looks in; None while there is nothing."""
        anew = self._anew if self._leaves_resting else None
        return search_data(self.published, self.views, self._drawer, anew)

    @cached_property
    def finder(self) -> PlacesFile:
        return finder_data(self.published, self.views)

    # --- parts ---

    @cached_property
    def _lists(self) -> Lists:
        return Lists(self.published, self.views, self.frame, self.finder, self._maps)

    @cached_property
    def _shared(self) -> list[tuple[Place, list[tuple[PublishedAsk, PublishedPlace]]]]:
        return _shared_places(self.published)

    @cached_property
    def _story_ids(self) -> dict[str, str]:
        return {addresses.story(story): story for story in self.published.stories}

    @cached_property
    def _with_bodies(self) -> frozenset[str]:
        """Addresses of the pages that have a body, without the further pages of a list in it."""
        return frozenset(
            {
                *self._story_ids,
                *(addresses.episode(episode.id) for episode in self.published.episodes),
                *(f"{page.id}/" for page in self.newsroom.pages),
            }
        )

    @cached_property
    def _single_addresses(self) -> frozenset[str]:
        """Addresses of the other pages that are in no group of lists."""
        return frozenset(
            {
                *(addresses.place(place.id) for place, _ in self._shared),
                *(addresses.story(story.id) for story in self.published.withdrawn),
                *self.routes.leads,
                addresses.NOT_FOUND,
            }
        )

    def _group(self, name: str) -> list[Page]:
        """The pages of one list and what it goes on with."""
        if name not in self._groups:
            self._groups[name] = self._make_group(name)
        return self._groups[name]

    def _make_group(self, name: str) -> list[Page]:
        lists = self._lists
        match name:
            case addresses.HOME:
                return [lists.home()]
            case addresses.COUNTIES:
                return lists.counties()
            case addresses.GET_HELP:
                return lists.get_help()
            case addresses.FIND:
                return list(lists.find())
            case addresses.DEADLINES:
                return lists.deadlines()
            case addresses.ARCHIVE:
                return lists.archive(search_view(self.published, self.views))
            case addresses.TOPICS:
                return lists.topics()
            case addresses.EPISODES:
                return lists.episodes()
            case _:
                return lists.places([place for place, _ in self._shared])

    def _places(self) -> Iterator[Page]:
        return (self._singles.place(place, takes) for place, takes in self._shared)

    def _not_found(self) -> Page:
        return self._singles.not_found(_words(self.published, self.routes))

    def _page(self, address: str) -> Page | None:
        # In the order of `whole`: of two pages at one address, which is a fault, the first is published.
        first, slash, _ = address.partition("/")
        name = first + slash
        if name in _GROUPS:
            listed = next((page for page in self._group(name) if page.address == address), None)
            if listed is not None:
                return listed
        if name == addresses.PLACES:
            for place, takes in self._shared:
                if address == addresses.place(place.id):
                    return self._singles.place(place, takes)
        if name == addresses.STORIES:
            for story in self.published.withdrawn:
                if address == addresses.story(story.id):
                    return self._singles.withdrawn(story)
        if address in self.routes.leads:
            return self._singles.lead(address, self.routes.leads[address])
        if address == addresses.NOT_FOUND:
            return self._not_found()
        if address in self._story_ids:
            return self._singles.story(self.published.stories[self._story_ids[address]])
        if name == addresses.EPISODES:
            for episode in self.published.episodes:
                if address == addresses.episode(episode.id):
                    return self._singles.episode(episode)
        for written in self.newsroom.pages:
            if address.startswith(f"{written.id}/"):
                found = next((page for page in self._singles.text(written) if page.address == address), None)
                if found is not None:
                    return found
        return None


_GROUPS = (
    addresses.HOME, addresses.COUNTIES, addresses.GET_HELP, addresses.FIND, addresses.DEADLINES, addresses.ARCHIVE,
    addresses.TOPICS, addresses.EPISODES, addresses.PLACES,
)  # fmt: skip
"""The lists, each by the address that all its pages begin with."""


class _Known(Container[str]):
    """Every address of an edition that is not composed whole."""

    def __init__(self, composer: Composer) -> None:
        self._composer = composer

    def __contains__(self, address: object) -> bool:
        return isinstance(address, str) and self._composer.has(address)


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
    named = {name for story in published.stories.values() for name in story.named}
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
        if address == f"{story.say_on_air}/" and published.stories[story.id].is_live
    ]
    return tuple(found[:WORDS_ON_404])
