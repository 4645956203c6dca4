"""One place written down twice: what changes is changed in one of the two, and viewers are sent by the other."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from sitegen.newsroom.records import Finding, Hours, Mode, Place
from sitegen.newsroom.slugs import slug
from sitegen.proof.copychecks.base import Desk, concern, day_words, listed
from sitegen.proof.copychecks.outliving import is_same_street

Identity = tuple[str, ...]


def identity(place: Place) -> Identity:
    """By what a place is known again: county, town and name, without `the` and the town's own name."""
    town = slug(place.town).split("-")
    words = [word for word in slug(place.name).split("-") if word != "the"]
    own = [word for word in words if word not in town]
    return (place.county, *town, "", *sorted(own or words))


def place_twice(desk: Desk) -> Iterator[Finding]:
    """A place in two files, or in a file and in an ask with other hours, or in two asks with other hours."""
    known: dict[Identity, list[tuple[Place, str]]] = {}
    for place, where in _written(desk):
        if place.withheld:
            continue
        same = known.setdefault(identity(place), [])
        for other, there in same:
            if place.street and other.street and not is_same_street(place.street, other.street):
                continue
            differs = _difference(place, other, desk.today)
            if differs or (place.id and other.id):
                yield concern(
                    place.origin.of("hours"),
                    "place-twice",
                    f"{place.name} stands here and in {there}{differs and f', and {differs}'}.",
                    _instead(place, other),
                )
                break
        same.append((place, where))


def _written(desk: Desk) -> Iterator[tuple[Place, str]]:
    """Every shared place, then every place written in a live ask; each with its file in words."""
    for place in desk.newsroom.places:
        yield place, place.origin.spot.path
    for live in desk.live_asks:
        for entry in live.ask.drop_off:
            if not entry.place.id:
                yield entry.place, f"'{live.ask.title}' of {live.story.id}"


def _difference(place: Place, other: Place, today: date) -> str:
    """In what two writings of a place differ that would send somebody to a closed door, as a sentence about it goes on."""
    if _sense(place.hours) != _sense(other.hours):
        return f"its hours differ ({place.hours.text}; there {other.hours.text})"
    ahead = [
        {day: () for day in each.closed if day >= today}
        | {special.day: special.ranges for special in each.special_hours if special.day >= today}
        for each in (place, other)
    ]
    days = sorted({day for day, ranges in ahead[0].items() ^ ahead[1].items()})
    return f"its hours differ on {listed(day_words(day) for day in days)}" if days else ""


def _sense(hours: Hours) -> tuple[object, ...]:
    """Hours without the way they are written; what nobody could say contradicts nothing but itself."""
    return (hours.mode, hours.rules) if hours.mode is Mode.REGULAR else (hours.mode,)


def _instead(place: Place, other: Place) -> str:
    if place.id and other.id:
        return f"Keep one of the two files, and name that one in every ask: {other.id}"
    if other.id:
        return (
            f"Write the shared place: {{place: {other.id}}}, with hours of its own where this ask has some."
        )
    return "Ask which hours hold. Then begin a place file (sitegen draft place) and name it in both."
