"""Stories of the past: what checks find in one by itself is the same at every later moment, so it is kept with the story.

Of an archive nearly all stories are past. They stand on the desk all the same, for checks that hold several things against each
other; those that look at each story by itself are asked about the others alone.
"""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from msgspec import msgpack

from sitegen.clock.stories import Beside
from sitegen.newsroom.keeping import Drawer
from sitegen.newsroom.records import Finding, Newsroom, Place, Story
from sitegen.newsroom.times import day_end, end_of
from sitegen.proof.copychecks.base import LATELY, Desk, DeskStory, Past, latest_end

PAST = "past"
"""What a drawer keeps of a story of the past."""


_PAST = msgpack.Decoder(Past)


class PastStories:
    """What a drawer has of the stories of the past."""

    def __init__(self, newsroom: Newsroom, as_of: datetime, drawer: Drawer) -> None:
        """`as_of`: UTC."""
        self._as_of = as_of
        self._drawer = drawer
        episodes = {episode.id: episode for episode in newsroom.episodes}
        self._beside = Beside(episodes, newsroom.station)

    def take(self, story: Story) -> Past | None:
        packed = self._drawer.take(PAST, story)
        if packed is None:
            return None
        past = _PAST.decode(packed)
        return past if past.since <= self._as_of and past.beside == self._beside.digest(story) else None

    def packed(self, each: DeskStory, found: tuple[Finding, ...]) -> bytes:
        """What is to be kept of a story of the past, in which these were found."""
        return msgpack.encode(
            Past(
                self._beside.digest(each.story), self._as_of, each.release, found, withheld_places(each.story)
            )
        )

    def put(self, story: Story, packed: bytes) -> Past:
        self._drawer.put(PAST, story, packed)
        return _PAST.decode(packed)


def is_past(each: DeskStory, desk: Desk) -> bool:
    """Whether time changes nothing any more in what is found in a story by itself: it was told long ago, its asks are over on
    either reading of their ends, and nothing in it lies ahead."""
    story, zone, as_of = each.story, desk.zone, desk.as_of
    return (
        each.release + LATELY <= as_of
        and story.withdrawn is None
        and all(correction.date <= desk.today for correction in story.corrections)
        and all(
            record is None or record.rights_end is None or end_of(record.rights_end, zone) <= as_of
            for record in (story.photo, story.video)
        )
        and all(latest_end(ask, zone) <= as_of for ask in story.asks)
        and all(day <= as_of for day in _written_days(story, zone))
    )


def _written_days(story: Story, zone: ZoneInfo) -> list[datetime]:
    """The ends of the days on which asks and their places are said to end: 00:00 of a day may be meant as its end."""
    ends = [ask.deadline for ask in story.asks]
    ends += [entry.until for ask in story.asks for entry in ask.drop_off]
    return [day_end(when.day, zone) for when in ends if when is not None]


def withheld_places(story: Story) -> tuple[Place, ...]:
    """The places written in a story's asks whose address is withheld and whose street is known."""
    return tuple(
        entry.place
        for ask in story.asks
        for entry in ask.drop_off
        if not entry.place.id and entry.place.withheld and entry.place.street[:1].isdigit()
    )
