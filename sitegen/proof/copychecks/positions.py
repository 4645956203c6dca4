"""Places on the Earth: positions with their numbers swapped, far away, in another county, or missing; private homes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.geography.shapes import contains, county_of, distance_metres
from sitegen.newsroom.context import town_meant
from sitegen.newsroom.records import Finding, Place, Position
from sitegen.proof.copychecks.base import Desk, concern

FAR_METRES = 150_000.0
"""Farther than this from its town no place of a local station lies (common practice, no source)."""
MUCH_NEARER = 10
"""How many times nearer another reading of the numbers must come before it is proposed."""


@dataclass(frozen=True, slots=True)
class _Found:
    place: Place
    titles: tuple[str, ...]
    """Of the live asks that name it; empty for a shared place that none names."""


def _places(desk: Desk) -> Iterator[_Found]:
    """Every shared place, then every place written in a live ask."""
    titles: dict[str, list[str]] = {}
    inline: list[_Found] = []
    for live in desk.live_asks:
        for entry in live.ask.drop_off:
            if entry.place.id:
                titles.setdefault(entry.place.id, []).append(live.ask.title)
            else:
                inline.append(_Found(entry.place, (live.ask.title,)))
    for place in desk.newsroom.places:
        yield _Found(place, tuple(titles.get(place.id, ())))
    yield from inline


def position(desk: Desk) -> Iterator[Finding]:
    """A position that cannot be the place's: swapped, of the wrong sign, far off, or in another county."""
    for found in _places(desk):
        if found.place.position is not None and not found.place.withheld:
            yield from _judge(found.place, found.place.position, desk)


def _judge(place: Place, written: Position, desk: Desk) -> Iterator[Finding]:
    spot = place.origin.of("position")
    town = desk.towns.get((place.county, place.town))
    home = town.position if town is not None and town.position is not None else None
    near = home or desk.county_positions.get(place.county)
    away = distance_metres(written, near) if near is not None else 0.0
    shown = f"[{written.latitude:g}, {written.longitude:g}]"
    if near is not None and away > FAR_METRES:
        swapped = Position(written.longitude, written.latitude)
        if abs(written.longitude) <= 90 and distance_metres(swapped, near) * MUCH_NEARER < away:
            yield concern(
                spot,
                "swapped-position",
                f"{place.name} would lie {_kilometres(away)} from {_home(place, home)}; with its numbers the other way "
                "round it lies close by.",
                f"Write the latitude first: position: {_pair(swapped)}",
            )
            return
        better = min(_other_signs(written), key=lambda each: distance_metres(each, near))
        hint = "Look the position up again, latitude first."
        if distance_metres(better, near) * MUCH_NEARER < away:
            hint = f"A minus sign may be missing or too many: position: {_pair(better)}"
        yield concern(
            spot,
            "far-position",
            f"{place.name} lies at {shown}, {_kilometres(away)} from {_home(place, home)}.",
            hint,
        )
        return
    area = next((each for each in desk.newsroom.areas if each.county == place.county), None)
    if area is not None and not contains(area, written):
        names = {county.key: county.name for county in desk.newsroom.station.counties}
        other = county_of(desk.newsroom.areas, written)
        where = (
            f"in {names.get(other, other)}"
            if other is not None
            else f"in no {desk.newsroom.station.area_word}"
        )
        yield concern(
            spot,
            "county-of-position",
            f"{place.name} is said to be in {names.get(place.county, place.county)}, and on the map {shown} lies {where}.",
            f"Correct the position or the {desk.newsroom.station.area_word}.",
        )


def _other_signs(written: Position) -> tuple[Position, ...]:
    latitude, longitude = written.latitude, written.longitude
    return (Position(latitude, -longitude), Position(-latitude, longitude), Position(-latitude, -longitude))


def _pair(position: Position) -> str:
    return f"[{position.latitude:g}, {position.longitude:g}]"


def _kilometres(metres: float) -> str:
    return f"{round(metres / 1000):,} km"


def _home(place: Place, town: Position | None) -> str:
    return place.town if town is not None else "the middle of its county"


def place_without_position(desk: Desk) -> Iterator[Finding]:
    """A place that the finder can put only where its town is, or nowhere.

    Told only where the station gives positions at all, and not for an address that is withheld.
    """
    if not desk.county_positions and all(town.position is None for town in desk.towns.values()):
        return
    for found in _places(desk):
        place = found.place
        if place.position is not None or place.withheld or not found.titles:
            continue
        town = desk.towns.get((place.county, place.town))
        if town is None and _is_told_of(place.town, desk):
            continue
        if town is not None and town.position is not None:
            message = (
                f"{place.name} has no position; the finder counts distances from the middle of {place.town}."
            )
        else:
            message = f"{place.name} has no position and neither has {place.town}; the finder cannot say how far it is."
        yield concern(
            place.origin.of("town"),
            "place-without-position",
            message,
            "Add it, latitude first: position: [34.7, -60.5]",
        )


def _is_told_of(town: str, desk: Desk) -> bool:
    """True where reading has told that the town lies in another county or is misspelt: nothing is known of it before
    that is mended."""
    names = dict.fromkeys(name for _, name in desk.towns)
    return town in names or town_meant(town, names) is not None


def home_address(desk: Desk) -> Iterator[Finding]:
    """A private home whose door is shown to everyone."""
    for found in _places(desk):
        place = found.place
        if place.is_home and not place.withheld and found.titles and (place.street or place.position):
            yield concern(
                place.origin.of("street" if place.street else "position"),
                "home-address",
                f"{place.name} is a private home, and its {'street' if place.street else 'position'} is shown to everyone.",
                "If the town is enough, write: address: withheld",
            )
