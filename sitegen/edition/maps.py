"""The views of the map: all counties, one among the others, one place in its county.

The drawings come from the map alone. No story can change an outline, and what a story changes, the counts, stands in the
lists beside them.
"""

from __future__ import annotations

from functools import cached_property
from math import atan2, cos, degrees, radians

from sitegen.edition import addresses
from sitegen.edition.models import (
    LocatorView,
    MapArea,
    MapView,
    OutlineView,
    PlaceView,
    Ref,
    TownMark,
)
from sitegen.geography.drawing import Corner, draw, path_data
from sitegen.geography.lettering import label_inside, label_marks
from sitegen.newsroom.records import Area, County, Newsroom, Position

MAP_SIZE, MAP_DETAIL = 720, 80
"""The map of all counties is shown about as many pixels wide as it has units, at most, and down to two fifths of that."""
LABEL_SIZE = 22
"""Of names, so that they are 18 pixels high where the drawing is 600 pixels wide."""
NUMBER_SIZE = 54
"""Of numbers, so that they are 18 pixels high where the drawing is 240 pixels wide: on the narrowest phones, with text twice
as big, whose margins grow too."""

OUTLINE_SIZE, OUTLINE_DETAIL = 200, 10
LOCATOR_SIZE, LOCATOR_DETAIL = 320, 12
LOCATOR_LABEL = 24
"""18 pixels where the drawing is 240 pixels wide."""
TOWN_GAP = 16
"""From the middle of a town's mark to its name."""

_DIRECTIONS = ("e", "ne", "n", "nw", "w", "sw", "s", "se")


class Maps:
    """Draws the maps of one edition."""

    def __init__(self, newsroom: Newsroom) -> None:
        self._counties: dict[str, County] = {county.key: county for county in newsroom.station.counties}
        found: dict[str, Area] = {area.county: area for area in newsroom.areas}
        # In the order of the list that stands beside them.
        self._areas = tuple(found[key] for key in self._counties if key in found)
        self._has_several = len(self._areas) > 1

    @cached_property
    def all_counties(self) -> MapView | None:
        """Every county with a shape; None when that is at most one."""
        if not self._has_several:
            return None
        drawing = draw(self._areas, MAP_SIZE, MAP_DETAIL)
        numbers = {key: number for number, key in enumerate(self._counties, 1)}
        areas = []
        for shape in drawing.shapes:
            name, number = self._counties[shape.county].name, numbers[shape.county]
            named = label_inside(shape.rings, name, LABEL_SIZE)
            areas.append(
                MapArea(
                    number=number,
                    page=addresses.county(shape.county),
                    outline=shape.path,
                    label=named or label_inside(shape.rings, str(number), LABEL_SIZE),
                    is_named=named is not None,
                    large_number=label_inside(shape.rings, str(number), NUMBER_SIZE),
                )
            )
        return MapView(drawing.width, drawing.height, LABEL_SIZE, NUMBER_SIZE, tuple(areas))

    def outline(self, county: str) -> OutlineView | None:
        """One county among the others; None when the map has not got it, or only it."""
        if not self._has_several:
            return None
        drawing = draw(self._areas, OUTLINE_SIZE, OUTLINE_DETAIL)
        here = next((shape for shape in drawing.shapes if shape.county == county), None)
        if here is None:
            return None
        return OutlineView(
            drawing.width,
            drawing.height,
            path_data([ring for shape in drawing.shapes if shape is not here for ring in shape.rings]),
            here.path,
            tuple(Ref(self._counties[key].name, addresses.county(key)) for key in here.neighbours),
        )

    def locator(self, county: str, view: PlaceView) -> LocatorView | None:
        """A place in its county. None for a place that withholds its address or has no position on the map."""
        area = next((area for area in self._areas if area.county == county), None)
        if area is None or view.withheld or view.latitude is None or view.longitude is None:
            return None
        drawing = draw((area,), LOCATOR_SIZE, LOCATOR_DETAIL)
        record = self._counties[county]
        position = Position(view.latitude, view.longitude)
        mark = drawing.projection.corner(position)
        if not (0 <= mark[0] <= drawing.width and 0 <= mark[1] <= drawing.height):
            return None
        # The seat first: where words would run into each other, its name is the one that stands.
        towns = sorted(
            (town for town in record.towns if town.position is not None),
            key=lambda town: town.name != record.seat,
        )
        spots: list[tuple[str, Corner]] = []
        for town in towns:
            if town.position is not None:
                x, y = drawing.projection.corner(town.position)
                if 0 <= x <= drawing.width and 0 <= y <= drawing.height:
                    spots.append((town.name, (x, y)))
        shape = drawing.shapes[0]
        labels = label_marks(
            [(spot, name) for name, spot in spots],
            [mark],
            shape.rings,
            drawing.width,
            drawing.height,
            LOCATOR_LABEL,
            TOWN_GAP,
        )
        marks = tuple(
            TownMark(name == record.seat, x, y, label)
            for (name, (x, y)), label in zip(spots, labels, strict=True)
        )
        seat = next((town.position for town in towns if town.name == record.seat), None)
        direction = ""
        if seat is not None:
            direction = "in" if view.town == record.seat else direction_from(seat, position)
        return LocatorView(
            width=drawing.width,
            height=drawing.height,
            label_size=LOCATOR_LABEL,
            outline=shape.path,
            x=mark[0],
            y=mark[1],
            towns=marks,
            seat=record.seat if seat is not None else "",
            direction=direction,
        )


def direction_from(start: Position, end: Position) -> str:
    """The nearest of the eight directions of the compass from one position to another, such as `ne`.

    On the plane that is true to scale half-way between them: over a county the great circle's bearing differs by less
    than a degree. Positions that are the same lie to the east.
    """
    across = (end.longitude - start.longitude + 540) % 360 - 180
    across *= cos(radians((start.latitude + end.latitude) / 2))
    angle = degrees(atan2(end.latitude - start.latitude, across))
    return _DIRECTIONS[round(angle / 45) % 8]
