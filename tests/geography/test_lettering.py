"""Words on a drawing: inside their shape, on a plate that holds them, never over one another."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from PIL import ImageFont
from shapely.geometry import Point, Polygon, box

from sitegen.geography.drawing import Corner, Line
from sitegen.geography.lettering import (
    Label,
    label_at,
    label_inside,
    label_marks,
    widest_spot,
    words_width,
)

SQUARE: tuple[Line, ...] = (((0, 0), (100, 0), (100, 100), (0, 100), (0, 0)),)
FIELD: tuple[Line, ...] = (((0, 0), (320, 0), (320, 240), (0, 240), (0, 0)),)
WORDS = st.text("abc ", min_size=1, max_size=14)


def plate(label: Label) -> Polygon:
    return box(label.left, label.top, label.left + label.width, label.top + label.height)


# --- in a shape --------------------------------------------------------------------------------


@st.composite
def stars(draws: st.DrawFn) -> Polygon:
    """A shape that its middle sees whole, on whole units."""
    reach = draws(st.lists(st.integers(20, 140), min_size=8, max_size=8))
    steps = [(1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1)]
    return Polygon([(150 + x * far, 150 + y * far) for (x, y), far in zip(steps, reach, strict=True)])


def rings_of(shape: Polygon) -> tuple[Line, ...]:
    return (tuple((round(x), round(y)) for x, y in shape.exterior.coords),)


@given(stars(), st.floats(0, 60), st.floats(1, 200))
def test_the_widest_spot_lies_inside_and_is_no_wider_than_wanted(
    shape: Polygon, height: float, wanted: float
) -> None:
    spot = widest_spot(rings_of(shape), height, wanted)
    assert shape.covers(Point(spot.x, spot.y))
    assert 0 <= spot.width <= wanted or height == 0


# Once looked at in few of its rows, a band ran over a corner that points in between two of them.
@example(
    Polygon([(170, 150), (180, 180), (150, 170), (112, 188), (73, 150), (94, 94), (150, 109), (200, 100)]),
    "aa ",
    47,
)
@given(stars(), WORDS, st.integers(6, 50))
def test_words_inside_a_shape_hardly_reach_over_its_edge(shape: Polygon, words: str, size: int) -> None:
    label = label_inside(rings_of(shape), words, size)
    if label is not None:
        # A spot is sought between rows and rounded to the grid, and a plate to whole units.
        assert shape.buffer(3, join_style="mitre").covers(plate(label))


WEDGE: tuple[Line, ...] = (((100, 0), (200, 200), (0, 200), (100, 0)),)
"""A row of it is as wide as it is far down."""


@pytest.mark.parametrize(
    ("wanted", "middle"), [(40.0, 100), (90.0, 100), (120.0, 130), (180.0, 190), (1000.0, 195)]
)
def test_words_stand_as_near_to_the_middle_as_they_have_room(wanted: float, middle: int) -> None:
    spot = widest_spot(WEDGE, 10, wanted)
    assert abs(spot.y - middle) <= 8
    assert min(wanted, 180) <= spot.width <= wanted


def test_words_that_fit_nowhere_are_left_out() -> None:
    assert label_inside(SQUARE, "Pellam", 20) is not None
    assert label_inside(SQUARE, "Fallow Bridge", 20) is None
    assert label_inside(SQUARE, "P", 120) is None


def test_a_hole_is_no_room_for_words() -> None:
    hole: Line = ((10, 10), (90, 10), (90, 90), (10, 90), (10, 10))
    assert label_inside((*SQUARE, hole), "Pellam", 20) is None


# --- plates ------------------------------------------------------------------------------------


@given(WORDS, st.floats(-500, 500), st.floats(-500, 500), st.sampled_from(["start", "middle", "end"]))
def test_a_plate_holds_all_the_room_of_its_words(words: str, x: float, y: float, anchor: str) -> None:
    label = label_at(words, x, y, anchor, 20)
    assert abs(label.x - x) <= 0.5 and abs(label.y - y) <= 0.5
    long = words_width(words, 20)
    start = label.x - {"start": 0, "middle": long / 2, "end": long}[anchor]
    assert label.left <= start and start + long <= label.left + label.width
    assert label.top <= label.y - 12 and label.y + 12 <= label.top + label.height


@pytest.mark.parametrize("face", ["DejaVuSans-Bold.ttf", "DejaVuSans.ttf", "LiberationSans-Bold.ttf"])
def test_names_in_a_wide_face_keep_to_their_room(face: str) -> None:
    try:
        letters = ImageFont.truetype(face, 100)
    except OSError:
        pytest.skip(f"not on this machine: {face}")
    for words in (
        "Fallowmere",
        "Netherby Sound",
        "Port Tidewick",
        "O'Merrow",
        "Peña Baja",
        "Wrack Haven",
        "12",
    ):
        assert letters.getlength(words) <= words_width(words, 100) + 1, words


# --- beside marks ------------------------------------------------------------------------------


@given(
    st.lists(st.tuples(st.tuples(st.integers(0, 320), st.integers(0, 240)), WORDS), max_size=6),
    st.lists(st.tuples(st.integers(0, 320), st.integers(0, 240)), max_size=2),
    stars(),
)
def test_words_beside_marks_never_meet_nor_leave_the_drawing(
    marks: list[tuple[Corner, str]], clear: list[Corner], shape: Polygon
) -> None:
    labels = label_marks(marks, clear, rings_of(shape), 320, 240, 20, 9)
    plates = [plate(label) for label in labels if label is not None]
    for number, one in enumerate(plates):
        assert box(0, 0, 320, 240).covers(one)
        assert all(one.intersection(other).area < 1e-6 for other in plates[:number])
        assert not any(one.buffer(-1e-6).intersects(Point(corner)) for corner in clear)
        assert not any(one.buffer(-1e-6).intersects(Point(mark)) for mark, _ in marks)


def test_words_stand_to_the_right_where_they_can() -> None:
    right, left = label_marks([((20, 50), "Millrace"), ((300, 50), "Port")], [], FIELD, 320, 240, 20, 9)
    assert right is not None and left is not None
    assert (right.anchor, left.anchor) == ("start", "end")
    assert label_marks([((50, 50), "A very long name indeed")], [], SQUARE, 100, 100, 20, 9) == (None,)
    (under,) = label_marks([((20, 50), "Millrace")], [(60, 50)], FIELD, 320, 240, 20, 9)
    assert under is None or under.anchor != "start"


def test_words_stand_where_no_edge_runs_under_them_if_they_can() -> None:
    (inside,) = label_marks([((80, 50), "Port")], [], SQUARE, 320, 240, 20, 9)
    assert inside is not None and inside.anchor == "end"
    (over,) = label_marks([((80, 50), "Netherby")], [], SQUARE, 320, 240, 20, 9)
    assert over is not None and over.anchor == "start"


def test_words_too_near_the_side_are_moved_in_from_it() -> None:
    (moved,) = label_marks([((30, 120), "Netherby Sound Landing")], [], FIELD, 320, 240, 20, 9)
    assert moved is not None and moved.anchor == "middle" and abs(moved.y - 120) > 20
    assert 0 <= moved.left <= 4


def test_words_under_a_mark_are_moved_in_from_an_edge_that_would_run_under_them() -> None:
    shape: tuple[Line, ...] = (((0, 0), (150, 0), (150, 240), (0, 240), (0, 0)),)
    (moved,) = label_marks([((110, 120), "Port Tide")], [], shape, 320, 240, 20, 9)
    assert moved is not None and moved.anchor == "middle" and abs(moved.y - 120) > 20
    assert moved.left >= 0 and moved.left + moved.width <= 150
    assert moved.left <= 110 <= moved.left + moved.width
