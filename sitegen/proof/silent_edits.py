"""Silent edits: what viewers may have noted down and go by, changed in a released story without a word to them.

Held against the last accepted content, so each is told until a build accepts it.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from sitegen.clock.stories import Visibility, plan_story, visibility
from sitegen.newsroom.records import Ask, Finding, Goal, Newsroom, Origin, Place, Story, Weight, When
from sitegen.newsroom.times import zone_named

NO_CORRECTION = "If viewers may have gone by the old one, say so under corrections:; else nothing is to do."


def silent_edits(accepted: Newsroom, current: Newsroom, as_of: datetime) -> tuple[Finding, ...]:
    """A concern for each deadline, address, opening hours, goal and phone that is another one than was accepted.

    `accepted` may hold only some of the stories and places: the others count as unchanged.
    """
    return (*_in_stories(accepted, current, as_of), *_in_places(accepted, current, as_of))


def _in_stories(accepted: Newsroom, current: Newsroom, as_of: datetime) -> Iterator[Finding]:
    before = {story.id: story for story in accepted.stories}
    for story in _released(current, as_of):
        old = before.get(story.id)
        if old is None or len(story.corrections) > len(old.corrections):
            continue
        asks = {ask.key: ask for ask in old.asks}
        for ask in story.asks:
            if ask.key in asks:
                yield from _in_ask(asks[ask.key], ask)


def _in_ask(old: Ask, new: Ask) -> Iterator[Finding]:
    for name, before, now in (
        ("deadline", _when(old.deadline), _when(new.deadline)),
        ("goal", _goal(old.goal), _goal(new.goal)),
        ("hours", old.hours.text if old.hours else "", new.hours.text if new.hours else ""),
        ("contact", old.contact.phone if old.contact else "", new.contact.phone if new.contact else ""),
    ):
        if before != now:
            word = "phone number" if name == "contact" else name
            yield _concern(
                new.origin, name, f"The {word} of '{new.title}' was {_said(before)} and is now {_said(now)}, without a correction.", NO_CORRECTION
            )  # fmt: skip
    # Shared places are told once, for all their stories.
    inline = {entry.place.name: entry.place for entry in old.drop_off if not entry.place.id}
    for entry in new.drop_off:
        place = inline.get(entry.place.name)
        if place is not None and not entry.place.id:
            for word, before, now in _changes(place, entry.place):
                yield _concern(
                    entry.place.origin, word, f"The {word} of {place.name} was {_said(before)} and is now {_said(now)}, without a correction.", NO_CORRECTION
                )  # fmt: skip


def _in_places(accepted: Newsroom, current: Newsroom, as_of: datetime) -> Iterator[Finding]:
    before = {place.id: place for place in accepted.places}
    changed = {
        place.id: changes
        for place in current.places
        if place.id in before and (changes := list(_changes(before[place.id], place)))
    }
    if not changed:
        return
    reached: dict[str, list[str]] = {}
    for story in _released(current, as_of):
        for name in {entry.place.id for ask in story.asks for entry in ask.drop_off}:
            reached.setdefault(name, []).append(story.id)
    for place in current.places:
        stories = reached.get(place.id, [])
        for word, old, new in changed.get(place.id, ()) if stories else ():
            yield _concern(
                place.origin, word, f"The {word} of {place.name} was {_said(old)} and is now {_said(new)}, in {len(stories)} stories: {', '.join(stories)}.", NO_CORRECTION
            )  # fmt: skip


def _changes(old: Place, new: Place) -> Iterator[tuple[str, str, str]]:
    """(what, before, now) of everything about a place that somebody may go by."""
    for word, before, now in (
        ("address", _address(old), _address(new)),
        ("hours", old.hours.text or old.hours.mode.value, new.hours.text or new.hours.mode.value),
        ("phone", old.phone, new.phone),
    ):
        if before != now:
            yield word, before, now


def _released(newsroom: Newsroom, as_of: datetime) -> Iterator[Story]:
    zone = zone_named(newsroom.station.time_zone)
    episodes = {episode.id: episode for episode in newsroom.episodes}
    for story in newsroom.stories:
        if visibility(plan_story(story, episodes, zone), as_of).value is Visibility.PUBLISHED:
            yield story


def _concern(origin: Origin, key: str, message: str, instead: str) -> Finding:
    return Finding(
        origin.of("street" if key == "address" else key), Weight.CONCERN, "silent-edit", message, instead
    )


def _address(place: Place) -> str:
    return "" if place.withheld else ", ".join(part for part in (place.street, place.town) if part)


def _when(when: When | None) -> str:
    if when is None:
        return ""
    return f"{when.day}" + (f" {when.clock:%H:%M}" if when.clock is not None else "")


def _goal(goal: Goal | None) -> str:
    return f"{goal.number:g} {goal.unit}".strip() if goal is not None else ""


def _said(value: str) -> str:
    return f"'{value}'" if value else "not said"
