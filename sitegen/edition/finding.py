"""What the finder searches: the places and offers of help of one edition, with nothing that is over or withheld."""

from __future__ import annotations

from datetime import datetime

from msgspec.structs import replace

from sitegen.clock.visits import visits
from sitegen.edition import addresses
from sitegen.edition.located import Located, located_places
from sitegen.edition.models import AskView, FinderPlace, FinderTake, FinderTown, PlacesFile
from sitegen.edition.moments import end_moment, start_moment
from sitegen.edition.published import Published, PublishedAsk, PublishedPlace
from sitegen.edition.views import Views
from sitegen.newsroom.records import Kind, When


def finder_data(published: Published, views: Views) -> PlacesFile:
    """Every live place and every get-help ask, as of the edition."""
    return _Finding(published, views).data()


class _Finding:
    def __init__(self, published: Published, views: Views) -> None:
        self.published = published
        self.views = views
        self._asks: dict[tuple[str, str], int] = {}
        self._shown: list[AskView] = []

    def data(self) -> PlacesFile:
        asks = self.published.asks
        places = self._places(tuple(ask for ask in asks if not ask.is_help))
        helping = tuple(ask for ask in asks if ask.is_help)
        help_places = self._places(helping)
        for ask in helping:
            self._index(ask)
        counties = self.published.newsroom.station.counties
        return PlacesFile(
            address=addresses.PLACES_DATA,
            counties=tuple(self.views.county_refs[county.key] for county in counties),
            towns=tuple(
                FinderTown(
                    town.name,
                    rank,
                    town.position.latitude if town.position is not None else None,
                    town.position.longitude if town.position is not None else None,
                    town.postal_codes,
                )
                for rank, county in enumerate(counties)
                for town in county.towns
            ),
            asks=tuple(self._shown),
            places=places,
            help=help_places,
            area_word=self.published.newsroom.station.area_word,
        )

    def _index(self, ask: PublishedAsk) -> int:
        """The ask's index in the file; it is added when it is new. Its places stand apart, so it has none there."""
        key = (ask.story.id, ask.ask.key)
        if key not in self._asks:
            self._asks[key] = len(self._shown)
            view = self.views.ask(ask)
            story = replace(view.story, address=addresses.ask(ask.story.id, ask.ask.key))
            self._shown.append(replace(view, story=story, places=(), stopped_places=()))
        return self._asks[key]

    def _places(self, asks: tuple[PublishedAsk, ...]) -> tuple[FinderPlace, ...]:
        return tuple(self._place(each) for each in located_places(asks, self.views))

    def _place(self, located: Located) -> FinderPlace:
        takes = tuple(self._take(ask, entry) for ask, entry in located.takes)
        return FinderPlace(located.view(self.views), takes)

    def _take(self, ask: PublishedAsk, entry: PublishedPlace) -> FinderTake:
        last = entry.times.last_chance
        assert last is not None  # only live places come here
        zone = self.published.zone
        begins = entry.entry.from_ if entry.state.opens_later else None
        if begins is None and ask.times.opens is not None and ask.times.opens > self.published.as_of:
            begins = ask.ask.starts
        opens = start_moment(begins, zone).iso if begins is not None else ""
        take = FinderTake(self._index(ask), opens, end_moment(last, zone))
        known = visits(ask.ask, entry.entry) if ask.ask.kind is Kind.GO else None
        if known is None:
            return take
        first = start_moment(When(known.begins), zone).iso
        return replace(
            take,
            opens=max(opens, first, key=datetime.fromisoformat) if opens else first,
            hours=known.door.hours,
            closed=known.door.closed,
            special_hours=known.door.special_hours,
            written=None if entry.entry.own_hours else ask.ask.hours,
        )
