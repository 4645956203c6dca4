"""Maps and positions: outlines read with their mistakes, containment and distance by their laws."""

from __future__ import annotations

import json
from math import asin, cos, degrees, pi, radians, sin
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sitegen.geography.shapes import EARTH_RADIUS_METRES, contains, county_of, distance_metres, read_map
from sitegen.newsroom.records import Area, Position

COUNTIES = {"Tidewick": "tidewick", "Peña Baja": "pena-baja"}
SQUARE = [[-61.0, 34.0], [-60.0, 34.0], [-60.0, 35.0], [-61.0, 35.0], [-61.0, 34.0]]
EAST = [[x + 1, y] for x, y in SQUARE]
HOLE = [[-60.6, 34.4], [-60.6, 34.6], [-60.4, 34.6], [-60.4, 34.4], [-60.6, 34.4]]


def feature(name: object, *rings: object, kind: str = "Polygon") -> dict[str, Any]:
    return {
        "type": "Feature",
        "properties": {"name": name},
        "geometry": {"type": kind, "coordinates": list(rings)},
    }


def drawn(*features: object) -> str:
    """A map with one feature a line, the first on line 2."""
    return '{"type": "FeatureCollection", "features": [\n' + ",\n".join(map(json.dumps, features)) + "\n]}"


def test_counties_are_read_by_name() -> None:
    areas, problems = read_map(
        drawn(feature("Tidewick", SQUARE, HOLE), feature("Peña Baja", [EAST], kind="MultiPolygon")), COUNTIES
    )
    assert problems == ()
    assert [area.county for area in areas] == ["tidewick", "pena-baja"]
    assert areas[0].polygons == ((tuple(map(tuple, SQUARE)), tuple(map(tuple, HOLE))),)


def test_rings_drawn_the_other_way_are_turned_without_a_word() -> None:
    turned = drawn(feature("Tidewick", SQUARE[::-1], HOLE[::-1]), feature("Peña Baja", EAST[::-1]))
    plain = drawn(feature("Tidewick", SQUARE, HOLE), feature("Peña Baja", EAST))
    assert read_map(turned, COUNTIES) == read_map(plain, COUNTIES)


def test_an_open_ring_is_closed_and_reported() -> None:
    areas, problems = read_map(drawn(feature("Tidewick", SQUARE[:-1]), feature("Peña Baja", EAST)), COUNTIES)
    assert areas[0].polygons == ((tuple(map(tuple, SQUARE)),),)
    assert [line for line, _, _ in problems] == [2]
    assert "[-61.0, 34.0]" in problems[0][2]


def test_whole_numbers_and_heights_are_read_too() -> None:
    plain = [[round(x), round(y), 12] for x, y in SQUARE]
    areas, problems = read_map(drawn(feature("Tidewick", plain)), {"Tidewick": "tidewick"})
    assert (areas[0].polygons, problems) == (((tuple(map(tuple, SQUARE)),),), ())


def test_an_unknown_county_is_met_with_the_nearest() -> None:
    _, problems = read_map(drawn(feature("Tidewick", SQUARE), feature("Pena Bajo", EAST)), COUNTIES)
    assert [line for line, _, _ in problems] == [1, 3]
    assert "Peña Baja" in problems[0][1] and "Peña Baja" in problems[1][2]


def test_the_wrong_way_round_is_recognised() -> None:
    far_west = [[-121.0, 34.0], [-120.0, 34.0], [-120.0, 35.0], [-121.0, 34.0]]
    swapped = [[latitude, longitude] for longitude, latitude in far_west]
    _, problems = read_map(drawn(feature("Tidewick", swapped)), {"Tidewick": "tidewick"})
    assert "wrong way round" in problems[0][1]


def square_with(position: object) -> list[object]:
    return [SQUARE[0], position, *SQUARE[2:]]


@pytest.mark.parametrize(
    "shape",
    [
        feature("Tidewick", square_with([-181, 34])),
        feature("Tidewick", square_with([1e999, 34])),
        feature("Tidewick", square_with([10**400, 34])),
        feature("Tidewick", square_with([-60, 95])),
        feature("Tidewick", square_with([-60])),
        feature("Tidewick", square_with(["-60", "34"])),
        feature("Tidewick", square_with([True, 34])),
        feature("Tidewick", square_with(None)),
        feature("Tidewick", [*SQUARE[:2], SQUARE[0]]),
        feature("Tidewick", [[1, 1], [2, 2], [3, 3], [1, 1]]),
        feature("Tidewick", []),
        feature("Tidewick", "ring"),
        feature("Tidewick"),
        feature("Tidewick", [], kind="MultiPolygon"),
        feature("Tidewick", "polygon", kind="MultiPolygon"),
        feature("Tidewick", [-60, 34], kind="Point"),
        feature("Tidewick", SQUARE, kind="LineString"),
        {"type": "Feature", "properties": {"name": "Tidewick"}, "geometry": None},
        {"type": "Feature", "properties": {"name": "Tidewick"}},
    ],
)
def test_a_faulty_shape_is_left_out_with_its_line(shape: dict[str, Any]) -> None:
    text = drawn(feature("Peña Baja", EAST), shape).replace("Infinity", "1e999")
    areas, problems = read_map(text, COUNTIES)
    assert [area.county for area in areas] == ["pena-baja"]
    assert [line for line, _, _ in problems] == [3]
    assert all(message.endswith(".") and instead.endswith(".") for _, message, instead in problems)


@pytest.mark.parametrize(
    ("extra", "line"),
    [
        (feature("Tidewick", EAST), 4),
        (feature(None, EAST), 4),
        ({"type": "Feature", "properties": None, "geometry": None}, 4),
        (7, 4),
    ],
)
def test_a_feature_too_many_is_reported(extra: object, line: int) -> None:
    areas, problems = read_map(
        drawn(feature("Tidewick", SQUARE), feature("Peña Baja", EAST), extra), COUNTIES
    )
    assert len(areas) == 2
    assert [at for at, _, _ in problems] == [line]


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("", 1),
        ('{"type": "FeatureCollection",\n"features": [\n{"a": 1,}]}', 3),
        ('{"type": "FeatureCollection", "features": [NaN]}', 1),
        ("[]", 1),
        ('{"type": "Topology"}', 1),
        ('{"type": "FeatureCollection", "features": {}}', 1),
        ("[" * 100_000, 1),
        ('{"type": "FeatureCollection", "features": ' + "[" * 100_000, 1),
        ('{"a": ' + "9" * 5000 + "}", 1),
    ],
)
def test_what_is_no_map_is_said_to_be_none(text: str, line: int) -> None:
    areas, problems = read_map(text, COUNTIES)
    assert areas == ()
    assert [at for at, _, _ in problems] == [line]


JSON = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.sampled_from(["Tidewick", "x", "Polygon"]),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.sampled_from(["type", "name", "geometry", "properties", "coordinates"]), inner, max_size=4),
    max_leaves=12,
)  # fmt: skip


@given(st.lists(JSON, max_size=4), JSON, st.sampled_from(["Polygon", "MultiPolygon"]))
def test_any_features_give_areas_or_problems(features: list[Any], coordinates: Any, kind: str) -> None:
    shape = {"properties": {"name": "Peña Baja"}, "geometry": {"type": kind, "coordinates": coordinates}}
    text = drawn(*features, shape)
    areas, problems = read_map(text, COUNTIES)
    assert problems
    assert all(1 <= line <= text.count("\n") + 1 for line, _, _ in problems)
    assert len(areas) <= 2


@given(st.text(max_size=60))
def test_any_text_is_met_with_problems(text: str) -> None:
    assert read_map(text, COUNTIES)[1]


def test_members_and_space_around_the_features_do_not_matter() -> None:
    text = drawn(feature("Tidewick", SQUARE), feature("Nowhere", EAST))
    moved = text.replace('"features"', '"bbox": [1,\n2], "features" ').replace("\n]}", '\n] , "x": [3]\n}')
    assert [line for line, _, _ in read_map("\ufeff" + moved, COUNTIES)[1]] == [1, 4]


# --- containment -------------------------------------------------------------------------------


def area(*rings: list[list[float]]) -> Area:
    return Area("tidewick", (tuple(tuple((x, y) for x, y in ring) for ring in rings),))


@pytest.mark.parametrize(
    ("longitude", "latitude", "inside"),
    [
        (-60.9, 34.5, True),
        (-60.5, 34.5, False),  # in the hole
        (-60.6, 34.5, True),  # on the hole's edge
        (-60.4, 34.4, True),  # on its corner
        (-61.0, 34.5, True),
        (-60.0, 35.0, True),
        (-60.5, 35.0, True),
        (-60.5, 34.0, True),
        (-59.9999999, 34.5, False),
        (-60.5, 35.0000001, False),
        (-62.0, 34.0, False),  # level with an edge
        (-62.0, 35.0, False),
        (-59.0, 34.4, False),
    ],
)
def test_boundaries_count_as_inside(longitude: float, latitude: float, inside: bool) -> None:
    assert contains(area(SQUARE, HOLE), Position(latitude, longitude)) is inside


def test_a_county_may_have_islands() -> None:
    islands = Area("tidewick", area(SQUARE).polygons + area([[x + 5, y] for x, y in SQUARE]).polygons)
    assert contains(islands, Position(34.5, -60.5)) and contains(islands, Position(34.5, -55.5))
    assert not contains(islands, Position(34.5, -58))


def test_the_county_of_a_position_is_the_first_that_holds_it() -> None:
    areas, _ = read_map(drawn(feature("Tidewick", SQUARE), feature("Peña Baja", EAST)), COUNTIES)
    assert county_of(areas, Position(34.5, -60.5)) == "tidewick"
    assert county_of(areas, Position(34.5, -59.5)) == "pena-baja"
    assert county_of(areas, Position(34.5, -60.0)) == "tidewick"
    assert county_of(areas[::-1], Position(34.5, -60.0)) == "pena-baja"
    assert county_of(areas, Position(36, -60)) is None
    assert county_of((), Position(34.5, -60.5)) is None


def test_the_side_of_an_edge_is_exact() -> None:
    """A corner a few last digits off the diagonal, where plain floating point takes the wrong side.

    After L. Kettner and others, Classroom Examples of Robustness Problems in Geometric Computations (2008).
    """
    step = 2.0**-53
    for east in range(36, 52):
        for north in range(36, 52):
            corner = [0.5 + east * step, 0.5 + north * step]
            under = area([corner, [24.0, 24.0], [24.0, 0.0], corner])
            # The edge from the corner to (24, 24) passes above (12, 12), or through it, where east <= north.
            assert contains(under, Position(12.0, 12.0)) is (corner[0] <= corner[1])


# --- distance ----------------------------------------------------------------------------------

POSITIONS = st.builds(Position, st.floats(-90, 90), st.floats(-180, 180))


def test_the_radius_is_the_mean_of_the_ellipsoids_axes() -> None:
    """GRS 80: a = 6 378 137 m, 1/f = 298.257 222 101, as EPSG's register gives ellipsoid 7019."""
    a = 6_378_137.0
    b = a * (1 - 1 / 298.257222101)
    assert abs((2 * a + b) / 3 - EARTH_RADIUS_METRES) < 0.05


@given(POSITIONS, POSITIONS, POSITIONS)
def test_distance_is_a_metric_on_the_sphere(a: Position, b: Position, c: Position) -> None:
    assert distance_metres(a, a) == 0
    assert distance_metres(a, b) == pytest.approx(distance_metres(b, a), abs=1e-6)
    assert 0 <= distance_metres(a, b) <= pi * EARTH_RADIUS_METRES
    # Near the far side of the Earth rounding costs up to a decimetre.
    assert distance_metres(a, c) <= distance_metres(a, b) + distance_metres(b, c) + 1


@given(st.floats(-89, 89), st.floats(-180, 180), st.floats(1, 3_000_000), st.floats(0, 2 * pi))
def test_going_a_way_and_measuring_it_agree(
    latitude: float, longitude: float, metres: float, course: float
) -> None:
    """Where a course leads, by the sine rule of the spherical triangle: an independent formula."""
    arc, north = metres / EARTH_RADIUS_METRES, radians(latitude)
    up = sin(north) * cos(arc) + cos(north) * sin(arc) * cos(course)
    there = asin(max(-1.0, min(1.0, up)))
    assume(abs(there) < radians(89.9))
    turn = asin(max(-1.0, min(1.0, sin(course) * sin(arc) / cos(there))))
    if cos(arc) < sin(north) * sin(there):
        turn = pi - turn  # past the pole, where the sine alone cannot tell
    end = Position(degrees(there), longitude + degrees(turn))
    assert distance_metres(Position(latitude, longitude), end) == pytest.approx(metres, rel=1e-6, abs=1e-2)


def test_known_arcs() -> None:
    quarter = pi / 2 * EARTH_RADIUS_METRES
    assert distance_metres(Position(0, 0), Position(90, 77)) == pytest.approx(quarter)
    assert distance_metres(Position(0, 179), Position(0, -179)) == pytest.approx(quarter / 45)
    assert distance_metres(Position(0, 0), Position(0, 180)) == pytest.approx(2 * quarter)


def test_a_published_geodesic_is_met_within_six_thousandths() -> None:
    """Wellington to Salamanca, 19 959 679.267 m on WGS 84: the example in GeographicLib's documentation."""
    found = distance_metres(Position(-41.32, 174.81), Position(40.96, -5.50))
    assert found == pytest.approx(19_959_679.267, rel=0.006)
