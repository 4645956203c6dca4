"""Stories and episodes in time: held, released, withdrawn; and whether a picture's rights still run."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta
from enum import StrEnum
from hashlib import blake2b
from zoneinfo import ZoneInfo

from msgspec import Struct, msgpack

from sitegen.clock.timed import Timed, next_after
from sitegen.newsroom.records import Episode, Story, When
from sitegen.newsroom.times import day_end, day_start, end_of, start_of

_LONG_AGO = timedelta(days=400)
"""More than a year, whatever the zone and the calendar do: of an archive nearly all aired so long ago."""


class Visibility(StrEnum):
    """How much of a story an edition may hold."""

    NOTHING = "nothing"
    """On hold or not yet released."""
    PUBLISHED = "published"
    NOTICE = "notice"
    """Withdrawn: only its notice."""


class StoryTimes(Struct, frozen=True):
    """One story as instants (UTC)."""

    held: bool
    release: datetime
    withdrawn: datetime | None


def plan_story(story: Story, episodes: Mapping[str, Episode], zone: ZoneInfo) -> StoryTimes:
    """A story's instants. It is held by itself, or by its episodes when every one of them is.

    It is released at its embargo; else when the first of its episodes that is not held airs; else, in no
    episode, when it aired itself.
    """
    airing = [episodes[name] for name in story.episodes if name in episodes]
    free = [episode for episode in airing if not episode.hold]
    held = story.hold or (bool(airing) and not free)
    if story.embargo is not None:
        release = start_of(story.embargo, zone)
    elif free:
        release = min(start_of(episode.aired, zone) for episode in free)
    else:
        release = start_of(story.aired, zone)
    withdrawn = None
    if story.withdrawn is not None:
        withdrawn = day_start(story.withdrawn.date, zone)
        # Taken back on a day that was over before it would have come out, it never does: a notice would say that
        # it exists. On the day itself nobody can tell which came first, and viewers may have seen it.
        held = held or day_end(story.withdrawn.date, zone) <= release
    return StoryTimes(held, release, withdrawn)


class Beside:
    """What a story's instants rest on beside its record, as a digest: what `plan_story` asks of its episodes, and some settings."""

    def __init__(self, episodes: Mapping[str, Episode], settings: object) -> None:
        """`settings`: anything that msgspec packs."""
        self._episodes = episodes
        self._settings = msgpack.encode(settings)
        self._known: dict[tuple[str, ...], bytes] = {}
        """By the ids of a story's episodes."""

    def digest(self, story: Story) -> bytes:
        found = self._known.get(story.episodes)
        if found is None:
            airing = [
                (name, episode.hold, episode.aired)
                for name in story.episodes
                if (episode := self._episodes.get(name)) is not None
            ]
            packed = self._settings + msgpack.encode(airing)
            found = self._known[story.episodes] = blake2b(packed, digest_size=16).digest()
        return found


def visibility(times: StoryTimes, as_of: datetime) -> Timed[Visibility]:
    """How much of a story may be shown at a moment. What was never released leaves no notice either."""
    if times.held:
        return Timed(Visibility.NOTHING, None)
    if as_of < times.release:
        return Timed(Visibility.NOTHING, times.release)
    if times.withdrawn is not None and as_of >= times.withdrawn:
        return Timed(Visibility.NOTICE, None)
    return Timed(Visibility.PUBLISHED, next_after(as_of, (times.withdrawn,)))


def episode_visible(episode: Episode, as_of: datetime, zone: ZoneInfo) -> Timed[bool]:
    """True once an episode that is not held has aired."""
    if episode.hold:
        return Timed(False, None)
    aired = start_of(episode.aired, zone)
    return Timed(as_of >= aired, next_after(as_of, (aired,)))


def rights_run(rights_end: When | None, as_of: datetime, zone: ZoneInfo) -> Timed[bool]:
    """True while the rights to a picture or video have not run out; a bare date counts to its end."""
    if rights_end is None:
        return Timed(True, None)
    end = end_of(rights_end, zone)
    return Timed(as_of < end, next_after(as_of, (end,)))


def lately_aired(aired: When, as_of: datetime, zone: ZoneInfo) -> Timed[bool]:
    """True until the same day of the next year begins; one aired on Feb. 29 counts until March 1."""
    day = aired.day
    if as_of.date() - day > _LONG_AGO:
        return Timed(False, None)
    if day.month == 2 and day.day == 29:
        day += timedelta(days=1)
    end = day_start(day.replace(year=day.year + 1), zone)
    return Timed(as_of < end, next_after(as_of, (end,)))


def has_come(moment: datetime, as_of: datetime) -> Timed[bool]:
    """True from a moment on."""
    return Timed(as_of >= moment, next_after(as_of, (moment,)))
