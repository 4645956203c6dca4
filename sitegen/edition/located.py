"""The places where something is wanted: each once, in the order lists show them, with the asks it stands for."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from sitegen.clock.timed import latest
from sitegen.edition.models import PlaceTakes
from sitegen.edition.published import PublishedAsk, PublishedPlace
from sitegen.edition.views import Views
from sitegen.newsroom.records import Place


class Located(Struct, frozen=True):
    """A place and the live asks it stands for."""

    place: Place
    takes: tuple[tuple[PublishedAsk, PublishedPlace], ...]


def located_places(asks: Iterable[PublishedAsk], views: Views) -> list[Located]:
    """Every place with a live entry in some asks, by county, town and name, with what it takes.

    A place with hours or a note of its own for one ask stands apart from the same place with others.
    """
    found: dict[Place, list[tuple[PublishedAsk, PublishedPlace]]] = {}
    for ask in asks:
        for place in ask.live_places:
            found.setdefault(place.entry.place, []).append((ask, place))
    ordered = sorted(
        found,
        key=lambda place: (
            views.county_rank(place.county),
            place.town,
            place.name,
            place.id,
            place.hours.text,
            place.note,
        ),
    )
    return [Located(place, tuple(found[place])) for place in ordered]


def place_takes(located: Located, views: Views) -> PlaceTakes:
    """The place and what it takes, the soonest last chance first."""
    horizon = latest(*(place.times.last_chance for _, place in located.takes))
    takes = sorted(
        located.takes, key=lambda pair: (pair[1].times.last_chance or pair[0].times.ends, *pair[0].order)
    )
    return PlaceTakes(
        views.place(located.place, horizon), tuple(views.take(ask, place) for ask, place in takes)
    )
