"""What a form offers to choose from: the station's counties, towns, places, stories and pictures, and its chart."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from sitegen.geography.drawing import draw
from sitegen.newsroom.records import Newsroom
from sitegen.newsroom.slugs import BEYOND

MOST_STORIES = 400
"""Newest first; an older one can be named by its path all the same."""
MOST_PICTURES = 400
CHART_SIZE = 600
"""Units of the chart's longer side."""
CHART_DETAIL = 3.0
"""As in `geography.drawing.draw`."""


@dataclass(frozen=True, slots=True)
class Outline:
    name: str
    path: str
    """SVG path data."""


@dataclass(frozen=True, slots=True)
class Chart:
    """The counties drawn, and what turns a point of the drawing into a position."""

    width: int
    height: int
    west: float
    north: float
    across: float
    down: float
    margin: int
    outlines: tuple[Outline, ...]
    places: tuple[tuple[str, str, float, float], ...]
    """(file's name, name, x, y) of shared places with a position."""


@dataclass(frozen=True, slots=True)
class Offers:
    """What can be chosen."""

    counties: tuple[str, ...]
    by_key: dict[str, str]
    """Their names by key, for files that name them so."""
    towns: tuple[str, ...]
    positions: dict[str, tuple[float, float]]
    """Latitude and longitude of towns, by name."""
    places: tuple[tuple[str, str], ...]
    """(file's name, in words), by name."""
    stories: tuple[tuple[str, str], ...]
    """(path, headline)."""
    pictures: tuple[str, ...]
    chart: Chart | None
    area: str
    """The station's word for a county."""
    beyond: str = BEYOND


def offers(root: Path, newsroom: Newsroom) -> Offers:
    """What a form of this station offers."""
    station = newsroom.station
    towns = [town for county in station.counties for town in county.towns]
    seats = {county.seat: county.position for county in station.counties if county.seat and county.position}
    positions = {name: (at.latitude, at.longitude) for name, at in seats.items()}
    positions |= {
        town.name: (town.position.latitude, town.position.longitude) for town in towns if town.position
    }
    names = {county.key: county.name for county in station.counties}
    stories = sorted(newsroom.stories, key=lambda story: (story.aired.day, story.id), reverse=True)
    return Offers(
        tuple(county.name for county in station.counties),
        names,
        tuple(sorted({*(town.name for town in towns), *seats})),
        positions,
        tuple(
            (place.id, f"{place.name}, {place.town}, {names.get(place.county, place.county)}")
            for place in sorted(newsroom.places, key=lambda place: place.name)
        ),
        tuple((story.id, story.headline) for story in stories[:MOST_STORIES]),
        tuple(sorted(_pictures(root)))[:MOST_PICTURES],
        _chart(newsroom),
        station.area_word,
    )


def _pictures(root: Path) -> Iterator[str]:
    folder = root / "content" / "photos"
    if folder.is_dir():
        for path in folder.iterdir():
            if path.suffix.lower() in (".jpg", ".jpeg", ".png", ".webp", ".gif") and not path.name.startswith(
                "."
            ):
                yield path.name.encode("utf-8", "replace").decode()


def _chart(newsroom: Newsroom) -> Chart | None:
    if not newsroom.areas:
        return None
    drawing = draw(newsroom.areas, CHART_SIZE, CHART_DETAIL)
    projection = drawing.projection
    names = {county.key: county.name for county in newsroom.station.counties}
    places = []
    for place in newsroom.places:
        if place.position is not None and not place.withheld:
            x, y = projection.point(place.position.longitude, place.position.latitude)
            places.append((place.id, place.name, round(x, 1), round(y, 1)))
    origin_x, origin_y = projection.point(projection.west, projection.north)
    assert origin_x == origin_y
    return Chart(
        drawing.width,
        drawing.height,
        projection.west,
        projection.north,
        projection.across,
        projection.down,
        round(origin_x),
        tuple(Outline(names.get(shape.county, shape.county), shape.path) for shape in drawing.shapes),
        tuple(places),
    )
