"""Which story, ask or place of now is one of before, also where its name was changed: only where that is sure. Pure."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator

from sitegen.newsroom.records import Ask, DropOff, Newsroom, Place, Story
from sitegen.newsroom.removals import pairs


def story_pairs(
    accepted: Newsroom, current: Newsroom, gone: Collection[str], added: Collection[str]
) -> Iterator[tuple[Story, Story]]:
    """(accepted story, what it is now), by id; else, where its file is gone, the one added story that must be it, if no other
    may be.

    `gone` are paths of accepted files that are no longer there, `added` those of files that were not accepted.
    """
    now = {story.id: story for story in current.stories}
    lost = [story for story in accepted.stories if story.origin.spot.path in gone]
    new = [story for story in current.stories if lost and story.origin.spot.path in added]
    for story in accepted.stories:
        if story.id in now:
            yield story, now[story.id]
    for story in lost:
        alike = [each for each in new if _is_moved(story, each)]
        if len(alike) == 1 and sum(_is_moved(each, alike[0]) for each in lost) == 1:
            yield story, alike[0]


def _is_moved(old: Story, new: Story) -> bool:
    """Aired on the same day in the same language, and of the same headline, or of the same counties with the same asks."""
    if (old.aired.day, old.language) != (new.aired.day, new.language):
        return False
    asks = {(ask.key, ask.kind) for ask in old.asks}
    return old.headline == new.headline or (
        bool(asks) and old.counties == new.counties and asks == {(ask.key, ask.kind) for ask in new.asks}
    )


def ask_pairs(old: Story, new: Story) -> list[tuple[Ask, Ask]]:
    """(ask of before, what it is now), by key; else, where the story has as many as before, the one of its kind that stands in
    its place under a new key."""
    return [
        (before, now)
        for before, now in pairs(old.asks, new.asks, lambda ask: ask.key, lenient=False)
        if before.kind is now.kind
    ]


_SAME_PLACE: tuple[Callable[[Place, Place], bool], ...] = (
    lambda old, new: bool(old.id) and old.id == new.id,
    lambda old, new: (old.name, old.town) == (new.name, new.town),
    lambda old, new: bool(old.street) and (old.street, old.town) == (new.street, new.town),
    lambda old, new: old.name == new.name and not (old.id and new.id),
)
"""From sure to likely; two shared places of one name may well lie in two towns."""


def entry_pairs(old: Ask, new: Ask) -> list[tuple[DropOff, DropOff | None]]:
    """(entry of before, what it is now, or None when its place is no longer named), in the order of before."""
    found: dict[int, DropOff] = {}
    left = list(new.drop_off)
    for is_same in _SAME_PLACE:
        for rank, entry in enumerate(old.drop_off):
            alike = [each for each in left if rank not in found and is_same(entry.place, each.place)]
            if alike:
                found[rank] = alike[0]
                left = [each for each in left if each is not alike[0]]
    return [
        (entry, found.get(rank))
        for rank, entry in enumerate(old.drop_off)
        # A place that was named twice, and is still named once, has not gone.
        if rank in found or not any(_SAME_PLACE[0](entry.place, each.place) for each in new.drop_off)
    ]
