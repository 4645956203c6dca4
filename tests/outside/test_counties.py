"""Counties on the ground: open boundaries of the United States, and the middles of postal codes that claim a county.

Boundaries: the npm package `us-atlas` 3.0.1 (ISC; the Census Bureau's cartographic boundaries of 2017, at 1:10,000,000),
made into GeoJSON by `topojson-client` 3.1.0 (ISC). Points: the PyPI package `zipcodes` 3.0.0 (MIT). Neither is part of
this repository; the first two are fetched into `node_modules/` with
`npm install --ignore-scripts --no-save us-atlas@3.0.1 topojson-client@3.1.0`.

What was found: of 41,812 points, 35,429 lie at least 2 km inside a county, and 99.22 % of those in the county they claim.
Of the 277 others, 210 claim a county less than 10 km away, for a postal code may serve several; 59 one farther away, where
the point or the claim is wrong; 8 one that their state has not got. Each is printed, with its reason.
"""

from __future__ import annotations

import json
import re
import subprocess
import unicodedata
from collections import Counter, defaultdict
from collections.abc import Sequence
from functools import cache
from importlib.util import find_spec
from math import cos, radians
from pathlib import Path
from shutil import which
from typing import Any

import pytest
from shapely import coverage_is_valid
from shapely.geometry import Point, Polygon
from shapely.geometry.base import BaseGeometry

from sitegen.geography.drawing import Shape, draw
from sitegen.geography.lettering import widest_spot
from sitegen.geography.shapes import contains, read_map
from sitegen.newsroom.records import Area, Position

MODULES = Path(__file__).parents[2] / "node_modules"
MISSING = [
    name
    for name, found in (
        ("node", which("node")),
        ("us-atlas 3.0.1", (MODULES / "us-atlas").is_dir()),
        ("topojson-client 3.1.0", (MODULES / "topojson-client").is_dir()),
        ("zipcodes 3.0.0", find_spec("zipcodes")),
    )
    if not found
]
pytestmark = pytest.mark.skipif(bool(MISSING), reason=f"not on this machine: {', '.join(MISSING)}")

DEEP_METRES = 2000
"""Nearer to a border than this a generalized outline and a rounded point decide nothing."""
LEAST_AGREEMENT = 0.99
METRES_OF_DEGREE = 111_195
"""A sixtieth of whose length is a nautical mile, on a sphere of the Earth's mean radius."""

_TO_GEOJSON = """
const topojson = require('topojson-client'), atlas = require('us-atlas/counties-10m.json');
const found = topojson.feature(atlas, atlas.objects.counties);
for (const each of found.features) each.properties = {name: each.id, title: each.properties.name};
process.stdout.write(JSON.stringify(found));
"""


@cache
def features() -> dict[str, Any]:
    done = subprocess.run(
        ["node", "-e", _TO_GEOJSON], cwd=MODULES.parent, capture_output=True, text=True, check=True
    )
    found: dict[str, Any] = json.loads(done.stdout)
    return found


@cache
def names() -> dict[str, str]:
    """The name of each county by its number, whose first two digits are its state's."""
    return {
        each["properties"]["name"]: each["properties"]["title"]
        for each in features()["features"]
        if each["geometry"] is not None
    }


@cache
def areas() -> dict[str, Area]:
    found, problems = read_map(json.dumps(features()), {number: number for number in names()})
    # The package rounds positions; a few islets shrink to nothing, and nothing else is wrong with it.
    assert all("encloses nothing" in message for _, message, _ in problems), problems[:3]
    return {area.county: area for area in found}


@cache
def by_cell() -> dict[tuple[int, int], tuple[str, ...]]:
    """Counties by the whole degrees they touch, so that few have to be asked."""
    cells: defaultdict[tuple[int, int], list[str]] = defaultdict(list)
    for number, area in areas().items():
        corners = [point for rings in area.polygons for point in rings[0]]
        west, east = min(x for x, _ in corners), max(x for x, _ in corners)
        south, north = min(y for _, y in corners), max(y for _, y in corners)
        for x in range(int(west // 1), int(east // 1) + 1):
            for y in range(int(south // 1), int(north // 1) + 1):
                cells[x, y].append(number)
    return {cell: tuple(found) for cell, found in cells.items()}


def county_at(position: Position) -> str | None:
    cell = (int(position.longitude // 1), int(position.latitude // 1))
    return next((number for number in by_cell().get(cell, ()) if contains(areas()[number], position)), None)


def depth_metres(number: str, position: Position) -> float:
    """How far inside its county's outline a position lies, on the plane true to scale there."""
    shrink = cos(radians(position.latitude))
    point = Point(position.longitude * shrink, position.latitude)
    nearest: float = min(
        Polygon([(x * shrink, y) for x, y in ring]).exterior.distance(point)
        for rings in areas()[number].polygons
        for ring in rings
    )
    return METRES_OF_DEGREE * nearest


def plain(name: str) -> str:
    """A county's name as both packages can write it: without the word for its kind, accents, dots and spaces."""
    folded = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    folded = re.sub(
        r"\b(county|parish|census area|city and borough|borough|municipality|municipio|city|of)\b",
        " ",
        folded,
    )
    folded = re.sub(r"\bsaint\b", "st", folded)
    return re.sub(r"[^a-z]", "", re.sub(r"\bsainte\b", "ste", folded))


RENAMED = {
    # Since the boundaries of 2017: Valdez-Cordova was divided in 2019.
    "chugach": "valdezcordova",
    "copperriver": "valdezcordova",
}
"""Counties of the points to what the boundaries still call them."""


@cache
def claims() -> tuple[tuple[str, str, str, Position], ...]:
    """(postal code, state, county, position) of every postal code that claims a county, military ones left out."""
    import zipcodes

    found = [
        (each["zip_code"], each["state"], each["county"], Position(float(each["lat"]), float(each["long"])))
        for each in zipcodes.list_all()  # type: ignore[no-untyped-call]
        if each["county"] and each["lat"] and each["zip_code_type"] != "MILITARY"
    ]
    return tuple(sorted(found, key=lambda claim: claim[0]))


def test_places_of_postal_codes_lie_in_the_county_they_claim() -> None:
    asked = claims()
    assert len(asked) > 40_000
    found = [(claim, number) for claim in asked if (number := county_at(claim[3])) is not None]
    assert len(found) / len(asked) > 0.99  # the others lie on water
    # Most points of a state lie in it, so they tell which number the boundaries give it.
    states: defaultdict[str, Counter[str]] = defaultdict(Counter)
    for (_, state, _, _), number in found:
        states[state][number[:2]] += 1
    deep = [(claim, number) for claim, number in found if depth_metres(number, claim[3]) >= DEEP_METRES]
    assert len(deep) > len(found) * 0.8
    reasons: Counter[str] = Counter()
    for (code, state, county, position), number in deep:
        claimed = RENAMED.get(plain(county), plain(county))
        if plain(names()[number]) == claimed and states[state].most_common(1)[0][0] == number[:2]:
            continue
        reason = why(state, claimed, states, position)
        reasons[reason] += 1
        print(f"{code}: says {county}, {state}; lies in {names()[number]} ({number}): {reason}")
    agreement = 1 - reasons.total() / len(deep)
    print(
        f"{len(asked)} points, {len(deep)} of them deep inside a county, {agreement:.2%} in the county they claim"
    )
    print(reasons.most_common())
    assert agreement >= LEAST_AGREEMENT


def why(state: str, claimed: str, states: dict[str, Counter[str]], position: Position) -> str:
    """In what way a point and its claim differ: how far the claimed county is."""
    home = states[state].most_common(1)[0][0]
    same = [number for number in areas() if number[:2] == home and plain(names()[number]) == claimed]
    if not same:
        return "the boundaries have no county of that name in that state"
    away = min(depth_metres(number, position) for number in same)
    if away < 10_000:
        return "the claimed county is less than 10 km away: a postal code over several counties"
    return "the claimed county is farther away: the point or the claim is wrong"


# --- drawn ---------------------------------------------------------------------------------------


def geometry(rings: Sequence[Sequence[tuple[int, int]]]) -> BaseGeometry:
    whole: BaseGeometry = Polygon()
    for ring in rings:
        whole = whole.symmetric_difference(Polygon(ring).buffer(0))
    return whole


def is_mark(shape: Shape) -> bool:
    """True for the mark of two units that stands for a county too small for the grid."""
    corners = [corner for ring in shape.rings for corner in ring]
    return all(max(values) - min(values) <= 2 for values in zip(*corners, strict=True))


def test_real_counties_drawn_leave_no_gap_and_lie_nowhere_over_each_other() -> None:
    """Against GEOS's judgement of coverages: neighbours share whole edges, and nothing overlaps."""
    states = sorted({number[:2] for number in areas()})
    assert len(states) > 50
    marks = 0
    for state in states:
        there = tuple(area for number, area in areas().items() if number[:2] == state)
        drawing = draw(there, 720, 60)
        assert [shape.county for shape in drawing.shapes] == [area.county for area in there]
        marks += sum(map(is_mark, drawing.shapes))
        drawn = [geometry(shape.rings) for shape in drawing.shapes if not is_mark(shape)]
        assert coverage_is_valid(drawn), state
        for shape in drawing.shapes:
            spot = widest_spot(shape.rings, 0)
            assert geometry(shape.rings).covers(Point(spot.x, spot.y)), shape.county
    print(f"{marks} counties are only a mark")
    assert marks < 10
