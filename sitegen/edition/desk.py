"""What the producer's desk shows: what closes, what is missing, which counties wait for a story, and every ask along the days.

A model like a page's, but for the newsroom's eyes only: it may name what is not published yet.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from sitegen.clock.asks import Standing
from sitegen.clock.stories import plan_story
from sitegen.edition import addresses
from sitegen.edition.due import Due, DueLine
from sitegen.edition.published import Published, PublishedAsk
from sitegen.newsroom.records import Newsroom, Origin, Story
from sitegen.newsroom.slugs import BEYOND
from sitegen.newsroom.times import day_start, local_day

WEEK = timedelta(days=7)
MONTHS = 12
"""How far back the counties' stories are counted."""
QUIET_DAYS = 42
"""After so many days without a story a county is called quiet: six weekly programmes (common practice, no source)."""
BEFORE, AHEAD = timedelta(days=14), timedelta(days=42)
"""What the timeline shows around the moment."""


@dataclass(frozen=True, slots=True)
class CountyRow:
    """One county's stories."""

    name: str
    """Empty for news from beyond."""
    counts: tuple[int, ...]
    """Published stories aired in each month, oldest first."""
    newest: date | None
    """When its newest published story aired."""
    is_quiet: bool
    """It has had none lately."""


@dataclass(frozen=True, slots=True)
class AskRow:
    """One ask along the days. Shares are of the timeline's length, 0 to 1."""

    title: str
    headline: str
    address: str
    standing: Standing
    opens: datetime | None
    ends: datetime
    """UTC; of an ongoing one, when it must have been checked again."""
    lapses: bool
    """It is ongoing."""
    last_doors: tuple[datetime, ...]
    """Last chances before its end, soonest first."""
    start_share: float
    end_share: float
    door_shares: tuple[float, ...]
    file: str
    line: int


@dataclass(frozen=True, slots=True)
class HeldRow:
    """A story that waits until somebody lifts its hold."""

    headline: str
    address: str
    """In the site, once it is released."""
    aired: date
    file: str
    by: tuple[str, ...]
    """The files of its episodes, where they are on hold and the story itself is not."""


@dataclass(frozen=True, slots=True)
class DeskView:
    as_of: datetime
    zone: ZoneInfo
    closes: tuple[DueLine, ...]
    """Within a week."""
    opens: tuple[DueLine, ...]
    confirm: tuple[DueLine, ...]
    runs_out: tuple[DueLine, ...]
    missing: tuple[DueLine, ...]
    """What keeps a picture or a video from being shown."""
    held: tuple[HeldRow, ...]
    """By air date, newest first."""
    next_build: datetime | None
    months: tuple[date, ...]
    """First days, oldest first."""
    counties: tuple[CountyRow, ...]
    asks: tuple[AskRow, ...]
    """Every live one, soonest end first."""
    starts: datetime
    """UTC, of the timeline."""
    stops: datetime
    now_share: float
    weeks: tuple[float, ...]
    """The shares at which Mondays begin."""


def desk_view(newsroom: Newsroom, published: Published, due: Due) -> DeskView:
    """The desk as of the moment of `published`; `due` is of the same records and moment."""
    as_of, zone = published.as_of, published.zone
    starts, stops = as_of - BEFORE, as_of + AHEAD
    months = _months(local_day(as_of, zone))
    return DeskView(
        as_of=as_of,
        zone=zone,
        closes=tuple(line for line in due.closes if line.when is not None and line.when <= as_of + WEEK),
        opens=due.opens,
        confirm=due.confirm,
        runs_out=due.runs_out,
        missing=tuple(_missing(newsroom, as_of, zone)),
        held=tuple(_held(newsroom)),
        next_build=due.next_build,
        months=months,
        counties=_counties(newsroom, published, months),
        asks=tuple(_row(ask, starts, stops) for ask in published.asks),
        starts=starts,
        stops=stops,
        now_share=_share(as_of, starts, stops),
        weeks=tuple(_mondays(starts, stops, zone)),
    )


def _share(moment: datetime, starts: datetime, stops: datetime) -> float:
    return min(max((moment - starts) / (stops - starts), 0.0), 1.0)


def _mondays(starts: datetime, stops: datetime, zone: ZoneInfo) -> Iterable[float]:
    day = local_day(starts, zone) + timedelta(days=1)
    while (begins := day_start(day, zone)) < stops:
        if day.weekday() == 0:
            yield _share(begins, starts, stops)
        day += timedelta(days=1)


def _months(today: date) -> tuple[date, ...]:
    number = today.year * 12 + today.month - 1
    return tuple(date(each // 12, each % 12 + 1, 1) for each in range(number - MONTHS + 1, number + 1))


def _counties(newsroom: Newsroom, published: Published, months: tuple[date, ...]) -> tuple[CountyRow, ...]:
    today = local_day(published.as_of, published.zone)
    names = {**{county.key: county.name for county in newsroom.station.counties}, BEYOND: ""}
    counts = {key: dict.fromkeys(months, 0) for key in names}
    newest: dict[str, date] = {}
    for each in published.stories.values():
        day = each.story.aired.day
        for key in each.story.counties:
            newest[key] = max(newest.get(key, day), day)
            if (month := day.replace(day=1)) in counts[key]:
                counts[key][month] += 1
    return tuple(
        CountyRow(
            name,
            tuple(counts[key].values()),
            newest.get(key),
            # News from beyond is nobody's turn.
            key != BEYOND and (key not in newest or (today - newest[key]).days > QUIET_DAYS),
        )
        for key, name in names.items()
    )


def _row(each: PublishedAsk, starts: datetime, stops: datetime) -> AskRow:
    ask, times = each.ask, each.times
    doors = {place.times.last_chance for place in each.live_places}
    last = tuple(sorted(door for door in doors if door is not None and door < times.ends))
    spot = ask.origin.spot
    return AskRow(
        title=ask.title,
        headline=each.story.headline,
        address=addresses.ask(each.story.id, ask.key),
        standing=each.standing,
        opens=times.opens,
        ends=times.ends,
        lapses=times.lapses,
        last_doors=last,
        start_share=_share(times.opens, starts, stops) if times.opens is not None else 0.0,
        end_share=_share(times.ends, starts, stops),
        door_shares=tuple(_share(door, starts, stops) for door in last if starts <= door <= stops),
        file=spot.path,
        line=spot.line,
    )


def _held(newsroom: Newsroom) -> Iterable[HeldRow]:
    episodes = {episode.id: episode for episode in newsroom.episodes}
    for story in sorted(newsroom.stories, key=lambda each: each.aired.day, reverse=True):
        airing = [episodes[name] for name in story.episodes if name in episodes]
        by_episode = bool(airing) and all(episode.hold for episode in airing)
        if story.withdrawn is None and (story.hold or by_episode):
            files = () if story.hold else tuple(episode.origin.spot.path for episode in airing)
            address = addresses.story(story.id)
            yield HeldRow(story.headline, address, story.aired.day, story.origin.spot.path, files)


def _missing(newsroom: Newsroom, as_of: datetime, zone: ZoneInfo) -> Iterable[DueLine]:
    """What is not shown, or will not be, until something is filled in; of stories newest first, held ones too."""
    episodes = {episode.id: episode for episode in newsroom.episodes}

    def is_going(story: Story) -> bool:
        withdrawn = plan_story(story, episodes, zone).withdrawn
        return withdrawn is None or as_of < withdrawn

    for story in sorted(newsroom.stories, key=lambda each: (each.aired.day, each.id), reverse=True):
        photo, video = story.photo, story.video
        if (photo is None and video is None) or not is_going(story):
            continue
        if photo is not None and not photo.alt:
            yield _line(
                photo.origin,
                "alt",
                f"the photo of '{story.headline}' has no words for those who do not see it",
            )
        if photo is not None and photo.children and not photo.consent:
            yield _line(
                photo.origin,
                "consent",
                f"the photo of '{story.headline}' shows children and has no consent on file",
            )
        if video is not None and video.captions is None and not video.air_only:
            yield _line(video.origin, "captions", f"the video of '{story.headline}' waits for its captions")
    for episode in reversed(newsroom.episodes):
        video = episode.video
        if video is not None and video.captions is None and not video.air_only:
            yield _line(
                video.origin, "captions", f"the video of the episode {episode.id} waits for its captions"
            )


def _line(origin: Origin, key: str, what: str) -> DueLine:
    spot = origin.of(key)
    return DueLine(None, what, spot.path, spot.line)
