"""Maps as shapes: what is shared stays shared, nothing is lost, and the whole stays small."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import cos, radians
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import make_valid
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from sitegen.geography.drawing import (
    MARGIN,
    Corner,
    Line,
    Shape,
    draw,
    path_data,
    twice_the_area,
)
from sitegen.geography.shapes import read_map
from sitegen.newsroom.records import Area, Position
from tests.counts import tries

ROOT = Path(__file__).parents[2]


def demo_areas() -> tuple[Area, ...]:
    text = (ROOT / "content" / "counties.geojson").read_text("utf-8")
    names = re.findall(r'"name":\s*"([^"]+)"', text)
    areas, _ = read_map(text, {name: name.lower() for name in names})
    assert len(areas) == 12
    return areas


# --- a patchwork of counties with crooked borders ------------------------------------------------

Nodes = dict[tuple[int, int], tuple[float, float]]


@st.composite
def patchworks(draws: st.DrawFn) -> tuple[Area, ...]:
    """Counties side by side in a grid, each border crooked, the same corners written on both sides."""
    columns, rows = draws(st.integers(1, 3)), draws(st.integers(1, 3))
    crooks = draws(st.integers(1, 5))
    # Small enough that no two borders can meet but where they should.
    shift = st.floats(-0.11, 0.11)
    fine = {
        (x, y): (
            -61 + x / (crooks + 1) + draws(shift) / (crooks + 1),
            34 + y / (crooks + 1) + draws(shift) / (crooks + 1),
        )
        for x in range(columns * (crooks + 1) + 1)
        for y in range(rows * (crooks + 1) + 1)
        if x % (crooks + 1) == 0 or y % (crooks + 1) == 0
    }
    return tuple(
        Area(f"c{column}{row}", ((tuple(_around(fine, column, row, crooks + 1)),),))
        for row in range(rows)
        for column in range(columns)
    )


def _around(fine: Nodes, column: int, row: int, step: int) -> Iterator[tuple[float, float]]:
    left, bottom = column * step, row * step
    yield from (fine[left + at, bottom] for at in range(step))
    yield from (fine[left + step, bottom + at] for at in range(step))
    yield from (fine[left + step - at, bottom + step] for at in range(step))
    yield from (fine[left, bottom + step - at] for at in range(step))
    yield fine[left, bottom]


def edges(rings: Sequence[Line]) -> Iterator[tuple[Corner, Corner]]:
    for ring in rings:
        for a, b in pairwise(ring):
            yield (min(a, b), max(a, b))


def geometry(shape: Shape) -> BaseGeometry:
    whole: BaseGeometry = Polygon()
    for ring in shape.rings:
        whole = whole.symmetric_difference(make_valid(Polygon(ring)))
    return whole


@settings(max_examples=tries(60))
@given(patchworks(), st.integers(60, 600), st.floats(0, 400))
def test_shared_borders_stay_shared(areas: tuple[Area, ...], size: int, detail: float) -> None:
    plain = draw(areas, size, 0)
    drawing = draw(areas, size, detail)
    assert [shape.county for shape in drawing.shapes] == [area.county for area in areas]
    # Whoever lay side by side before anything was left out still does, and along one and the same line.
    assert [shape.neighbours for shape in drawing.shapes] == [shape.neighbours for shape in plain.shapes]
    sides = {shape.county: set(edges(shape.rings)) for shape in drawing.shapes}
    for shape in drawing.shapes:
        for other in shape.neighbours:
            assert sides[shape.county] & sides[other]
    # An edge with a county on both sides is drawn twice, one at the coast once: no gap, no overlap.
    used = Counter(edge for shape in drawing.shapes for edge in edges(shape.rings))
    assert set(used.values()) <= {1, 2}


@settings(max_examples=tries(60))
@given(patchworks(), st.integers(200, 600), st.floats(0, 300))
def test_no_county_is_lost_and_none_lies_on_another(
    areas: tuple[Area, ...], size: int, detail: float
) -> None:
    drawing = draw(areas, size, detail)
    shapes = [geometry(shape) for shape in drawing.shapes]
    assert all(shape.area > 0 for shape in shapes)
    whole = shapes[0]
    for shape in shapes[1:]:
        assert whole.intersection(shape).area < 1e-6
        whole = whole.union(shape)
    # And no gap opened between them.
    assert not whole.interiors if isinstance(whole, Polygon) else True
    for shape in drawing.shapes:
        assert all(
            0 <= x <= drawing.width and 0 <= y <= drawing.height for ring in shape.rings for x, y in ring
        )
        assert all(ring[0] == ring[-1] and len(ring) >= 4 and twice_the_area(ring) for ring in shape.rings)


@settings(max_examples=tries(60))
@given(
    st.lists(
        st.lists(st.tuples(st.floats(-180, 180), st.floats(-90, 90)), min_size=3, max_size=6),
        min_size=1,
        max_size=4,
    ),
    st.integers(20, 300),
    st.floats(0, 200),
)
def test_whatever_the_map_every_area_is_drawn(
    written: list[list[tuple[float, float]]], size: int, detail: float
) -> None:
    areas = tuple(Area(str(number), (((*ring, ring[0]),),)) for number, ring in enumerate(written))
    drawing = draw(areas, size, detail)
    assert [shape.county for shape in drawing.shapes] == [area.county for area in areas]
    for shape in drawing.shapes:
        assert shape.rings and geometry(shape).area > 0
        assert re.fullmatch(r"(m-?\d+[ -]-?\d+(?:[ -]\d+[ -]\d+)+z)+", shape.path.replace(" -", "-"))


# --- single cases --------------------------------------------------------------------------------


def test_only_what_stands_out_is_kept() -> None:
    # A square whose southern side dips a little and whose northern side rises by a lot.
    ring = ((0.0, 0.0), (0.5, -0.01), (1.0, 0.0), (1.0, 1.0), (0.5, 1.5), (0.0, 1.0), (0.0, 0.0))
    (shape,) = draw((Area("a", ((ring,),)),), 308, 400).shapes
    assert len(shape.rings[0]) == 6


def test_islands_nobody_would_see_go_and_the_only_one_stays() -> None:
    def square(x: float, y: float, side: float) -> tuple[tuple[float, float], ...]:
        return ((x, y), (x + side, y), (x + side, y + side), (x, y + side), (x, y))

    land, islet, far = square(0, 0, 1), square(1.2, 0.2, 0.05), square(1.5, 0.8, 0.05)
    both = (Area("a", ((land,), (islet,))), Area("b", ((far,),)))
    drawing = draw(both, 200, 100)
    assert [len(shape.rings) for shape in drawing.shapes] == [1, 1]
    assert [len(shape.rings) for shape in draw(both, 200, 5).shapes] == [2, 1]


def test_a_county_within_another_shares_its_whole_border() -> None:
    outer = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0), (0.0, 0.0))
    inner = ((0.4, 0.4), (0.41, 0.5), (0.4, 0.6), (0.6, 0.6), (0.6, 0.4), (0.4, 0.4))
    turned = (*inner[2:-1], *inner[:3])
    ring, town = draw((Area("ring", ((outer, inner),)), Area("town", ((turned,),))), 300, 60).shapes
    assert (ring.neighbours, town.neighbours) == (("town",), ("ring",))
    assert set(edges(town.rings)) < set(edges(ring.rings))
    assert geometry(ring).intersection(geometry(town)).area < 1e-6


def test_counties_that_touch_at_one_corner_are_not_neighbours() -> None:
    one = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0), (0.0, 0.0))
    other = tuple((x + 1, y + 1) for x, y in one)
    assert [
        shape.neighbours for shape in draw((Area("a", ((one,),)), Area("b", ((other,),))), 300, 9).shapes
    ] == [
        (),
        (),
    ]


def test_an_area_too_small_for_the_grid_is_still_there() -> None:
    land = ((0.0, 0.0), (3.0, 0.0), (3.0, 1.0), (0.0, 1.0), (0.0, 0.0))
    speck = tuple((2 + x / 1e6, 2 + y / 1e6) for x, y in land)
    shape = draw((Area("land", ((land,),)), Area("speck", ((speck,),))), 100, 50).shapes[1]
    assert abs(twice_the_area(shape.rings[0])) >= 4


def test_scale_is_true_at_the_middle() -> None:
    ring = ((-61.0, 59.0), (-59.0, 59.0), (-59.0, 61.0), (-61.0, 61.0), (-61.0, 59.0))
    drawing = draw((Area("a", ((ring,),)),), 1000, 1)
    assert drawing.height == 1000
    assert drawing.width - 2 * MARGIN == pytest.approx((1000 - 2 * MARGIN) * cos(radians(60)), abs=1)
    assert drawing.projection.corner(Position(60.0, -60.0)) == (round(drawing.width / 2), 500)
    assert drawing.projection.point(-61.0, 61.0) == (MARGIN, MARGIN)


def test_both_sides_of_the_180th_meridian_lie_side_by_side() -> None:
    west = ((179.0, -17.0), (180.0, -17.0), (180.0, -16.0), (179.0, -16.0), (179.0, -17.0))
    east = ((-180.0, -17.0), (-179.0, -17.0), (-179.0, -16.0), (-180.0, -16.0), (-180.0, -17.0))
    drawing = draw((Area("west", ((west,),)), Area("east", ((east,),))), 200, 1)
    assert [shape.neighbours for shape in drawing.shapes] == [("east",), ("west",)]
    assert drawing.height > 90


def test_nothing_cannot_be_drawn() -> None:
    with pytest.raises(ValueError, match="nothing"):
        draw((), 100, 1)


# --- path data -----------------------------------------------------------------------------------


def read_path(data: str) -> list[Line]:
    """Rings of path data of `m`, pairs and `z`, read by its grammar."""
    rings: list[Line] = []
    x = y = 0
    for part in data.split("m")[1:]:
        assert part.endswith("z")
        numbers = [int(number) for number in re.findall(r"-?\d+", part)]
        ring: list[Corner] = []
        for dx, dy in zip(numbers[::2], numbers[1::2], strict=True):
            x, y = x + dx, y + dy
            ring.append((x, y))
        x, y = ring[0]
        rings.append((*ring, ring[0]))
    return rings


CORNERS = st.tuples(st.integers(-999, 999), st.integers(-999, 999))


@given(
    st.lists(
        st.lists(CORNERS, min_size=3, max_size=6).map(lambda ring: (*ring, ring[0])), min_size=1, max_size=4
    )
)
def test_path_data_says_the_rings(rings: list[Line]) -> None:
    assert read_path(path_data(rings)) == rings


# --- the demonstration's map ---------------------------------------------------------------------


def test_the_demonstrations_map_is_small_and_true() -> None:
    areas = demo_areas()
    drawing = draw(areas, 720, 20)
    assert sum(len(shape.path.encode()) for shape in drawing.shapes) < 3000
    for area, shape in zip(areas, drawing.shapes, strict=True):
        project = drawing.projection.point
        true: BaseGeometry = MultiPolygon(
            [
                Polygon(
                    [project(*point) for point in rings[0]],
                    [[project(*p) for p in ring] for ring in rings[1:]],
                )
                for rings in area.polygons
            ]
        )
        assert geometry(shape).is_valid
        assert geometry(shape).symmetric_difference(true).area / true.area < 0.03
