"""Containment against Shapely, whose predicates are exact too: every corner and edge must agree."""

from __future__ import annotations

from itertools import pairwise
from math import atan2

from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from shapely.geometry import MultiPolygon, Point, Polygon

from sitegen.geography.shapes import contains
from sitegen.newsroom.records import Area, Position
from tests.counts import tries

# A lattice of tenths: few enough positions that edges and corners are hit often, and not one exact in binary.
TENTHS = st.integers(0, 9).map(lambda number: number * 0.1 - 60.7)
POINTS = st.tuples(TENTHS, TENTHS)
Ring = tuple[tuple[float, float], ...]


def around(points: list[tuple[float, float]]) -> Ring:
    """The points joined in the order in which they are seen from their middle, and closed."""
    x = sum(point[0] for point in points) / len(points)
    y = sum(point[1] for point in points) / len(points)
    ordered = sorted(points, key=lambda point: (atan2(point[1] - y, point[0] - x), point))
    return (*ordered, ordered[0])


RINGS = st.lists(POINTS, min_size=3, max_size=10, unique=True).map(around)


@settings(max_examples=tries(300), deadline=None)
@given(RINGS, RINGS | st.none(), st.lists(POINTS, min_size=1, max_size=8))
@example(((-60.0, 34.0), (-59.7, 34.1), (-59.9, 34.3), (-60.0, 34.0)), None, [(-59.85, 34.05), (-59.9, 34.1)])
def test_polygons_hold_what_shapely_says(
    outer: Ring, hole: Ring | None, asked: list[tuple[float, float]]
) -> None:
    rings = (outer,) if hole is None else (outer, hole)
    polygon = Polygon(outer, [] if hole is None else [hole])
    assume(polygon.is_valid and polygon.area > 0)
    area = Area("tidewick", (rings,))
    for ring in rings:
        for (ax, ay), (bx, by) in pairwise(ring):
            asked = [
                *asked,
                (ax, ay),
                ((ax + bx) / 2, (ay + by) / 2),
                (ax + (bx - ax) / 3, ay + (by - ay) / 3),
            ]
    for x, y in asked:
        assert contains(area, Position(y, x)) == polygon.covers(Point(x, y)), (x, y)


@settings(max_examples=tries(200), deadline=None)
@given(st.lists(RINGS, min_size=2, max_size=3), st.lists(POINTS, min_size=1, max_size=20))
def test_islands_hold_what_shapely_says(rings: list[Ring], asked: list[tuple[float, float]]) -> None:
    moved = [tuple((x + number, y) for x, y in ring) for number, ring in enumerate(rings)]
    islands = MultiPolygon([Polygon(ring) for ring in moved])
    assume(islands.is_valid and islands.area > 0)
    area = Area("tidewick", tuple((ring,) for ring in moved))
    for x, y in asked:
        assert contains(area, Position(y, x)) == islands.covers(Point(x, y)), (x, y)


@settings(max_examples=tries(200), deadline=None)
@given(RINGS, st.floats(-61, -59), st.floats(-61, -59))
def test_positions_anywhere_agree(ring: Ring, x: float, y: float) -> None:
    polygon = Polygon(ring)
    assume(polygon.is_valid and polygon.area > 0)
    assert contains(Area("tidewick", ((ring,),)), Position(y, x)) == polygon.covers(Point(x, y))
