"""What the newsroom takes back may not wait for somebody else's typo: accepted records less what current files remove.

Only removals are taken over (held, embargoed later, withdrawn, stopped, withheld, deleted, a picture's or video's rights, a
picture or video in whose place another stands); every other word stays as it was accepted. Where a current file's own words for
it cannot be read, its keys count (`takedowns.py`). Pure.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Container, Hashable, Mapping, Sequence
from dataclasses import replace
from datetime import time
from typing import NamedTuple, TypeVar

from sitegen.newsroom.records import (
    Ask,
    Captions,
    DropOff,
    Episode,
    ListingEntry,
    Newsroom,
    Photo,
    Picture,
    Place,
    StationPage,
    Story,
    Video,
    When,
)
from sitegen.newsroom.takedowns import Takedown, WrittenAsk, WrittenPlace


class _Files(NamedTuple):
    """What is known of the files beside those of the records."""

    there: Container[str]
    """Paths of those that are not known to be gone."""
    faulty: Collection[str]

    def may_hold(self, accepted: Picture | Captions | None, lenient: bool) -> bool:
        """Whether something of which the current record has nothing may only be what could not be read."""
        return (
            accepted is not None and accepted.file in self.there and (lenient or accepted.file in self.faulty)
        )


R = TypeVar("R", Story, Place, Episode, StationPage)
E = TypeVar("E", Ask, DropOff, ListingEntry)
W = TypeVar("W", WrittenAsk, WrittenPlace)

_NOTHING = Takedown()


def less_removals(
    accepted: Newsroom,
    current: Newsroom,
    there: Container[str],
    faulty: Collection[str],
    takedowns: Mapping[str, Takedown],
) -> Newsroom:
    """The accepted newsroom without what the current one takes back.

    `there` are the paths of all files that are not known to be gone, as in `Spot.path`, `faulty` those of them with faults. A record whose file is
    gone is deleted, and so is a picture, a video's captions or a round-up; one whose file cannot be read stays as it was accepted; so does a part
    of one that a faulty file lacks, for it may be what could not be read. `takedowns`, by path, say of files with faults what their
    keys take back; what cannot be read of that is left out altogether.
    """
    files = _Files(there, faulty)
    places = {place.id: place for place in current.places}
    stories = {story.id: story for story in current.stories}
    episodes = {episode.id: episode for episode in current.episodes}
    kept_places = tuple(
        _place(each, places.get(each.id), takedowns) for each in _not_deleted(accepted.places, there)
    )
    shared = {place.id: place for place in kept_places}
    kept_episodes = tuple(
        _episode(each, episodes.get(each.id), files, takedowns)
        for each in _not_deleted(accepted.episodes, there)
    )
    kept_stories = tuple(
        _story(each, stories.get(each.id), shared, files, takedowns)
        for each in _not_deleted(accepted.stories, there)
    )
    return replace(
        accepted,
        places=kept_places,
        stories=kept_stories,
        episodes=kept_episodes,
        pages=tuple(_not_deleted(accepted.pages, there)),
    )


def _not_deleted(records: Sequence[R], there: Container[str]) -> list[R]:
    return [each for each in records if each.origin.spot.path in there]


def _episode(
    accepted: Episode, current: Episode | None, files: _Files, takedowns: Mapping[str, Takedown]
) -> Episode:
    meant = takedowns.get(accepted.origin.spot.path, _NOTHING)
    accepted = replace(accepted, hold=accepted.hold or meant.hold)
    if current is None:
        return replace(accepted, video=_video(accepted.video, None, files, True))
    lenient = accepted.origin.spot.path in files.faulty
    told = {entry.story for entry in current.rundown}
    return replace(
        accepted,
        hold=accepted.hold or current.hold,
        aired=max(accepted.aired, current.aired, key=lambda when: when.order),
        video=_video(accepted.video, current.video, files, lenient),
        rundown=tuple(entry for entry in accepted.rundown if lenient or entry.story in told),
    )


def _place(accepted: Place, current: Place | None, takedowns: Mapping[str, Takedown]) -> Place:
    meant = takedowns.get(accepted.origin.spot.path, _NOTHING)
    withheld = meant.withheld or (current is not None and current.withheld)
    return replace(accepted, withheld=True) if withheld else accepted


def _story(
    accepted: Story,
    current: Story | None,
    shared: Mapping[str, Place],
    files: _Files,
    takedowns: Mapping[str, Takedown],
) -> Story:
    path = accepted.origin.spot.path
    if path in takedowns:
        accepted = _as_meant(accepted, current, takedowns[path])
    asks = accepted.asks
    listing = [entry for entry in accepted.listing if entry.origin.spot.path in files.there]
    if current is None:
        return replace(
            accepted,
            photo=_photo(accepted.photo, None, files, True),
            video=_video(accepted.video, None, files, True),
            asks=tuple(_ask(ask, ask, shared, True) for ask in asks),
            listing=tuple(listing),
        )
    lenient = path in files.faulty
    bad_rows = lenient or any(entry.origin.spot.path in files.faulty for entry in listing)
    asked = pairs(asks, current.asks, lambda ask: ask.key, lenient)
    entries = pairs(listing, current.listing, lambda entry: (entry.what, entry.town, entry.day), bad_rows)
    return replace(
        accepted,
        hold=accepted.hold or current.hold,
        embargo=_later(accepted.embargo, current.embargo),
        withdrawn=current.withdrawn or accepted.withdrawn,
        photo=_photo(accepted.photo, current.photo, files, lenient),
        video=_video(accepted.video, current.video, files, lenient),
        asks=tuple(_ask(ask, now, shared, lenient) for ask, now in asked),
        listing=tuple(
            replace(entry, stopped=now.stopped) if now.stopped is not None else entry
            for entry, now in entries
        ),
    )


def _as_meant(accepted: Story, current: Story | None, meant: Takedown) -> Story:
    """A story less what its file takes back and nobody can read: without the words to be shown instead it is held, and
    an ask or a place that was stopped left out."""
    read = {ask.key: ask for ask in current.asks} if current is not None else {}
    asks: list[Ask] = []
    for ask, written in _written(accepted.asks, lambda ask: ask.key, meant.asks, lambda ask: ask.key):
        now = read.get(ask.key)
        if written is not None and written.stopped and (now is None or now.stopped is None):
            continue
        asks.append(ask if written is None or now is not None else _less_places(ask, written))
    photo = accepted.photo
    if photo is not None:
        photo = replace(photo, children=photo.children or meant.children) if meant.photo else None
    return replace(
        accepted,
        hold=accepted.hold
        or meant.hold
        or (meant.withdrawn and (current is None or current.withdrawn is None))
        or (meant.embargo and accepted.embargo is None and (current is None or current.embargo is None)),
        photo=photo,
        asks=tuple(asks),
    )


def _less_places(ask: Ask, written: WrittenAsk) -> Ask:
    def name(entry: DropOff) -> str:
        return entry.place.id or entry.place.name

    return replace(
        ask,
        drop_off=tuple(
            replace(entry, place=replace(entry.place, withheld=True))
            if now is not None and now.withheld
            else entry
            for entry, now in _written(ask.drop_off, name, written.places, lambda place: place.name)
            if now is None or not now.stopped
        ),
    )


def _written(
    accepted: Sequence[E], key: Callable[[E], str], written: Sequence[W], key_of_written: Callable[[W], str]
) -> list[tuple[E, W | None]]:
    """Each accepted thing with what is written of it now: by its key, else, where as many are written, in the same place."""
    known = {key_of_written(each): each for each in written}
    before = {key(each) for each in accepted}
    found: list[tuple[E, W | None]] = []
    for rank, each in enumerate(accepted):
        now = known.get(key(each))
        if now is None and len(written) == len(accepted) and key_of_written(written[rank]) not in before:
            now = written[rank]
        found.append((each, now))
    return found


def _ask(accepted: Ask, current: Ask, shared: Mapping[str, Place], lenient: bool) -> Ask:
    entries: list[DropOff] = []
    entries_now = pairs(
        accepted.drop_off, current.drop_off, lambda entry: entry.place.id or entry.place.name, lenient
    )
    for entry, now in entries_now:
        place = entry.place
        if place.id and place.id not in shared:
            continue
        withheld = place.withheld or now.place.withheld or bool(place.id and shared[place.id].withheld)
        entries.append(
            replace(entry, place=replace(place, withheld=withheld), stopped=now.stopped or entry.stopped)
        )
    return replace(accepted, stopped=current.stopped or accepted.stopped, drop_off=tuple(entries))


def pairs(
    accepted: Sequence[E], current: Sequence[E], key: Callable[[E], Hashable], lenient: bool
) -> list[tuple[E, E]]:
    """Each accepted thing that is still there with what stands for it now: the one of the same key, or, where as many stand
    there as before and its key was changed, the one in the same place; where it may only be unreadable, itself."""
    known = {key(each): each for each in current}
    before = {key(each) for each in accepted}
    found: list[tuple[E, E]] = []
    for rank, each in enumerate(accepted):
        now = known.get(key(each))
        if now is None and len(current) == len(accepted) and key(current[rank]) not in before:
            now = current[rank]
        if now is None and lenient:
            now = each
        if now is not None:
            found.append((each, now))
    return found


def _photo(accepted: Photo | None, current: Photo | None, files: _Files, lenient: bool) -> Photo | None:
    picture = current.picture if current is not None else None
    if accepted is None or not _is_kept(accepted.picture, picture, files, lenient):
        return None
    if current is None:
        return accepted
    return replace(
        accepted,
        air_only=accepted.air_only or current.air_only,
        children=accepted.children or current.children,
        consent=current.consent,
        rights_end=_earlier(accepted.rights_end, current.rights_end),
    )


def _video(accepted: Video | None, current: Video | None, files: _Files, lenient: bool) -> Video | None:
    if accepted is None or (current is None and not lenient):
        return None
    if current is not None and current.file != accepted.file:
        return None
    poster = current.poster if current is not None else None
    captions = current.captions if current is not None else None
    kept = replace(
        accepted,
        poster=accepted.poster if _is_kept(accepted.poster, poster, files, lenient) else None,
        # Without captions it waits.
        captions=accepted.captions if captions or files.may_hold(accepted.captions, lenient) else None,
    )
    if current is None:
        return kept
    return replace(
        kept,
        air_only=accepted.air_only or current.air_only,
        rights_end=_earlier(accepted.rights_end, current.rights_end),
    )


def _is_kept(accepted: Picture | None, current: Picture | None, files: _Files, lenient: bool) -> bool:
    """Whether the accepted picture is not taken back: a picture is its bytes, whatever its file is called."""
    if accepted is not None and current is not None:
        return current.digest == accepted.digest
    return files.may_hold(accepted, lenient)


def _later(one: When | None, other: When | None) -> When | None:
    return max((each for each in (one, other) if each is not None), key=lambda when: when.order, default=None)


def _earlier(one: When | None, other: When | None) -> When | None:
    # A bare date counts to its end, so it is later than any hour of its day.
    return min(
        (each for each in (one, other) if each is not None),
        key=lambda when: (when.day, when.clock or time.max),
        default=None,
    )
