"""Words on a drawing: how much room they take, where in a shape they stand, and where beside a mark.

A page does not know the reader's typeface, so words get the room that they need in a wide one. All of it is ground of
their own, a plate, so that no edge runs through a letter.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import ceil, floor
from unicodedata import combining, normalize

from sitegen.geography.drawing import Corner, Line, crossings

LETTER_WIDTHS = (
    ("ijlI '.,", 0.39),
    ("frt-()", 0.5),
    ("csz", 0.6),
    ("kvxy", 0.67),
    ("aeo", 0.69),
    ("ABDGHKNOQRUVX", 0.86),
    ("w", 0.93),
    ("mM", 1.05),
    ("W", 1.11),
)
"""(letters, their width) in letters' sizes: the widest of each group in DejaVu Sans Bold, which is among the widest text faces,
measured with Pillow and rounded up. Accents add nothing."""
LETTER_WIDTH = 0.74
"""The same for all other letters of Latin script, and for figures."""
LINE_HEIGHT = 1.2
"""Of a letter's size: from above its accents to below its tails. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Label:
    """Words in a drawing, on a plate that holds them. In the drawing's units."""

    words: str
    x: int
    """Where they start, end or have their middle, as `anchor` says."""
    y: int
    """Of their middle."""
    anchor: str
    """`start`, `end` or `middle`, as SVG's text-anchor."""
    left: int
    top: int
    width: int
    height: int
    """Of the plate."""


@dataclass(frozen=True, slots=True)
class Spot:
    """Where words may stand in a shape: the middle of the widest band of their height, always inside."""

    x: float
    y: float
    """Of the band's middle."""
    width: float
    """Units free from side to side over the whole height, no more than were wanted; 0 when the band fits nowhere."""


def words_width(words: str, size: float) -> float:
    """Room for words in letters of that size, in the unit of the size."""
    letters = normalize("NFD", words)
    return size * sum(_letter_width(letter) for letter in letters if not combining(letter))


def _letter_width(letter: str) -> float:
    return next((width for letters, width in LETTER_WIDTHS if letter in letters), LETTER_WIDTH)


def label_at(words: str, x: float, y: float, anchor: str, size: int) -> Label:
    """Words at a point, on a plate as large as they may be."""
    long, high = words_width(words, size), size * LINE_HEIGHT
    x, y = round(x), round(y)
    left = x - long * {"start": 0, "middle": 0.5, "end": 1}[anchor]
    return Label(words, x, y, anchor, floor(left), floor(y - high / 2), ceil(long) + 1, ceil(high) + 1)


# --- in a shape --------------------------------------------------------------------------------


@lru_cache(maxsize=256)
def label_inside(rings: tuple[Line, ...], words: str, size: int) -> Label | None:
    """Words where a shape has room for them; None where it has not."""
    wanted = words_width(words, size)
    spot = widest_spot(rings, size * LINE_HEIGHT, wanted)
    return label_at(words, spot.x, spot.y, "middle", size) if spot.width >= wanted else None


def widest_spot(rings: Sequence[Line], height: float, wanted: float = float("inf")) -> Spot:
    """Where in the rings words of that height have most room: `wanted` units or as many as there are, nearest to the middle.

    When not even a band of that height fits, the widest line stands for it and its width is 0.
    """
    top = min(y for ring in rings for _, y in ring)
    bottom = max(y for ring in rings for _, y in ring)
    middle = (top + bottom) / 2
    # Half-way between two rows of the grid no line has a corner, so every crossing is a clean one.
    inside = {y + 0.5: crossings(rings, y + 0.5) for y in range(top, bottom)}
    # Between two corners' rows every edge is straight: a band needs looking at by its own edges and by corners alone.
    corners = sorted({y for ring in rings for _, y in ring})
    reach = height / 2
    best: tuple[float, float, float, float] | None = None
    plain: tuple[float, float, float, float] | None = None
    # From the middle outwards: as soon as there is all the room that is wanted, no row farther away is better.
    for row in sorted(inside, key=lambda row: abs(row - middle)):
        if best is not None and best[0] >= wanted and abs(row - middle) > -best[1]:
            break
        spans = inside[row]
        for left, right in spans:
            found = (right - left, -abs(row - middle), (left + right) / 2, row)
            plain = max(plain, found) if plain else found
        near = spans
        # A band is no wider than each of its rows.
        if height and best is not None:
            near = tuple((left, right) for left, right in spans if right - left >= best[0])
        if height and near:
            upper, lower = (row - reach) // 1 + 0.5, (row + reach) // 1 + 0.5
            bends = corners[bisect_left(corners, upper) : bisect_right(corners, lower)]
            for other in (upper, lower, *(y + side for y in bends for side in (-0.5, 0.5))):
                near = _overlap(near, inside.get(other, ()))
                if not near:
                    break
        for left, right in near if height else ():
            found = (min(right - left, wanted), -abs(row - middle), (left + right) / 2, row)
            best = max(best, found) if best else found
    if best:
        return Spot(best[2], best[3], best[0])
    if plain is None:
        return Spot(*rings[0][0], 0)
    return Spot(plain[2], plain[3], 0 if height else plain[0])


def _overlap(
    ones: Sequence[tuple[float, float]], others: Sequence[tuple[float, float]]
) -> tuple[tuple[float, float], ...]:
    return tuple((max(a, c), min(b, d)) for a, b in ones for c, d in others if min(b, d) - max(a, c) > 1e-9)


# --- beside marks ------------------------------------------------------------------------------


def label_marks(
    marks: Sequence[tuple[Corner, str]],
    keep_clear: Sequence[Corner],
    rings: Sequence[Line],
    width: int,
    height: int,
    size: int,
    gap: float,
) -> tuple[Label | None, ...]:
    """For each (mark, words) where the words stand: right of it, left, above or below, whichever is free first.

    Above and below, words that would leave the drawing are moved sideways into it. Places inside the rings come before
    those over an edge; where none of the four is inside, above or below it may be, moved sideways. None where all would leave the drawing, run into
    earlier words or cover a mark or a corner to keep clear. `gap` is the distance from a mark's middle to its words; marks
    reach three quarters of it.
    """
    reach = gap * 0.75
    taken = [
        (x - reach, y - reach, x + reach, y + reach) for x, y in (*(mark for mark, _ in marks), *keep_clear)
    ]
    found: list[Label | None] = []
    for mark, words in marks:
        free = [
            label
            for label in (
                *_beside(mark, words, width, size, gap),
                *_moved_inside(mark, words, rings, size, gap),
            )
            if label.left >= 0
            and label.top >= 0
            and label.left + label.width <= width
            and label.top + label.height <= height
            and not any(_meet(_box(label), other) for other in taken)
        ]
        chosen = next((label for label in free if _is_within(label, rings)), free[0] if free else None)
        if chosen is not None:
            taken.append(_box(chosen))
        found.append(chosen)
    return tuple(found)


def _beside(mark: Corner, words: str, width: int, size: int, gap: float) -> Iterator[Label]:
    x, y = mark
    yield label_at(words, x + gap, y, "start", size)
    yield label_at(words, x - gap, y, "end", size)
    away = gap + size * LINE_HEIGHT / 2
    # Two units more than half the room, for what plates are rounded up.
    half = words_width(words, size) / 2 + 2
    middle = max(half, min(x, width - half))
    yield label_at(words, middle, y - away, "middle", size)
    yield label_at(words, middle, y + away, "middle", size)


def _moved_inside(mark: Corner, words: str, rings: Sequence[Line], size: int, gap: float) -> Iterator[Label]:
    """Above and below, moved sideways until the rings surround them; still over or under the mark."""
    x, y = mark
    away = gap + size * LINE_HEIGHT / 2
    half = words_width(words, size) / 2 + 2
    for middle in (y - away, y + away):
        plain = label_at(words, x, middle, "middle", size)
        room = [(x - 2 * half, x + 2 * half)]
        for row in range(plain.top, plain.top + plain.height):
            room = list(_overlap(room, crossings(rings, row + 0.5)))
        for start, end in room:
            if end - start >= 2 * half:
                yield label_at(words, max(start + half, min(x, end - half)), middle, "middle", size)


def _box(label: Label) -> tuple[float, float, float, float]:
    return label.left, label.top, label.left + label.width, label.top + label.height


def _is_within(label: Label, rings: Sequence[Line]) -> bool:
    """True when the rings surround the whole plate, row by row of the grid."""
    left, top, right, bottom = _box(label)
    return all(
        any(start <= left and right <= end for start, end in crossings(rings, row + 0.5))
        for row in range(int(top), int(bottom))
    )


def _meet(a: tuple[float, float, float, float], b: tuple[float, float, float, float]) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
