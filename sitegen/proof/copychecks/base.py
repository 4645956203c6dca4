"""What every check of the copy needs: the newsroom laid out as of a moment, and the shape of a finding.

What may be seen now or later is on the desk; stories that are held or already withdrawn are not, for
nothing of them is published.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from functools import cached_property
from zoneinfo import ZoneInfo

from msgspec import Struct, msgpack

from sitegen.clock.asks import AskTimes, PlaceTimes, Standing, plan_ask, standing
from sitegen.clock.stories import Visibility, plan_story, visibility
from sitegen.newsroom.keeping import Drawer
from sitegen.newsroom.records import (
    Ask,
    DropOff,
    Episode,
    Finding,
    Kind,
    Newsroom,
    Place,
    Position,
    Spot,
    Station,
    Story,
    Town,
    Weight,
)
from sitegen.newsroom.times import (
    MONTH_NAMES,
    WEEKDAY_NAMES,
    day_end,
    end_of,
    local_day,
    start_of,
    zone_named,
)
from sitegen.proof.copychecks.texts import Text, ask_texts, episode_texts, story_texts

LATELY = timedelta(days=30)
"""How long after its release a story is still looked at for what was said on air."""


_FINDINGS = msgpack.Decoder(tuple[Finding, ...])
_NOTHING_FOUND = msgpack.encode(())


@dataclass(frozen=True, slots=True)
class LiveAsk:
    """An ask that is not over: coming, open or in its last days."""

    story: Story
    release: datetime
    """UTC, of its story."""
    published: bool
    """Its story is published at this moment."""
    rank: int
    """Index in the story's asks, which a record of the archive may unpack anew each time it is asked for them."""
    ask: Ask
    times: AskTimes
    standing: Standing
    texts: tuple[Text, ...]
    """What it says in free words."""

    @property
    def places(self) -> Iterator[tuple[DropOff, PlaceTimes]]:
        """Each of its places with its instants."""
        return zip(self.ask.drop_off, self.times.places, strict=True)


@dataclass(frozen=True)
class DeskStory:
    """A story that is published or will be.

    Not slotted: of most stories nobody asks for the texts, since what was found in them is kept.
    """

    story: Story
    release: datetime
    """UTC."""
    published: bool
    live: tuple[LiveAsk, ...]
    language: str
    """The station's, BCP 47."""

    @cached_property
    def texts(self) -> tuple[Text, ...]:
        """What stays when its asks are over."""
        return tuple(story_texts(self.story, self.language))


class Past(Struct, frozen=True, array_like=True):
    """A story of the past, as it is kept; see `past.py`."""

    beside: bytes
    """A digest of what it rests on beside its record."""
    since: datetime
    """A moment from which on it is past, UTC."""
    release: datetime
    found: tuple[Finding, ...]
    """By the checks that look at each story by itself."""
    withheld: tuple[Place, ...]
    """Of the places written in its asks, those whose street is to be told nowhere."""


@dataclass(frozen=True, slots=True)
class Desk:
    """The newsroom as of a moment."""

    newsroom: Newsroom
    as_of: datetime
    """UTC."""
    zone: ZoneInfo
    today: date
    """The local date."""
    stories: tuple[DeskStory, ...]
    """By id."""
    past: Mapping[str, Past]
    """Those of the stories that are past, by id."""
    live_asks: tuple[LiveAsk, ...]
    """Every ask that is not over, in the stories' order."""
    known: dict[str, Story]
    """Every story by id, held and withdrawn ones too."""
    episodes: dict[str, Episode]
    episode_texts: tuple[Text, ...]
    """Of the episodes that are not on hold."""
    towns: dict[tuple[str, str], Town]
    """By (county's key, town's name)."""
    county_positions: dict[str, Position]
    """By county's key; counties without a position are left out."""
    drawer: Drawer
    """Has what was worked out of stories before."""

    def found_in_texts(self, kind: str, find: Callable[[Text], Iterator[Finding]]) -> Iterator[Finding]:
        """What a check finds in every text, where it looks at nothing but the text: what it found in a story is kept."""
        kind = f"{kind} {self.newsroom.station.language}"
        for each in self.stories:
            packed = self.drawer.take(kind, each.story)
            if packed is None:
                found = tuple(finding for text in each.texts for finding in find(text))
                self.drawer.put(kind, each.story, msgpack.encode(found))
                yield from found
            elif packed != _NOTHING_FOUND:
                yield from _FINDINGS.decode(packed)
            for live in each.live:
                for text in live.texts:
                    yield from find(text)
        for text in self.episode_texts:
            yield from find(text)

    def is_current(self, each: DeskStory) -> bool:
        """True while a story is coming, new, or has something to do: while what is said of it on air can change."""
        return bool(each.live) or each.release + LATELY > self.as_of

    def seen_at(self, story: Story, moment: datetime) -> Visibility:
        """How much of a story an edition as of a moment (UTC) holds."""
        return visibility(plan_story(story, self.episodes, self.zone), moment).value


CopyCheck = Callable[[Desk], Iterator[Finding]]


def lay_out(newsroom: Newsroom, as_of: datetime, drawer: Drawer, past: Mapping[str, Past]) -> Desk:
    """The newsroom as of a moment (UTC). `past`: stories that are known to be past, by id."""
    zone = zone_named(newsroom.station.time_zone)
    episodes = {episode.id: episode for episode in newsroom.episodes}
    stories: list[DeskStory] = []
    language = newsroom.station.language
    for story in newsroom.stories:
        if story.id in past:
            stories.append(DeskStory(story, past[story.id].release, True, (), language))
            continue
        times = plan_story(story, episodes, zone)
        if times.held or (times.withdrawn is not None and times.withdrawn <= as_of):
            continue
        published = visibility(times, as_of).value is Visibility.PUBLISHED
        live = tuple(_live(story, times.release, published, newsroom.station, as_of, zone))
        stories.append(DeskStory(story, times.release, published, live, language))
    counties = newsroom.station.counties
    return Desk(
        newsroom=newsroom,
        as_of=as_of,
        zone=zone,
        today=local_day(as_of, zone),
        stories=tuple(stories),
        past=past,
        live_asks=tuple(each for story in stories for each in story.live),
        known={story.id: story for story in newsroom.stories},
        episodes=episodes,
        episode_texts=tuple(
            text
            for episode in newsroom.episodes
            if not episode.hold
            for text in episode_texts(episode, language)
        ),
        towns={(county.key, town.name): town for county in counties for town in county.towns},
        county_positions={county.key: county.position for county in counties if county.position is not None},
        drawer=drawer,
    )


def _live(
    story: Story, release: datetime, published: bool, station: Station, as_of: datetime, zone: ZoneInfo
) -> Iterator[LiveAsk]:
    for rank, ask in enumerate(story.asks):
        # Most of an archive is over, and planning every door of it would cost more than all checks.
        if latest_end(ask, zone) <= as_of:
            continue
        times = plan_ask(ask, station.last_days, zone)
        word = standing(times, as_of).value
        if word not in (Standing.ENDED, Standing.LAPSED):
            texts = tuple(ask_texts(ask, story, station.language))
            yield LiveAsk(story, release, published, rank, ask, times, word, texts)


def latest_end(ask: Ask, zone: ZoneInfo) -> datetime:
    """An instant (UTC) by which an ask is over for certain, found without looking at any hours."""
    ends: list[datetime] = []
    by = ask.deadline or ask.check_again_by
    if by is not None:
        ends.append(end_of(by, zone))
    elif ask.dates:
        last = max(span.last.day for span in ask.dates)
        # An opening that begins on the last date ends before the next one does.
        end = day_end(last + timedelta(days=1), zone)
        ends.append(end + timedelta(minutes=ask.minutes or 0) if ask.kind is Kind.TUNE_IN else end)
    if ask.stopped is not None and ask.stopped.when is not None:
        ends.append(start_of(ask.stopped.when, zone))
    return min(ends, default=datetime.max.replace(tzinfo=UTC))


def concern(spot: Spot, check: str, message: str, instead: str = "") -> Finding:
    """A finding that is listed and stops nothing."""
    # A sentence that ends with "2 p.m." has its full stop already.
    return Finding(
        spot, Weight.CONCERN, check, message.replace(".m..", ".m."), instead.replace(".m..", ".m.")
    )


# --- in words ----------------------------------------------------------------------------------


def day_words(day: date) -> str:
    """Such as `Saturday, December 12, 2026`. Findings are in English, whatever the machine's language."""
    return f"{WEEKDAY_NAMES[day.weekday()]}, {MONTH_NAMES[day.month - 1]} {day.day}, {day.year}"


def end_words(moment: datetime, zone: ZoneInfo) -> str:
    """The local day and time at which something ends: `Saturday, December 12, 2026, 2 p.m.`. Midnight is said as the
    end of the day before."""
    local = moment.astimezone(zone)
    if (local.hour, local.minute) == (0, 0):
        return f"the end of {day_words(local.date() - timedelta(days=1))}"
    return start_words(moment, zone)


def start_words(moment: datetime, zone: ZoneInfo) -> str:
    """The local day and time at which something begins; midnight is said as the day alone."""
    local = moment.astimezone(zone)
    if (local.hour, local.minute) == (0, 0):
        return day_words(local.date())
    return f"{day_words(local.date())}, {clock_words(local)}"


def clock_words(local: datetime) -> str:
    """Such as `2 p.m.`, `9:30 a.m.`, `noon`, `midnight`."""
    if local.minute == 0 and local.hour in (0, 12):
        return "noon" if local.hour else "midnight"
    minutes = f":{local.minute:02d}" if local.minute else ""
    return f"{(local.hour + 11) % 12 + 1}{minutes} {'p.m.' if local.hour >= 12 else 'a.m.'}"


def listed(names: Iterable[str], most: int = 3) -> str:
    """Names as a sentence lists them, the rest counted: `A, B, C and 2 more`."""
    each = list(dict.fromkeys(names))
    if len(each) > most:
        each = [*each[:most], f"{len(each) - most} more"]
    return " and ".join([", ".join(each[:-1]), each[-1]] if len(each) > 1 else each)
