"""Counties as plain shapes to draw: projected, simplified with shared borders kept shared, on a small grid of whole units.

A map has few pixels and a page few bytes. So positions are first put on the drawing's own grid, then borders lose the
corners that nobody would see. What two counties share is simplified once, so no gap opens between them.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import cos, radians
from typing import TypeAlias

from sitegen.newsroom.records import Area, Position

Corner: TypeAlias = tuple[int, int]
"""(x to the right, y downwards) in units of the drawing."""
Line: TypeAlias = tuple[Corner, ...]
"""Closed when its last corner is its first."""
Edge: TypeAlias = tuple[Corner, Corner]
"""The lesser corner first."""

MARGIN = 4
"""Units left free around the outermost shapes, so that their edges are not cut."""
LEAST_SHRINK = 0.05
"""Where the cosine of the middle latitude is less, near a pole, this stands for it, so that a map keeps a width."""
BUCKET = 24
"""Units along a side of the squares in which corners are looked up."""


# --- what comes out ----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Projection:
    """From positions to units of a drawing: equirectangular, true to scale at the area's middle latitude.

    A station's area is a few degrees high. Away from its middle the scale from west to east is wrong by the ratio of two
    cosines: at 1.5 degrees from latitude 35, by less than 2 %, which is less than a line is wide. In return straight
    lines of the data stay straight, so that borders which meet in the data meet in the drawing.
    """

    west: float
    """Degrees east at x = MARGIN."""
    north: float
    """Degrees north at y = MARGIN."""
    across: float
    """Units for one degree of longitude, more than 0."""
    down: float
    """Units for one degree of latitude, more than 0."""
    wraps: bool
    """The area lies on both sides of the 180th meridian: western longitudes count on from 180."""

    def point(self, longitude: float, latitude: float) -> tuple[float, float]:
        east = longitude + 360 if self.wraps and longitude < 0 else longitude
        return MARGIN + (east - self.west) * self.across, MARGIN + (self.north - latitude) * self.down

    def corner(self, position: Position) -> Corner:
        """The nearest corner of the grid."""
        x, y = self.point(position.longitude, position.latitude)
        return round(x), round(y)


@dataclass(frozen=True, slots=True)
class Shape:
    """One county of a drawing."""

    county: str
    """A county's key."""
    rings: tuple[Line, ...]
    """Closed, at least one; what an odd number of them surrounds is inside."""
    neighbours: tuple[str, ...]
    """Keys of the counties it shares a length of border with, in the drawing's order."""

    @property
    def path(self) -> str:
        """SVG path data, to be filled by the even-odd rule."""
        return path_data(self.rings)


@dataclass(frozen=True, slots=True)
class Drawing:
    """A map of counties."""

    width: int
    height: int
    projection: Projection
    shapes: tuple[Shape, ...]
    """One for every area, in their order."""


# --- drawing -----------------------------------------------------------------------------------


@lru_cache(maxsize=256)
def draw(areas: tuple[Area, ...], size: int, detail: float) -> Drawing:
    """The areas in a drawing whose longer side is `size` units. Equal arguments give equal drawings.

    Corners that stand out from the line by a triangle of less than `detail` square units go, smallest first: M. Visvalingam and J. D. Whyatt, "Line
    generalisation by repeated elimination of points", The Cartographic Journal 30 (1993), with one rule more: a corner
    stays when another lies in its triangle, so that no two lines come to cross that did not before.

    Islands and holes of less than `detail` go too, unless another area touches them or they are all there is of theirs; an
    area too small for the grid becomes a mark of two units, which may lie over another. Raises ValueError without areas.
    """
    if not areas:
        raise ValueError("there is nothing to draw")
    projection, width, height = _fit(areas, size)
    outlines = [_outlines(area, projection) for area in areas]
    owners_of: dict[Corner, set[int]] = {}
    for number, rings in enumerate(outlines):
        for ring in rings:
            for corner in ring:
                owners_of.setdefault(corner, set()).add(number)
    shared = {corner for corner, owners in owners_of.items() if len(owners) > 1}
    outlines = [_worth_drawing(rings, shared, detail) for rings in outlines]
    ends = _junctions(outlines)
    pieces = [[tuple(_cut(ring, ends)) for ring in rings] for rings in outlines]
    owners: dict[Line, set[int]] = {}
    for number, cut in enumerate(pieces):
        for lines in cut:
            for line in lines:
                owners.setdefault(_same_line(line), set()).add(number)
    beside: list[set[int]] = [set() for _ in areas]
    for sharing in owners.values():
        for number in sharing:
            beside[number] |= sharing
    simplified = _simplify(owners, detail)
    shapes = []
    for number, area in enumerate(areas):
        rings = [_join([_as_written(line, simplified) for line in lines]) for lines in pieces[number]]
        neighbours = tuple(areas[other].county for other in sorted(beside[number] - {number}))
        # Outlines that cross themselves may fold up; then they stay as they were.
        shown = rings if _has_inside(rings) else outlines[number]
        shapes.append(Shape(area.county, tuple(shown), neighbours))
    return Drawing(width, height, projection, tuple(shapes))


def _fit(areas: Sequence[Area], size: int) -> tuple[Projection, int, int]:
    """(projection, width, height) of a drawing that holds every area."""
    corners = [point for area in areas for polygon in area.polygons for ring in polygon for point in ring]
    west, east = min(x for x, _ in corners), max(x for x, _ in corners)
    # RFC 7946, section 3.1.9: what crosses the 180th meridian is cut there, so its parts lie at both ends.
    wraps = east - west > 180
    if wraps:
        eastings = [x + 360 if x < 0 else x for x, _ in corners]
        west, east = min(eastings), max(eastings)
    south, north = min(y for _, y in corners), max(y for _, y in corners)
    shrink = max(cos(radians((south + north) / 2)), LEAST_SHRINK)
    # Areas of a single position, which no reader of maps lets through, would have no length at all.
    longest = max((east - west) * shrink, north - south, 1e-9)
    down = (size - 2 * MARGIN) / longest
    across = down * shrink
    width = round((east - west) * across) + 2 * MARGIN
    height = round((north - south) * down) + 2 * MARGIN
    return Projection(west, north, across, down, wraps), width, height


def _outlines(area: Area, projection: Projection) -> list[Line]:
    """The area's rings on the grid, without those that shrink to nothing; a small square when all of them do."""
    rings = []
    for polygon in area.polygons:
        for written in polygon:
            points = (projection.point(*point) for point in written)
            ring: list[Corner] = []
            for x, y in points:
                corner = (round(x), round(y))
                if not ring or corner != ring[-1]:
                    ring.append(corner)
            if len(ring) > 3 and twice_the_area(ring):
                rings.append(tuple(ring))
    if rings and _has_inside(rings):
        return rings
    x, y = projection.point(*area.polygons[0][0][0])
    left, top = round(x) - 1, round(y) - 1
    return [((left, top), (left, top + 2), (left + 2, top + 2), (left + 2, top), (left, top))]


def _has_inside(rings: Sequence[Line]) -> bool:
    """True when something is left inside rings of which each may take away what another holds."""
    top = min(y for ring in rings for _, y in ring)
    bottom = max(y for ring in rings for _, y in ring)
    return any(crossings(rings, y + 0.5) for y in range(top, bottom))


def _worth_drawing(rings: list[Line], shared: set[Corner], detail: float) -> list[Line]:
    """The rings without islands and holes that are too small, and touch no other area."""
    largest = max(rings, key=lambda ring: abs(twice_the_area(ring)))
    kept = [
        ring
        for ring in rings
        if ring is largest or abs(twice_the_area(ring)) >= 2 * detail or not shared.isdisjoint(ring)
    ]
    return kept if _has_inside(kept) else rings


def twice_the_area(ring: Sequence[Corner]) -> int:
    """Twice the signed area of a closed ring, in square units (the shoelace formula)."""
    return sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairwise(ring))


def crossings(rings: Iterable[Line], row: float) -> tuple[tuple[float, float], ...]:
    """The spans of a row that lie inside, by the even-odd rule, from left to right, those of no width left out."""
    found = sorted(
        ax + (row - ay) * (bx - ax) / (by - ay)
        for ring in rings
        for (ax, ay), (bx, by) in pairwise(ring)
        if (ay > row) != (by > row)
    )
    return tuple(
        (left, right) for left, right in zip(found[::2], found[1::2], strict=True) if right - left > 1e-9
    )


# --- borders -----------------------------------------------------------------------------------


def _junctions(outlines: Iterable[Sequence[Line]]) -> set[Corner]:
    """The corners at which rings meet or part: those between different neighbours in different rings.

    Between two of them a border belongs to the same areas all along. Where three areas meet, or two and the sea, the
    neighbours differ.
    """
    between: dict[Corner, Edge] = {}
    found: set[Corner] = set()
    for rings in outlines:
        for ring in rings:
            for before, corner, after in zip((ring[-2], *ring), ring[:-1], ring[1:], strict=False):
                sides = (min(before, after), max(before, after))
                if between.setdefault(corner, sides) != sides:
                    found.add(corner)
    return found


def _cut(ring: Line, ends: set[Corner]) -> Iterator[Line]:
    """The ring's lines from junction to junction; one closed line, from its least corner, when it has none."""
    corners = ring[:-1]
    cuts = [at for at, corner in enumerate(corners) if corner in ends]
    if not cuts:
        cuts = [corners.index(min(corners))]
    turned = corners[cuts[0] :] + corners[: cuts[0]]
    at = [cut - cuts[0] for cut in cuts]
    closed = (*turned, turned[0])
    for start, stop in pairwise((*at, len(turned))):
        yield closed[start : stop + 1]


def _same_line(line: Line) -> Line:
    """One form for a line and the same line backwards."""
    return min(line, line[::-1])


def _as_written(line: Line, simplified: dict[Line, Line]) -> Line:
    """The simplified line in the direction of this one."""
    key = _same_line(line)
    return simplified[key] if key == line else simplified[key][::-1]


def _join(lines: Sequence[Line]) -> Line:
    corners = [corner for line in lines for corner in line[:-1]]
    return (*corners, corners[0])


def _simplify(lines: Iterable[Line], detail: float) -> dict[Line, Line]:
    """Each line with fewer corners; its ends stay. Closed lines keep three corners or more."""
    chains = [list(line) for line in sorted(lines)]
    edges: set[Edge] = {_edge(*pair) for line in chains for pair in pairwise(line)}
    buckets: dict[Corner, set[Corner]] = {}
    standing: dict[Corner, int] = {}
    for line in chains:
        for corner in line:
            standing[corner] = standing.get(corner, 0) + 1
            buckets.setdefault((corner[0] // BUCKET, corner[1] // BUCKET), set()).add(corner)
    # Doubly linked, so that a corner goes in one step: neighbours by (line, place in the line).
    before = [list(range(-1, len(line) - 1)) for line in chains]
    after = [list(range(1, len(line) + 1)) for line in chains]
    left = [len(line) for line in chains]
    limit = 2 * detail
    waiting: list[tuple[int, int, int, int, int]] = []

    def propose(number: int, at: int) -> None:
        line, start, end = chains[number], before[number][at], after[number][at]
        if start < 0 or end >= len(line):
            return
        size = abs(_turn(line[start], line[at], line[end]))
        if size < limit:
            heapq.heappush(waiting, (size, number, at, start, end))

    for number, line in enumerate(chains):
        for at in range(1, len(line) - 1):
            propose(number, at)
    gone: set[tuple[int, int]] = set()
    while waiting:
        _, number, at, start, end = heapq.heappop(waiting)
        line = chains[number]
        if (number, at) in gone or before[number][at] != start or after[number][at] != end:
            continue  # proposed with neighbours it no longer has
        a, corner, b = line[start], line[at], line[end]
        if a == b or left[number] <= (4 if line[0] == line[-1] else 2):
            continue
        chord = _edge(a, b)
        if chord in edges or _holds_a_corner(a, corner, b, buckets):
            continue
        edges -= {_edge(a, corner), _edge(corner, b)}
        edges.add(chord)
        gone.add((number, at))
        left[number] -= 1
        after[number][start], before[number][end] = end, start
        standing[corner] -= 1
        if not standing[corner]:
            buckets[corner[0] // BUCKET, corner[1] // BUCKET].discard(corner)
        propose(number, start)
        propose(number, end)
    return {
        tuple(line): tuple(corner for at, corner in enumerate(line) if (number, at) not in gone)
        for number, line in enumerate(chains)
    }


def _edge(a: Corner, b: Corner) -> Edge:
    return (a, b) if a < b else (b, a)


def _turn(a: Corner, b: Corner, c: Corner) -> int:
    """Twice the signed area of a triangle: 0 when its corners lie in one line."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])


def _holds_a_corner(a: Corner, b: Corner, c: Corner, buckets: dict[Corner, set[Corner]]) -> bool:
    """True when a corner that is still drawn lies in the triangle or on its sides, its own three apart."""
    own = (a, b, c)
    turn = _turn(a, b, c)
    xs, ys = sorted((a[0], b[0], c[0])), sorted((a[1], b[1], c[1]))
    for column in range(xs[0] // BUCKET, xs[2] // BUCKET + 1):
        for row in range(ys[0] // BUCKET, ys[2] // BUCKET + 1):
            for corner in buckets.get((column, row), ()):
                if corner in own or not (xs[0] <= corner[0] <= xs[2] and ys[0] <= corner[1] <= ys[2]):
                    continue
                sides = (_turn(a, b, corner), _turn(b, c, corner), _turn(c, a, corner))
                if turn == 0:
                    if sides == (0, 0, 0):
                        return True
                elif all(side * turn >= 0 for side in sides):
                    return True
    return False


# --- as text -----------------------------------------------------------------------------------


def path_data(rings: Iterable[Sequence[Corner]]) -> str:
    """SVG 2 path data of closed rings, as short as whole numbers allow: each corner relative to the one before.

    https://www.w3.org/TR/SVG2/paths.html#PathData: after `m` further pairs are lines, a minus sign needs no space before it.
    """
    parts = []
    x = y = 0
    for ring in rings:
        # `z` goes back to the ring's first corner, from where the next `m` counts.
        first = ring[0]
        parts.append("m" + _pair(first[0] - x, first[1] - y))
        x, y = first
        for corner in ring[1:-1]:
            step = _pair(corner[0] - x, corner[1] - y)
            parts.append(step if step[0] == "-" else f" {step}")
            x, y = corner
        parts.append("z")
        x, y = first
    return "".join(parts)


def _pair(x: int, y: int) -> str:
    return f"{x}{y}" if y < 0 else f"{x} {y}"
