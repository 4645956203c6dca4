"""What the readers of single files need to know of the rest: the station's zone, counties, towns and places."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from zoneinfo import ZoneInfo

from sitegen.newsroom.fields import Fields, Findings, did_you_mean
from sitegen.newsroom.records import Captions, ListingEntry, Picture, Place, Spot, Station, Town
from sitegen.newsroom.slugs import BEYOND, slug
from sitegen.newsroom.times import zone_named

_BETWEEN = re.compile(r"\s*(?:[,;&+/]|\band\b)\s*")
SHORTEST_SLIP = 5
"""Letters of a name below which another one beside it is no sign of a slip (common practice, no source)."""


def is_slip(written: str, meant: str) -> bool:
    """True where one letter more or less, another, or two changed about make one name of the other.

    Not for short names, and not where the first letter differs: Dover and Rover are two names.
    """
    if min(len(written), len(meant)) < SHORTEST_SLIP or written[0] != meant[0] or written == meant:
        return False
    same = next(
        (at for at, (one, other) in enumerate(zip(written, meant, strict=False)) if one != other), None
    )
    at = min(len(written), len(meant)) if same is None else same
    one, other = written[at:], meant[at:]
    return (
        one[1:] == other
        or one == other[1:]
        or one[1:] == other[1:]
        or (one[:2] == other[1::-1] and one[2:] == other[2:])
    )


def town_meant(written: str, towns: Iterable[str]) -> str | None:
    """The town that a name which is none of these is probably a slip for: the same but for capitals, accents and
    signs, else the first that is one slip away."""
    folded = slug(written)
    names = list(towns)
    same = next((town for town in names if slug(town) == folded != ""), None)
    return same or next((town for town in names if is_slip(folded, slug(town))), None)


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
    _homes: Mapping[str, tuple[str, ...]] = field(init=False)
    """Keys of the counties whose list has a town, by the town's name."""

    def __post_init__(self) -> None:
        homes: dict[str, tuple[str, ...]] = {}
        for county in self.station.counties if self.station is not None else ():
            for name in dict.fromkeys(town.name for town in county.towns):
                homes[name] = (*homes.get(name, ()), county.key)
        object.__setattr__(self, "_homes", homes)

    @property
    def zone(self) -> ZoneInfo | None:
        return (
            zone_named(self.station.time_zone)
            if self.station is not None and self.station.time_zone
            else None
        )

    def county(self, name: str, spot: Spot, beyond: bool = False, list_key: str = "") -> str:
        """The key of a county by its name or key; a fault and an empty text when there is none.

        `list_key` is the field's key where it may hold a list.
        """
        if beyond and name == BEYOND:
            return BEYOND
        if self.station is None:
            return ""
        for county in self.station.counties:
            if name in (county.name, county.key):
                return county.key
        several = self._several(name)
        if several:
            self.findings.fault(
                spot,
                "unknown-county",
                f"'{name}' is several names in one.",
                f"Write a list: {list_key}: [{', '.join(several)}]"
                if list_key
                else f"Write one of them: {' or '.join(several)}",
            )
            return ""
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
            county = self.county(name, spot, beyond, key)
            if county and county not in keys:
                keys.append(county)
        return tuple(keys)

    def _several(self, written: str) -> tuple[str, ...]:
        """The counties' names in a text that holds several of them and nothing else."""
        if self.station is None:
            return ()
        names = {
            slug(known): county.name
            for county in self.station.counties
            for known in (county.name, county.key)
        }
        parts = [slug(part) for part in _BETWEEN.split(written)]
        if slug(written) in names or len(parts) < 2 or not all(part in names for part in parts):
            return ()
        return tuple(names[part] for part in parts)

    def check_town(self, fields: Fields, counties: tuple[str, ...], what: str) -> None:
        """Tells of `town` what `town_problem` does."""
        problem = self.town_problem(fields.text("town"), counties, what)
        if problem is not None:
            fields.concern("town", *problem)

    def town_problem(self, town: str, counties: tuple[str, ...], what: str) -> tuple[str, str, str] | None:
        """(check, message, what to write instead) of a town that stands in the list of other counties than these, or is written nearly
        as one in a list.

        Towns that are in no list are allowed. Without counties only the writing is looked at. `what` ends a sentence: `the story's`.
        """
        if self.station is None or not town:
            return None
        homes = self.counties_of_town(town)
        word = self.station.area_word
        if homes:
            if not counties or set(homes) & set(counties):
                return None
            names = {county.key: county.name for county in self.station.counties}
            right = " and in ".join(names[home] for home in homes)
            return (
                "town-elsewhere",
                f"{town} lies in {right} by the station's list, and not in {what} {word}.",
                f"Write: county: {names[homes[0]]}, or correct the town."
                if len(homes) == 1
                else "Correct the town or the county.",
            )
        close = self._town_like(town, counties) if counties != (BEYOND,) else None
        if close is None:
            return None
        return (
            "town-misspelt",
            f"No town in the station's list is called '{town}'.",
            f"Did you mean '{close}'? If it is another town, add it to its {word} in content/station.yaml.",
        )

    def county_for_example(self, town: str) -> str:
        """The name of the county that a town's place lies in, where the station's list tells; else any."""
        if self.station is None or not self.station.counties:
            return "Tidewick"
        names = {county.key: county.name for county in self.station.counties}
        homes = self.counties_of_town(town)
        return " or ".join(names[home] for home in homes) or self.station.counties[0].name

    def _town_like(self, written: str, counties: tuple[str, ...]) -> str | None:
        """The town that a name is probably a slip for; those of the counties given come first."""
        known = self.station.counties if self.station is not None else ()
        listed = sorted(known, key=lambda county: county.key not in counties)
        towns = dict.fromkeys(town.name for county in listed for town in county.towns)
        return town_meant(written, towns)

    def counties_of_town(self, name: str) -> tuple[str, ...]:
        """The keys of the counties whose list has a town of this name."""
        return self._homes.get(name, ())

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
