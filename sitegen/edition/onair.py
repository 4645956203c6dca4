"""The on-air pack of one episode: what the host says, what whoever answers the phone must know, what goes on the screen.

For the newsroom alone, and made before the broadcast: so it is true for the moment of the broadcast, or for the moment asked for
where that is later. It says of each story of the rundown whether viewers will find it; what they will not find is named, and
nothing of it is put on the screen.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from sitegen.clock.asks import plan_entry
from sitegen.clock.stories import Visibility, plan_story, visibility
from sitegen.clock.timed import Timed, Until, next_after
from sitegen.edition import addresses
from sitegen.edition.compose import make_frame
from sitegen.edition.happenings import Event, event_of
from sitegen.edition.models import AskView, Frame, ListingLine, Moment
from sitegen.edition.moments import moment, start_moment
from sitegen.edition.published import Published, PublishedStory, publish
from sitegen.edition.routes import Routes
from sitegen.edition.views import Views
from sitegen.newsroom.records import Episode, Newsroom, Story
from sitegen.newsroom.times import start_of, zone_named

LATELY = timedelta(days=30)
"""How long after its end callers are told of an ask that it is over."""


@dataclass(frozen=True, slots=True)
class OnAirStory:
    """One story of the rundown, in its order."""

    headline: str
    """A story's id where no story can be read."""
    state: str
    """`on` when viewers find it; else `held`, `later`, `withdrawn` or `missing`, and then only `headline`, `time` and
    `release` are filled."""
    time: int | None
    """Seconds from the start of the broadcast."""
    release: Moment | None = None
    """For `later`: when it will be found."""
    summary: str = ""
    language: str = ""
    """BCP 47."""
    address: str = ""
    """Site address of its page."""
    short: str = ""
    """Site address that is read out, such as `coats/`; empty where it has none that leads to it."""
    asks: tuple[AskView, ...] = ()
    """As written; ended ones too."""
    events: tuple[Event | None, ...] = ()
    """When each of `asks` is, in their order; None for one without dates to come."""
    listing: tuple[ListingLine, ...] = ()
    """What is still to come of its round-up, in time order."""


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """What callers may ask about beside the episode: the asks of all other published stories."""

    live: tuple[AskView, ...] = ()
    """Open and coming ones, soonest end first."""
    over: tuple[AskView, ...] = ()
    """Those that ended lately, the last first."""
    true_until: Moment | None = None
    """When something in it changes; None when nothing does any more."""


@dataclass(frozen=True, slots=True)
class OnAirPack:
    frame: Frame
    episode: str
    """Its id."""
    title: str
    aired: Moment
    held: bool
    """The whole episode is on hold."""
    true_from: Moment
    """What it is true for: the broadcast, or a later moment."""
    true_until: Moment | None
    """When something in its stories changes; None when nothing does any more."""
    stories: tuple[OnAirStory, ...]
    elsewhere: Elsewhere = Elsewhere()

    @property
    def shown(self) -> tuple[OnAirStory, ...]:
        """The stories that viewers find."""
        return tuple(story for story in self.stories if story.state == "on")

    @property
    def all_true_until(self) -> Moment | None:
        """When something in it or elsewhere changes."""
        ends = [each for each in (self.true_until, self.elsewhere.true_until) if each is not None]
        return min(ends, key=lambda each: datetime.fromisoformat(each.iso), default=None)


def on_air_pack(newsroom: Newsroom, episode: Episode, as_of: datetime) -> OnAirPack:
    """The pack of an episode as of a moment (UTC), or of its broadcast where that is still to come."""
    zone = zone_named(newsroom.station.time_zone)
    airs = start_of(episode.aired, zone)
    when = max(as_of, airs)
    published = publish(newsroom, when)
    leads = Routes(published).leads
    until = Until()
    views = Views(published).collecting(until)
    known = {story.id: story for story in newsroom.stories}
    episodes = {each.id: each for each in newsroom.episodes}

    def line(name: str, time: int | None) -> OnAirStory:
        story = known.get(name)
        if story is None:
            return OnAirStory(name, "missing", time)
        times = plan_story(story, episodes, zone)
        seen = until(visibility(times, when))
        if seen is Visibility.PUBLISHED:
            return shown(story, time)
        if seen is Visibility.NOTICE:
            return OnAirStory(story.headline, "withdrawn", time)
        if times.held:
            return OnAirStory(story.headline, "held", time)
        return OnAirStory(story.headline, "later", time, moment(times.release, zone))

    def shown(story: Story, time: int | None) -> OnAirStory:
        each = published.stories[story.id]
        short = f"{story.say_on_air}/"
        for other in newsroom.stories:
            # A follow-up is the next step from what is over, and whoever shares the word may have it later.
            if other.follows == story.id or (
                other.id != story.id
                and story.say_on_air
                and story.say_on_air in (other.say_on_air, *other.heard_as)
            ):
                until(visibility(plan_story(other, episodes, zone), when))
                if other.id in published.stories:
                    _remember(until, when, _turns(published.stories[other.id], zone))
        _remember(until, when, _turns(each, zone))
        events = tuple(event_of(ask, when, zone) for ask in each.asks)
        _remember(until, when, [turn for event in events if event is not None for turn in event.turns])
        return OnAirStory(
            headline=story.headline,
            state="on",
            time=time,
            summary=story.summary,
            language=story.language or newsroom.station.language,
            address=addresses.story(story.id),
            short=short if story.say_on_air and leads.get(short) == story else "",
            asks=tuple(views.ask(ask) for ask in each.asks),
            events=events,
            listing=tuple(
                views.listing_line(entry) for entry in sorted(each.entries, key=lambda entry: entry.ends)
            ),
        )

    stories = tuple(line(entry.story, entry.time) for entry in episode.rundown)
    return OnAirPack(
        frame=make_frame(newsroom),
        episode=episode.id,
        title=episode.title,
        aired=start_moment(episode.aired, zone),
        held=episode.hold,
        true_from=start_moment(episode.aired, zone) if when == airs else moment(when, zone),
        true_until=moment(until.first, zone) if until.first is not None else None,
        stories=stories,
        elsewhere=_elsewhere(published, {entry.story for entry in episode.rundown}),
    )


def _elsewhere(published: Published, told: set[str]) -> Elsewhere:
    """The asks of all published stories but those that are told."""
    until, when, zone = Until(), published.as_of, published.zone
    until(Timed(None, published.until.first))
    views = Views(published).collecting(until)
    others = [each for each in published.stories.values() if each.story.id not in told]
    for each in others:
        # An ask says in what story it goes on when it is over, and which place is the next to shut.
        _remember(until, when, _turns(each, zone))
    asks = [ask for each in others for ask in each.asks]
    # What was called off whole is over before its story is out, and callers learn of it then.
    since = {id(ask): max(ask.times.ends, each.release) for each in others for ask in each.asks}
    over = [ask for ask in asks if not ask.is_live and since[id(ask)] + LATELY > when]
    _remember(until, when, [since[id(ask)] + LATELY for ask in over])
    live = sorted((ask for ask in asks if ask.is_live), key=lambda ask: ask.order)
    over.sort(key=lambda ask: ask.order, reverse=True)
    shown, ended = tuple(map(views.ask, live)), tuple(map(views.ask, over))
    return Elsewhere(shown, ended, moment(until.first, zone) if until.first is not None else None)


def _turns(story: PublishedStory, zone: ZoneInfo) -> list[datetime | None]:
    """The instants at which something of a story opens, ends or shuts."""
    found: list[datetime | None] = []
    for ask in story.asks:
        times = ask.times
        found += [times.opens, times.last_days_from, times.ends]
        found += [
            moment for place in times.places for moment in (place.opens, place.last_chance, place.stops)
        ]
    for entry in story.entries:
        found += [entry.ends, plan_entry(entry.entry, zone).stops]
    return found


def _remember(until: Until, when: datetime, changes: list[datetime | None]) -> None:
    until(Timed(None, next_after(when, changes)))
