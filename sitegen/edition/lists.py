"""The models of list pages: home, counties, get help, find, deadlines, archive, topics and indexes."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from functools import cached_property
from itertools import islice

from msgspec import Struct

from sitegen.clock.timed import latest
from sitegen.edition import addresses
from sitegen.edition.counting import Counting, changes
from sitegen.edition.finder_list import finder_list
from sitegen.edition.located import Located, located_places, place_takes
from sitegen.edition.maps import Maps
from sitegen.edition.models import (
    AskLine,
    Counted,
    CountyPage,
    DeadlineMonth,
    DeadlinesPage,
    FindPage,
    Frame,
    GetHelpPage,
    HelpCounty,
    HelpTown,
    HomePage,
    IndexGroup,
    IndexPage,
    Page,
    PlacesFile,
    Ref,
    SearchView,
    StoryLine,
    StoryListPage,
)
from sitegen.edition.moments import end_moment, start_moment
from sitegen.edition.paging import ROWS, STORIES, chunks, pagings, regroup
from sitegen.edition.published import (
    ACTIVE,
    Published,
    PublishedAsk,
    PublishedEntry,
    PublishedStory,
)
from sitegen.edition.views import Views, story_order
from sitegen.newsroom.records import Place
from sitegen.newsroom.slugs import BEYOND, slug

CLOSING_NEXT = 8
"""Rows of the home page's first table: what fits on two screens of a phone."""
OPEN_ON_HOME = 12
COMING_ON_HOME = 5
LATEST_ON_HOME = 6
NEWEST_IN_COUNTY = 30
"""Stories a county's, topic's or language's own page lists before its archive goes on by year."""


class _Item(Struct, frozen=True):
    """One row of a county's page, of whichever part."""

    group: str
    ask: PublishedAsk | None = None
    entry: PublishedEntry | None = None
    located: Located | None = None


class Lists:
    """Builds the list pages of one edition."""

    def __init__(
        self, published: Published, views: Views, frame: Frame, finder: PlacesFile, maps: Maps
    ) -> None:
        self.published = published
        self.finder = finder
        self.maps = maps
        self.views = views
        self.frame = frame
        self.asks = published.asks
        self.giving = tuple(ask for ask in self.asks if not ask.is_help)
        self.help = tuple(ask for ask in self.asks if ask.is_help)
        self.newest = sorted(published.stories.values(), key=story_order)
        self._rows: dict[tuple[str, str], AskLine] = {}

    def line(self, story: PublishedStory) -> StoryLine:
        return self.views.story_line(story)

    def row(self, ask: PublishedAsk) -> AskLine:
        key = (ask.story.id, ask.ask.key)
        found = self._rows.get(key)
        if found is None:
            found = self._rows[key] = self.views.ask_line(ask)
        return found

    def rows(self, asks: Iterable[PublishedAsk]) -> tuple[AskLine, ...]:
        return tuple(self.row(ask) for ask in asks)

    # --- home ---

    def home(self) -> HomePage:
        active = [ask for ask in self.giving if ask.standing in ACTIVE]
        ending = [ask for ask in active if not ask.times.lapses]
        closing = ending[:CLOSING_NEXT]
        shown = {id(ask) for ask in closing}
        rest = [ask for ask in active if id(ask) not in shown]
        coming = [ask for ask in self.giving if ask.standing not in ACTIVE]
        coming.sort(key=lambda ask: (ask.times.opens or ask.times.ends, *ask.order))
        left_out = [*rest[OPEN_ON_HOME:], *coming[COMING_ON_HOME:]]
        episode = self.published.episodes[0] if self.published.episodes else None
        on_air: list[PublishedStory] = []
        if episode is not None:
            names = dict.fromkeys(entry.story for entry in episode.rundown)
            on_air = [self.published.stories[name] for name in names if name in self.published.stories]
        aired = {story.story.id for story in on_air}
        latest_stories = list(
            islice((story for story in self.newest if story.story.id not in aired), LATEST_ON_HOME)
        )
        return HomePage(
            frame=self.frame,
            address=addresses.HOME,
            closing_next=self.rows(closing),
            open_now=self.rows(rest[:OPEN_ON_HOME]),
            more=len(left_out),
            coming=self.rows(coming[:COMING_ON_HOME]),
            help_count=len(self.help),
            episode=Ref(episode.title or episode.id, addresses.episode(episode.id))
            if episode is not None
            else None,
            episode_aired=start_moment(episode.aired, self.published.zone) if episode is not None else None,
            episode_stories=tuple(self.line(story) for story in on_air),
            latest=tuple(self.line(story) for story in latest_stories),
            counties=self._county_counts(),
            help_then=changes([(None, ask.times.ends) for ask in self.help], self.published),
            more_then=tuple(
                (at, count or 0)
                for at, count in changes([(None, ask.times.ends) for ask in left_out], self.published)
            ),
            map=self.maps.all_counties,
            tongues=self._tongues,
        )

    def _county_counts(self) -> tuple[Counted, ...]:
        counts = dict.fromkeys(self.views.county_refs, 0)
        spans: dict[str, list[Counting]] = {key: [] for key in self.views.county_refs}
        for ask in self.asks:
            for key in ask.counties:
                counts[key] += ask.standing in ACTIVE
                spans[key].append((ask.times.opens, ask.ends_in(key)))
        return tuple(
            Counted(ref, counts[key], changes(spans[key], self.published))
            for key, ref in self.views.county_refs.items()
            if key != BEYOND
        )

    # --- counties ---

    def counties(self) -> list[Page]:
        pages: list[Page] = []
        asks: dict[str, list[PublishedAsk]] = {key: [] for key in self.views.county_refs}
        for ask in self.asks:
            for key in ask.counties:
                asks[key].append(ask)
        stories: dict[str, list[PublishedStory]] = {key: [] for key in self.views.county_refs}
        entries: dict[str, list[PublishedEntry]] = {key: [] for key in self.views.county_refs}
        for story in self.newest:
            for key in story.story.counties:
                stories[key].append(story)
            for entry in story.entries:
                entries[entry.entry.county].append(entry)
        names = {county.key: county for county in self.published.newsroom.station.counties}
        located = located_places(self.giving, self.views)
        for key in self.views.county_refs:
            county = names.get(key)
            pages += self._county(
                key,
                county.name if county is not None else "",
                county.seat if county is not None else "",
                asks[key],
                sorted(entries[key], key=lambda each: (each.ends, each.entry.town, each.entry.what)),
                [each for each in located if each.place.county == key],
                stories[key],
            )
        counts = self._county_counts()
        index = IndexPage(
            self.frame,
            addresses.COUNTIES,
            "counties",
            pagings(addresses.COUNTIES, 1)[0],
            (IndexGroup("", counts),),
            self.maps.all_counties,
        )
        return [index, *pages]

    def _county(
        self,
        key: str,
        name: str,
        seat: str,
        asks: list[PublishedAsk],
        entries: list[PublishedEntry],
        located: list[Located],
        stories: list[PublishedStory],
    ) -> list[Page]:
        base = addresses.county(key)
        giving = [ask for ask in asks if not ask.is_help]
        items: list[_Item] = [
            *(_Item("open", ask=ask) for ask in giving if ask.standing in ACTIVE),
            *(_Item("help", ask=ask) for ask in asks if ask.is_help),
            *(_Item("coming", ask=ask) for ask in giving if ask.standing not in ACTIVE),
            *(_Item("listing", entry=entry) for entry in entries),
            *(_Item("place", located=each) for each in located),
        ]
        runs = chunks(items, ROWS)
        pages: list[Page] = []
        divided = len(stories) > NEWEST_IN_COUNTY
        for run, paging in zip(runs, pagings(base, len(runs)), strict=True):
            first = paging.number == 1
            pages.append(
                CountyPage(
                    frame=self.frame,
                    address=addresses.part(base, paging.number),
                    name=name,
                    seat=seat,
                    paging=paging,
                    open_now=self.rows(item.ask for item in run if item.group == "open" and item.ask),
                    help=self.rows(item.ask for item in run if item.group == "help" and item.ask),
                    coming=self.rows(item.ask for item in run if item.group == "coming" and item.ask),
                    listing=tuple(self.views.listing_line(item.entry) for item in run if item.entry),
                    places=tuple(place_takes(item.located, self.views) for item in run if item.located),
                    archive=tuple(self.line(story) for story in stories[:NEWEST_IN_COUNTY]) if first else (),
                    years=self._years(base, stories) if first and divided else (),
                    outline=self.maps.outline(key) if first else None,
                    calendar=addresses.county_calendar(key),
                )
            )
        if divided:
            pages += self._by_year(base, stories, "county year", name, Ref(name, base))
        return pages

    # --- stories by year and topic ---

    def _years(self, base: str, stories: Iterable[PublishedStory]) -> tuple[Counted, ...]:
        counts: dict[int, int] = {}
        for story in stories:
            year = story.story.aired.day.year
            counts[year] = counts.get(year, 0) + 1
        return tuple(
            Counted(Ref(str(year), addresses.year(base, year)), counts[year])
            for year in sorted(counts, reverse=True)
        )

    def _by_year(
        self, base: str, stories: list[PublishedStory], kind: str, subject: str, up: Ref
    ) -> list[Page]:
        pages: list[Page] = []
        for year, group in regroup((story.story.aired.day.year, story) for story in stories):
            pages += self._story_list(addresses.year(base, year), group, kind, subject, year, up)
        return pages

    def _story_list(
        self,
        base: str,
        stories: tuple[PublishedStory, ...],
        kind: str,
        subject: str,
        year: int | None,
        up: Ref,
        years: tuple[Counted, ...] = (),
    ) -> list[Page]:
        runs = chunks(stories, STORIES)
        return [
            StoryListPage(
                frame=self.frame,
                address=addresses.part(base, paging.number),
                kind=kind,
                subject=subject,
                year=year,
                up=up,
                paging=paging,
                stories=tuple(self.line(story) for story in run),
                years=years,
            )
            for run, paging in zip(runs, pagings(base, len(runs)), strict=True)
        ]

    def archive(self, search: SearchView | None) -> list[Page]:
        up = Ref("", addresses.ARCHIVE)
        index = IndexPage(
            self.frame,
            addresses.ARCHIVE,
            "archive",
            pagings(addresses.ARCHIVE, 1)[0],
            (IndexGroup("", self._years(addresses.ARCHIVE, self.newest)),),
            search=search,
            tongues=self._tongues,
        )
        years = self._by_year(addresses.ARCHIVE, self.newest, "year", "", up)
        return [index, *years, *self._told_in_languages(up)]

    @cached_property
    def _in_languages(self) -> dict[str, list[PublishedStory]]:
        """The stories in each other language than the station's, by its BCP 47 tag without a region."""
        found: dict[str, list[PublishedStory]] = {}
        for story in self.newest:
            ref = self.views.tongue(story.story)
            if ref is not None:
                found.setdefault(ref.label, []).append(story)
        return {tag: found[tag] for tag in sorted(found)}

    @property
    def _tongues(self) -> tuple[Ref, ...]:
        return tuple(Ref(tag, addresses.language(tag)) for tag in self._in_languages)

    def _told_in_languages(self, up: Ref) -> list[Page]:
        return [
            page
            for tag, stories in self._in_languages.items()
            for page in self._newest_and_years(addresses.language(tag), stories, "language", tag, up)
        ]

    def _newest_and_years(
        self, base: str, stories: list[PublishedStory], kind: str, subject: str, up: Ref
    ) -> list[Page]:
        """The newest stories of a subject, and where there are more all of them by year."""
        divided = len(stories) > NEWEST_IN_COUNTY
        years = self._years(base, stories) if divided else ()
        pages = self._story_list(base, tuple(stories[:NEWEST_IN_COUNTY]), kind, subject, None, up, years)
        if divided:
            pages += self._by_year(base, stories, f"{kind} year", subject, Ref(subject, base))
        return pages

    def topics(self) -> list[Page]:
        stories: dict[str, list[PublishedStory]] = {}
        labels: dict[str, str] = {}
        for story in self.newest:
            for topic in story.story.topics:
                key = slug(topic)
                stories.setdefault(key, []).append(story)
                labels[key] = min(labels.get(key, topic), topic)
        pages: list[Page] = []
        up = Ref("", addresses.TOPICS)
        for key in sorted(stories):
            pages += self._newest_and_years(addresses.topic(key), stories[key], "topic", labels[key], up)
        counts = tuple(
            Counted(Ref(labels[key], addresses.topic(key)), len(stories[key]))
            for key in sorted(stories, key=lambda key: (labels[key].casefold(), key))
        )
        return [*self._index(addresses.TOPICS, "topics", [("", each) for each in counts]), *pages]

    def _index(self, base: str, kind: str, entries: list[tuple[str, Counted]]) -> list[Page]:
        """An index page for each run of (heading, entry) pairs."""
        runs = chunks(entries, STORIES)
        return [
            IndexPage(
                self.frame,
                addresses.part(base, paging.number),
                kind,
                paging,
                tuple(IndexGroup(heading, group) for heading, group in regroup(run)),
            )
            for run, paging in zip(runs, pagings(base, len(runs)), strict=True)
        ]

    def episodes(self) -> list[Page]:
        """The index of episodes, newest first, by year."""
        entries = [
            (
                str(episode.aired.day.year),
                Counted(
                    Ref(episode.title or episode.id, addresses.episode(episode.id)),
                    sum(entry.story in self.published.stories for entry in episode.rundown),
                ),
            )
            for episode in self.published.episodes
        ]
        return self._index(addresses.EPISODES, "episodes", entries)

    def places(self, known: list[Place]) -> list[Page]:
        """The index of the shared places that have a page, by county; the count is of what they take now."""
        takes: dict[str, list[Counting]] = {}
        for ask in self.asks:
            for name in {place.entry.place.id for place in ask.live_places}:
                here = (place for place in ask.live_places if place.entry.place.id == name)
                last = latest(*(place.times.last_chance for place in here))
                takes.setdefault(name, []).append((None, last or ask.times.ends))
        ordered = sorted(
            known, key=lambda place: (self.views.county_rank(place.county), place.town, place.name, place.id)
        )
        entries = [
            (
                self.views.county_refs[place.county].label,
                Counted(
                    Ref(place.name, addresses.place(place.id)),
                    len(takes.get(place.id, ())),
                    changes(takes.get(place.id, []), self.published),
                ),
            )
            for place in ordered
        ]
        return self._index(addresses.PLACES, "places", entries)

    # --- places ---

    def find(self) -> list[FindPage]:
        return finder_list(self.giving, self.views, self.frame, self.finder)

    # --- get help ---

    def get_help(self) -> list[Page]:
        # (county, whether its places lie in others, town): what is nearest comes first.
        rows: list[tuple[tuple[str, bool, str], PublishedAsk]] = []
        for ask in self.help:
            towns: dict[tuple[str, bool, str], None] = {}
            for place in ask.live_places:
                towns[(place.entry.place.county, False, place.entry.place.town)] = None
            placed = {county for county, _, _ in towns}
            for county in ask.ask.helps:
                if county not in placed:
                    towns[(county, bool(placed), "")] = None
            rows += [(key, ask) for key in towns]
        rows.sort(key=lambda row: (self.views.county_rank(row[0][0]), row[0][1:], row[1].order))
        runs = chunks(rows, ROWS)
        pages: list[Page] = []
        for run, paging in zip(runs, pagings(addresses.GET_HELP, len(runs)), strict=True):
            counties = []
            for county, here in regroup((key[0], (key[1:], ask)) for key, ask in run):
                towns_here = tuple(
                    HelpTown(town, tuple(self.views.ask(ask) for ask in group), elsewhere)
                    for (elsewhere, town), group in regroup(here)
                )
                counties.append(HelpCounty(self.views.county_refs[county], towns_here))
            pages.append(
                GetHelpPage(
                    self.frame, addresses.part(addresses.GET_HELP, paging.number), paging, tuple(counties)
                )
            )
        return pages

    # --- deadlines ---

    def deadlines(self) -> list[Page]:
        rows: list[tuple[str, date | None, PublishedAsk]] = []
        for ask in self.giving:
            if ask.standing not in ACTIVE:
                rows.append(("coming", None, ask))
            elif ask.times.lapses and not ask.times.stopped_early:
                rows.append(("ongoing", None, ask))
            else:
                rows.append(
                    ("month", end_moment(ask.times.ends, self.published.zone).day.replace(day=1), ask)
                )
        order = {"month": 0, "ongoing": 1, "coming": 2}
        rows.sort(key=lambda row: (order[row[0]], row[2].order))
        runs = chunks(rows, ROWS)
        return [
            DeadlinesPage(
                frame=self.frame,
                address=addresses.part(addresses.DEADLINES, paging.number),
                paging=paging,
                months=tuple(
                    DeadlineMonth(month, self.rows(group))
                    for month, group in regroup((month, ask) for kind, month, ask in run if kind == "month")
                    if month is not None
                ),
                ongoing=self.rows(ask for kind, _, ask in run if kind == "ongoing"),
                coming=self.rows(ask for kind, _, ask in run if kind == "coming"),
                calendar=addresses.CALENDAR,
            )
            for run, paging in zip(runs, pagings(addresses.DEADLINES, len(runs)), strict=True)
        ]
