"""Stories at rest: nothing can be done by them any more, so that of their pages only what others say can change.

Of an archive nearly all is at rest. What such a page holds beside its story's own record is little (`StoryAround`), and is asked for
each time; where it is the same as when the page was composed, the page is, and its digest is known without composing it.
"""

from __future__ import annotations

from datetime import datetime
from hashlib import blake2b

from msgspec import Struct, msgpack

from sitegen.clock.asks import AskTimes, Standing
from sitegen.edition.models import CorrectionView, Frame, PictureView, Ref, ShareView
from sitegen.edition.published import PublishedAsk, PublishedStory
from sitegen.newsroom.records import Station, Story

RESTING = "resting"
"""What a drawer keeps of a story at rest: what its page was composed with, and the digest of the page."""
KEY = 16
"""Bytes of a key."""


class StoryAround(Struct, frozen=True):
    """What a story's page shows that is not in the story's record alone, or comes and goes with the moment; its asks, its round-up
    and its video are not among it."""

    photo: PictureView | None
    leads: tuple[tuple[str, str], ...]
    """Where the links of its body lead, as `Body.links`."""
    corrections: tuple[CorrectionView, ...]
    follows: Ref | None
    followed_by: tuple[Ref, ...]
    episodes: tuple[Ref, ...]
    share: ShareView | None
    translations: tuple[tuple[str, Ref], ...]
    passed_on: tuple[tuple[str, Ref], ...]
    said_on_air: str


def is_at_rest(each: PublishedStory) -> bool:
    """Whether a story's page rests on its record, on what is around it and on the station: its asks are over, by themselves and not
    by word, so that the calendar has nothing of it either, and it has neither a round-up nor a video."""
    story = each.story
    return (
        not story.listing
        and story.video is None
        and not any(ask.is_live or ask.times.stops is not None for ask in each.asks)
    )


class Asleep(Struct, frozen=True, array_like=True):
    """What the page of a story at rest is composed of, but the story's record and what all such pages rest on."""

    story: str
    """Its id."""
    release: datetime
    asks: tuple[tuple[Standing, AskTimes], ...]
    entries_ended: bool
    around: StoryAround

    def awoken(self, story: Story) -> PublishedStory:
        """The published story, of its record."""
        asks = tuple(
            PublishedAsk(story, rank, times, word, ()) for rank, (word, times) in enumerate(self.asks)
        )
        return PublishedStory(story, self.release, asks, (), self.entries_ended, ())


_ASLEEP = msgpack.Decoder(Asleep)


def put_to_sleep(each: PublishedStory, around: StoryAround) -> bytes:
    """What `wake` needs of a story at rest."""
    asks = tuple((ask.standing, ask.times) for ask in each.asks)
    return msgpack.encode(Asleep(each.story.id, each.release, asks, each.entries_ended, around))


def wake(packed: bytes) -> Asleep:
    """What was packed by `put_to_sleep`."""
    return _ASLEEP.decode(packed)


def ground_of(station: Station, frame: Frame) -> bytes:
    """A digest of what all stories' pages rest on."""
    return blake2b(msgpack.encode((station, frame)), digest_size=KEY).digest()


def key_of(asleep: bytes, ground: bytes) -> bytes:
    """A digest of all that the page of a story at rest is made of, but its record: of what `put_to_sleep` gave, and of the ground."""
    return blake2b(ground + asleep, digest_size=KEY).digest()
