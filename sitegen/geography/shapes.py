"""The counties' outlines from a map, which county a position lies in, and how far apart two positions are.

Maps are GeoJSON as RFC 7946 defines it (https://www.rfc-editor.org/rfc/rfc7946). Shapes are judged on the plane of
longitude and latitude, whose straight lines are what section 3.1.1 means by a line between two positions.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from math import asin, cos, radians, sin, sqrt
from typing import Any, TypeAlias

from sitegen.newsroom.fields import did_you_mean
from sitegen.newsroom.records import Area, Position

EARTH_RADIUS_METRES = 6_371_008.8
"""The IUGG's mean radius R1 = (2a + b) / 3, of the ellipsoid GRS 80."""
_SPACE = re.compile(r"[ \t\n\r]*")  # RFC 8259, section 2

Problem: TypeAlias = tuple[int, str, str]
"""(line from 1, what is wrong, what to write instead)"""
Point: TypeAlias = tuple[float, float]
"""(longitude, latitude) in degrees"""
Ring: TypeAlias = tuple[Point, ...]
"""Closed: the last point is the first"""


# --- reading -----------------------------------------------------------------------------------


def read_map(text: str, counties: Mapping[str, str]) -> tuple[tuple[Area, ...], tuple[Problem, ...]]:
    """(outlines in the order of the map, problems by line) of a map's text; never raises for what it holds.

    `counties` gives each county's key by its name; every one of them should have a shape. Outer rings come back
    counterclockwise and holes clockwise however they were written, for section 3.1.6 asks readers not to refuse the
    other way. A ring left open is closed, with its problem; other faulty polygons are left out.
    """
    text = text.removeprefix("\ufeff")
    try:
        collection = _DECODER.decode(text)
        if (
            not isinstance(collection, dict)
            or collection.get("type") != "FeatureCollection"
            or not isinstance(collection.get("features"), list)
        ):
            return (), (
                (1, "The map is not a FeatureCollection with features.", "Export it as GeoJSON (RFC 7946)."),
            )
        features = list(_located_features(text))
    except json.JSONDecodeError as error:
        return (), (
            (
                error.lineno,
                f"The map cannot be read as JSON here, at column {error.colno} ({error.msg.lower()}).",
                "Look just before it for a missing comma, bracket or quotation mark.",
            ),
        )
    except (ValueError, RecursionError):
        return (), ((1, "The map is not JSON that can be read.", "Export it again as GeoJSON."),)

    problems: list[Problem] = []
    areas: dict[str, Area] = {}
    shown: dict[str, int] = {}
    for line, feature in features:
        name = _name(feature)
        if not name:
            problems.append(
                (
                    line,
                    "This feature has no county's name.",
                    'Give it "properties": {"name": "…"}, or take it out.',
                )
            )
        elif name not in counties:
            problems.append(
                (
                    line,
                    f"Nothing in station.yaml is called '{name[:60]}'.",
                    did_you_mean(name, list(counties), limit=24) or "Write a name from station.yaml.",
                )
            )
        elif name in shown:
            problems.append(
                (
                    line,
                    f"'{name}' is already on line {shown[name]}.",
                    "Put its parts into one feature, a MultiPolygon.",
                )
            )
        else:
            shown[name] = line
            polygons = tuple(_polygons(feature, name, line, problems))
            if polygons:
                areas[name] = Area(counties[name], polygons)
    missing = [name for name in counties if name not in shown]
    if missing:
        problems.append(
            (
                1,
                f"The map has no shape for {', '.join(missing)}.",
                "Add a feature with that name for each, or take `map` out of station.yaml.",
            )
        )
    return tuple(areas.values()), tuple(sorted(problems))


def _refuse_constant(name: str) -> float:
    raise ValueError(name)  # NaN and Infinity are not JSON: RFC 8259, section 6


# Whole numbers as floats, so that one of a thousand digits is merely infinite.
_DECODER = json.JSONDecoder(parse_int=float, parse_constant=_refuse_constant)


def _located_features(text: str) -> Iterator[tuple[int, Any]]:
    """(line, value) of each member of `features`, in a text already known to be a whole FeatureCollection."""

    def skip(at: int) -> int:
        match = _SPACE.match(text, at)
        return match.end() if match else at

    begins = 0
    at = skip(skip(0) + 1)
    while text[at] != "}":
        key, at = _DECODER.raw_decode(text, at)
        at = skip(skip(at) + 1)
        if key == "features":
            begins = at  # of several the last counts, as it does for the decoder
        _, at = _DECODER.raw_decode(text, at)
        at = skip(at)
        if text[at] == ",":
            at = skip(at + 1)
    at, line, counted = skip(begins + 1), 1, 0
    while text[at] != "]":
        line, counted = line + text.count("\n", counted, at), at
        feature, at = _DECODER.raw_decode(text, at)
        yield line, feature
        at = skip(at)
        if text[at] == ",":
            at = skip(at + 1)


def _name(feature: Any) -> str:
    properties = feature.get("properties") if isinstance(feature, dict) else None
    name = properties.get("name") if isinstance(properties, dict) else None
    return name if isinstance(name, str) else ""


def _polygons(
    feature: Mapping[str, Any], name: str, line: int, problems: list[Problem]
) -> Iterator[tuple[Ring, ...]]:
    geometry = feature.get("geometry")
    kind = geometry.get("type") if isinstance(geometry, dict) else None
    coordinates = geometry.get("coordinates") if isinstance(geometry, dict) else None
    if kind not in ("Polygon", "MultiPolygon") or not isinstance(coordinates, list) or not coordinates:
        problems.append(
            (line, f"The shape of '{name}' is no Polygon or MultiPolygon.", "Draw it as an area, not as a line or point.")
        )  # fmt: skip
        return
    for polygon in [coordinates] if kind == "Polygon" else coordinates:
        rings: list[Ring] = []
        if not isinstance(polygon, list) or not polygon:
            problems.append((line, f"A polygon of '{name}' has no rings.", "Take it out, or draw it again."))
            continue
        for number, written in enumerate(polygon):
            ring = _ring(written, name, line, problems)
            if ring is None:
                break
            # Section 3.1.6: the outer ring counterclockwise, holes clockwise.
            outer = number == 0
            rings.append(ring if (_twice_the_area(ring) > 0) == outer else ring[::-1])
        else:
            yield tuple(rings)


def _ring(written: Any, name: str, line: int, problems: list[Problem]) -> Ring | None:
    if not isinstance(written, list):
        problems.append((line, f"A ring of '{name}' is no list of positions.", "Draw the shape again."))
        return None
    points: list[Point] = []
    for number, position in enumerate(written, 1):
        wrong = _position_problem(position)
        if wrong:
            problems.append((line, f"Position {number} in a ring of '{name}' {wrong[0]}", wrong[1]))
            return None
        points.append((float(position[0]), float(position[1])))
    if points and points[0] != points[-1]:
        longitude, latitude = points[0]
        problems.append(
            (
                line,
                f"A ring of '{name}' is not closed: it ends elsewhere than it begins.",
                f"Write its first position again at its end: [{longitude}, {latitude}].",
            )
        )
        points.append(points[0])
    if len(points) < 4 or _twice_the_area(points) == 0:
        problems.append(
            (line, f"A ring of '{name}' encloses nothing.", "Draw at least three corners, not in one line.")
        )
        return None
    return tuple(points)


def _position_problem(position: Any) -> tuple[str, str] | None:
    """(what is wrong, what to write instead) of a position; None when it is one."""
    if (
        not isinstance(position, list)
        or len(position) < 2
        or any(not isinstance(number, float) for number in position)
    ):
        return "is not a pair of numbers.", "Write [longitude, latitude]."
    longitude, latitude = position[:2]
    written = f"[{longitude:.6g}, {latitude:.6g}]"
    if -180 <= longitude <= 180 and -90 <= latitude <= 90:
        return None
    if -180 <= latitude <= 180 and -90 <= longitude <= 90:
        return (
            f"has its numbers the wrong way round: {written}, and no latitude is beyond 90.",
            "Write the longitude first: [longitude, latitude].",
        )
    return f"is not on the Earth: {written}.", "Longitudes go from -180 to 180, latitudes from -90 to 90."


def _twice_the_area(ring: Sequence[Point]) -> float:
    """Twice the signed area in square degrees, positive when counterclockwise (the shoelace formula)."""
    # From the first corner, so that small rings far from the origin lose no digits.
    x, y = ring[0]
    return sum(
        (ring[index][0] - x) * (ring[index + 1][1] - y) - (ring[index + 1][0] - x) * (ring[index][1] - y)
        for index in range(len(ring) - 1)
    )


# --- asking ------------------------------------------------------------------------------------


def county_of(areas: Iterable[Area], position: Position) -> str | None:
    """The key of the first county that contains the position; None when none does."""
    return next((area.county for area in areas if contains(area, position)), None)


def contains(area: Area, position: Position) -> bool:
    """True when the position lies in one of the area's polygons and outside its holes, or on any boundary."""
    point = (position.longitude, position.latitude)
    return any(_in_polygon(polygon, point) for polygon in area.polygons)


def _in_polygon(polygon: Sequence[Sequence[Point]], point: Point) -> bool:
    """Even-odd: a ray to the east crosses the rings an odd number of times, or the point lies on one."""
    x, y = point
    inside = False
    for ring in polygon:
        for index in range(len(ring) - 1):
            start, end = ring[index], ring[index + 1]
            (ax, ay), (bx, by) = start, end
            # An edge wholly above, below or to the west neither meets the ray nor holds the point.
            if (ay < y and by < y) or (ay > y and by > y) or (ax < x and bx < x):
                continue
            side = _side(start, end, point)
            if side == 0 and min(ax, bx) <= x <= max(ax, bx):
                return True
            # Half-open in height, so that a corner on the ray counts for one of its two edges.
            if (ay > y) != (by > y) and (side > 0) == (by > ay):
                inside = not inside
    return inside


# J. R. Shewchuk, Adaptive Precision Floating-Point Arithmetic and Fast Robust Geometric Predicates (1997): the
# bound (3 + 16ε)ε, with ε = 2⁻⁵³, on the error of the first estimate of an orientation. From memory.
_ROUNDING = (3 + 16 * 2**-53) * 2**-53


def _side(start: Point, end: Point, point: Point) -> float:
    """Positive when the point lies left of the line from start to end, negative right of it, 0 exactly on it.

    The sign is exact: where rounding could change it, it is computed in fractions.
    """
    (ax, ay), (bx, by), (x, y) = start, end, point
    left, right = (bx - ax) * (y - ay), (by - ay) * (x - ax)
    side = left - right
    if abs(side) > _ROUNDING * (abs(left) + abs(right)):
        return side
    fax, fay = Fraction(ax), Fraction(ay)
    exact = (Fraction(bx) - fax) * (Fraction(y) - fay) - (Fraction(by) - fay) * (Fraction(x) - fax)
    return (exact > 0) - (exact < 0)


def distance_metres(a: Position, b: Position) -> float:
    """Great-circle distance on a sphere of the Earth's mean radius, by the haversine formula.

    Within 0.6 % of the distance on the ellipsoid.
    """
    north_a, north_b = radians(a.latitude), radians(b.latitude)
    across = sin(radians(b.longitude - a.longitude) / 2)
    up = sin((north_b - north_a) / 2)
    haversine = up * up + cos(north_a) * cos(north_b) * across * across
    return 2 * EARTH_RADIUS_METRES * asin(min(1.0, sqrt(haversine)))
