"""What of the newsroom an edition may hold: each story's visibility and each ask's standing as of a moment.

Everything later asks here, so that what is held, embargoed or withdrawn can leak nowhere.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from datetime import datetime
from zoneinfo import ZoneInfo

from msgspec import Struct, msgpack

from sitegen.clock.asks import (
    AskTimes,
    EntryStanding,
    PlaceState,
    PlaceTimes,
    Standing,
    entry_standing,
    place_state,
    plan_end,
    plan_entry,
    standing,
    with_places,
)
from sitegen.clock.stories import Beside, Visibility, episode_visible, plan_story, visibility
from sitegen.clock.timed import Timed, Until, latest
from sitegen.newsroom.keeping import Drawer, NoDrawer
from sitegen.newsroom.records import Ask, DropOff, Episode, Kind, ListingEntry, Newsroom, Story
from sitegen.newsroom.times import zone_named

ACTIVE = (Standing.OPEN, Standing.LAST_DAYS)
LIVE = (Standing.COMING, *ACTIVE)


class PublishedPlace(Struct, frozen=True):
    """One entry of an ask's places, as of the edition."""

    entry: DropOff
    times: PlaceTimes
    state: PlaceState


class PublishedAsk(Struct, frozen=True):
    story: Story
    rank: int
    """Index in the story's asks: of most that are over nobody looks at more than when they ended."""
    times: AskTimes
    """With its places while the ask is live."""
    standing: Standing
    places: tuple[PublishedPlace, ...]
    """All of them while the ask is live, none after."""

    @property
    def ask(self) -> Ask:
        return self.story.asks[self.rank]

    @property
    def is_live(self) -> bool:
        return self.standing in LIVE

    @property
    def is_help(self) -> bool:
        return self.ask.kind is Kind.GET_HELP

    @property
    def live_places(self) -> tuple[PublishedPlace, ...]:
        return tuple(place for place in self.places if place.state.live)

    @property
    def no_places_left(self) -> bool:
        """It had places, and none has a last chance left."""
        return bool(self.places) and not self.live_places

    @property
    def counties(self) -> tuple[str, ...]:
        """Keys of the counties it helps and of those where a live place stands."""
        return tuple(
            dict.fromkeys((*self.ask.helps, *(place.entry.place.county for place in self.live_places)))
        )

    def ends_in(self, county: str) -> datetime:
        """When it leaves a county of `counties`: with itself, or with the last place there where it only has places."""
        here = (each.times.last_chance for each in self.live_places if each.entry.place.county == county)
        last = latest(*here)
        return self.times.ends if last is None or county in self.ask.helps else last

    @property
    def order(self) -> tuple[datetime, str, str]:
        """Soonest end first."""
        return (self.times.ends, self.ask.title, self.story.id)


class PublishedEntry(Struct, frozen=True):
    """One entry of a round-up that is not over."""

    story: Story
    entry: ListingEntry
    starts: datetime | None
    ends: datetime
    stopped: bool


class PublishedStory(Struct, frozen=True):
    story: Story
    release: datetime
    asks: tuple[PublishedAsk, ...]
    entries: tuple[PublishedEntry, ...]
    entries_ended: bool
    named: tuple[str, ...]
    """Ids of the shared places that its asks name, live or over."""

    @property
    def has_live_ask(self) -> bool:
        return any(ask.is_live for ask in self.asks)

    @property
    def is_live(self) -> bool:
        """Something can still be done by it, or gone to: an ask, or an entry of its round-up that was not called off."""
        return self.has_live_ask or any(not entry.stopped for entry in self.entries)


class Published(Struct, frozen=True):
    """The visible part of the newsroom as of a moment."""

    newsroom: Newsroom
    as_of: datetime
    zone: ZoneInfo
    stories: dict[str, PublishedStory]
    """By id, in id order."""
    withdrawn: tuple[Story, ...]
    episodes: tuple[Episode, ...]
    """Newest first."""
    until: Until

    @property
    def asks(self) -> tuple[PublishedAsk, ...]:
        """Every live ask, soonest end first."""
        return tuple(
            sorted(
                (ask for story in self.stories.values() for ask in story.asks if ask.is_live),
                key=lambda ask: ask.order,
            )
        )


class _KeptStory(Struct, frozen=True):
    """What a story was at a moment, and from when until when nothing in it is another."""

    story: Story
    since: datetime
    until: datetime | None
    seen: Visibility
    published: PublishedStory | None
    """None where it is not published."""


class Kept:
    """Stories as editions made before had them: one that was not read again is taken from here while no moment at which it
    would differ has passed. The work of an edition of many stories is nearly all in what it has in common with the one before."""

    def __init__(self) -> None:
        self._station: tuple[int, str] | None = None
        self._episodes: tuple[Episode, ...] = ()
        self._stories: dict[str, _KeptStory] = {}

    def stories_of(self, newsroom: Newsroom) -> dict[str, _KeptStory]:
        """What is kept, by id, less all that rests on what is written otherwise by now."""
        station = (newsroom.station.last_days, newsroom.station.time_zone)
        if station != self._station:
            self._stories = {}
        elif newsroom.episodes is not self._episodes:
            before = {episode.id: episode for episode in self._episodes}
            now = {episode.id: episode for episode in newsroom.episodes}
            other = {name for name in before.keys() | now.keys() if before.get(name) != now.get(name)}
            self._stories = {
                name: each for name, each in self._stories.items() if other.isdisjoint(each.story.episodes)
            }
        self._station, self._episodes = station, newsroom.episodes
        return self._stories


class _Over(Struct, frozen=True, array_like=True):
    """What a drawer keeps of a published story of whose asks and round-up nothing is left."""

    beside: bytes
    """A digest of what it rests on beside its record."""
    since: datetime
    until: datetime | None
    release: datetime
    asks: tuple[tuple[Standing, AskTimes], ...]
    entries_ended: bool
    named: tuple[str, ...]


OVER = "over"
"""What a drawer keeps of a story by which nothing can be done any more: when that came, and until when it holds."""
_OVER = msgpack.Decoder(_Over)


class _OverStories:
    """Stories that were over when an edition before looked at them."""

    def __init__(self, drawer: Drawer, beside: Beside) -> None:
        self._drawer = drawer
        self._beside = beside

    def take(self, story: Story, as_of: datetime) -> _KeptStory | None:
        packed = self._drawer.take(OVER, story)
        if packed is None:
            return None
        over = _OVER.decode(packed)
        holds = over.since <= as_of and (over.until is None or as_of < over.until)
        if not holds or over.beside != self._beside.digest(story):
            return None
        asks = tuple(
            PublishedAsk(story, rank, times, word, ()) for rank, (word, times) in enumerate(over.asks)
        )
        published = PublishedStory(story, over.release, asks, (), over.entries_ended, over.named)
        return _KeptStory(story, over.since, over.until, Visibility.PUBLISHED, published)

    def put(self, each: _KeptStory) -> None:
        told = each.published
        if told is None or told.has_live_ask or told.entries:
            return
        asks = tuple((ask.standing, ask.times) for ask in told.asks)
        beside = self._beside.digest(each.story)
        over = _Over(beside, each.since, each.until, told.release, asks, told.entries_ended, told.named)
        self._drawer.put(OVER, each.story, msgpack.encode(over))


def publish(
    newsroom: Newsroom, as_of: datetime, kept: Kept | None = None, drawer: Drawer | None = None
) -> Published:
    """The visible part of the newsroom as of a moment (UTC). What `kept` or `drawer` has is not worked out again, and what is
    worked out is left in both."""
    zone = zone_named(newsroom.station.time_zone)
    episodes = {episode.id: episode for episode in newsroom.episodes}
    settings = (newsroom.station.last_days, newsroom.station.time_zone)
    over = _OverStories(drawer or NoDrawer(), Beside(episodes, settings))
    known = kept.stories_of(newsroom) if kept is not None else {}
    stories: dict[str, PublishedStory] = {}
    withdrawn: list[Story] = []
    first: datetime | None = None
    for story in newsroom.stories:
        each = known.get(story.id)
        if (
            each is None
            or each.story is not story
            or as_of < each.since
            or (each.until is not None and as_of >= each.until)
        ):
            taken = over.take(story, as_of)
            each = known[story.id] = taken or _at(story, newsroom, episodes, as_of, zone)
            if taken is None:
                over.put(each)
        if each.until is not None and (first is None or each.until < first):
            first = each.until
        if each.seen is Visibility.NOTICE:
            withdrawn.append(story)
        elif each.published is not None:
            stories[story.id] = each.published
    until = Until()
    until(Timed(None, first))
    shown = sorted(
        (
            episode
            for episode in newsroom.episodes
            if until(episode_visible(episode, as_of, zone)) and _has_something(episode, stories)
        ),
        key=lambda episode: (episode.aired.day, episode.id),
        reverse=True,
    )
    return Published(newsroom, as_of, zone, stories, tuple(withdrawn), tuple(shown), until)


def records_anew(published: Published) -> Callable[[str], Story]:
    """Gives the record of a published story by its id: where parts of all of them were left packed in one place, one that shares
    nothing with what the edition holds. To look at what a process was forked with is to get a copy of the memory around it."""
    places = {id(each.unpacking): each.unpacking for each in published.newsroom.stories}
    place = next(iter(places.values())) if len(places) == 1 else None

    def anew(name: str) -> Story:
        story = place.whole(name) if place is not None else None
        return published.stories[name].story if story is None else story

    return anew


def _has_something(episode: Episode, stories: Collection[str]) -> bool:
    """Whether a page of an episode has anything to look at: one of its stories, or, where none was listed, words or a recording."""
    if episode.rundown:
        return any(entry.story in stories for entry in episode.rundown)
    return episode.video is not None or bool(episode.body.strip())


def _at(
    story: Story, newsroom: Newsroom, episodes: dict[str, Episode], as_of: datetime, zone: ZoneInfo
) -> _KeptStory:
    until = Until()
    times = plan_story(story, episodes, zone)
    seen = until(visibility(times, as_of))
    published = (
        _story(story, times.release, newsroom, as_of, zone, until) if seen is Visibility.PUBLISHED else None
    )
    return _KeptStory(story, as_of, until.first, seen, published)


def _story(
    story: Story, release: datetime, newsroom: Newsroom, as_of: datetime, zone: ZoneInfo, until: Until
) -> PublishedStory:
    asks: list[PublishedAsk] = []
    for rank, ask in enumerate(story.asks):
        times = plan_end(ask, newsroom.station.last_days, zone)
        word = until(standing(times, as_of))
        places: tuple[PublishedPlace, ...] = ()
        if word in LIVE:
            times = with_places(times, ask, zone)
            places = tuple(
                PublishedPlace(entry, each, until(place_state(each, as_of)))
                for entry, each in zip(ask.drop_off, times.places, strict=True)
            )
        asks.append(PublishedAsk(story, rank, times, word, places))
    entries: list[PublishedEntry] = []
    ended = False
    for entry in story.listing:
        when = plan_entry(entry, zone)
        state = until(entry_standing(when, as_of))
        if state is EntryStanding.ENDED:
            ended = True
        else:
            entries.append(
                PublishedEntry(story, entry, when.starts, when.ends, state is EntryStanding.STOPPED)
            )
    named = dict.fromkeys(entry.place.id for ask in story.asks for entry in ask.drop_off if entry.place.id)
    return PublishedStory(story, release, tuple(asks), tuple(entries), ended, tuple(named))
