"""Stories at rest: nothing can be done by them any more, so that of their pages only what others say can change.

Of an archive nearly all is at rest. What such a page holds beside its story's own record is little (`StoryAround`), and is asked for
each time; where it is the same as when the page was composed, the page is, and its digest is known without composing it.
"""

from __future__ import annotations

from hashlib import blake2b

from msgspec import Struct, msgpack
from msgspec.structs import replace

from sitegen.edition.models import CorrectionView, Frame, PictureView, Ref, ShareView
from sitegen.edition.published import PublishedStory
from sitegen.newsroom.records import Station

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


def anew(each: PublishedStory) -> PublishedStory:
    """The same of a record that shares nothing with the one that the edition holds."""
    story = each.story.anew()
    if story is each.story:
        return each
    return replace(each, story=story, asks=tuple(replace(ask, story=story) for ask in each.asks))


def ground_of(station: Station, frame: Frame) -> bytes:
    """A digest of what all stories' pages rest on."""
    return blake2b(msgpack.encode((station, frame)), digest_size=KEY).digest()


def key_of(each: PublishedStory, around: StoryAround, ground: bytes) -> bytes:
    """A digest of all that the page of a story at rest is made of, but its record."""
    packed = msgpack.encode((ground, [ask.standing for ask in each.asks], around))
    return blake2b(packed, digest_size=KEY).digest()
