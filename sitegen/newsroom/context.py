"""What the readers of single files need to know of the rest: the station's zone, counties, towns and places."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from zoneinfo import ZoneInfo

from sitegen.newsroom.fields import Fields, Findings, did_you_mean
from sitegen.newsroom.records import Captions, ListingEntry, Picture, Place, Spot, Station, Town
from sitegen.newsroom.slugs import BEYOND
from sitegen.newsroom.times import zone_named


@dataclass(frozen=True, slots=True)
class Context:
    """The station as far as it could be read, and the ways to the files that stories name."""

    findings: Findings
    station: Station | None
    """None when station.yaml is unreadable: then counties are not checked."""
    places: Mapping[str, Place] = field(default_factory=dict)
    unreadable_places: frozenset[str] = frozenset()
    """Ids of place files with faults of their own; naming one is not a second fault."""
    picture: Callable[[str, Spot], Picture | None] = lambda name, spot: None
    captions: Callable[[str, Spot], Captions | None] = lambda name, spot: None
    listing: Callable[[str, Spot], tuple[ListingEntry, ...]] = lambda name, spot: ()

    @property
    def zone(self) -> ZoneInfo | None:
        return (
            zone_named(self.station.time_zone)
            if self.station is not None and self.station.time_zone
            else None
        )

    def county(self, name: str, spot: Spot, beyond: bool = False) -> str:
        """The key of a county by its name or key; a fault and an empty text when there is none."""
        if beyond and name == BEYOND:
            return BEYOND
        if self.station is None:
            return ""
        for county in self.station.counties:
            if name in (county.name, county.key):
                return county.key
        names = [county.name for county in self.station.counties]
        word = self.station.area_word
        self.findings.fault(
            spot,
            "unknown-county",
            f"No {word} of this station is called '{name}'.",
            did_you_mean(name, [*names, BEYOND] if beyond else names, limit=24)
            or "See the list in content/station.yaml.",
        )
        return ""

    def counties(self, fields: Fields, key: str, beyond: bool = False) -> tuple[str, ...]:
        """The keys of the counties a field names, each once."""
        keys: list[str] = []
        for name, spot in fields.located_texts(key):
            county = self.county(name, spot, beyond)
            if county and county not in keys:
                keys.append(county)
        return tuple(keys)

    def counties_of_town(self, name: str) -> tuple[str, ...]:
        """The keys of the counties whose list has a town of this name."""
        if self.station is None:
            return ()
        return tuple(c.key for c in self.station.counties if any(town.name == name for town in c.towns))

    def town(self, name: str, county: str) -> Town | None:
        """A town of a county's list."""
        if self.station is None:
            return None
        for each in self.station.counties:
            if each.key == county:
                for town in each.towns:
                    if town.name == name:
                        return town
        return None
