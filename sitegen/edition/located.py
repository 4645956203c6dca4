"""The places where something is wanted: each once, in the order lists show them, with the asks it stands for."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from sitegen.clock.timed import latest
from sitegen.edition.models import PlaceTakes, PlaceView
from sitegen.edition.published import PublishedAsk, PublishedPlace
from sitegen.edition.views import Views, first_beginning
from sitegen.newsroom.records import Place


class Located(Struct, frozen=True):
    """A place and the live asks it stands for."""

    place: Place
    note: str
    """What is said of it for these asks alone."""
    language: str
    """As in `PlaceView`."""
    takes: tuple[tuple[PublishedAsk, PublishedPlace], ...]

    def view(self, views: Views) -> PlaceView:
        """It, as a page may show it."""
        horizon = latest(*(place.times.last_chance for _, place in self.takes))
        return views.place(self.place, horizon, first_beginning(self.takes), self.note, self.language)


def located_places(asks: Iterable[PublishedAsk], views: Views) -> list[Located]:
    """Every place with a live entry in some asks, by county, town and name, with what it takes.

    A place with hours or a note of its own for one ask stands apart from the same place with others.
    """
    found: dict[tuple[Place, str, str], list[tuple[PublishedAsk, PublishedPlace]]] = {}
    for ask in asks:
        for each in ask.live_places:
            entry = each.entry
            key = (entry.place, entry.note, views.note_language(ask, entry))
            found.setdefault(key, []).append((ask, each))
    ordered = sorted(
        found,
        key=lambda key: (
            views.county_rank(key[0].county),
            key[0].town,
            key[0].name,
            key[0].id,
            key[0].hours.text,
            key[0].note,
            *key[1:],
        ),
    )
    return [Located(*key, tuple(found[key])) for key in ordered]


def place_takes(located: Located, views: Views) -> PlaceTakes:
    """The place and what it takes, the soonest last chance first."""
    takes = sorted(
        located.takes, key=lambda pair: (pair[1].times.last_chance or pair[0].times.ends, *pair[0].order)
    )
    return PlaceTakes(located.view(views), tuple(views.take(ask, place) for ask, place in takes))
