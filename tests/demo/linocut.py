"""A small kit for drawing pictures as a lino print shows them: flat shapes, hand-cut edges, gouge marks.

Every picture is drawn on a sheet of `WIDTH` x `HEIGHT` units from its own seeded generator, so that the same
program gives the same pixels. Angles are degrees, 0 pointing right, turning clockwise as the eye sees it.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from random import Random
from typing import TypeAlias

from PIL import Image, ImageChops, ImageDraw

WIDTH, HEIGHT = 1600, 1067
SCALE = 2
"""Drawn at twice the size and reduced, which smooths the edges."""
MOST_BYTES = 145_000
"""A finished picture is no heavier: the many sharp edges of a busy one are paid for in quality."""

PAPER, SAND, GRAY = "#f4e8cf", "#dfc594", "#9aa49c"
INK, INK_SOFT = "#21262c", "#3a4046"
LAMP, LAMP_PALE, LAMP_DEEP = "#f0b23c", "#f8da8f", "#c98420"
SEA, SEA_PALE, SEA_DEEP = "#3d7b76", "#a3c4b3", "#1d4649"
BRICK, BRICK_PALE, BRICK_DEEP = "#b5492f", "#d98a62", "#782c20"
SKINS = ("#e2b48a", "#8a573a", "#c48a60", "#6a4230")

Point: TypeAlias = tuple[float, float]
Points: TypeAlias = Sequence[Point]


def box(left: float, top: float, right: float, bottom: float) -> list[Point]:
    """The corners of a rectangle."""
    return [(left, top), (right, top), (right, bottom), (left, bottom)]


def oval(x: float, y: float, across: float, down: float, turn: float = 0.0) -> list[Point]:
    """Points round an ellipse with these half-axes."""
    tilt = math.radians(turn)
    found = []
    for step in range(48):
        angle = step * math.tau / 48
        dx, dy = across * math.cos(angle), down * math.sin(angle)
        found.append(
            (x + dx * math.cos(tilt) - dy * math.sin(tilt), y + dx * math.sin(tilt) + dy * math.cos(tilt))
        )
    return found


def smooth(points: Points, closed: bool = True) -> list[Point]:
    """A curve through the points (a uniform Catmull-Rom spline)."""
    count = len(points)
    found: list[Point] = []
    for at in range(count if closed else count - 1):
        if closed:
            before, start, end, after = (points[(at + step) % count] for step in (-1, 0, 1, 2))
        else:
            before, start, end, after = (points[min(max(at + step, 0), count - 1)] for step in (-1, 0, 1, 2))
        for step in range(10):
            t = step / 10
            found.append(
                (
                    _catmull(before[0], start[0], end[0], after[0], t),
                    _catmull(before[1], start[1], end[1], after[1], t),
                )
            )
    if not closed:
        found.append(points[-1])
    return found


def _catmull(before: float, start: float, end: float, after: float, t: float) -> float:
    return 0.5 * (
        2 * start
        + (end - before) * t
        + (2 * before - 5 * start + 4 * end - after) * t * t
        + (3 * start - before - 3 * end + after) * t**3
    )


class Sheet:
    """One picture in the making."""

    def __init__(self, name: str, ground: str) -> None:
        self.random = Random(name)
        self.image = Image.new("RGB", (WIDTH * SCALE, HEIGHT * SCALE), ground)
        self.draw = ImageDraw.Draw(self.image)

    # --- shapes ------------------------------------------------------------------------------

    def shape(self, points: Points, fill: str, wobble: float = 1.6) -> None:
        """A straight-edged area, its edges as a knife leaves them."""
        self._fill(self._hand_cut(points, wobble), fill)

    def blob(self, points: Points, fill: str) -> None:
        """A rounded area through the points."""
        self._fill(smooth(points), fill)

    def disc(
        self, x: float, y: float, radius: float, fill: str, down: float | None = None, turn: float = 0.0
    ) -> None:
        """A circle, or an ellipse when `down` gives its other half-axis."""
        self._fill(oval(x, y, radius, radius if down is None else down, turn), fill)

    def stroke(
        self, points: Points, width: float, fill: str, curved: bool = False, end_width: float | None = None
    ) -> None:
        """A line with round ends, tapering to `end_width` when that is given."""
        path = smooth(points, closed=False) if curved and len(points) > 2 else list(points)
        last = width if end_width is None else end_width
        spans = max(len(path) - 1, 1)
        for at, (start, end) in enumerate(pairwise(path)):
            wide = width + (last - width) * at / spans
            narrow = width + (last - width) * (at + 1) / spans
            length = math.dist(start, end) or 1.0
            across = ((start[1] - end[1]) / length, (end[0] - start[0]) / length)
            self._fill(
                [
                    (start[0] + across[0] * wide / 2, start[1] + across[1] * wide / 2),
                    (end[0] + across[0] * narrow / 2, end[1] + across[1] * narrow / 2),
                    (end[0] - across[0] * narrow / 2, end[1] - across[1] * narrow / 2),
                    (start[0] - across[0] * wide / 2, start[1] - across[1] * wide / 2),
                ],
                fill,
            )
            for point, girth in ((start, wide), (end, narrow)):
                self._fill(oval(point[0], point[1], girth / 2, girth / 2), fill)

    # --- gouge marks -------------------------------------------------------------------------

    def cuts(
        self,
        region: Points,
        fill: str,
        angle: float = 0.0,
        gap: float = 22,
        length: float = 90,
        thick: float = 5,
        share: float = 0.75,
    ) -> None:
        """Gouge marks inside a region: rows at `gap`, each a run of tapered cuts; `share` of the places are cut."""
        xs, ys = [p[0] for p in region], [p[1] for p in region]
        middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
        reach = math.hypot(max(xs) - min(xs), max(ys) - min(ys)) / 2 + length
        tilt = math.radians(angle)
        along, across = (math.cos(tilt), math.sin(tilt)), (-math.sin(tilt), math.cos(tilt))
        marks: list[list[Point]] = []
        row = -reach
        while row < reach:
            at = -reach + self.random.uniform(0, length)
            while at < reach:
                long = length * self.random.uniform(0.5, 1.3)
                if self.random.random() < share:
                    sideways = row + self.random.uniform(-gap, gap) * 0.22
                    start = (
                        middle[0] + along[0] * at + across[0] * sideways,
                        middle[1] + along[1] * at + across[1] * sideways,
                    )
                    marks.append(_gouge(start, along, across, long, thick * self.random.uniform(0.6, 1.2)))
                at += long + length * self.random.uniform(0.15, 0.5)
            row += gap
        self._clipped(region, marks, fill)

    def rays(
        self,
        region: Points,
        x: float,
        y: float,
        inner: float,
        outer: float,
        fill: str,
        count: int = 48,
        thick: float = 7,
    ) -> None:
        """Gouge marks pointing away from a light, inside a region."""
        marks: list[list[Point]] = []
        for step in range(count):
            angle = (step + self.random.uniform(-0.2, 0.2)) * math.tau / count
            along, across = (math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))
            at = inner * self.random.uniform(1.0, 1.12)
            while at < outer:
                long = (outer - inner) * self.random.uniform(0.16, 0.34)
                strength = thick * max(1 - (at - inner) / (outer - inner), 0.25)
                marks.append(_gouge((x + along[0] * at, y + along[1] * at), along, across, long, strength))
                at += long + (outer - inner) * self.random.uniform(0.05, 0.12)
        self._clipped(region, marks, fill)

    def inside(self, region: Points, areas: Iterable[tuple[Points, str]]) -> None:
        """Areas of colour, shown only where they lie in the region."""
        for points, fill in areas:
            self._clipped(region, [list(points)], fill)

    # --- the print ---------------------------------------------------------------------------

    def jpeg(self) -> bytes:
        """The finished picture, with the small bare flecks of a hand print."""
        for _ in range(260):
            x, y = self.random.uniform(0, WIDTH), self.random.uniform(0, HEIGHT)
            size = self.random.uniform(0.7, 1.9)
            self._fill(oval(x, y, size, size * self.random.uniform(0.5, 1.0)), PAPER)
        finished = self.image.resize((WIDTH, HEIGHT), Image.Resampling.LANCZOS)
        for quality in range(84, 50, -2):
            out = io.BytesIO()
            finished.save(out, "JPEG", quality=quality, optimize=True, progressive=True)
            if out.tell() <= MOST_BYTES:
                break
        return out.getvalue()

    # --- within ------------------------------------------------------------------------------

    def _fill(self, points: Points, fill: str) -> None:
        self.draw.polygon([(x * SCALE, y * SCALE) for x, y in points], fill=fill)

    def _hand_cut(self, points: Points, wobble: float) -> list[Point]:
        found: list[Point] = []
        for start, end in zip(points, [*points[1:], points[0]], strict=True):
            length = math.dist(start, end)
            steps = max(int(length // 70), 1)
            for step in range(steps):
                t = step / steps
                away = self.random.uniform(-wobble, wobble)
                across = ((start[1] - end[1]) / (length or 1), (end[0] - start[0]) / (length or 1))
                found.append(
                    (
                        start[0] + (end[0] - start[0]) * t + across[0] * away,
                        start[1] + (end[1] - start[1]) * t + across[1] * away,
                    )
                )
        return found

    def _clipped(self, region: Points, areas: Sequence[Points], fill: str) -> None:
        left = max(int(min(x for x, _ in region) * SCALE), 0)
        top = max(int(min(y for _, y in region) * SCALE), 0)
        right = min(int(max(x for x, _ in region) * SCALE) + 1, WIDTH * SCALE)
        bottom = min(int(max(y for _, y in region) * SCALE) + 1, HEIGHT * SCALE)
        if right <= left or bottom <= top:
            return
        size = (right - left, bottom - top)
        window, marks = Image.new("L", size, 0), Image.new("L", size, 0)
        ImageDraw.Draw(window).polygon([(x * SCALE - left, y * SCALE - top) for x, y in region], fill=255)
        pen = ImageDraw.Draw(marks)
        for area in areas:
            pen.polygon([(x * SCALE - left, y * SCALE - top) for x, y in area], fill=255)
        self.image.paste(fill, (left, top, right, bottom), ImageChops.multiply(window, marks))


def _gouge(start: Point, along: Point, across: Point, long: float, thick: float) -> list[Point]:
    """A cut that begins sharp, widens and runs out: a blade's path through lino."""
    profile = ((0.0, 0.0), (0.25, 0.8), (0.55, 1.0), (0.85, 0.6), (1.0, 0.0))
    upper = [
        (
            start[0] + along[0] * long * t + across[0] * thick * w / 2,
            start[1] + along[1] * long * t + across[1] * thick * w / 2,
        )
        for t, w in profile
    ]
    lower = [
        (
            start[0] + along[0] * long * t - across[0] * thick * w / 2,
            start[1] + along[1] * long * t - across[1] * thick * w / 2,
        )
        for t, w in reversed(profile)
    ]
    return upper + lower
