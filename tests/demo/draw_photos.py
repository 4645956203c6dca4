"""Draws the demonstration's pictures: `python -m tests.demo.draw_photos [name ...]` writes content/photos/*.jpg.

They stand where a station's photographs would, and show nobody and no real place. The same program and
library versions give the same bytes.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from tests.demo.linocut import (
    BRICK,
    BRICK_DEEP,
    BRICK_PALE,
    GRAY,
    HEIGHT,
    INK,
    INK_SOFT,
    LAMP,
    LAMP_DEEP,
    LAMP_PALE,
    PAPER,
    SAND,
    SEA,
    SEA_DEEP,
    SEA_PALE,
    SKINS,
    WIDTH,
    Point,
    Points,
    Sheet,
    box,
    oval,
    smooth,
)

PHOTOS = Path(__file__).parents[2] / "content" / "photos"

DARKER = {
    PAPER: SAND, SAND: LAMP_DEEP, GRAY: INK_SOFT, INK: INK_SOFT, INK_SOFT: INK, LAMP: LAMP_DEEP, LAMP_PALE: LAMP,
    LAMP_DEEP: BRICK_DEEP, SEA: SEA_DEEP, SEA_PALE: SEA, SEA_DEEP: INK, BRICK: BRICK_DEEP, BRICK_PALE: BRICK, BRICK_DEEP: INK,
}  # fmt: skip


# --- things that return in several pictures --------------------------------------------------


def arm(s: Sheet, points: Points, width: float, coat: str, skin: str) -> None:
    """An arm from shoulder to hand, parted from the coat by a cut edge."""
    s.stroke(points, width + 7, DARKER[coat], end_width=width * 0.8 + 7)
    s.disc(*points[-1], width * 0.5, skin)
    s.stroke(points, width, coat, end_width=width * 0.8)
    s.disc(points[-1][0], points[-1][1] + width * 0.12, width * 0.46, skin)


def head(
    s: Sheet, x: float, y: float, size: float, skin: str, hair: str, cut: str = "short", turn: float = 0.0
) -> None:
    """A head seen plain, as posters show it: `size` is its half-height; `cut` is short, long, bun, bald, cap or hood."""
    if cut == "long":
        s.blob([(x - size, y - size * 0.2), (x - size * 0.5, y - size * 1.1), (x + size * 0.5, y - size * 1.1), (x + size, y - size * 0.2), (x + size * 1.05, y + size * 1.3), (x, y + size * 1.5), (x - size * 1.05, y + size * 1.3)], hair)  # fmt: skip
    if cut == "hood":
        s.disc(x, y, size * 1.22, hair, size * 1.3)
    s.stroke([(x, y + size * 0.4), (x, y + size * 1.3)], size * 0.8, skin)
    s.disc(x, y, size * 0.8, skin, size)
    if cut in ("short", "long", "bun"):
        s.blob([(x - size * 0.88, y + size * 0.1), (x - size * 0.8, y - size * 0.7), (x, y - size * 1.15), (x + size * 0.8, y - size * 0.7), (x + size * 0.88, y + size * 0.1), (x + size * (0.55 + turn), y - size * 0.35), (x + size * turn, y - size * 0.5), (x - size * (0.55 - turn), y - size * 0.3)], hair)  # fmt: skip
    if cut == "bun":
        s.disc(x, y - size * 1.2, size * 0.42, hair)
    if cut == "cap":
        s.blob([(x - size * 0.95, y - size * 0.2), (x - size * 0.8, y - size * 0.95), (x, y - size * 1.3), (x + size * 0.8, y - size * 0.95), (x + size * 0.95, y - size * 0.2)], hair)  # fmt: skip
        s.stroke(
            [(x - size * 0.92, y - size * 0.22), (x + size * 0.92, y - size * 0.22)],
            size * 0.34,
            DARKER[hair],
        )
        s.disc(x, y - size * 1.32, size * 0.24, DARKER[hair])


def person(
    s: Sheet, x: float, foot: float, tall: float, coat: str, skin: str, hair: str,
    legs: str = INK, cut: str = "short", arms: Sequence[Sequence[Point]] = (), child: bool = False, hem: float = 0.36, stride: float = 0.05,
) -> None:  # fmt: skip
    """A standing figure. `arms` are elbow and hand, in shares of its height from the shoulder; the first is the left one."""
    size = tall * (0.1 if child else 0.078)
    shoulder, low = foot - tall * (0.74 if child else 0.8), foot - tall * hem
    for side in (-1, 1):
        end = x + side * tall * stride * 1.5
        s.stroke(
            [(x + side * tall * 0.055, low - tall * 0.04), (end, foot - tall * 0.03)],
            tall * 0.088,
            legs,
            end_width=tall * 0.062,
        )
        s.disc(end + side * tall * 0.012, foot - tall * 0.016, tall * 0.05, DARKER[legs], tall * 0.026)
    body = [
        (x - tall * 0.125, shoulder + tall * 0.035), (x - tall * 0.06, shoulder - tall * 0.012), (x + tall * 0.06, shoulder - tall * 0.012), (x + tall * 0.125, shoulder + tall * 0.035),
        (x + tall * 0.125, shoulder + tall * 0.2), (x + tall * 0.15, low), (x, low + tall * 0.012), (x - tall * 0.15, low), (x - tall * 0.125, shoulder + tall * 0.2),
    ]  # fmt: skip
    s.blob(body, coat)
    outline = smooth(body)
    s.cuts(
        [(px, py) for px, py in outline if px >= x + tall * 0.03] or outline,
        DARKER[coat],
        82,
        tall * 0.035,
        tall * 0.16,
        tall * 0.012,
    )
    head(s, x, foot - tall * (0.865 if child else 0.895), size, skin, hair, cut)
    for side, bends in zip((-1, 1), arms, strict=False):
        start = (x + side * tall * 0.1, shoulder + tall * 0.045)
        arm(
            s,
            [start, *((start[0] + dx * tall, start[1] + dy * tall) for dx, dy in bends)],
            tall * 0.082,
            coat,
            skin,
        )


DOWN: tuple[Sequence[Point], Sequence[Point]] = (((-0.05, 0.15), (-0.06, 0.32)), ((0.05, 0.15), (0.06, 0.32)))


def tree(
    s: Sheet, x: float, y: float, length: float, angle: float, width: float, fill: str, depth: int = 6
) -> None:
    """A bare tree: every branch divides."""
    if depth == 0 or length < 8:
        return
    end = (x + math.cos(math.radians(angle)) * length, y + math.sin(math.radians(angle)) * length)
    middle = ((x + end[0]) / 2 + s.random.uniform(-0.06, 0.06) * length, (y + end[1]) / 2)
    s.stroke([(x, y), middle, end], width, fill, curved=True, end_width=width * 0.62)
    for turn in (s.random.uniform(-38, -16), s.random.uniform(14, 36)):
        tree(
            s,
            end[0],
            end[1],
            length * s.random.uniform(0.66, 0.8),
            angle + turn,
            width * 0.62,
            fill,
            depth - 1,
        )


def sea(
    s: Sheet, top: float, bottom: float, ground: str, mark: str, left: float = 0, right: float = WIDTH
) -> None:
    """Water: marks that grow toward the viewer."""
    s.shape(box(left - 5, top, right + 5, bottom), ground, 1)
    near = top
    while near < bottom:
        depth = (near - top) / max(bottom - top, 1)
        band = 22 + 60 * depth
        s.cuts(
            box(left, near, right, min(near + band, bottom)),
            mark,
            0,
            9 + 17 * depth,
            50 + 120 * depth,
            2.5 + 5 * depth,
            0.5,
        )
        near += band


def star(x: float, y: float, outer: float, inner: float, points: int = 5, turn: float = -90.0) -> list[Point]:
    found = []
    for step in range(points * 2):
        radius = outer if step % 2 == 0 else inner
        angle = math.radians(turn + step * 180 / points)
        found.append((x + radius * math.cos(angle), y + radius * math.sin(angle)))
    return found


def boat(s: Sheet, x: float, y: float, size: float, hull: str, mast: bool = True) -> None:
    """A small boat at anchor, its reflection under it."""
    s.inside(box(x - size * 2, y, x + size * 2, y + size), [
        ([(x - size * 0.9, y), (x + size, y), (x + size * 0.6, y + size * 0.34), (x - size * 0.6, y + size * 0.34)], SEA_DEEP),
    ])  # fmt: skip
    s.shape([(x - size, y - size * 0.3), (x - size * 0.2, y - size * 0.22), (x + size * 1.15, y - size * 0.42), (x + size * 0.8, y + size * 0.06), (x - size * 0.8, y + size * 0.06)], hull)  # fmt: skip
    s.stroke(
        [
            (x - size * 0.95, y - size * 0.27),
            (x - size * 0.2, y - size * 0.19),
            (x + size * 1.08, y - size * 0.38),
        ],
        size * 0.05,
        PAPER,
    )
    s.shape(
        [
            (x - size * 0.55, y - size * 0.26),
            (x - size * 0.55, y - size * 0.62),
            (x + size * 0.05, y - size * 0.62),
            (x + size * 0.12, y - size * 0.24),
        ],
        INK,
    )
    s.shape(box(x - size * 0.42, y - size * 0.54, x - size * 0.16, y - size * 0.4), LAMP_PALE, 0.5)
    if mast:
        s.stroke([(x + size * 0.25, y - size * 0.25), (x + size * 0.22, y - size * 1.9)], size * 0.06, INK)
        s.stroke([(x + size * 0.22, y - size * 1.85), (x + size * 1.05, y - size * 0.42)], size * 0.016, INK)
        s.stroke([(x + size * 0.22, y - size * 1.85), (x - size * 0.9, y - size * 0.32)], size * 0.016, INK)
        s.stroke([(x + size * 0.25, y - size * 0.7), (x - size * 0.6, y - size * 0.8)], size * 0.07, SAND)


def gull(s: Sheet, x: float, y: float, span: float, fill: str) -> None:
    s.stroke(
        [(x - span, y - span * 0.16), (x - span * 0.5, y - span * 0.4), (x, y)],
        span * 0.12,
        fill,
        curved=True,
        end_width=span * 0.18,
    )
    s.stroke(
        [(x + span, y - span * 0.3), (x + span * 0.45, y - span * 0.44), (x, y)],
        span * 0.12,
        fill,
        curved=True,
        end_width=span * 0.18,
    )


def glow(s: Sheet, x: float, y: float, radius: float, rings: Sequence[str]) -> None:
    """Light as flat rings, widest first."""
    for at, fill in enumerate(rings):
        s.disc(x, y, radius * (1 - at / len(rings)), fill)


def jar(s: Sheet, x: float, y: float, size: float) -> None:
    """A jar lantern hanging from (x, y)."""
    s.stroke(
        [(x - size * 0.4, y + size * 0.5), (x, y), (x + size * 0.4, y + size * 0.5)],
        size * 0.09,
        INK,
        curved=True,
    )
    s.shape(box(x - size * 0.46, y + size * 0.45, x + size * 0.46, y + size * 0.62), INK, 0.5)
    s.blob(
        [
            (x - size * 0.5, y + size * 0.65),
            (x + size * 0.5, y + size * 0.65),
            (x + size * 0.55, y + size * 1.5),
            (x - size * 0.55, y + size * 1.5),
        ],
        LAMP,
    )
    s.blob(
        [
            (x, y + size * 0.72),
            (x + size * 0.22, y + size * 1.2),
            (x, y + size * 1.4),
            (x - size * 0.22, y + size * 1.2),
        ],
        PAPER,
    )


def panes(
    s: Sheet,
    left: float,
    top: float,
    right: float,
    bottom: float,
    glass: str,
    frame: str,
    across: int = 2,
    down: int = 3,
) -> None:
    """A window with its bars."""
    s.shape(box(left - 9, top - 9, right + 9, bottom + 9), frame, 1)
    s.shape(box(left, top, right, bottom), glass, 0.6)
    for at in range(1, across):
        x = left + (right - left) * at / across
        s.stroke([(x, top), (x, bottom)], 6, frame)
    for at in range(1, down):
        y = top + (bottom - top) * at / down
        s.stroke([(left, y), (right, y)], 6, frame)


def brickwork(
    s: Sheet, region: Points, fill: str, mortar: str, course: float = 30, share: float = 0.55
) -> None:
    """A brick wall: joints cut here and there, as a printer leaves most of it plain."""
    s.shape(region, fill)
    left, right = min(p[0] for p in region), max(p[0] for p in region)
    top, bottom = min(p[1] for p in region), max(p[1] for p in region)
    joints: list[tuple[Points, str]] = []
    row, y = 0, top + course
    while y < bottom:
        x = left + (course if row % 2 else 0)
        while x < right:
            if s.random.random() < share:
                joints.append((box(x, y - 1.7, x + course * 1.9, y + 1.7), mortar))
                if s.random.random() < 0.6:
                    joints.append((box(x - 1.7, y - course, x + 1.7, y), mortar))
            x += course * 2
        y += course
        row += 1
    s.inside(region, joints)


# --- the pictures ----------------------------------------------------------------------------


def harbor_dawn(s: Sheet) -> None:
    y: float
    sky = box(0, 0, WIDTH, 600)
    s.shape(box(-9, 200, WIDTH + 9, 610), LAMP_PALE)
    s.shape([(-9, -9), (WIDTH + 9, -9), (WIDTH + 9, 250), (1100, 300), (520, 290), (-9, 340)], BRICK_PALE, 4)
    s.disc(980, 560, 330, LAMP_PALE)
    s.rays(sky, 980, 575, 190, 980, PAPER, 64, 9)
    s.disc(980, 575, 150, LAMP)
    s.blob([(-40, 640), (-40, 470), (160, 430), (330, 500), (470, 520), (620, 585), (640, 640)], SEA)
    s.cuts(
        smooth([(-40, 640), (-40, 470), (160, 430), (330, 500), (470, 520), (620, 585), (640, 640)]),
        SEA_DEEP,
        20,
        20,
        80,
        5,
    )
    s.blob([(1280, 640), (1290, 590), (1420, 540), (1530, 548), (1660, 510), (1660, 640)], SEA_DEEP)
    for x, y, wide, tall in ((60, 500, 54, 44), (150, 470, 46, 52), (250, 520, 60, 40), (360, 548, 50, 34)):
        s.shape(box(x, y, x + wide, y + tall), PAPER, 1)
        s.shape([(x - 8, y), (x + wide / 2, y - 28), (x + wide + 8, y)], BRICK, 1)
        s.shape(box(x + wide * 0.35, y + 12, x + wide * 0.6, y + 26), INK, 0.4)
    sea(s, 600, HEIGHT + 10, SEA_PALE, SEA)
    y = 612.0
    while y < 1040:
        reach = 150 - (y - 612) * 0.14 + s.random.uniform(-30, 30)
        s.cuts(box(980 - reach, y, 980 + reach, y + 16), LAMP, 0, 15, 110, 10, 0.95)
        y += 17
    for x, y, size, hull in ((520, 668, 62, BRICK), (1330, 700, 84, SEA_DEEP), (780, 800, 120, BRICK_DEEP)):
        boat(s, x, y, size, hull)
    s.shape([(-9, 1080), (-9, 940), (420, 985), (430, 1080)], INK)
    s.cuts(box(0, 955, 420, 1067), SAND, 6, 26, 160, 4, 0.5)
    for x, top in ((70, 800), (330, 850)):
        s.shape(box(x - 24, top, x + 24, 1080), INK_SOFT)
        s.shape(box(x - 30, top - 8, x + 30, top + 14), INK, 1)
        s.cuts(box(x - 20, top + 20, x + 20, 1060), SAND, 90, 13, 90, 3, 0.6)
    s.blob([(40, 790), (30, 752), (52, 716), (86, 700), (104, 716), (106, 748), (92, 780)], PAPER)
    s.blob([(28, 770), (40, 728), (70, 722), (84, 762), (60, 786)], GRAY)
    s.disc(100, 706, 21, PAPER)
    s.shape([(116, 700), (146, 712), (116, 716)], LAMP_DEEP, 0.5)
    s.disc(105, 701, 3.6, INK)
    gull(s, 620, 260, 46, PAPER)
    gull(s, 740, 190, 32, PAPER)


def lighthouse(s: Sheet) -> None:
    x: float
    y: float
    sky = box(0, 0, WIDTH, 740)
    s.shape(sky, SEA_PALE)
    s.cuts(sky, PAPER, 4, 34, 220, 8, 0.5)
    s.shape([(-9, 20), (1000, 160), (1000, 186), (-9, 300)], LAMP_PALE, 3)
    s.cuts([(-9, 20), (1000, 160), (1000, 186), (-9, 300)], PAPER, 1, 24, 200, 8, 0.5)
    s.blob([(60, 470), (160, 410), (300, 420), (400, 370), (520, 420), (560, 480), (300, 500)], PAPER)
    s.cuts(box(80, 450, 560, 500), SAND, 3, 16, 120, 5, 0.6)
    sea(s, 690, HEIGHT + 10, SEA, SEA_DEEP)
    s.cuts(box(0, 690, WIDTH, 820), SEA_PALE, 0, 24, 110, 4, 0.5)
    rock = [
        (560, 1090),
        (600, 900),
        (720, 830),
        (780, 740),
        (900, 700),
        (1060, 672),
        (1240, 680),
        (1390, 740),
        (1480, 860),
        (1640, 930),
        (1640, 1090),
    ]
    s.shape(rock, INK, 6)
    s.cuts(rock, GRAY, 62, 34, 110, 8, 0.45)
    s.cuts(rock, SAND, 118, 60, 90, 6, 0.35)
    s.shape(box(1180, 560, 1420, 712), PAPER)
    s.shape([(1160, 566), (1212, 484), (1390, 484), (1444, 566)], BRICK)
    s.cuts([(1160, 566), (1212, 484), (1390, 484), (1444, 566)], BRICK_DEEP, 0, 17, 60, 4)
    s.shape(box(1338, 444, 1372, 500), BRICK_DEEP, 1)
    panes(s, 1216, 604, 1262, 660, SEA_DEEP, SAND, 2, 2)
    s.shape(box(1322, 606, 1370, 706), SEA_DEEP, 1)
    tower = [(898, 700), (938, 250), (1062, 250), (1102, 700)]
    s.shape(tower, PAPER)
    s.inside(
        tower,
        [
            (box(870, 400, 1130, 478), BRICK),
            ([(1030, 240), (1120, 240), (1120, 720), (1052, 720)], SAND),
            ([(1030, 400), (1130, 400), (1130, 478), (1034, 478)], BRICK_DEEP),
        ],
    )
    s.cuts([(1000, 250), (1062, 250), (1102, 700), (1010, 700)], LAMP_DEEP, 86, 15, 90, 3, 0.4)
    for y in (320, 540):
        s.shape(box(976, y, 1002, y + 46), INK, 1)
    s.shape(box(968, 620, 1022, 700), SEA_DEEP, 1)
    s.shape(box(916, 226, 1084, 256), INK)
    for x in range(924, 1084, 26):
        s.stroke([(x, 188), (x, 230)], 4, INK)
    s.stroke([(916, 188), (1084, 188)], 6, INK)
    s.shape(box(948, 128, 1052, 228), LAMP)
    s.disc(1000, 176, 30, PAPER)
    for x in (948, 982, 1018, 1052):
        s.stroke([(x, 128), (x, 228)], 6, INK)
    s.blob([(934, 132), (962, 84), (1000, 66), (1038, 84), (1066, 132)], BRICK_DEEP)
    s.stroke([(1000, 70), (1000, 24)], 7, INK)
    for row, (reach, fill) in enumerate(((64, SEA_PALE), (36, PAPER))):
        edge = (
            (520, 1080),
            (548, 1000),
            (590, 920),
            (650, 880),
            (716, 846),
            (770, 870),
            (742, 940),
            (760, 1010),
            (830, 1050),
            (930, 1080),
        )
        for x, y in smooth(edge, closed=False)[::3]:
            s.disc(
                x + s.random.uniform(-12, 12),
                y + s.random.uniform(-8, 8),
                reach * s.random.uniform(0.75, 1.2),
                fill,
            )
        s.rays(box(440, 560, 980, 1000), 700, 960, 120, 330 - row * 90, fill, 40, 11)
        if row:
            s.blob([(530, 1100), (580, 960), (700, 870), (750, 930), (800, 1100)], PAPER)
    s.cuts(
        smooth(((520, 1080), (560, 960), (700, 850), (760, 900), (800, 1060), (880, 1080))),
        SEA_PALE,
        150,
        24,
        60,
        7,
        0.55,
    )
    s.cuts(box(0, 860, 560, 1060), PAPER, 176, 40, 150, 9, 0.45)
    gull(s, 700, 360, 54, INK)
    gull(s, 780, 440, 34, INK)
    gull(s, 1330, 300, 42, INK)


def boathouse(s: Sheet) -> None:
    s.shape(box(-9, -9, WIDTH + 9, 620), SAND)
    s.cuts(box(0, 0, WIDTH, 520), PAPER, 2, 36, 260, 10, 0.6)
    s.blob([(-40, 640), (-40, 440), (130, 400), (320, 470), (420, 600), (420, 640)], SEA)
    s.cuts(
        smooth([(-40, 640), (-40, 440), (130, 400), (320, 470), (420, 600), (420, 640)]),
        SEA_DEEP,
        70,
        24,
        80,
        7,
    )
    s.blob([(1180, 640), (1250, 540), (1420, 500), (1640, 470), (1640, 640)], SEA)
    s.cuts(
        smooth([(1180, 640), (1250, 540), (1420, 500), (1640, 470), (1640, 640)]), SEA_DEEP, 110, 24, 80, 7
    )
    sea(s, 620, HEIGHT + 10, GRAY, INK_SOFT)
    s.cuts(box(0, 640, WIDTH, 1067), PAPER, 0, 44, 130, 5, 0.4)
    s.inside(box(400, 800, 1240, 1067), [([(470, 800), (1210, 800), (1186, 1000), (496, 1000)], BRICK_DEEP)])
    s.cuts(box(440, 810, 1220, 930), GRAY, 0, 20, 160, 9, 0.7)
    s.cuts(box(440, 930, 1240, 1010), GRAY, 0, 15, 200, 14, 0.95)
    for x in (500, 640, 780, 920, 1060, 1190):
        s.shape(box(x - 15, 690, x + 15, 860), INK, 1.5)
        s.cuts(box(x - 12, 700, x + 12, 850), GRAY, 90, 10, 50, 3, 0.5)
        s.cuts(box(x - 30, 850, x + 30, 940), INK, 0, 13, 60, 7, 0.7)
    s.shape(box(430, 690, 1260, 724), INK_SOFT)
    front = [(470, 700), (470, 400), (640, 240), (810, 400), (810, 700)]
    s.shape([(640, 240), (1080, 240), (1210, 400), (1210, 700), (810, 700), (810, 400)], BRICK)
    s.cuts(box(812, 410, 1206, 698), BRICK_DEEP, 90, 24, 200, 5, 0.85)
    s.shape(front, BRICK)
    s.cuts(front, BRICK_DEEP, 90, 22, 160, 4, 0.6)
    roof = [(632, 222), (1092, 222), (1240, 410), (812, 414)]
    s.shape(roof, INK)
    s.cuts(roof, GRAY, 0, 19, 50, 4, 0.7)
    s.stroke([(446, 420), (640, 232), (834, 420)], 26, INK)
    s.stroke([(448, 424), (640, 238), (832, 424)], 7, PAPER)
    s.shape(box(540, 470, 740, 700), INK)
    s.shape([(540, 470), (500, 486), (500, 716), (540, 700)], PAPER)
    s.shape([(740, 470), (780, 486), (780, 716), (740, 700)], PAPER)
    for left, right in ((500, 540), (740, 780)):
        s.stroke([(left, 600), (right, 590)], 6, BRICK_DEEP)
    s.blob([(572, 690), (580, 640), (640, 600), (700, 640), (708, 690), (640, 704)], LAMP)
    s.stroke([(640, 604), (640, 700)], 6, LAMP_DEEP)
    s.cuts(oval(640, 654, 62, 44), LAMP_DEEP, 90, 16, 50, 4, 0.5)
    s.disc(640, 350, 42, PAPER)
    s.disc(640, 350, 33, SEA_DEEP)
    s.stroke([(640, 317), (640, 383)], 5, PAPER)
    s.stroke([(607, 350), (673, 350)], 5, PAPER)
    for x in (880, 1040):
        panes(s, x, 490, x + 96, 600, LAMP_PALE, PAPER, 2, 2)
    s.shape([(560, 712), (720, 712), (770, 960), (510, 960)], INK_SOFT)
    for step in range(8):
        y = 740 + step * 28
        s.stroke([(556 - step * 5, y), (724 + step * 5, y)], 5, SAND)
    s.disc(1150, 640, 34, PAPER)
    s.disc(1150, 640, 18, BRICK)
    for turn in (45, 135, 225, 315):
        a = math.radians(turn)
        s.stroke(
            [
                (1150 + 18 * math.cos(a), 640 + 18 * math.sin(a)),
                (1150 + 34 * math.cos(a), 640 + 34 * math.sin(a)),
            ],
            12,
            BRICK_DEEP,
        )
    boat(s, 330, 860, 90, SEA_DEEP, mast=False)
    gull(s, 1320, 250, 50, INK)
    gull(s, 1420, 310, 34, INK)


def tide_pool(s: Sheet) -> None:
    s.shape(box(-9, -9, WIDTH + 9, HEIGHT + 9), INK_SOFT)
    s.cuts(box(0, 0, WIDTH, HEIGHT), GRAY, 24, 54, 120, 9, 0.4)
    s.cuts(box(0, 0, WIDTH, HEIGHT), INK, 118, 60, 140, 12, 0.4)
    rim = [
        (180, 560),
        (240, 330),
        (460, 190),
        (700, 170),
        (960, 130),
        (1230, 200),
        (1420, 380),
        (1460, 610),
        (1330, 830),
        (1080, 940),
        (800, 930),
        (520, 960),
        (290, 820),
    ]
    s.blob([(x + (x - 810) * 0.09, y + (y - 560) * 0.11) for x, y in rim], SAND)
    s.blob([(x + (x - 810) * 0.035, y + (y - 560) * 0.05) for x, y in rim], INK)
    s.blob(rim, SEA)
    pool = smooth(rim)
    s.inside(
        pool,
        [
            (smooth([(120, 560), (260, 420), (420, 600), (380, 860), (200, 900)]), SEA_DEEP),
            (smooth([(900, 100), (1260, 120), (1500, 420), (1360, 520), (1160, 330)]), SEA_DEEP),
        ],
    )
    s.inside(pool, [(oval(860, 720, 420, 150, -8), SEA_PALE)])
    for radius in (1.0, 0.8):
        s.cuts(oval(800, 560, 560 * radius, 330 * radius), SEA_PALE, -6, 44, 120, 5, 0.35)
    for x, y, start in ((260, 800, -62), (1290, 310, 118)):
        for at in range(6):
            a = math.radians(start + (at - 2.5) * 24)
            long = s.random.uniform(170, 250)
            tip = (x + math.cos(a) * long, y + math.sin(a) * long)
            bend = (x + math.cos(a + 0.35) * long * 0.55, y + math.sin(a + 0.35) * long * 0.55)
            s.stroke([(x, y), bend, tip], 15, (LAMP_DEEP, INK, BRICK_DEEP)[at % 3], curved=True, end_width=32)
    for x, y, size, turn, fill in (
        (720, 520, 190, -80, BRICK),
        (1090, 690, 138, -30, LAMP),
        (560, 330, 92, 10, BRICK_PALE),
    ):
        s.blob(star(x + 12, y + 18, size, size * 0.42, 5, turn), SEA_DEEP)
        s.blob(star(x, y, size, size * 0.42, 5, turn), fill)
        for step in range(5):
            a = math.radians(turn + step * 72)
            for reach in (0.18, 0.34, 0.5, 0.66, 0.8):
                s.disc(
                    x + math.cos(a) * size * reach,
                    y + math.sin(a) * size * reach,
                    size * (0.052 - reach * 0.034),
                    PAPER,
                )
        s.disc(x, y, size * 0.07, PAPER)
    s.disc(930, 380, 84, BRICK_DEEP)
    for step in range(22):
        a = step * math.tau / 22
        s.stroke(
            [
                (930 + 40 * math.cos(a), 380 + 40 * math.sin(a)),
                (930 + 98 * math.cos(a), 380 + 98 * math.sin(a)),
            ],
            13,
            BRICK_PALE,
            end_width=6,
        )
    s.disc(930, 380, 30, BRICK_DEEP)
    for x, y, size in ((650, 780, 40), (820, 830, 30), (1300, 560, 36), (300, 560, 34)):
        s.blob(
            [
                (x - size, y + size * 0.4),
                (x - size * 0.4, y - size * 0.8),
                (x + size * 0.6, y - size * 0.9),
                (x + size, y + size * 0.5),
                (x, y + size * 0.7),
            ],
            PAPER,
        )
        for rib in (-0.5, 0.0, 0.5):
            s.stroke([(x + size * rib, y + size * 0.5), (x + size * 0.1, y - size * 0.7)], 4, SAND)
    for x, y in ((150, 250), (210, 180), (1480, 850), (1420, 920), (110, 900), (180, 960), (1500, 190)):
        for _ in range(5):
            px, py = x + s.random.uniform(-60, 60), y + s.random.uniform(-40, 40)
            s.disc(px, py, 17, PAPER)
            s.disc(px, py, 7, INK)
    s.rays(pool, 1560, -60, 560, 1000, PAPER, 90, 5)


def seal_pup(s: Sheet) -> None:
    sea(s, -9, 430, SEA, SEA_DEEP)
    s.cuts(box(0, 0, WIDTH, 330), SEA_PALE, 0, 30, 140, 6, 0.5)
    s.blob(
        [
            (-60, 470),
            (-60, 330),
            (200, 380),
            (480, 330),
            (760, 390),
            (1080, 330),
            (1360, 380),
            (1680, 320),
            (1680, 480),
        ],
        PAPER,
    )
    s.cuts(box(0, 350, WIDTH, 450), SEA_PALE, 2, 24, 130, 8, 0.6)
    s.shape(
        [
            (-9, 440),
            (400, 420),
            (900, 450),
            (1300, 420),
            (WIDTH + 9, 450),
            (WIDTH + 9, HEIGHT + 9),
            (-9, HEIGHT + 9),
        ],
        INK_SOFT,
        4,
    )
    stones = []
    y = 470.0
    while y < 1120:
        near = (y - 470) / 650
        x = s.random.uniform(-60, 0)
        while x < WIDTH + 60:
            size = 40 + 70 * near + s.random.uniform(-10, 18)
            stones.append((x, y + s.random.uniform(-14, 14), size))
            x += size * 2.05
        y += 46 + 50 * near
    for x, y, size in stones:
        fill = s.random.choice((GRAY, SAND, SEA_PALE, GRAY, INK))
        shape = [
            (x - size, y + size * 0.1),
            (x - size * 0.6, y - size * 0.5),
            (x + size * 0.3, y - size * 0.58),
            (x + size * 0.98, y - size * 0.1),
            (x + size * 0.7, y + size * 0.5),
            (x - size * 0.5, y + size * 0.55),
        ]
        s.blob(shape, fill)
        s.cuts(
            oval(x - size * 0.15, y - size * 0.24, size * 0.6, size * 0.2),
            PAPER if fill != SAND else LAMP_PALE,
            8,
            13,
            size * 0.7,
            5,
            0.7,
        )
    s.blob([(330, 880), (460, 800), (900, 760), (1300, 820), (1420, 890), (900, 960), (430, 950)], INK)
    s.blob(
        [
            (1180, 800),
            (1300, 720),
            (1440, 640),
            (1480, 680),
            (1430, 740),
            (1500, 770),
            (1470, 820),
            (1320, 850),
        ],
        GRAY,
    )
    s.cuts(
        smooth([(1240, 780), (1440, 660), (1470, 690), (1420, 745), (1480, 775), (1320, 840)]),
        INK_SOFT,
        -28,
        20,
        90,
        5,
    )
    body = [
        (360, 760),
        (400, 580),
        (500, 500),
        (640, 520),
        (800, 560),
        (1040, 590),
        (1240, 700),
        (1300, 810),
        (1150, 880),
        (850, 905),
        (540, 900),
        (400, 860),
    ]
    s.blob(body, PAPER)
    back = [
        (520, 510),
        (640, 520),
        (800, 560),
        (1040, 590),
        (1240, 700),
        (1300, 810),
        (1180, 800),
        (1000, 700),
        (800, 650),
        (620, 620),
    ]
    s.inside(smooth(body), [(smooth(back), GRAY)])
    s.cuts(smooth(body), SAND, 12, 30, 80, 6, 0.55)
    for _ in range(64):
        x = s.random.uniform(600, 1270)
        y = 560 + (x - 600) * 0.26 + s.random.uniform(-30, 150)
        size = s.random.uniform(6, 20)
        s.inside(smooth(body), [(oval(x, y, size * 1.3, size * 0.8, 15), INK_SOFT)])
    s.blob([(640, 800), (760, 780), (830, 850), (800, 950), (720, 980), (660, 930)], GRAY)
    for at in range(4):
        s.stroke([(690 + at * 28, 880), (684 + at * 30, 966)], 5, INK_SOFT)
    s.blob(
        [
            (300, 560),
            (330, 430),
            (440, 360),
            (570, 372),
            (650, 460),
            (650, 580),
            (580, 680),
            (450, 710),
            (340, 670),
        ],
        PAPER,
    )
    s.inside(
        smooth(
            [
                (300, 560),
                (330, 430),
                (440, 360),
                (570, 372),
                (650, 460),
                (650, 580),
                (580, 680),
                (450, 710),
                (340, 670),
            ]
        ),
        [
            (
                smooth([(360, 400), (480, 340), (620, 400), (680, 560), (600, 500), (500, 430), (400, 430)]),
                GRAY,
            )
        ],
    )
    for x, y, size in ((560, 430, 10), (600, 480, 12), (520, 410, 8), (620, 540, 9), (470, 400, 7)):
        s.disc(x, y, size, INK_SOFT)
    for x, y in ((392, 520), (528, 530)):
        s.disc(x, y, 39, INK)
        s.disc(x - 12, y - 13, 11, PAPER)
        s.disc(x + 14, y + 12, 5, GRAY)
    s.blob([(412, 600), (452, 586), (492, 604), (474, 634), (452, 642), (430, 632)], INK)
    s.stroke([(452, 640), (450, 664), (420, 682)], 6, INK, curved=True)
    s.stroke([(450, 664), (484, 684)], 6, INK)
    for dy in (-14, 4, 22):
        s.stroke(
            [(410, 640 + dy * 0.4), (330, 640 + dy), (270, 630 + dy * 1.8)],
            3.5,
            INK,
            curved=True,
            end_width=1,
        )
        s.stroke(
            [(498, 642 + dy * 0.4), (570, 650 + dy), (640, 648 + dy * 1.8)],
            3.5,
            INK,
            curved=True,
            end_width=1,
        )
    for x, y in ((396, 636), (384, 652), (512, 642), (526, 656)):
        s.disc(x, y, 3.6, INK)


def lantern_walk(s: Sheet) -> None:
    x: float
    y: float
    tall: float
    s.shape(box(-9, -9, WIDTH + 9, 470), SEA_DEEP)
    glow(s, 1190, 170, 190, (SEA, SEA_PALE, LAMP_PALE))
    s.disc(1190, 170, 62, PAPER)
    s.cuts(box(0, 0, WIDTH, 450), SEA, 3, 36, 200, 6, 0.5)
    for _ in range(46):
        s.disc(s.random.uniform(0, WIDTH), s.random.uniform(0, 330), s.random.uniform(1.6, 3.6), PAPER)
    sea(s, 430, HEIGHT + 10, INK, SEA)
    y = 440.0
    while y < 700:
        s.cuts(
            box(1190 - 40 - (y - 440) * 0.3, y, 1190 + 40 + (y - 440) * 0.3, y + 14),
            LAMP_PALE,
            0,
            12,
            60,
            6,
            0.85,
        )
        y += 15
    hill = [
        (-9, 1090),
        (-9, 360),
        (160, 372),
        (380, 420),
        (560, 470),
        (760, 520),
        (850, 556),
        (900, 640),
        (1060, 760),
        (1260, 850),
        (1640, 960),
        (1640, 1090),
    ]
    s.shape(hill, SEA_DEEP, 5)
    s.cuts(hill, INK, 28, 26, 120, 10, 0.7)
    s.cuts(hill, SEA, 24, 58, 70, 4, 0.35)
    path: list[Point] = [
        (820, 566),
        (700, 590),
        (560, 610),
        (470, 650),
        (560, 700),
        (760, 740),
        (860, 800),
        (760, 880),
        (560, 960),
        (420, 1100),
    ]
    left: list[Point] = []
    right: list[Point] = []
    for x, y in smooth(path, closed=False):
        half = 8 + (y - 566) * 0.17
        left.append((x - half, y))
        right.append((x + half, y + half * 0.12))
    s.shape([*left, *reversed(right)], LAMP_DEEP, 0.6)
    s.cuts([*left, *reversed(right)], SAND, 12, 18, 60, 6, 0.6)
    walkers = (
        (806, 566, 34),
        (740, 584, 40),
        (672, 596, 44),
        (590, 610, 52),
        (504, 636, 62),
        (486, 676, 74),
        (572, 708, 84),
        (690, 734, 96),
        (800, 774, 112),
        (840, 824, 132),
    )
    for x, y, tall in walkers:
        glow(s, x + tall * 0.3, y - tall * 0.36, tall * 0.34, (LAMP_DEEP, LAMP))
    for x, y, tall in walkers:
        person(s, x, y, tall, INK, SKINS[1], INK, INK, "hood", ((), ((0.06, 0.08), (0.2, 0.14))))
        s.disc(x + tall * 0.3, y - tall * 0.4, tall * 0.11, PAPER)
    front: tuple[tuple[float, float, float, str, str, str, bool], ...] = (
        (160, 1040, 430, SEA, SKINS[1], BRICK, False), (700, 1000, 260, BRICK_PALE, SKINS[2], LAMP, True), (470, 1050, 400, BRICK, SKINS[0], BRICK_DEEP, False),
    )  # fmt: skip
    hands = [(x + tall * 0.32, y - tall * (0.5 if child else 0.56)) for x, y, tall, *_, child in front]
    for (x, y), (_, _, tall, *_) in zip(hands, front, strict=True):
        s.rays(oval(x, y, tall * 0.6, tall * 0.6), x, y + tall * 0.1, tall * 0.17, tall * 0.42, LAMP, 22, 8)
    for (x, y, tall, coat, skin, hair, child), hand in zip(front, hands, strict=True):
        person(
            s,
            x,
            y,
            tall,
            coat,
            skin,
            hair,
            INK,
            "cap",
            (((-0.05, 0.15), (-0.05, 0.3)), ((0.1, 0.16), (0.22, 0.17))),
            child,
        )
        glow(s, hand[0], hand[1] + tall * 0.1, tall * 0.13, (LAMP_DEEP, LAMP_PALE))
        jar(s, hand[0], hand[1], tall * 0.1)


def winter_shelter(s: Sheet) -> None:
    s.shape(box(-9, -9, WIDTH + 9, 780), SEA_DEEP)
    wall = box(180, -9, WIDTH + 9, 770)
    brickwork(s, wall, BRICK_DEEP, BRICK, 36, 0.4)
    s.shape([(-9, 770), (-9, 330), (60, 330), (60, 270), (110, 270), (110, 330), (180, 330), (180, 770)], INK)
    for x, y in ((20, 400), (90, 400), (20, 520), (90, 520)):
        s.shape(box(x, y, x + 44, y + 64), LAMP_DEEP if (x, y) == (90, 520) else INK_SOFT, 1)
    s.shape(
        [(-9, 750), (400, 760), (900, 752), (WIDTH + 9, 764), (WIDTH + 9, HEIGHT + 9), (-9, HEIGHT + 9)],
        PAPER,
        4,
    )
    s.cuts(box(0, 780, WIDTH, HEIGHT), SEA_PALE, 4, 44, 180, 10, 0.5)
    s.shape([(640, 764), (1040, 764), (1330, 1080), (360, 1080)], LAMP_PALE, 3)
    s.cuts([(640, 764), (1040, 764), (1330, 1080), (360, 1080)], LAMP, 84, 46, 120, 9, 0.5)
    s.shape(box(604, 196, 1076, 770), INK)
    s.shape(box(636, 228, 1044, 770), LAMP)
    s.shape([(636, 228), (1044, 228), (940, 320), (740, 320)], LAMP_DEEP)
    s.shape([(740, 320), (940, 320), (940, 560), (740, 560)], LAMP_PALE, 1)
    s.shape([(636, 770), (740, 560), (940, 560), (1044, 770)], SAND)
    s.cuts([(636, 770), (740, 560), (940, 560), (1044, 770)], LAMP_DEEP, 0, 24, 90, 4, 0.5)
    panes(s, 800, 360, 880, 460, SEA_DEEP, PAPER, 2, 2)
    for floor, size, blankets in (
        (600.0, 0.5, (SEA, BRICK)),
        (668.0, 0.78, (BRICK, SEA_DEEP)),
        (752.0, 1.12, (SEA_DEEP, BRICK)),
    ):
        for side, fill in zip((-1, 1), blankets, strict=True):
            head_end = 840 + side * (100 + (floor - 560) * 0.495)
            foot_end = head_end - side * 122 * size

            def along(t: float, start: float = head_end, end: float = foot_end) -> float:
                """From the pillow's end at the wall, 0, to the foot, 1."""
                return start + (end - start) * t

            for t_leg in (0.04, 0.94):
                s.stroke([(along(t_leg), floor - 30 * size), (along(t_leg), floor)], 8 * size, INK)
            s.stroke([(along(0.02), floor - 62 * size), (along(0.02), floor)], 8 * size, INK)
            s.shape(
                box(min(head_end, foot_end), floor - 42 * size, max(head_end, foot_end), floor - 24 * size),
                PAPER,
                0.6,
            )
            s.blob(
                [
                    (along(0.05), floor - 44 * size),
                    (along(0.08), floor - 62 * size),
                    (along(0.26), floor - 60 * size),
                    (along(0.28), floor - 44 * size),
                ],
                PAPER,
            )
            s.blob(
                [
                    (along(0.28), floor - 40 * size),
                    (along(0.32), floor - 58 * size),
                    (along(0.7), floor - 60 * size),
                    (along(1.0), floor - 46 * size),
                    (along(1.02), floor - 18 * size),
                    (along(0.5), floor - 16 * size),
                    (along(0.28), floor - 20 * size),
                ],
                fill,
            )
    s.shape([(636, 228), (560, 196), (560, 800), (636, 770)], SEA)
    s.cuts([(636, 228), (560, 196), (560, 800), (636, 770)], SEA_DEEP, 90, 18, 120, 4)
    s.disc(580, 510, 9, LAMP)
    s.stroke([(840, 110), (840, 60)], 10, INK)
    s.rays(box(400, 0, 1300, 420), 840, 130, 60, 330, LAMP, 30, 9)
    s.shape([(796, 130), (816, 84), (864, 84), (884, 130)], INK, 1)
    s.blob([(806, 132), (874, 132), (864, 172), (840, 184), (816, 172)], PAPER)
    for left in (240, 1190, 1400):
        panes(s, left, 330, left + 130, 540, LAMP_DEEP if left != 1400 else INK, PAPER, 2, 3)
        s.blob(
            [
                (left - 24, 552),
                (left + 20, 534),
                (left + 90, 538),
                (left + 156, 552),
                (left + 150, 570),
                (left - 20, 570),
            ],
            PAPER,
        )
    s.blob([(1110, 790), (1200, 716), (1380, 730), (1520, 700), (1660, 720), (1660, 800)], PAPER)
    s.blob([(-60, 800), (60, 720), (240, 730), (420, 750), (540, 796)], PAPER)
    person(
        s,
        470,
        1000,
        420,
        SEA_DEEP,
        SKINS[2],
        LAMP_DEEP,
        INK,
        "cap",
        (((-0.06, 0.16), (-0.04, 0.3)), ((0.08, 0.17), (0.2, 0.24))),
    )
    s.shape(box(392, 764, 440, 880), BRICK, 2)
    s.stroke([(398, 772), (424, 700), (446, 740)], 9, BRICK)
    s.stroke([(592, 792), (660, 880), (706, 900)], 4, INK, curved=True)
    s.blob([(700, 910), (790, 896), (850, 910), (846, 960), (780, 972), (704, 962)], INK)
    for x in (716, 744, 812, 836):
        s.stroke([(x, 950), (x + 2, 1010)], 16, INK, end_width=10)
    s.stroke([(842, 912), (880, 870)], 12, INK, end_width=5)
    s.blob([(640, 900), (664, 866), (704, 860), (730, 900), (710, 932), (668, 930)], INK)
    s.shape([(700, 868), (716, 836), (728, 880)], INK, 1)
    s.stroke([(724, 880), (716, 930)], 8, LAMP)
    for _ in range(120):
        s.disc(s.random.uniform(0, WIDTH), s.random.uniform(0, 980), s.random.uniform(3, 7.5), PAPER)


def library(s: Sheet) -> None:
    x: float
    y: float
    s.shape(box(-9, -9, WIDTH + 9, 860), SEA_PALE)
    s.cuts(box(0, 0, WIDTH, 700), PAPER, -6, 38, 240, 9, 0.55)
    s.blob([(-60, 860), (-60, 640), (140, 600), (330, 660), (420, 860)], SEA)
    s.blob([(1240, 860), (1330, 650), (1520, 610), (1660, 640), (1660, 860)], SEA)
    s.cuts(box(0, 620, 400, 850), SEA_DEEP, 75, 28, 70, 7, 0.5)
    s.cuts(box(1280, 630, WIDTH, 850), SEA_DEEP, 105, 28, 70, 7, 0.5)
    brickwork(s, box(330, 380, 1270, 850), BRICK, BRICK_DEEP, 30, 0.42)
    brickwork(s, [(600, 850), (600, 330), (800, 200), (1000, 330), (1000, 850)], BRICK, BRICK_PALE, 30, 0.35)
    s.shape([(300, 396), (370, 280), (662, 280), (590, 340), (590, 396)], INK)
    s.shape([(1300, 396), (1230, 280), (938, 280), (1010, 340), (1010, 396)], INK)
    s.cuts([(300, 396), (370, 280), (662, 280), (590, 396)], GRAY, 0, 17, 60, 4, 0.6)
    s.cuts([(1300, 396), (1230, 280), (938, 280), (1010, 396)], GRAY, 0, 17, 60, 4, 0.6)
    s.stroke([(570, 352), (800, 194), (1030, 352)], 24, PAPER)
    s.shape(box(770, 90, 830, 214), PAPER, 1)
    s.shape([(756, 96), (800, 36), (844, 96)], INK, 1)
    s.shape(box(788, 120, 812, 176), SEA_DEEP, 0.6)
    s.disc(800, 290, 40, PAPER)
    s.disc(800, 290, 31, INK)
    s.stroke([(800, 290), (800, 268)], 5, PAPER)
    s.stroke([(800, 290), (816, 298)], 5, PAPER)
    for left in (376, 482, 1034, 1140):
        s.disc(left + 42, 470, 51, PAPER)
        s.shape(box(left - 9, 466, left + 93, 760), PAPER, 1)
        s.disc(left + 42, 472, 42, LAMP)
        s.shape(box(left, 470, left + 84, 750), LAMP, 0.6)
        for at in range(3):
            s.shape(
                box(left + 8 + at * 24, 690 - at * 14, left + 26 + at * 24, 750),
                (BRICK_DEEP, SEA_DEEP, INK)[at],
                0.5,
            )
        s.stroke([(left + 42, 432), (left + 42, 750)], 6, PAPER)
        for y in (540, 620):
            s.stroke([(left, y), (left + 84, y)], 6, PAPER)
        s.shape(box(left - 18, 756, left + 102, 776), SAND, 1)
    s.shape(box(668, 430, 932, 850), PAPER)
    s.disc(800, 500, 100, INK)
    s.shape(box(700, 500, 900, 850), INK)
    s.disc(800, 502, 84, LAMP)
    s.stroke([(800, 418), (800, 500)], 6, INK)
    s.stroke([(726, 470), (800, 500), (874, 470)], 6, INK)
    for left in (712, 804):
        s.shape(box(left, 516, left + 84, 846), SEA_DEEP, 1)
        s.shape(box(left + 14, 540, left + 70, 660), LAMP_PALE, 0.6)
        s.shape(box(left + 14, 700, left + 70, 820), SEA, 0.6)
    s.shape([(-9, 850), (WIDTH + 9, 846), (WIDTH + 9, HEIGHT + 9), (-9, HEIGHT + 9)], SAND)
    s.cuts(box(0, 860, WIDTH, HEIGHT), LAMP_DEEP, 3, 34, 110, 6, 0.5)
    for at in range(3):
        s.shape(box(650 - at * 34, 846 + at * 22, 950 + at * 34, 870 + at * 22), (PAPER, GRAY, PAPER)[at], 1)
    s.shape([(600, 912), (1000, 912), (1180, 1080), (380, 1080)], PAPER, 2)
    s.cuts([(600, 912), (1000, 912), (1180, 1080), (380, 1080)], GRAY, 0, 26, 120, 5, 0.55)
    for x, y, length, width in ((180, 1010, 250, 52), (1440, 1000, 236, 48)):
        s.blob([(x - 90, y + 16), (x - 26, y - 40), (x + 26, y - 40), (x + 92, y + 16)], INK)
        tree(s, x, y, length, -90, width, INK, 8)
    for _ in range(46):
        x, y = s.random.uniform(20, WIDTH), s.random.uniform(880, 1050)
        s.disc(x, y, 11, s.random.choice((BRICK, LAMP, BRICK_PALE)), 6, s.random.uniform(0, 180))
    person(
        s, 1080, 1010, 270, LAMP, SKINS[1], INK, SEA_DEEP, "bun", (((-0.05, 0.15), (-0.02, 0.28)), DOWN[1])
    )
    s.shape(box(1040, 880, 1078, 924), BRICK, 1)
    person(s, 1170, 1016, 180, BRICK_PALE, SKINS[1], INK, INK, "short", DOWN, child=True)


def hung_coat(
    s: Sheet, x: float, y: float, tall: float, fill: str, turn: float = 0.0, hood: bool = False
) -> None:
    """A coat on a hanger from the rail at (x, y)."""
    edge, wide = DARKER[fill], tall * 0.26
    s.stroke([(x, y - tall * 0.02), (x + 8, y + tall * 0.04), (x, y + tall * 0.09)], 6, INK, curved=True)
    for side in (-1, 1):
        s.stroke([(x + side * wide * 0.5, y + tall * 0.17), (x + side * (wide + turn), y + tall * 0.42), (x + side * (wide * 1.12 + turn), y + tall * 0.7)], tall * 0.13, edge, curved=True)  # fmt: skip
        s.stroke([(x + side * wide * 0.5, y + tall * 0.17), (x + side * (wide + turn), y + tall * 0.42), (x + side * (wide * 1.12 + turn), y + tall * 0.69)], tall * 0.105, fill, curved=True)  # fmt: skip
    body = [(x - wide * 0.66, y + tall * 0.13), (x - wide * 0.2, y + tall * 0.08), (x + wide * 0.2, y + tall * 0.08), (x + wide * 0.66, y + tall * 0.13), (x + wide * 0.74, y + tall * 0.5), (x + wide * 0.9, y + tall), (x - wide * 0.9, y + tall), (x - wide * 0.74, y + tall * 0.5)]  # fmt: skip
    s.shape(body, fill)
    s.cuts(
        [(x + wide * 0.2, y + tall * 0.1), body[3], body[4], body[5], (x + wide * 0.2, y + tall)],
        edge,
        88,
        tall * 0.03,
        tall * 0.16,
        tall * 0.012,
    )
    s.shape(
        [(x - wide * 0.3, y + tall * 0.07), (x + wide * 0.3, y + tall * 0.07), (x, y + tall * 0.24)],
        PAPER if hood else edge,
        1,
    )
    if hood:
        for dx in (-0.34, -0.2, 0.0, 0.2, 0.34):
            s.disc(x + wide * dx, y + tall * (0.1 + 0.1 * (1 - abs(dx) * 2.4)), tall * 0.045, SAND)
    s.stroke([(x, y + tall * 0.24), (x, y + tall * 0.99)], 4, edge)
    for at in range(4):
        s.disc(x + wide * 0.12, y + tall * (0.34 + at * 0.15), tall * 0.018, PAPER)
    for side in (-1, 1):
        s.stroke(
            [(x + side * wide * 0.32, y + tall * 0.66), (x + side * wide * 0.62, y + tall * 0.63)], 6, edge
        )


def coat_closet(s: Sheet) -> None:
    s.shape(box(-9, -9, WIDTH + 9, 880), SEA_PALE)
    s.cuts(box(0, 0, WIDTH, 870), SEA, 90, 62, 44, 5, 0.5)
    s.shape([(-9, 870), (WIDTH + 9, 870), (WIDTH + 9, HEIGHT + 9), (-9, HEIGHT + 9)], LAMP_DEEP)
    s.cuts(box(0, 880, WIDTH, HEIGHT), BRICK_DEEP, 0, 40, 260, 5, 0.6)
    s.shape(box(-9, 846, WIDTH + 9, 876), PAPER, 1)
    s.shape(box(40, 110, 360, 880), PAPER)
    s.shape(box(64, 136, 336, 880), INK)
    s.shape(box(64, 300, 336, 318), SAND, 1)
    for x, wide, tall, fill in ((90, 70, 110, BRICK), (170, 80, 84, SAND), (262, 60, 120, SEA)):
        s.shape(box(x, 300 - tall, x + wide, 300), fill, 1)
        s.shape(box(x, 300 - tall, x + wide, 322 - tall), DARKER[fill], 1)
    s.stroke([(64, 372), (336, 372)], 9, GRAY)
    for x in (110, 150, 205, 236, 290):
        s.stroke([(x - 26, 410), (x, 388), (x + 26, 410), (x - 26, 410)], 5, SAND)
    s.shape([(336, 136), (470, 80), (470, 950), (336, 880)], LAMP)
    s.cuts([(336, 136), (470, 80), (470, 950), (336, 880)], LAMP_DEEP, 90, 22, 150, 5)
    for top, bottom in ((190, 460), (540, 820)):
        s.shape([(360, top), (446, top - 34), (446, bottom + 30), (360, bottom)], LAMP_PALE, 1)
    s.disc(450, 520, 12, INK)
    s.stroke([(520, 226), (520, 960)], 16, INK)
    s.stroke([(1560, 226), (1560, 960)], 16, INK)
    for x in (520, 1560):
        s.stroke([(x - 50, 962), (x + 50, 962)], 16, INK)
    s.stroke([(506, 230), (1574, 230)], 15, INK)
    coats = (
        (600, 400, INK, False),
        (690, 520, BRICK, True),
        (786, 430, SAND, False),
        (880, 560, SEA_DEEP, False),
        (968, 350, LAMP, True),
        (1052, 500, GRAY, False),
        (1150, 570, BRICK_DEEP, False),
        (1246, 420, SEA, True),
        (1330, 520, PAPER, False),
        (1420, 380, BRICK_PALE, True),
        (1496, 540, INK_SOFT, False),
    )
    for x, tall, fill, hood in coats:
        hung_coat(s, x, 236, tall, fill, s.random.uniform(-8, 8), hood)
    s.shape(box(880, 880, 1120, 1000), SAND)
    s.shape([(880, 880), (850, 850), (920, 850), (946, 880)], LAMP_DEEP, 1)
    s.shape([(1120, 880), (1150, 850), (1080, 850), (1054, 880)], LAMP_DEEP, 1)
    s.cuts(box(884, 890, 1116, 996), LAMP_DEEP, 0, 24, 90, 4, 0.5)
    for x, y, fill, turn in (
        (930, 850, BRICK, -20),
        (990, 838, SEA, 8),
        (1050, 852, LAMP, 22),
        (1090, 866, SEA_DEEP, 40),
    ):
        s.disc(x, y, 22, fill, 42, turn)
        s.disc(x + 24, y + 4, 10, fill, 22, 40)
    s.shape(box(880, 880, 1120, 900), LAMP_DEEP, 1)
    person(
        s,
        690,
        1056,
        640,
        PAPER,
        SKINS[1],
        INK,
        SEA_DEEP,
        "bun",
        (((-0.06, 0.16), (-0.02, 0.3)), ((0.1, 0.06), (0.17, -0.12))),
    )
    person(
        s,
        1310,
        1050,
        600,
        LAMP,
        SKINS[0],
        GRAY,
        INK,
        "short",
        (((-0.08, 0.04), (-0.16, -0.1)), ((0.06, 0.16), (0.02, 0.3))),
    )


def toy_shelf(s: Sheet) -> None:
    s.shape(box(-9, -9, WIDTH + 9, HEIGHT + 9), SEA_DEEP)
    s.cuts(box(0, 0, WIDTH, HEIGHT), SEA, 90, 54, 60, 5, 0.5)
    s.shape(box(120, 40, 1480, 1060), LAMP_DEEP)
    for top in (80, 410, 740):
        s.shape(box(160, top, 1440, top + 268), BRICK_DEEP, 1)
        s.cuts(box(160, top, 1440, top + 90), INK, 0, 18, 200, 6, 0.6)
        s.shape(box(150, top + 266, 1450, top + 304), SAND, 1)
        s.cuts(box(160, top + 270, 1440, top + 300), LAMP_DEEP, 0, 12, 120, 3, 0.5)
        for x in (330, 700, 1080):
            s.shape(box(x, top + 262, x + 150, top + 310), PAPER, 1)
            s.stroke([(x + 22, top + 279), (x + 122, top + 279)], 5, INK)
            s.stroke([(x + 22, top + 294), (x + 84, top + 294)], 5, GRAY)
    # the top shelf: a bear, a ball, blocks, an engine
    for x, y, r in ((262, 150, 26), (350, 150, 26)):
        s.disc(x, y, r, BRICK_PALE)
        s.disc(x, y, r * 0.5, SAND)
    s.disc(306, 288, 74, BRICK_PALE, 66)
    s.disc(306, 300, 40, SAND, 40)
    for x, y in ((240, 270), (372, 270), (254, 336), (358, 336)):
        s.disc(x, y, 30, BRICK_PALE, 24)
    s.disc(306, 190, 58, BRICK_PALE, 52)
    s.disc(306, 206, 24, SAND, 19)
    s.disc(306, 198, 8, INK, 6)
    for x in (284, 328):
        s.disc(x, 180, 6, INK)
    s.shape([(280, 240), (332, 240), (306, 252), (332, 266), (280, 266), (306, 252)], LAMP, 1)
    s.disc(500, 272, 76, PAPER)
    s.inside(
        oval(500, 272, 76, 76),
        [
            (smooth([(424, 230), (500, 250), (580, 220), (590, 290), (500, 300), (420, 300)]), BRICK),
            (oval(470, 330, 60, 30), SEA),
        ],
    )
    for x, y, fill in ((640, 276, SEA), (714, 276, LAMP), (676, 206, BRICK), (788, 276, BRICK_PALE)):
        s.shape(box(x, y, x + 70, y + 70), fill, 1)
        s.shape(box(x + 11, y + 11, x + 59, y + 59), PAPER, 1)
        s.blob(star(x + 35, y + 36, 20, 9), DARKER[fill])
    s.shape(box(940, 200, 1030, 320), SEA_DEEP, 1)
    s.shape(box(926, 184, 1044, 204), INK, 1)
    s.shape(box(956, 220, 1012, 262), LAMP_PALE, 1)
    s.shape(box(1026, 246, 1190, 320), BRICK, 1)
    s.shape(box(1136, 186, 1166, 250), INK, 1)
    s.disc(1082, 246, 22, LAMP, 18)
    s.shape([(1190, 320), (1226, 320), (1190, 280)], LAMP_DEEP, 1)
    for x, r in ((966, 26), (1060, 26), (1140, 26)):
        s.disc(x, 322, r, INK)
        s.disc(x, 322, r * 0.5, LAMP)
    s.stroke([(966, 322), (1060, 322)], 7, GRAY)
    for y in range(5):
        s.disc(1320, 320 - y * 40, 70 - y * 11, (BRICK, LAMP, SEA, PAPER, BRICK_PALE)[y], 24)
    s.disc(1320, 132, 17, LAMP)
    # the middle shelf: a boat, a drum, a doll, a kite, books
    s.shape([(200, 620), (430, 620), (390, 674), (240, 674)], BRICK, 1)
    s.stroke([(310, 620), (310, 440)], 8, SAND)
    s.shape([(318, 450), (318, 604), (420, 604)], PAPER, 1)
    s.shape([(302, 480), (302, 604), (220, 604)], LAMP, 1)
    s.shape(box(480, 560, 640, 672), LAMP, 1)
    s.cuts(box(480, 566, 640, 668), LAMP_DEEP, 90, 20, 60, 4)
    s.disc(560, 560, 80, PAPER, 24)
    for at in range(5):
        s.stroke([(484 + at * 32, 574), (500 + at * 32, 662)], 5, BRICK_DEEP)
    s.stroke([(520, 548), (620, 470)], 8, SAND)
    s.stroke([(600, 556), (500, 478)], 8, SAND)
    s.disc(620, 470, 12, BRICK)
    s.disc(500, 478, 12, BRICK)
    s.blob([(700, 672), (730, 560), (770, 530), (810, 560), (840, 672)], SEA)
    s.cuts(smooth([(700, 672), (730, 560), (770, 530), (810, 560), (840, 672)]), SEA_PALE, 90, 22, 40, 5)
    head(s, 770, 500, 44, SKINS[1], INK, "bun")
    for x in (754, 786):
        s.disc(x, 506, 5, INK)
    s.stroke([(728, 584), (694, 640)], 20, SEA)
    s.stroke([(812, 584), (846, 640)], 20, SEA)
    s.shape([(1000, 430), (1090, 530), (1000, 668), (910, 530)], BRICK, 1)
    s.inside(
        [(1000, 430), (1090, 530), (1000, 668), (910, 530)],
        [([(1000, 430), (1090, 530), (1000, 530)], LAMP), ([(910, 530), (1000, 530), (1000, 668)], PAPER)],
    )
    s.stroke([(1000, 430), (1000, 668)], 5, INK)
    s.stroke([(910, 530), (1090, 530)], 5, INK)
    for at, (wide, tall, fill) in enumerate(
        ((34, 170, SEA), (28, 150, LAMP), (40, 190, PAPER), (30, 160, BRICK_PALE), (36, 176, SEA_PALE))
    ):
        x = 1150 + at * 44
        s.shape(box(x, 674 - tall, x + wide, 674), fill, 1)
        s.stroke([(x + 6, 674 - tall * 0.8), (x + wide - 6, 674 - tall * 0.8)], 5, DARKER[fill])
    s.shape([(1386, 674), (1350, 520), (1382, 512), (1420, 674)], BRICK, 1)
    # the lowest shelf: one duck
    s.blob([(560, 960), (600, 900), (680, 908), (760, 890), (752, 960), (700, 1000), (600, 1000)], LAMP)
    s.disc(600, 882, 44, LAMP)
    s.shape([(560, 876), (520, 892), (562, 900)], BRICK, 1)
    s.disc(588, 870, 6, INK)
    s.blob([(640, 930), (720, 920), (700, 970), (650, 966)], LAMP_DEEP)
    s.disc(620, 1002, 15, INK)
    s.disc(720, 1002, 15, INK)
    s.stroke([(540, 992), (440, 1000), (400, 960)], 4, PAPER, curved=True)


def carton(s: Sheet, x: float, y: float, wide: float, tall: float) -> None:
    """An open carton; its lower edge is at y."""
    s.shape(box(x, y - tall, x + wide, y), SAND)
    s.cuts(box(x, y - tall, x + wide, y), LAMP_DEEP, 0, 20, 80, 4, 0.4)
    s.shape(
        [
            (x, y - tall),
            (x - wide * 0.14, y - tall * 0.72),
            (x - wide * 0.06, y - tall * 0.66),
            (x + 8, y - tall * 0.9),
        ],
        LAMP_DEEP,
        1,
    )
    s.shape(
        [
            (x + wide, y - tall),
            (x + wide * 1.14, y - tall * 0.72),
            (x + wide * 1.06, y - tall * 0.66),
            (x + wide - 8, y - tall * 0.9),
        ],
        LAMP_DEEP,
        1,
    )
    s.shape(box(x, y - tall, x + wide, y - tall + 10), LAMP_DEEP, 1)
    s.stroke([(x + wide * 0.38, y - tall * 0.5), (x + wide * 0.62, y - tall * 0.5)], wide * 0.06, BRICK_DEEP)


def food_boxes(s: Sheet) -> None:
    x: float
    s.shape(box(-9, -9, WIDTH + 9, 640), SEA)
    s.cuts(box(0, 0, WIDTH, 620), SEA_DEEP, 90, 40, 150, 7, 0.6)
    for left in (120, 620, 1120):
        panes(s, left, 60, left + 340, 330, LAMP_PALE, PAPER, 3, 2)
    for x in (360, 860, 1360):
        s.stroke([(x, -9), (x, 150)], 5, INK)
        s.shape([(x - 70, 206), (x - 22, 150), (x + 22, 150), (x + 70, 206)], BRICK, 1)
        s.disc(x, 208, 26, PAPER, 18)
    for row, (y, size) in enumerate(((520, 150), (604, 180))):
        for at in range(-1, 1 + int(WIDTH / (size * 1.14))):
            x = at * size * 1.14 + row * 50
            for dx, fill in ((0.2, LAMP), (0.5, BRICK), (0.78, SEA_PALE)):
                s.disc(x + size * dx, y - size * 0.62, size * 0.2, fill, size * 0.24)
            carton(s, x, y, size, size * 0.62)
    s.shape([(-9, 600), (WIDTH + 9, 600), (WIDTH + 9, 1090), (-9, 1090)], PAPER)
    s.cuts(box(0, 612, WIDTH, 960), SAND, 0, 34, 240, 7, 0.5)
    s.shape(box(-9, 960, WIDTH + 9, 1090), BRICK)
    s.cuts(box(0, 970, WIDTH, 1067), BRICK_DEEP, 90, 44, 80, 6, 0.6)
    for at, x in enumerate((70, 580, 1090)):
        wide = 420.0
        base = 900.0
        top = base - 190
        s.shape(
            [(x + 10, top + 20), (x + 40, top - 70), (x + wide - 40, top - 70), (x + wide - 10, top + 20)],
            BRICK_DEEP,
            1,
        )
        if at == 0:
            s.blob(
                [
                    (x + 20, top + 60),
                    (x + 40, top - 60),
                    (x + 80, top - 130),
                    (x + 110, top - 150),
                    (x + 130, top - 120),
                    (x + 180, top - 60),
                    (x + 190, top + 60),
                ],
                LAMP,
            )
            s.cuts(
                smooth(
                    [
                        (x + 20, top + 60),
                        (x + 40, top - 60),
                        (x + 110, top - 140),
                        (x + 180, top - 60),
                        (x + 190, top + 60),
                    ]
                ),
                LAMP_DEEP,
                84,
                26,
                110,
                8,
            )
            s.stroke([(x + 112, top - 148), (x + 126, top - 186)], 17, SEA_DEEP, end_width=11)
            for dx in (0, 66):
                s.shape(box(x + 214 + dx, top - 96, x + 272 + dx, top + 40), (BRICK, PAPER)[dx > 0], 1)
                s.disc(x + 243 + dx, top - 96, 29, GRAY, 11)
                s.shape(box(x + 214 + dx, top - 60, x + 272 + dx, top - 20), (PAPER, SEA)[dx > 0], 1)
            for dx in (0, 26, 52):
                s.stroke(
                    [(x + 352 + dx, top + 30), (x + 344 + dx * 1.3, top - 90)], 17, SEA_DEEP, end_width=5
                )
        elif at == 1:
            s.blob(
                [
                    (x + 30, top + 40),
                    (x + 26, top - 60),
                    (x + 60, top - 122),
                    (x + 200, top - 130),
                    (x + 240, top - 70),
                    (x + 236, top + 40),
                ],
                BRICK_PALE,
            )
            for dx in (56, 104, 152, 200):
                s.stroke([(x + dx, top - 100), (x + dx + 24, top - 60)], 11, PAPER, end_width=5)
            s.disc(x + 300, top - 30, 76, SEA)
            s.cuts(oval(x + 300, top - 30, 74, 74), SEA_PALE, 60, 20, 60, 7)
            s.disc(x + 300, top - 30, 30, SEA_PALE)
            s.shape(box(x + 362, top - 80, x + 410, top + 20), LAMP, 1)
            s.disc(x + 386, top - 80, 24, GRAY, 9)
        else:
            for dx, dy, fill in (
                (70, -30, BRICK),
                (150, -64, BRICK),
                (130, 0, LAMP),
                (214, -20, BRICK),
                (60, 20, LAMP),
            ):
                s.disc(x + dx, top + dy, 52, fill)
                s.stroke([(x + dx, top + dy - 46), (x + dx + 8, top + dy - 66)], 7, INK)
                s.cuts(oval(x + dx - 16, top + dy - 16, 22, 18), PAPER, 40, 12, 26, 5)
            for dx in (0, 34, 68, 100):
                s.stroke(
                    [(x + 290 + dx * 0.6, top + 30), (x + 262 + dx * 1.5, top - 84)],
                    34,
                    LAMP_DEEP,
                    end_width=14,
                )
                for lean in (-20, 0, 20):
                    s.stroke(
                        [(x + 262 + dx * 1.5, top - 84), (x + 262 + dx * 1.5 + lean, top - 150)],
                        8,
                        SEA_DEEP,
                        end_width=3,
                    )
        carton(s, x, base, wide, 190)
    for x, fill in ((526, BRICK), (1040, SEA)):
        s.shape(box(x - 30, 830, x + 30, 930), fill, 1)
        s.disc(x, 830, 30, GRAY, 11)
        s.shape(box(x - 30, 862, x + 30, 902), PAPER, 1)


def bakery(s: Sheet) -> None:
    left: float
    right: float
    brickwork(s, box(-9, -9, WIDTH + 9, 940), SEA_DEEP, SEA, 38, 0.4)
    for left in (180, 540, 1130):
        panes(s, left, 40, left + 170, 190, LAMP_DEEP, PAPER, 2, 2)
    s.shape(box(90, 270, 1510, 330), BRICK_DEEP)
    s.cuts(box(100, 280, 1500, 322), BRICK, 0, 16, 130, 4, 0.6)
    for at in range(7):
        s.disc(420 + at * 60, 300, 14, LAMP, 10)
    s.shape(box(110, 330, 1490, 950), BRICK)
    s.shape(box(150, 470, 990, 830), LAMP_PALE)
    s.cuts(box(150, 470, 990, 600), LAMP, 90, 40, 100, 8, 0.5)
    s.shape(box(150, 640, 990, 656), BRICK_DEEP, 1)
    s.shape(box(150, 800, 990, 834), BRICK_DEEP, 1)
    for x in (200, 350, 500):
        s.blob(
            [(x - 50, 640), (x - 54, 596), (x - 20, 566), (x + 60, 566), (x + 92, 598), (x + 88, 640)],
            BRICK_PALE,
        )
        for dx in (-16, 18, 52):
            s.stroke([(x + dx - 8, 576), (x + dx + 10, 610)], 9, PAPER, end_width=4)
    for x in (660, 770, 880):
        s.disc(x, 596, 46, LAMP_DEEP, 44)
        s.disc(x, 600, 17, LAMP_PALE, 15)
        s.cuts(oval(x - 10, 570, 30, 14), PAPER, 20, 8, 20, 4)
    for at in range(6):
        x = 200 + at * 66
        s.stroke([(x, 796), (x + 30, 690)], 34, BRICK_PALE, end_width=22)
        for t in (0.25, 0.5, 0.75):
            s.stroke([(x + 30 * t - 9, 796 - 106 * t), (x + 30 * t + 13, 784 - 106 * t)], 6, PAPER)
    for row in range(3):
        for at in range(4 - row):
            s.blob([(630 + at * 84 + row * 42, 800 - row * 44), (640 + at * 84 + row * 42, 760 - row * 44), (672 + at * 84 + row * 42, 746 - row * 44), (706 + at * 84 + row * 42, 762 - row * 44), (712 + at * 84 + row * 42, 800 - row * 44)], LAMP_DEEP if (row + at) % 2 else BRICK_PALE)  # fmt: skip
    for x in (150, 430, 710, 990):
        s.stroke([(x, 470), (x, 834)], 14, PAPER)
    s.stroke([(150, 834), (990, 834)], 16, PAPER)
    s.shape(box(1060, 440, 1400, 950), PAPER)
    s.shape(box(1084, 466, 1376, 950), LAMP)
    s.cuts(box(1084, 466, 1376, 940), LAMP_DEEP, 90, 40, 160, 8, 0.5)
    person(
        s,
        1220,
        950,
        440,
        PAPER,
        SKINS[0],
        PAPER,
        INK,
        "cap",
        (((-0.08, 0.14), (-0.16, 0.2)), ((0.08, 0.14), (0.16, 0.2))),
        hem=0.22,
    )
    s.shape(box(1112, 690, 1330, 712), INK, 1)
    for x in (1150, 1220, 1290):
        s.blob([(x - 36, 692), (x - 30, 656), (x, 642), (x + 30, 656), (x + 36, 692)], BRICK_PALE)
        s.stroke([(x - 8, 654), (x + 8, 676)], 7, PAPER)
    stripes = 14
    for at in range(stripes):
        left, right = 70 + at * 1460 / stripes, 70 + (at + 1) * 1460 / stripes
        fill = (BRICK, PAPER)[at % 2]
        top_left, top_right = 110 + at * 1380 / stripes, 110 + (at + 1) * 1380 / stripes
        s.shape([(top_left, 330), (top_right, 330), (right, 452), (left, 452)], fill, 0.4)
        s.disc((left + right) / 2, 452, (right - left) / 2, fill, 28)
    s.cuts(box(80, 430, 1520, 478), BRICK_DEEP, 90, 36, 26, 4, 0.5)
    s.stroke([(1440, 150), (1300, 150)], 10, INK)
    s.stroke([(1330, 150), (1330, 176)], 5, INK)
    s.stroke([(1410, 150), (1410, 176)], 5, INK)
    s.disc(1370, 220, 76, PAPER, 50)
    s.disc(1370, 220, 66, BRICK_DEEP, 41)
    s.blob([(1324, 232), (1334, 204), (1370, 192), (1406, 204), (1416, 232), (1370, 242)], LAMP)
    s.shape([(-9, 940), (WIDTH + 9, 940), (WIDTH + 9, 1090), (-9, 1090)], GRAY)
    s.cuts(box(0, 950, WIDTH, HEIGHT), INK_SOFT, 0, 32, 120, 5, 0.55)
    s.shape(box(1050, 936, 1410, 968), PAPER, 1)
    for x in (60, 1500):
        s.shape([(x - 50, 900), (x + 50, 900), (x + 36, 1000), (x - 36, 1000)], BRICK_PALE, 1)
        s.disc(x, 840, 66, SEA)
        s.cuts(oval(x, 840, 62, 62), SEA_PALE, 50, 20, 30, 7)
    person(s, 420, 1056, 420, LAMP, SKINS[2], INK, SEA_DEEP, "long", (((-0.05, 0.15), (-0.03, 0.3)), DOWN[1]))
    s.shape(box(352, 850, 410, 930), SAND, 1)
    s.stroke([(366, 850), (356, 790)], 20, BRICK_PALE)
    s.stroke([(390, 850), (396, 800)], 18, BRICK_PALE)
    person(
        s,
        560,
        1060,
        270,
        BRICK_PALE,
        SKINS[2],
        INK,
        INK,
        "cap",
        (((-0.06, 0.14), (-0.12, 0.24)), ((0.08, 0.02), (0.15, -0.12))),
        child=True,
    )


def quilt(s: Sheet) -> None:
    s.shape(box(-9, -9, WIDTH + 9, HEIGHT + 9), SEA_DEEP)
    s.cuts(box(0, 0, WIDTH, HEIGHT), INK, 90, 34, 150, 9, 0.6)
    s.shape([(790, 190), (910, 190), (1540, 560), (160, 560)], SEA)
    s.rays([(790, 190), (910, 190), (1640, 640), (60, 640)], 850, 150, 100, 620, SEA_PALE, 70, 8)
    s.stroke([(850, -9), (850, 90)], 8, INK)
    s.shape([(720, 210), (800, 90), (900, 90), (980, 210)], BRICK)
    s.cuts([(860, 96), (900, 90), (980, 210), (870, 210)], BRICK_DEEP, 70, 16, 80, 6)
    s.disc(850, 212, 130, LAMP_PALE, 24)
    s.disc(850, 220, 40, PAPER, 30)
    s.shape([(150, 440), (1480, 440), (1640, 1090), (-60, 1090)], LAMP_DEEP)
    s.cuts([(150, 440), (1480, 440), (1640, 1090), (-60, 1090)], BRICK_DEEP, 0, 32, 220, 6, 0.5)
    corners = ((260.0, 470.0), (1300.0, 470.0), (1500.0, 1110.0), (20.0, 1110.0))

    def on(u: float, v: float) -> Point:
        """A point of the quilt: u along it, v toward the viewer, 0 to 1."""
        far = v * 0.72 + v * v * 0.28
        left = (
            corners[0][0] + (corners[3][0] - corners[0][0]) * far,
            corners[0][1] + (corners[3][1] - corners[0][1]) * far,
        )
        right = (
            corners[1][0] + (corners[2][0] - corners[1][0]) * far,
            corners[1][1] + (corners[2][1] - corners[1][1]) * far,
        )
        return (left[0] + (right[0] - left[0]) * u, left[1])

    across, down = 8, 5
    for row in range(down):
        for column in range(across):
            if (column == across - 1 and row in (1, 2, 3)) or (column, row) == (across - 2, 2):
                continue
            u, v, step_u, step_v = column / across, row / down, 1 / across, 1 / down

            def cell(
                a: float, b: float, u: float = u, v: float = v, du: float = step_u, dv: float = step_v
            ) -> Point:
                return on(u + a * du, v + b * dv)

            one, two = (
                (PAPER, SAND, LAMP_PALE)[(row + column) % 3],
                (BRICK, SEA, LAMP, SEA_DEEP, BRICK_PALE)[(row * 3 + column * 2) % 5],
            )
            s.shape([cell(0, 0), cell(1, 0), cell(1, 1), cell(0, 1)], one, 1)
            if (row + column) % 2:
                for a, b, c, d in ((0, 0, 0.5, 0.5), (0.5, 0.5, 1, 1)):
                    s.shape([cell(a, b), cell(c, b), cell(a, d)], two, 0.6)
                for a, b, c, d in ((0.5, 0, 1, 0.5), (0, 0.5, 0.5, 1)):
                    s.shape([cell(a, b), cell(c, b), cell(c, d)], DARKER[two], 0.6)
            else:
                s.shape([cell(0.5, 0.04), cell(0.96, 0.5), cell(0.5, 0.96), cell(0.04, 0.5)], two, 0.6)
                s.shape([cell(0.5, 0.26), cell(0.74, 0.5), cell(0.5, 0.74), cell(0.26, 0.5)], one, 0.6)
                s.shape(
                    [cell(0.5, 0.38), cell(0.62, 0.5), cell(0.5, 0.62), cell(0.38, 0.5)], DARKER[two], 0.4
                )
    for at in range(1, across):
        s.cuts(
            [
                on(at / across - 0.006, 0),
                on(at / across + 0.006, 0),
                on(at / across + 0.006, 1),
                on(at / across - 0.006, 1),
            ],
            INK,
            90,
            6,
            16,
            2.4,
            0.8,
        )
    for at in range(1, down):
        s.cuts(
            [
                on(0, at / down - 0.008),
                on(1, at / down - 0.008),
                on(1, at / down + 0.008),
                on(0, at / down + 0.008),
            ],
            INK,
            0,
            6,
            16,
            2.4,
            0.5,
        )
    for x, y, fill, turn in ((1440, 620, BRICK, 14), (1500, 700, SEA, -10)):
        a = math.radians(turn)
        square = [
            (x + 54 * math.cos(a + k * math.pi / 2), y + 34 * math.sin(a + k * math.pi / 2)) for k in range(4)
        ]
        s.shape(square, fill, 1)
    arm(s, [(1660, 880), (1480, 830), (1330, 800)], 84, SEA, SKINS[1])
    for dx, dy in ((-44, -20), (-52, 4), (-40, 26)):
        s.stroke([(1330, 806), (1330 + dx, 806 + dy)], 21, SKINS[1], end_width=15)
    s.stroke([(1276, 786), (1226, 742)], 5, PAPER)
    s.stroke([(1228, 744), (1250, 700), (1310, 706), (1350, 752)], 3, BRICK_DEEP, curved=True)
    arm(s, [(1660, 700), (1540, 730)], 70, SEA, SKINS[1])
    s.blob([(170, 470), (240, 470), (246, 560), (205, 574), (164, 560)], PAPER)
    s.stroke([(244, 494), (274, 512), (244, 540)], 11, PAPER, curved=True)
    s.disc(205, 472, 36, BRICK_DEEP, 11)
    s.cuts(box(180, 390, 230, 456), SEA_PALE, 95, 16, 40, 5)
    for x, fill in ((1376, BRICK), (1430, LAMP)):
        s.shape(box(x - 18, 464, x + 18, 524), fill, 1)
        s.cuts(box(x - 18, 466, x + 18, 522), DARKER[fill], 0, 8, 30, 3)
        s.disc(x, 464, 24, SAND, 8)
        s.disc(x, 526, 24, SAND, 8)


def school_garden(s: Sheet) -> None:
    s.shape(box(-9, -9, WIDTH + 9, 560), LAMP_PALE)
    s.rays(box(0, 0, WIDTH, 520), 1330, 120, 110, 900, PAPER, 60, 10)
    s.disc(1330, 120, 84, LAMP)
    s.shape(box(120, 210, 940, 520), BRICK)
    s.cuts(box(120, 210, 940, 520), BRICK_DEEP, 0, 30, 70, 4, 0.5)
    s.shape([(80, 222), (180, 110), (880, 110), (980, 222)], SEA_DEEP)
    s.cuts([(80, 222), (180, 110), (880, 110), (980, 222)], SEA, 0, 20, 70, 4, 0.6)
    s.shape(box(490, 40, 570, 120), PAPER, 1)
    s.shape([(474, 46), (530, -6), (586, 46)], BRICK_DEEP, 1)
    s.blob([(512, 100), (518, 70), (542, 70), (548, 100)], LAMP_DEEP)
    for left in (170, 310, 650, 790):
        panes(s, left, 270, left + 96, 410, LAMP_PALE, PAPER, 2, 2)
    s.shape(box(476, 300, 584, 520), PAPER, 1)
    s.shape(box(490, 316, 570, 520), SEA, 1)
    s.blob([(960, 560), (1010, 400), (1180, 360), (1330, 410), (1480, 350), (1660, 400), (1660, 560)], SEA)
    s.cuts(
        smooth([(960, 560), (1010, 400), (1180, 360), (1330, 410), (1480, 350), (1660, 400), (1660, 560)]),
        SEA_DEEP,
        70,
        26,
        50,
        7,
        0.6,
    )
    s.shape([(-9, 520), (WIDTH + 9, 520), (WIDTH + 9, 1090), (-9, 1090)], SEA_PALE)
    s.cuts(box(0, 550, WIDTH, HEIGHT), SEA, 78, 70, 24, 6, 0.35)
    for at in range(28):
        x = at * 60 - 10
        s.shape([(x, 540), (x, 452), (x + 17, 432), (x + 34, 452), (x + 34, 540)], PAPER, 1)
    s.stroke([(-9, 476), (WIDTH + 9, 476)], 10, PAPER)
    s.stroke([(-9, 520), (WIDTH + 9, 520)], 10, PAPER)

    def bed(x: float, y: float, wide: float, deep: float, tall: float) -> None:
        lean = deep * 0.35
        s.shape([(x + lean, y - deep), (x + wide - lean, y - deep), (x + wide, y), (x, y)], BRICK_DEEP, 1)
        s.cuts(
            [(x + lean, y - deep), (x + wide - lean, y - deep), (x + wide, y), (x, y)], INK, 0, 15, 60, 5, 0.6
        )
        s.shape(box(x - 8, y - 6, x + wide + 8, y + tall), LAMP_DEEP, 1)
        s.cuts(box(x - 8, y, x + wide + 8, y + tall), BRICK_DEEP, 0, 16, 130, 4, 0.6)

    bed(90, 700, 520, 110, 46)
    for at in range(5):
        x = 160 + at * 96
        s.stroke([(x, 690), (x, 530)], 9, SAND)
        for y, side in ((560, 1), (600, -1), (640, 1), (670, -1)):
            s.disc(x + side * 20, y, 24, SEA_DEEP, 13, side * 30)
        for y, side in ((590, 1), (632, -1), (660, 1)):
            s.disc(x + side * 22, y + 12, 15, BRICK)
    bed(760, 700, 560, 110, 46)
    for at in range(6):
        x = 820 + at * 90
        for lean in (-26, -10, 8, 26):
            s.stroke([(x, 680), (x + lean, 600)], 9, SEA_DEEP, end_width=4)
        s.blob([(x - 14, 670), (x + 14, 670), (x + 4, 700), (x - 4, 700)], LAMP)
    bed(300, 960, 760, 150, 64)
    for row, (y, size) in enumerate(((856, 48), (930, 60))):
        for at in range(5):
            x = 410 + at * 138 - row * 26
            for turn in range(7):
                a = turn * math.tau / 7 + at
                s.disc(
                    x + math.cos(a) * size * 0.62,
                    y + math.sin(a) * size * 0.4,
                    size * 0.5,
                    SEA if turn % 2 else SEA_DEEP,
                    size * 0.36,
                    math.degrees(a),
                )
            s.disc(x, y - size * 0.08, size * 0.5, SEA_PALE, size * 0.42)
            s.cuts(oval(x, y - size * 0.08, size * 0.44, size * 0.36), SEA, 70, 12, 24, 4)
    person(
        s,
        200,
        1040,
        400,
        BRICK,
        SKINS[1],
        INK,
        SEA_DEEP,
        "bun",
        (DOWN[0], ((0.12, 0.1), (0.24, 0.06))),
        child=True,
    )
    s.shape([(290, 756), (370, 756), (378, 840), (282, 840)], SEA_DEEP, 1)
    s.stroke([(374, 826), (448, 760)], 18, SEA_DEEP, end_width=12)
    s.shape([(434, 744), (470, 776), (458, 788), (422, 758)], INK, 1)
    s.stroke([(286, 830), (250, 796), (296, 760)], 9, SEA_DEEP, curved=True)
    for at in range(7):
        s.stroke([(462 + at * 6, 786 + at * 3), (474 + at * 12, 850 + at * 4)], 4, PAPER, end_width=7)
    person(
        s,
        1230,
        1050,
        420,
        LAMP,
        SKINS[0],
        INK,
        INK,
        "short",
        (((-0.1, 0.14), (-0.14, 0.2)), ((0.08, 0.14), (-0.02, 0.22))),
        child=True,
    )
    s.blob([(1110, 880), (1290, 880), (1268, 960), (1132, 960)], SAND)
    s.cuts(box(1120, 886, 1280, 956), LAMP_DEEP, 40, 16, 26, 4)
    for x, fill in ((1146, BRICK), (1190, SEA), (1236, LAMP_DEEP), (1264, BRICK)):
        s.disc(x, 866, 27, fill)
    s.stroke([(1500, 1090), (1490, 640)], 17, SEA_DEEP)
    s.disc(1450, 860, 60, SEA, 28, 30)
    s.disc(1550, 780, 60, SEA, 28, -30)
    for turn in range(16):
        a = turn * math.tau / 16
        s.disc(1488 + math.cos(a) * 92, 590 + math.sin(a) * 92, 44, LAMP, 19, math.degrees(a))
    s.disc(1488, 590, 66, BRICK_DEEP)
    s.cuts(oval(1488, 590, 60, 60), LAMP_DEEP, 45, 14, 10, 6)


def brass_band(s: Sheet) -> None:
    s.shape(box(-9, -9, WIDTH + 9, 700), SEA_PALE)
    s.cuts(box(0, 0, WIDTH, 420), PAPER, -3, 34, 220, 8, 0.5)
    for x, wide, tall, fill in (
        (-40, 260, 340, SAND),
        (220, 220, 280, BRICK_PALE),
        (440, 300, 380, SAND),
        (740, 220, 300, LAMP),
        (960, 280, 360, BRICK_PALE),
        (1240, 240, 290, SAND),
        (1480, 200, 350, LAMP),
    ):
        s.shape(box(x, 690 - tall, x + wide, 700), fill)
        s.shape([(x - 10, 694 - tall), (x + wide / 2, 610 - tall), (x + wide + 10, 694 - tall)], SEA)
        for row in range(2):
            for column in range(2):
                left, top = x + wide * (0.18 + column * 0.4), 730 - tall + row * 120
                s.shape(box(left, top, left + wide * 0.22, top + 70), SEA_DEEP, 1)
                s.stroke([(left, top + 35), (left + wide * 0.22, top + 35)], 5, PAPER)
    for at in range(6):
        x = at * 300 - 60
        path = smooth([(x, 210), (x + 150, 262), (x + 300, 210)], closed=False)
        s.stroke(path, 4, INK)
        for k in range(2, len(path) - 2, 4):
            s.shape(
                [(path[k][0] - 20, path[k][1]), (path[k][0] + 20, path[k][1]), (path[k][0], path[k][1] + 44)],
                (BRICK, LAMP, PAPER)[k // 4 % 3],
                1,
            )
    s.shape([(-9, 690), (WIDTH + 9, 690), (WIDTH + 9, 1090), (-9, 1090)], GRAY)
    s.cuts(box(0, 700, WIDTH, HEIGHT), INK_SOFT, 0, 42, 170, 6, 0.45)
    s.shape(box(-9, 690, WIDTH + 9, 724), PAPER, 1)
    for at, x in enumerate((170, 480, 800, 1110, 1430)):
        player(s, x, 1050, 560, SKINS[at % 4])
    horn(s, 170, 1050)
    slide(s, 480, 1050)
    drum(s, 800, 1050)
    horn(s, 1110, 1050)
    tuba(s, 1430, 1050)


def player(s: Sheet, x: float, foot: float, tall: float, skin: str) -> None:
    """A marching musician in uniform, knee up."""
    person(s, x, foot, tall, BRICK, skin, INK, PAPER, "bald", ())
    shoulder = foot - tall * 0.8
    s.stroke(
        [(x - tall * 0.1, shoulder + tall * 0.04), (x + tall * 0.1, shoulder + tall * 0.4)],
        tall * 0.04,
        PAPER,
    )
    for side in (-1, 1):
        s.disc(x + side * tall * 0.12, shoulder + tall * 0.03, tall * 0.05, LAMP, tall * 0.026)
    s.shape(
        box(x - tall * 0.075, shoulder - tall * 0.23, x + tall * 0.075, shoulder - tall * 0.12), BRICK_DEEP, 1
    )
    s.shape(
        box(x - tall * 0.085, shoulder - tall * 0.135, x + tall * 0.085, shoulder - tall * 0.115), LAMP, 1
    )
    s.stroke(
        [(x, shoulder - tall * 0.22), (x + tall * 0.01, shoulder - tall * 0.31)],
        tall * 0.045,
        PAPER,
        end_width=tall * 0.02,
    )
    s.disc(x, shoulder - tall * 0.17, tall * 0.02, LAMP)


def horn(s: Sheet, x: float, foot: float) -> None:
    """A trumpet raised to the right."""

    def at(along: float, off: float) -> Point:
        return (x + 8 + along * 0.97 + off * 0.24, foot - 478 - along * 0.24 + off * 0.97)

    s.stroke([at(0, 0), at(150, 0)], 12, LAMP)
    s.stroke([at(40, 4), at(36, 40), at(120, 42), at(124, 4)], 11, LAMP, curved=True)
    for along in (62, 82, 102):
        s.stroke([at(along, -16), at(along, 46)], 12, LAMP_DEEP)
    s.shape([at(140, -8), at(176, -20), at(226, -64), at(226, 64), at(176, 20), at(140, 8)], LAMP, 1)
    s.disc(*at(226, 0), 17, LAMP_DEEP, 64, -14)
    arm(s, [(x - 52, foot - 424), (x - 20, foot - 350), at(56, 40)], 46, BRICK, PAPER)
    arm(s, [(x + 54, foot - 424), (x + 120, foot - 400), at(112, 44)], 46, BRICK, PAPER)


def slide(s: Sheet, x: float, foot: float) -> None:
    """A trombone pointing down to the right."""

    def at(along: float, off: float) -> Point:
        return (x + 4 + along * 0.72 - off * 0.69, foot - 476 + along * 0.69 + off * 0.72)

    for off in (0, 30):
        s.stroke([at(-10, off), at(330, off)], 11, LAMP)
    s.stroke([at(330, -2), at(340, 15), at(330, 32)], 13, LAMP_DEEP, curved=True)
    s.stroke([at(0, 0), at(-120, -10), at(-120, -50), at(20, -50)], 11, LAMP, curved=True)
    s.shape([at(10, -56), at(80, -64), at(150, -112), at(150, 0), at(80, -40), at(10, -44)], LAMP, 1)
    s.disc(*at(150, -56), 16, LAMP_DEEP, 56, 44)
    arm(s, [(x - 54, foot - 424), (x - 70, foot - 350), at(30, 30)], 46, BRICK, PAPER)
    arm(s, [(x + 54, foot - 424), (x + 130, foot - 330), at(230, 15)], 46, BRICK, PAPER)


def drum(s: Sheet, x: float, foot: float) -> None:
    """A bass drum carried in front."""
    s.disc(x, foot - 270, 128, BRICK_DEEP)
    s.disc(x, foot - 270, 112, PAPER)
    s.blob(star(x, foot - 270, 74, 34), SEA)
    for step in range(8):
        a = math.radians(step * 45 + 22)
        s.disc(x + 120 * math.cos(a), foot - 270 + 120 * math.sin(a), 9, LAMP)
    for side in (-1, 1):
        arm(
            s,
            [(x + side * 54, foot - 424), (x + side * 134, foot - 380), (x + side * 150, foot - 290)],
            46,
            BRICK,
            PAPER,
        )
        s.stroke([(x + side * 152, foot - 280), (x + side * 116, foot - 240)], 9, SAND)
        s.disc(x + side * 112, foot - 238, 19, SAND)


def tuba(s: Sheet, x: float, foot: float) -> None:
    """A marching tuba wound round the player, its bell above."""
    ring = [
        (x - 84, foot - 560),
        (x - 116, foot - 420),
        (x - 60, foot - 290),
        (x + 50, foot - 280),
        (x + 100, foot - 380),
        (x + 76, foot - 520),
    ]
    s.stroke(ring, 32, LAMP_DEEP, curved=True)
    s.stroke(ring, 22, LAMP, curved=True)
    s.disc(x - 50, foot - 640, 120, LAMP_DEEP, 104)
    s.disc(x - 50, foot - 640, 108, LAMP, 92)
    s.rays(oval(x - 50, foot - 640, 104, 90), x - 50, foot - 640, 40, 104, LAMP_DEEP, 26, 7)
    s.disc(x - 50, foot - 640, 36, BRICK_DEEP, 30)
    arm(s, [(x - 54, foot - 424), (x - 84, foot - 340), (x - 10, foot - 330)], 46, BRICK, PAPER)
    arm(s, [(x + 54, foot - 424), (x + 90, foot - 350), (x + 40, foot - 310)], 46, BRICK, PAPER)


def dog_adoption(s: Sheet) -> None:
    s.shape(box(-9, -9, WIDTH + 9, 820), SAND)
    s.cuts(box(0, 0, WIDTH, 800), LAMP_DEEP, 90, 66, 50, 5, 0.4)
    s.shape(box(90, 130, 700, 830), SEA_DEEP)
    s.shape(box(120, 160, 670, 830), INK)
    for x in range(150, 670, 42):
        s.stroke([(x, 160), (x, 830)], 9, GRAY)
    for y in (300, 560):
        s.stroke([(120, y), (670, y)], 9, GRAY)
    s.shape([(670, 130), (830, 90), (830, 900), (670, 830)], SEA)
    for x in (706, 748, 790):
        s.stroke([(x, 130), (x, 850)], 9, SEA_DEEP)
    s.disc(1200, 220, 100, PAPER)
    s.disc(1200, 246, 40, BRICK, 32)
    for dx, dy in ((-52, -4), (-22, -46), (22, -46), (52, -4)):
        s.disc(1200 + dx, 224 + dy, 17, BRICK, 22)
    s.shape([(-9, 820), (WIDTH + 9, 820), (WIDTH + 9, 1090), (-9, 1090)], BRICK_PALE)
    s.cuts(box(0, 830, WIDTH, HEIGHT), BRICK, 0, 40, 200, 6, 0.5)
    person(
        s,
        1250,
        1046,
        720,
        SEA,
        SKINS[1],
        INK,
        INK,
        "short",
        (((-0.08, 0.16), (-0.14, 0.3)), ((0.05, 0.16), (0.06, 0.32))),
    )
    s.stroke([(1078, 700), (960, 800), (760, 650)], 9, BRICK_DEEP, curved=True)
    s.disc(660, 1030, 330, BRICK_DEEP, 34)
    s.stroke([(880, 960), (1010, 930), (1060, 840)], 50, LAMP_DEEP, curved=True, end_width=22)
    body = [
        (520, 640),
        (620, 560),
        (740, 600),
        (860, 760),
        (940, 900),
        (910, 1020),
        (760, 1040),
        (560, 1030),
        (500, 900),
        (490, 760),
    ]
    s.blob(body, LAMP)
    s.cuts(smooth(body), LAMP_DEEP, 62, 30, 70, 8, 0.55)
    s.blob([(780, 860), (880, 850), (940, 920), (920, 1020), (800, 1040), (740, 980)], LAMP_DEEP)
    s.disc(860, 1028, 84, LAMP, 26)
    for x in (560, 660):
        s.stroke([(x, 780), (x - 4, 1010)], 82, LAMP, end_width=62)
        s.disc(x - 12, 1024, 58, PAPER, 28)
        for dx in (-30, -8):
            s.stroke([(x + dx, 1012), (x + dx - 4, 1036)], 5, LAMP_DEEP)
    s.stroke([(612, 800), (610, 990)], 8, LAMP_DEEP)
    s.blob([(530, 690), (600, 650), (680, 680), (660, 840), (600, 880), (540, 800)], PAPER)
    s.cuts(
        smooth([(530, 690), (600, 650), (680, 680), (660, 840), (600, 880), (540, 800)]), SAND, 84, 22, 46, 6
    )
    face = [
        (450, 470),
        (490, 380),
        (600, 340),
        (710, 380),
        (750, 480),
        (710, 600),
        (640, 660),
        (560, 660),
        (490, 600),
    ]
    s.blob(face, LAMP)
    s.cuts(smooth(face), LAMP_DEEP, 80, 34, 50, 6, 0.35)
    s.blob([(470, 400), (400, 400), (360, 500), (390, 610), (440, 600), (480, 500)], BRICK_DEEP)
    s.blob([(720, 390), (800, 380), (846, 480), (826, 600), (770, 600), (730, 500)], BRICK_DEEP)
    s.blob(
        [
            (560, 350),
            (600, 342),
            (640, 352),
            (636, 470),
            (690, 560),
            (670, 640),
            (600, 670),
            (530, 640),
            (510, 560),
            (564, 470),
        ],
        PAPER,
    )
    for x in (530, 670):
        s.disc(x, 482, 24, INK)
        s.disc(x - 8, 474, 7, PAPER)
    s.blob([(560, 546), (600, 532), (640, 546), (626, 580), (600, 590), (574, 580)], INK)
    s.stroke([(600, 588), (600, 614), (556, 630)], 8, INK, curved=True)
    s.stroke([(600, 614), (644, 630)], 8, INK)
    s.blob([(578, 630), (624, 630), (626, 676), (602, 694), (578, 676)], BRICK_PALE)
    s.stroke([(600, 636), (602, 672)], 4, BRICK)
    s.shape(
        [(484, 664), (540, 690), (600, 700), (670, 688), (724, 656), (710, 720), (604, 830), (496, 720)],
        BRICK,
    )
    for x, y in ((540, 716), (600, 742), (660, 716), (600, 790), (566, 760), (636, 760)):
        s.disc(x, y, 9, PAPER)
    person(
        s,
        330,
        1050,
        440,
        BRICK,
        SKINS[1],
        INK,
        SEA_DEEP,
        "bun",
        (DOWN[0], ((0.1, 0.0), (0.3, 0.02))),
        child=True,
    )
    s.blob([(120, 1010), (280, 1010), (262, 1062), (138, 1062)], SEA)
    s.disc(200, 1010, 78, SEA_DEEP, 15)
    s.disc(1010, 1020, 38, BRICK)
    s.stroke([(978, 1004), (1010, 1020), (1044, 1004)], 6, PAPER, curved=True)


def mural(s: Sheet) -> None:
    s.shape(box(-9, -9, WIDTH + 9, 150), SAND)
    s.cuts(box(0, 0, WIDTH, 90), PAPER, 0, 24, 160, 7)
    s.shape(box(-9, 100, WIDTH + 9, 850), SEA)
    s.shape(box(-9, 84, WIDTH + 9, 124), BRICK_DEEP)
    wall = box(0, 124, WIDTH, 840)
    for at, fill in enumerate((SEA_DEEP, SEA_PALE, SEA_DEEP)):
        y = 260 + at * 220
        wave = [(float(x), y + 46 * math.sin(x / 120 + at * 1.7)) for x in range(-40, WIDTH + 80, 20)]
        s.inside(wall, [([*wave, *[(x, y2 + 96) for x, y2 in reversed(wave)]], fill)])
    fish(s, 360, 330, 250, BRICK, 1)
    fish(s, 980, 560, 290, LAMP, -1)
    fish(s, 1330, 270, 170, PAPER, 1)
    fish(s, 300, 690, 150, BRICK_PALE, -1)
    for x, y, r in ((700, 300, 96), (1480, 640, 104)):
        s.disc(x, y, r, LAMP_DEEP)
        s.disc(x, y, r * 0.86, PAPER)
        s.disc(x, y, r * 0.78, LAMP)
        for step in range(8):
            a = step * math.tau / 8
            s.stroke(
                [(x, y), (x + r * 0.74 * math.cos(a), y + r * 0.74 * math.sin(a))], 9, PAPER, end_width=5
            )
    melon = [(560, 690), (760, 690), (740, 760), (660, 800), (580, 760)]
    s.blob(melon, SEA_DEEP)
    s.blob([(574, 694), (746, 694), (726, 750), (660, 780), (594, 750)], BRICK)
    for x, y in ((620, 716), (660, 740), (700, 716), (650, 706)):
        s.disc(x, y, 6, INK, 9)
    pine = [(1110, 190), (1180, 190), (1204, 280), (1180, 380), (1110, 380), (1086, 280)]
    s.blob(pine, LAMP_DEEP)
    s.cuts(smooth(pine), LAMP_PALE, 45, 24, 30, 6)
    s.cuts(smooth(pine), BRICK_DEEP, 135, 24, 30, 5)
    for lean in (-60, -30, 0, 30, 60):
        s.stroke([(1145, 200), (1145 + lean, 132)], 22, SEA_DEEP, end_width=5)
    for x, y in ((480, 540), (520, 500), (560, 545), (470, 590), (130, 480), (170, 520), (110, 540)):
        s.disc(x, y, 36, BRICK)
        s.cuts(oval(x - 10, y - 10, 18, 14), PAPER, 40, 9, 18, 5)
    for x, y in (
        (60, 240),
        (110, 220),
        (840, 180),
        (900, 200),
        (1260, 720),
        (1200, 700),
        (780, 460),
        (820, 430),
    ):
        s.disc(x, y, 20, PAPER)
        s.disc(x, y, 13, SEA)
    s.shape(box(-9, 840, WIDTH + 9, 880), PAPER, 1)
    s.shape([(-9, 876), (WIDTH + 9, 876), (WIDTH + 9, 1090), (-9, 1090)], SAND)
    s.cuts(box(0, 884, WIDTH, HEIGHT), LAMP_DEEP, 0, 34, 70, 6, 0.6)
    for dx in (0, 110):
        s.stroke([(1160 + dx, 1030), (1210 + dx * 0.5, 400)], 17, INK)
    for at in range(9):
        y = 980 - at * 66
        s.stroke([(1164 + at * 4.6, y), (1262 - at * 1.2, y)], 11, INK)
    person(
        s,
        1222,
        820,
        430,
        INK_SOFT,
        SKINS[2],
        BRICK,
        SEA_DEEP,
        "cap",
        (((-0.1, 0.02), (-0.2, -0.08)), ((0.04, 0.16), (0.04, 0.28))),
    )
    s.stroke([(1094, 450), (1052, 404)], 11, SAND)
    s.stroke([(1052, 404), (1038, 390)], 22, LAMP)
    for x, fill in ((1010, BRICK), (1070, LAMP), (940, SEA)):
        s.shape(box(x, 980, x + 50, 1036), GRAY, 1)
        s.disc(x + 25, 980, 25, fill, 9)
    person(s, 520, 1050, 420, LAMP, SKINS[3], INK, INK, "long", (((-0.05, 0.15), (-0.03, 0.3)), DOWN[1]))
    s.blob([(430, 900), (500, 900), (512, 990), (420, 990)], SEA)
    person(
        s,
        660,
        1054,
        270,
        PAPER,
        SKINS[3],
        INK,
        BRICK_DEEP,
        "short",
        (DOWN[0], ((0.1, -0.02), (0.18, -0.14))),
        child=True,
    )


def fish(s: Sheet, x: float, y: float, size: float, fill: str, way: int) -> None:
    """A painted fish; way 1 swims right, -1 left."""
    tail = [
        (x - way * size * 0.7, y),
        (x - way * size * 1.15, y - size * 0.4),
        (x - way * size * 1.0, y),
        (x - way * size * 1.15, y + size * 0.4),
    ]
    s.shape(tail, DARKER[fill], 2)
    s.blob(
        [
            (x - way * size * 0.3, y - size * 0.3),
            (x + way * size * 0.05, y - size * 0.62),
            (x + way * size * 0.3, y - size * 0.34),
        ],
        DARKER[fill],
    )
    body = [
        (x + way * size * 0.9, y),
        (x + way * size * 0.5, y - size * 0.32),
        (x, y - size * 0.42),
        (x - way * size * 0.5, y - size * 0.22),
        (x - way * size * 0.78, y),
        (x - way * size * 0.5, y + size * 0.22),
        (x, y + size * 0.4),
        (x + way * size * 0.5, y + size * 0.3),
    ]
    s.blob(body, fill)
    for at in range(5):
        bx = x + way * size * (0.28 - at * 0.2)
        for row in range(-2, 3):
            scale = oval(bx, y + row * size * 0.13, size * 0.09, size * 0.08)
            s.inside(smooth(body), [(scale, DARKER[fill] if (at + row) % 2 else LAMP_PALE)])
    s.blob(
        [
            (x + way * size * 0.1, y + size * 0.04),
            (x - way * size * 0.16, y + size * 0.26),
            (x - way * size * 0.02, y - size * 0.02),
        ],
        DARKER[fill],
    )
    s.disc(x + way * size * 0.58, y - size * 0.08, size * 0.085, PAPER)
    s.disc(x + way * size * 0.6, y - size * 0.08, size * 0.045, INK)
    s.stroke(
        [(x + way * size * 0.88, y + size * 0.04), (x + way * size * 0.7, y + size * 0.1)], size * 0.025, INK
    )


def parade(s: Sheet) -> None:
    s.shape(box(-9, -9, WIDTH + 9, 780), SEA_DEEP)
    for _ in range(26):
        s.disc(s.random.uniform(0, WIDTH), s.random.uniform(0, 160), s.random.uniform(1.6, 3.2), PAPER)
    shops = (
        (-20, 380, 600, BRICK_DEEP, LAMP),
        (360, 330, 520, INK, BRICK),
        (690, 360, 640, BRICK, PAPER),
        (1050, 300, 540, SEA, LAMP),
        (1350, 280, 610, BRICK_DEEP, BRICK_PALE),
    )
    for x, wide, tall, fill, trim in shops:
        s.shape(box(x, 790 - tall, x + wide, 790), fill)
        s.cuts(
            box(x, 790 - tall, x + wide, 560), DARKER[fill] if fill != INK else INK_SOFT, 0, 26, 60, 4, 0.4
        )
        s.shape(box(x - 8, 780 - tall, x + wide + 8, 806 - tall), trim, 1)
        for at in range(3):
            left = x + wide * (0.12 + at * 0.29)
            panes(
                s,
                left,
                840 - tall,
                left + wide * 0.18,
                920 - tall + 20,
                LAMP_DEEP if (at + wide) % 2 else LAMP_PALE,
                PAPER,
                2,
                2,
            )
        s.shape(box(x + 18, 580, x + wide - 18, 770), LAMP)
        s.cuts(box(x + 18, 580, x + wide - 18, 770), LAMP_DEEP, 90, 40, 80, 6, 0.4)
        for at in range(4):
            left = x + 34 + at * (wide - 60) / 4
            s.shape(box(left, 690 - at % 2 * 30, left + 44, 766), (BRICK, SEA, PAPER, BRICK_DEEP)[at], 1)
        stripes = int(wide / 44)
        for at in range(stripes):
            left = x + 8 + at * (wide - 16) / stripes
            s.shape(
                [
                    (left, 540),
                    (left + (wide - 16) / stripes, 540),
                    (left + (wide - 16) / stripes, 588),
                    (left, 588),
                ],
                (trim, PAPER)[at % 2] if trim != PAPER else (SEA, PAPER)[at % 2],
                0.4,
            )
    for row, (y, drop) in enumerate(((250, 84), (400, 96))):
        for at in range(5):
            x = at * 420 - 200 + row * 200
            path = smooth([(x, y), (x + 210, y + drop), (x + 420, y)], closed=False)
            s.stroke(path, 4, INK)
            for k in range(0, len(path), 2):
                glow(s, path[k][0], path[k][1] + 13, 17, (LAMP_DEEP, LAMP_PALE))
    s.shape([(-9, 784), (WIDTH + 9, 784), (WIDTH + 9, 1090), (-9, 1090)], INK_SOFT)
    s.cuts(box(0, 800, WIDTH, HEIGHT), LAMP_DEEP, 0, 40, 110, 6, 0.4)
    s.shape(box(-9, 776, WIDTH + 9, 802), SAND, 1)
    for at, x in enumerate((60, 150, 1480, 1560, 1400)):
        person(
            s,
            x,
            870,
            260 + at % 2 * 24,
            (SEA, LAMP_DEEP, BRICK, SEA_PALE, GRAY)[at],
            SKINS[at % 4],
            INK,
            INK,
            ("cap", "short", "long", "bun", "cap")[at],
            DOWN,
        )
    player(s, 560, 1050, 640, SKINS[0])
    s.shape(box(430, 770, 690, 900), LAMP)
    s.shape(box(430, 770, 690, 792), BRICK_DEEP, 1)
    s.shape(box(430, 880, 690, 902), BRICK_DEEP, 1)
    for at in range(6):
        s.stroke([(434 + at * 44, 792), (456 + at * 44, 880), (478 + at * 44, 792)], 5, INK)
    s.disc(560, 770, 130, PAPER, 24)
    for side in (-1, 1):
        arm(
            s, [(560 + side * 66, 572), (560 + side * 130, 660), (560 + side * 100, 716)], 54, BRICK, SKINS[0]
        )
        s.stroke([(560 + side * 116, 706), (560 + side * 20, 760)], 9, SAND)
    for x, tall, coat, skin, hair, cut in (
        (890, 430, LAMP, SKINS[1], BRICK, "cap"),
        (1230, 380, SEA, SKINS[2], INK, "long"),
    ):
        hand = (x + tall * 0.36, 1050 - tall * 0.62)
        s.rays(oval(hand[0], hand[1] + 40, 170, 170), hand[0], hand[1] + 46, 60, 170, LAMP, 24, 9)
        person(
            s,
            x,
            1050,
            tall,
            coat,
            skin,
            hair,
            BRICK_PALE,
            cut,
            (DOWN[0], ((0.12, 0.12), (0.26, 0.08))),
            child=True,
        )
        glow(s, hand[0], hand[1] + 50, 62, (LAMP_DEEP, LAMP_PALE))
        jar(s, hand[0], hand[1], 52)


def birthday_cake(s: Sheet) -> None:
    tall: float
    s.shape(box(-9, -9, WIDTH + 9, 800), BRICK_DEEP)
    s.disc(800, 330, 560, BRICK)
    s.rays(box(0, 0, WIDTH, 800), 800, 340, 330, 980, LAMP_DEEP, 72, 11)
    for at in range(6):
        x = at * 300 - 60
        path = smooth([(x, 20), (x + 150, 84), (x + 300, 20)], closed=False)
        s.stroke(path, 5, INK)
        for k in range(1, len(path) - 1, 3):
            s.shape(
                [(path[k][0] - 24, path[k][1]), (path[k][0] + 24, path[k][1]), (path[k][0], path[k][1] + 54)],
                (SEA, LAMP, PAPER, SEA_PALE)[k // 3 % 4],
                1,
            )
    s.shape([(-9, 800), (WIDTH + 9, 800), (WIDTH + 9, 1090), (-9, 1090)], SEA_DEEP)
    s.cuts(box(0, 810, WIDTH, HEIGHT), SEA, 45, 44, 60, 7, 0.5)
    s.cuts(box(0, 810, WIDTH, HEIGHT), SEA, 135, 44, 60, 7, 0.5)
    s.disc(800, 930, 470, PAPER, 62)
    s.disc(800, 918, 440, SEA_PALE, 50)
    s.shape([(730, 960), (870, 960), (930, 1040), (670, 1040)], PAPER, 2)
    tiers = (
        (800, 900, 380, 210, LAMP_PALE),
        (800, 700, 280, 180, BRICK_PALE),
        (800, 530, 180, 150, LAMP_PALE),
    )
    for x, bottom, half, tall, fill in tiers:
        s.disc(x, bottom - 4, half, fill, half * 0.1)
        s.shape(box(x - half, bottom - tall, x + half, bottom), fill, 1)
        s.cuts(box(x + half * 0.3, bottom - tall + 50, x + half, bottom), DARKER[fill], 90, 24, 70, 7, 0.7)
        s.disc(x, bottom - tall, half, PAPER, half * 0.11)
        count = int(half / 27)
        for at in range(count):
            dx = -half + (at + 0.5) * half * 2 / count
            drip = s.random.uniform(30, 64)
            s.stroke(
                [(x + dx, bottom - tall + 4), (x + dx, bottom - tall + drip)],
                half * 2 / count * 0.94,
                PAPER,
                end_width=half * 2 / count * 0.6,
            )
        for at in range(count + 2):
            dx = -half + at * half * 2 / (count + 1)
            s.disc(
                x + dx,
                bottom + half * 0.1 * math.sqrt(max(1 - (dx / half) ** 2, 0)) - 6,
                20,
                (BRICK, SEA)[at % 2],
            )
            s.disc(x + dx - 5, bottom + half * 0.1 * math.sqrt(max(1 - (dx / half) ** 2, 0)) - 12, 6, PAPER)
    candles = [(800 + dx, 378 + 18 * (1 - (dx / 170) ** 2)) for dx in range(-150, 151, 50)]
    candles += [(800 + side * dx, 530 + (4 if dx > 230 else 12)) for side in (-1, 1) for dx in (205, 240)] + [
        (800 + side * dx, 700 + (6 if dx > 330 else 14)) for side in (-1, 1) for dx in (305, 350)
    ]
    for at, (x, y) in enumerate(sorted(candles)):
        tall = 92.0
        fill = (SEA, PAPER, LAMP, SEA_PALE)[at % 4]
        s.shape(box(x - 9, y - tall, x + 9, y), fill, 0.5)
        for k in range(4):
            s.stroke([(x - 9, y - 16 - k * 20), (x + 9, y - 26 - k * 20)], 5, BRICK)
        s.blob(
            [(x, y - tall - 64), (x + 19, y - tall - 22), (x, y - tall - 2), (x - 19, y - tall - 22)], LAMP
        )
        s.blob([(x, y - tall - 42), (x + 9, y - tall - 18), (x, y - tall - 6), (x - 9, y - tall - 18)], PAPER)
    for x, fill in ((180, SEA), (1390, LAMP)):
        s.shape(box(x - 100, 830, x + 100, 990), fill)
        s.shape(box(x - 112, 806, x + 112, 850), DARKER[fill], 1)
        s.shape(box(x - 17, 806, x + 17, 990), PAPER, 1)
        for side in (-1, 1):
            s.blob([(x, 806), (x + side * 30, 750), (x + side * 84, 760), (x + side * 60, 800)], PAPER)


def fire_truck(s: Sheet) -> None:
    brickwork(s, box(-9, -9, WIDTH + 9, 840), SAND, LAMP_DEEP, 40, 0.35)
    s.shape([(210, 850), (210, 250), (420, 130), (1180, 130), (1390, 250), (1390, 850)], PAPER)
    s.shape([(250, 850), (250, 272), (432, 170), (1168, 170), (1350, 272), (1350, 850)], SEA_DEEP)
    s.cuts(box(250, 170, 1350, 850), INK, 90, 44, 220, 8, 0.6)
    for left in (330, 580, 830, 1080):
        panes(s, left, 290, left + 180, 420, LAMP_DEEP, SEA, 2, 2)
    s.stroke([(800, -9), (800, 40)], 8, INK)
    s.shape([(740, 92), (776, 40), (824, 40), (860, 92)], INK, 1)
    s.disc(800, 94, 40, LAMP_PALE, 20)
    s.shape([(-9, 840), (WIDTH + 9, 840), (WIDTH + 9, 1090), (-9, 1090)], GRAY)
    s.cuts(box(0, 850, WIDTH, HEIGHT), INK_SOFT, 0, 40, 160, 6, 0.5)
    s.disc(800, 980, 640, INK_SOFT, 34)
    s.shape(box(150, 800, 1440, 850), INK)
    s.shape(box(150, 600, 760, 810), BRICK)
    s.cuts(box(150, 700, 760, 806), BRICK_DEEP, 0, 22, 120, 6, 0.6)
    s.stroke([(176, 640), (736, 640)], 6, LAMP)
    s.stroke([(176, 770), (736, 770)], 6, LAMP)
    s.shape([(760, 810), (760, 560), (900, 560), (900, 810)], BRICK)
    s.shape(box(730, 520, 900, 572), BRICK_DEEP)
    s.shape([(780, 520), (770, 420), (800, 410), (816, 520)], BRICK_DEEP, 1)
    s.shape([(900, 810), (900, 640), (960, 610), (1330, 620), (1350, 810)], BRICK)
    s.cuts([(900, 810), (900, 720), (1340, 720), (1350, 810)], BRICK_DEEP, 0, 20, 100, 6, 0.6)
    for x in range(990, 1300, 44):
        s.stroke([(x, 660), (x, 740)], 10, BRICK_DEEP)
    s.shape([(1330, 600), (1376, 600), (1386, 820), (1330, 820)], LAMP)
    s.cuts(box(1334, 610, 1380, 812), LAMP_DEEP, 90, 10, 120, 4)
    s.shape([(930, 620), (950, 440), (966, 440), (950, 620)], INK, 1)
    s.shape([(956, 446), (1010, 470), (1000, 610), (944, 610)], SEA_PALE, 1)
    s.stroke([(880, 560), (936, 510)], 11, INK)
    s.stroke([(908, 470), (964, 556)], 11, INK)
    for at in range(2):
        s.stroke([(110, 548 - at * 62), (900, 470 - at * 62)], 14, PAPER)
    for at in range(15):
        x = 140 + at * 53
        y = 545 - (x - 110) * 0.0987
        s.stroke([(x, y), (x, y - 62)], 10, PAPER)
    for x in (230, 560):
        s.stroke([(x, 600), (x, 530)], 12, LAMP)
    for x, y, r in ((250, 690, 46), (372, 690, 46)):
        s.disc(x, y, r, LAMP_DEEP)
        s.disc(x, y, r * 0.78, LAMP)
        s.disc(x, y, r * 0.62, PAPER)
        s.stroke([(x, y), (x + r * 0.34, y - r * 0.34)], 6, INK)
    for at in range(4):
        s.disc(560, 706, 76 - at * 18, (SAND, INK_SOFT, SAND, INK_SOFT)[at])
    s.stroke([(620, 740), (690, 770), (720, 750)], 20, SAND, curved=True)
    s.stroke([(1130, 620), (1130, 560)], 12, INK)
    s.stroke([(1066, 566), (1066, 480), (1130, 450), (1194, 480), (1194, 566)], 11, INK, curved=True)
    s.blob(
        [
            (1066, 576),
            (1090, 540),
            (1098, 490),
            (1130, 466),
            (1162, 490),
            (1170, 540),
            (1194, 576),
            (1130, 588),
        ],
        LAMP,
    )
    s.cuts(
        smooth([(1130, 470), (1162, 490), (1170, 540), (1194, 576), (1130, 588)]), LAMP_DEEP, 80, 14, 60, 6
    )
    s.cuts(oval(1102, 520, 14, 40), PAPER, 96, 10, 50, 6)
    s.disc(1130, 592, 15, LAMP_DEEP)
    s.stroke([(1382, 690), (1430, 690)], 11, INK)
    s.disc(1426, 680, 52, LAMP_DEEP)
    s.disc(1436, 680, 42, PAPER)
    s.disc(1440, 680, 26, LAMP_PALE)
    s.stroke(
        [(900, 812), (1010, 812), (1080, 752), (1260, 748), (1350, 812), (1440, 830)],
        24,
        BRICK_DEEP,
        curved=True,
    )
    s.stroke([(160, 780), (260, 730), (420, 734), (500, 800)], 24, BRICK_DEEP, curved=True)
    for x, r in ((340, 150), (1200, 150)):
        s.disc(x, 870, r, INK)
        s.disc(x, 870, r * 0.8, PAPER)
        s.disc(x, 870, r * 0.72, BRICK_DEEP)
        for step in range(12):
            a = step * math.tau / 12
            s.stroke(
                [(x, 870), (x + r * 0.74 * math.cos(a), 870 + r * 0.74 * math.sin(a))],
                15,
                BRICK,
                end_width=11,
            )
        s.disc(x, 870, r * 0.24, LAMP)
        s.disc(x, 870, r * 0.11, LAMP_DEEP)


def river_cleanup(s: Sheet) -> None:
    s.shape(box(-9, -9, WIDTH + 9, 420), SEA_PALE)
    s.cuts(box(0, 0, WIDTH, 300), PAPER, 3, 34, 200, 8, 0.5)
    s.blob(
        [
            (-60, 470),
            (-60, 250),
            (200, 200),
            (480, 290),
            (700, 330),
            (900, 300),
            (1180, 210),
            (1420, 230),
            (1660, 180),
            (1660, 470),
        ],
        SEA,
    )
    s.cuts(
        smooth(
            [
                (-60, 470),
                (-60, 250),
                (200, 200),
                (480, 290),
                (700, 330),
                (900, 300),
                (1180, 210),
                (1420, 230),
                (1660, 180),
                (1660, 470),
            ]
        ),
        SEA_DEEP,
        75,
        30,
        60,
        8,
        0.6,
    )
    for x, tall in ((90, 330), (210, 260), (1390, 300), (1500, 360), (1290, 240)):
        tree(s, x, 440, tall * 0.3, -90, 19, INK, 6)
    s.shape(
        [(-9, 430), (520, 410), (760, 424), (1000, 410), (WIDTH + 9, 436), (WIDTH + 9, 520), (-9, 520)],
        LAMP_DEEP,
        3,
    )
    s.cuts(box(0, 420, WIDTH, 500), BRICK_DEEP, 84, 18, 40, 6, 0.6)
    sea(s, 476, HEIGHT + 10, SEA, SEA_PALE)
    s.cuts(box(0, 520, WIDTH, HEIGHT), SEA_DEEP, 0, 36, 160, 9, 0.6)
    waders = (
        (
            520,
            890,
            640,
            LAMP,
            SKINS[0],
            BRICK,
            "cap",
            (((-0.08, 0.14), (0.02, 0.22)), ((0.1, 0.14), (0.22, 0.16))),
        ),
        (
            1080,
            890,
            640,
            BRICK,
            SKINS[1],
            INK,
            "bun",
            (((-0.1, 0.14), (-0.22, 0.16)), ((0.08, 0.14), (-0.02, 0.22))),
        ),
    )
    for x, foot, tall, coat, skin, hair, cut, _ in waders:
        person(s, x, foot, tall, coat, skin, hair, SEA_DEEP, cut, (), stride=0.07)
        bib = [
            (x - tall * 0.1, foot - tall * 0.62),
            (x + tall * 0.1, foot - tall * 0.62),
            (x + tall * 0.155, foot - tall * 0.32),
            (x - tall * 0.155, foot - tall * 0.32),
        ]
        s.shape(bib, SEA_DEEP)
        s.cuts(bib, SEA, 88, 18, 60, 5)
        for side in (-1, 1):
            s.stroke(
                [(x + side * tall * 0.08, foot - tall * 0.6), (x + side * tall * 0.06, foot - tall * 0.8)],
                15,
                SEA_DEEP,
            )
            s.disc(x + side * tall * 0.08, foot - tall * 0.6, 8, LAMP)
        s.disc(x, foot, tall * 0.22, SEA, tall * 0.05)
        for at in range(3):
            s.cuts(
                oval(x, foot, tall * (0.2 + at * 0.07), tall * (0.045 + at * 0.02)), PAPER, 0, 15, 70, 5, 0.55
            )
    s.disc(800, 600, 178, INK)
    s.disc(800, 600, 178, INK)
    for step in range(28):
        a = step * math.tau / 28
        s.stroke(
            [
                (800 + 160 * math.cos(a), 600 + 160 * math.sin(a)),
                (800 + 182 * math.cos(a), 600 + 182 * math.sin(a)),
            ],
            11,
            INK_SOFT,
        )
    s.disc(800, 600, 128, INK_SOFT)
    s.disc(800, 600, 96, GRAY)
    s.disc(800, 600, 84, SEA)
    s.cuts(box(720, 560, 880, 680), SEA_PALE, 0, 18, 60, 5, 0.5)
    s.cuts(oval(800, 600, 170, 170), GRAY, 70, 60, 40, 6, 0.2)
    for x in (690, 760, 830, 890, 800):
        top = 772 + s.random.uniform(-14, 8)
        s.stroke([(x, top), (x, top + s.random.uniform(30, 84))], 7, SEA_PALE, end_width=11)
    s.stroke([(700, 710), (670, 800), (700, 850)], 15, LAMP_DEEP, curved=True, end_width=5)
    for x, foot, tall, coat, _, _, _, arms in waders:
        for side, bends in zip((-1, 1), arms, strict=True):
            start = (x + side * tall * 0.1, foot - tall * 0.755)
            arm(
                s,
                [start, *((start[0] + dx * tall, start[1] + dy * tall) for dx, dy in bends)],
                tall * 0.082,
                coat,
                LAMP_PALE,
            )
    s.blob([(-60, 1090), (-60, 880), (80, 850), (260, 920), (340, 1010), (300, 1090)], BRICK_DEEP)
    s.cuts(
        smooth([(-60, 1090), (-60, 880), (80, 850), (260, 920), (340, 1010), (300, 1090)]),
        LAMP_DEEP,
        20,
        26,
        60,
        7,
    )
    for x, y, fill in ((80, 900, PAPER), (196, 940, SAND)):
        s.blob(
            [
                (x - 60, y + 50),
                (x - 70, y - 30),
                (x - 16, y - 80),
                (x + 22, y - 80),
                (x + 70, y - 20),
                (x + 60, y + 50),
            ],
            fill,
        )
        s.stroke([(x - 26, y - 70), (x + 32, y - 70)], 11, BRICK)
        s.cuts(oval(x, y, 54, 46), DARKER[fill], 80, 20, 40, 5)
    for at in range(11):
        x = 1330 + at * 26
        top = s.random.uniform(620, 760)
        s.stroke(
            [(x, 1090), (x + 10, 900), (x + s.random.uniform(-30, 50), top)],
            12,
            (SEA_DEEP, LAMP_DEEP, INK)[at % 3],
            curved=True,
            end_width=4,
        )
        if at % 3 == 0:
            s.stroke([(x + 12, top + 60), (x + 20, top - 30)], 26, BRICK_DEEP)


def choir(s: Sheet) -> None:
    x: float
    s.shape(box(-9, -9, WIDTH + 9, HEIGHT + 9), BRICK_DEEP)
    s.cuts(box(0, 0, WIDTH, HEIGHT), BRICK, 0, 38, 90, 5, 0.4)
    for x in (300, 800, 1300):
        s.disc(x, 190, 152, PAPER)
        s.shape(box(x - 152, 186, x + 152, 620), PAPER, 1)
        s.disc(x, 192, 134, SEA_DEEP)
        s.shape(box(x - 134, 190, x + 134, 620), SEA_DEEP, 1)
        for at, fill in enumerate((LAMP, SEA, BRICK_PALE, LAMP_PALE, SEA_PALE, LAMP)):
            column, row = at % 2, at // 2
            s.shape(
                box(x - 122 + column * 128, 204 + row * 130, x - 6 + column * 128, 320 + row * 130), fill, 1
            )
        s.inside(box(x - 122, 40, x + 122, 192), [(oval(x, 192, 122, 120), SEA)])
        s.rays(box(x - 122, 70, x + 122, 190), x, 196, 60, 112, LAMP, 22, 17)
        s.inside(box(x - 60, 100, x + 60, 192), [(oval(x, 192, 50, 50), LAMP)])
    rows = ((490, 112, 7, 0), (640, 132, 6, 1), (822, 156, 5, 0))
    for at, (y, size, count, shift) in enumerate(rows):
        if at:
            s.shape(box(-9, y + size * 0.6, WIDTH + 9, HEIGHT + 9), BRICK_DEEP, 1)
        for k in range(count):
            x = WIDTH * (k + 0.5) / count
            singer(s, x, y, size, (k * 3 + at * 2 + shift) % 4, (k + at) % 3)


def singer(s: Sheet, x: float, y: float, size: float, who: int, dress: int) -> None:
    """A singer from the waist up with an open book; `size` is the head's height."""
    robe = (SEA, LAMP, SEA_PALE)[dress]
    shoulders = [
        (x - size * 0.95, y + size * 1.6),
        (x - size * 0.86, y + size * 0.62),
        (x - size * 0.4, y + size * 0.4),
        (x + size * 0.4, y + size * 0.4),
        (x + size * 0.86, y + size * 0.62),
        (x + size * 0.95, y + size * 1.6),
    ]
    s.blob(shoulders, robe)
    s.cuts(smooth(shoulders), DARKER[robe], 86, size * 0.16, size * 0.4, size * 0.04, 0.6)
    s.shape(
        [(x - size * 0.34, y + size * 0.38), (x + size * 0.34, y + size * 0.38), (x, y + size * 0.86)],
        PAPER,
        1,
    )
    head(
        s,
        x,
        y,
        size * 0.5,
        SKINS[who],
        (INK, GRAY, BRICK, INK)[(who + dress) % 4],
        ("short", "long", "bun", "short")[(who + dress * 2) % 4],
    )
    for side in (-1, 1):
        s.stroke(
            [
                (x + side * size * 0.27, y + size * 0.0),
                (x + side * size * 0.18, y + size * 0.04),
                (x + side * size * 0.1, y),
            ],
            size * 0.035,
            INK,
            curved=True,
        )
    s.disc(x, y + size * 0.25, size * 0.085, BRICK_DEEP, size * 0.115)
    top = y + size * 0.86
    for side in (-1, 1):
        s.shape(
            [
                (x, top + size * 0.1),
                (x + side * size * 0.52, top),
                (x + side * size * 0.52, top + size * 0.52),
                (x, top + size * 0.62),
            ],
            PAPER,
            1,
        )
        for line in range(3):
            s.stroke(
                [
                    (x + side * size * 0.1, top + size * (0.2 + line * 0.12)),
                    (x + side * size * 0.44, top + size * (0.13 + line * 0.12)),
                ],
                size * 0.022,
                GRAY,
            )
        s.disc(x + side * size * 0.5, top + size * 0.42, size * 0.12, SKINS[who])
    s.stroke([(x, top + size * 0.1), (x, top + size * 0.62)], size * 0.035, INK)


def chess_club(s: Sheet) -> None:
    s.shape(box(-9, -9, WIDTH + 9, HEIGHT + 9), SEA)
    s.cuts(box(0, 0, WIDTH, 620), SEA_DEEP, 0, 36, 160, 7, 0.5)
    for top in (60, 270):
        s.shape(box(520, top, 1080, top + 176), INK)
        x = 536.0
        while x < 1050:
            wide, tall = s.random.uniform(22, 44), s.random.uniform(110, 158)
            s.shape(
                box(x, top + 176 - tall, x + wide, top + 176),
                s.random.choice((BRICK, LAMP, PAPER, SEA_PALE, BRICK_PALE)),
                1,
            )
            x += wide + 4
        s.shape(box(504, top + 174, 1096, top + 194), LAMP_DEEP, 1)
    for x, coat, who, cut, hair in ((270, BRICK, 1, "bun", INK), (1330, LAMP, 0, "short", BRICK_DEEP)):
        size = 250
        y = 300
        side = 1 if x < 800 else -1
        torso = [
            (x - 250, 900),
            (x - 240, 600),
            (x - 120, 500),
            (x + 120, 500),
            (x + 240, 600),
            (x + 250, 900),
        ]
        s.blob(torso, coat)
        s.cuts(smooth(torso), DARKER[coat], 84, 36, 110, 9, 0.5)
        head(s, x, y + 10, size * 0.6, SKINS[who], hair, cut, side * 0.2)
        for dx in (-0.16, 0.2):
            eye = x + side * size * (dx + 0.06)
            s.stroke([(eye - 20, y + 44), (eye, y + 56), (eye + 20, y + 44)], 7, INK, curved=True)
        s.stroke(
            [(x + side * 14 - 26, y + 104), (x + side * 14, y + 112), (x + side * 14 + 26, y + 104)],
            7,
            BRICK_DEEP,
            curved=True,
        )
    s.shape([(180, 600), (1420, 600), (1700, 1090), (-100, 1090)], BRICK_DEEP)
    s.cuts([(180, 600), (1420, 600), (1700, 1090), (-100, 1090)], INK, 0, 30, 160, 6, 0.5)

    def on(u: float, v: float) -> Point:
        far = 0.62 * v + 0.38 * v * v
        half = 330 + 330 * far
        return (800 - half + 2 * half * u, 640 + 420 * far)

    s.shape([on(-0.04, -0.05), on(1.04, -0.05), on(1.04, 1.05), on(-0.04, 1.05)], LAMP_DEEP, 1)
    for row in range(8):
        for column in range(8):
            s.shape(
                [
                    on(column / 8, row / 8),
                    on((column + 1) / 8, row / 8),
                    on((column + 1) / 8, (row + 1) / 8),
                    on(column / 8, (row + 1) / 8),
                ],
                (PAPER, INK)[(row + column) % 2],
                0.4,
            )
    for column, row, fill, kind in (
        (1, 1, BRICK, "pawn"),
        (4, 1, BRICK, "pawn"),
        (6, 1, BRICK, "rook"),
        (2, 2, LAMP, "pawn"),
        (5, 3, BRICK, "pawn"),
        (3, 3, LAMP, "pawn"),
        (0, 4, LAMP, "rook"),
        (6, 5, LAMP, "pawn"),
        (1, 5, BRICK, "pawn"),
        (3, 5, LAMP, "knight"),
        (5, 6, BRICK, "king"),
    ):
        stands = on((column + 0.5) / 8, (row + 0.62) / 8)
        piece(s, *stands, 58 + 15 * row, fill, kind)
    arm(s, [(90, 800), (250, 850), (452, 690)], 96, BRICK, SKINS[1])
    arm(s, [(1530, 780), (1440, 860), (1286, 866)], 96, LAMP, SKINS[0])


def piece(s: Sheet, x: float, y: float, size: float, fill: str, kind: str) -> None:
    """A chess piece standing at (x, y): pawn, rook, knight or king."""
    edge = DARKER[fill]
    s.disc(x + size * 0.12, y + size * 0.06, size * 0.52, GRAY, size * 0.16)
    s.disc(x, y, size * 0.46, edge, size * 0.15)
    s.disc(x, y - size * 0.1, size * 0.4, fill, size * 0.13)
    if kind == "knight":
        horse = [
            (-0.3, -0.14),
            (-0.26, -0.7),
            (-0.1, -1.2),
            (0.02, -1.62),
            (0.12, -1.4),
            (0.34, -1.24),
            (0.58, -0.9),
            (0.54, -0.72),
            (0.36, -0.74),
            (0.16, -0.84),
            (0.3, -0.5),
            (0.3, -0.14),
        ]
        s.blob([(x + dx * size, y + dy * size) for dx, dy in horse], fill)
        s.disc(x + size * 0.2, y - size * 1.12, size * 0.05, INK)
        for k in range(4):
            s.stroke(
                [
                    (x - size * (0.16 - k * 0.03), y - size * (0.5 + k * 0.24)),
                    (x - size * (0.02 - k * 0.03), y - size * (0.6 + k * 0.24)),
                ],
                size * 0.06,
                edge,
            )
        return
    tall = {"pawn": 0.9, "rook": 1.1, "king": 1.5}[kind]
    s.shape(
        [
            (x - size * 0.3, y - size * 0.14),
            (x - size * 0.15, y - size * tall),
            (x + size * 0.15, y - size * tall),
            (x + size * 0.3, y - size * 0.14),
        ],
        fill,
        1,
    )
    s.cuts(
        [
            (x + size * 0.02, y - size * 0.14),
            (x + size * 0.02, y - size * tall),
            (x + size * 0.15, y - size * tall),
            (x + size * 0.3, y - size * 0.14),
        ],
        edge,
        84,
        size * 0.1,
        size * 0.4,
        size * 0.06,
        0.8,
    )
    s.disc(x, y - size * tall, size * 0.27, edge, size * 0.08)
    if kind == "pawn":
        s.disc(x, y - size * (tall + 0.22), size * 0.25, fill)
    elif kind == "rook":
        s.shape(box(x - size * 0.3, y - size * (tall + 0.3), x + size * 0.3, y - size * tall), fill, 1)
        for dx in (-0.12, 0.12):
            s.shape(
                box(
                    x + size * (dx - 0.05),
                    y - size * (tall + 0.32),
                    x + size * (dx + 0.05),
                    y - size * (tall + 0.18),
                ),
                edge,
                0.5,
            )
    else:
        s.blob(
            [
                (x - size * 0.16, y - size * tall),
                (x - size * 0.3, y - size * (tall + 0.34)),
                (x, y - size * (tall + 0.44)),
                (x + size * 0.3, y - size * (tall + 0.34)),
                (x + size * 0.16, y - size * tall),
            ],
            fill,
        )
        s.stroke([(x, y - size * (tall + 0.4)), (x, y - size * (tall + 0.72))], size * 0.09, fill)
        s.stroke(
            [(x - size * 0.13, y - size * (tall + 0.58)), (x + size * 0.13, y - size * (tall + 0.58))],
            size * 0.09,
            fill,
        )


def apple_orchard(s: Sheet) -> None:
    x: float
    y: float
    s.shape(box(-9, -9, WIDTH + 9, 560), LAMP_PALE)
    s.cuts(box(0, 0, WIDTH, 480), PAPER, -4, 36, 220, 9, 0.6)
    s.blob(
        [(-60, 600), (-60, 420), (240, 360), (560, 430), (860, 470), (1200, 390), (1660, 430), (1660, 600)],
        SEA,
    )
    s.cuts(
        smooth(
            [
                (-60, 600),
                (-60, 420),
                (240, 360),
                (560, 430),
                (860, 470),
                (1200, 390),
                (1660, 430),
                (1660, 600),
            ]
        ),
        SEA_DEEP,
        12,
        30,
        90,
        6,
        0.5,
    )
    s.shape([(-9, 540), (WIDTH + 9, 540), (WIDTH + 9, 1090), (-9, 1090)], SEA_PALE)
    s.cuts(box(0, 550, WIDTH, HEIGHT), SEA, 78, 70, 26, 6, 0.35)
    s.shape([(780, 540), (830, 540), (1090, 1090), (360, 1090)], SAND, 3)
    s.cuts([(780, 540), (830, 540), (1090, 1090), (360, 1090)], LAMP_DEEP, 84, 40, 70, 7, 0.4)
    for x, y, size in (
        (700, 548, 42),
        (900, 548, 42),
        (610, 576, 62),
        (990, 576, 62),
        (470, 622, 96),
        (1130, 622, 96),
    ):
        apple_tree(s, x, y, size)
    apple_tree(s, 150, 860, 250)
    apple_tree(s, 1300, 940, 330)
    for dx in (0, 96):
        s.stroke([(1030 + dx, 1010), (1200 + dx * 0.5, 420)], 19, PAPER)
        s.stroke([(1036 + dx, 1010), (1204 + dx * 0.5, 420)], 5, LAMP_DEEP)
    for at in range(9):
        y = 970 - at * 62
        x = 1030 + (1010 - y) * 0.288
        s.stroke([(x, y), (x + 96 - (1010 - y) * 0.081, y)], 13, PAPER)
    for x, y, wide in ((420, 1030, 230), (680, 1050, 250), (540, 900, 210), (820, 910, 190)):
        crate(s, x, y, wide)
    for _ in range(16):
        x, y = s.random.uniform(1080, 1580), s.random.uniform(990, 1056)
        s.disc(x, y, 17, s.random.choice((BRICK, BRICK, LAMP)))
        s.stroke([(x, y - 14), (x + 5, y - 24)], 4, INK)


def apple_tree(s: Sheet, x: float, y: float, size: float) -> None:
    """A tree full of apples; `size` is its crown's half-width, y its foot."""
    s.stroke(
        [(x - size * 0.08, y), (x + size * 0.03, y - size * 0.6), (x, y - size * 1.2)],
        size * 0.26,
        BRICK_DEEP,
        curved=True,
        end_width=size * 0.16,
    )
    s.stroke([(x, y - size * 0.7), (x - size * 0.5, y - size * 1.2)], size * 0.13, BRICK_DEEP)
    s.stroke([(x, y - size * 0.75), (x + size * 0.5, y - size * 1.25)], size * 0.13, BRICK_DEEP)
    crown = [
        (-1.0, -1.2),
        (-0.86, -1.62),
        (-0.5, -1.8),
        (-0.3, -2.14),
        (0.1, -2.2),
        (0.42, -2.0),
        (0.8, -1.86),
        (1.02, -1.46),
        (0.9, -1.08),
        (0.5, -0.98),
        (0.1, -1.06),
        (-0.3, -0.94),
        (-0.72, -1.0),
    ]
    leaves = [(x + dx * size, y + dy * size) for dx, dy in crown]
    s.blob(leaves, SEA_DEEP)
    s.blob(
        [(x + dx * size * 0.84 - size * 0.1, y + (dy + 1.5) * size * 0.8 - size * 1.58) for dx, dy in crown],
        SEA,
    )
    s.cuts(smooth(leaves), SEA_PALE, 55, size * 0.14, size * 0.16, size * 0.03, 0.4)
    s.cuts(smooth(leaves), INK, 125, size * 0.2, size * 0.14, size * 0.03, 0.3)
    placed: list[Point] = []
    for _ in range(200):
        dx, dy = s.random.uniform(-0.84, 0.84), s.random.uniform(-2.0, -1.08)
        if (dx / 0.84) ** 2 + ((dy + 1.5) / 0.42) ** 2 > 1 or any(
            math.dist((dx, dy), other) < 0.26 for other in placed
        ):
            continue
        placed.append((dx, dy))
        s.disc(x + dx * size, y + dy * size, size * 0.085, BRICK)
        s.disc(x + dx * size - size * 0.024, y + dy * size - size * 0.028, size * 0.022, PAPER)
        s.stroke(
            [
                (x + dx * size, y + dy * size - size * 0.07),
                (x + dx * size + size * 0.02, y + dy * size - size * 0.12),
            ],
            size * 0.018,
            INK,
        )


def crate(s: Sheet, x: float, y: float, wide: float) -> None:
    """A slatted crate heaped with apples; y is its lower edge."""
    tall = wide * 0.46
    for row in range(2):
        for at in range(6 - row):
            ax, ay = x + wide * (0.1 + at * 0.16 + row * 0.08), y - tall - wide * (0.0 + row * 0.11)
            s.disc(ax, ay, wide * 0.098, (BRICK, BRICK, LAMP)[(at + row) % 3])
            s.disc(ax - wide * 0.03, ay - wide * 0.034, wide * 0.022, PAPER)
            s.stroke([(ax, ay - wide * 0.08), (ax + wide * 0.02, ay - wide * 0.13)], wide * 0.018, INK)
    s.shape(box(x, y - tall, x + wide, y), INK, 1)
    for at in range(3):
        top = y - tall + at * tall * 0.35
        s.shape(box(x - 6, top, x + wide + 6, top + tall * 0.27), LAMP_DEEP, 1)
        s.cuts(box(x, top, x + wide, top + tall * 0.27), BRICK_DEEP, 0, 10, 70, 3, 0.6)
    for left in (x, x + wide - 22):
        s.shape(box(left, y - tall, left + 22, y), SAND, 1)


PICTURES: dict[str, Callable[[Sheet], None]] = {
    "apple-orchard": apple_orchard,
    "bakery": bakery,
    "birthday-cake": birthday_cake,
    "boathouse": boathouse,
    "brass-band": brass_band,
    "chess-club": chess_club,
    "choir": choir,
    "coat-closet": coat_closet,
    "dog-adoption": dog_adoption,
    "fire-truck": fire_truck,
    "food-boxes": food_boxes,
    "harbor-dawn": harbor_dawn,
    "lantern-walk": lantern_walk,
    "library": library,
    "lighthouse": lighthouse,
    "mural": mural,
    "parade": parade,
    "quilt": quilt,
    "river-cleanup": river_cleanup,
    "school-garden": school_garden,
    "seal-pup": seal_pup,
    "tide-pool": tide_pool,
    "toy-shelf": toy_shelf,
    "winter-shelter": winter_shelter,
}
"""Each picture by its file's name."""


def drawn(name: str) -> bytes:
    """The named picture as a JPEG."""
    sheet = Sheet(name, PAPER)
    PICTURES[name](sheet)
    return sheet.jpeg()


def main(names: Sequence[str]) -> None:
    PHOTOS.mkdir(parents=True, exist_ok=True)
    for name in names or sorted(PICTURES):
        (PHOTOS / f"{name}.jpg").write_bytes(drawn(name))


if __name__ == "__main__":
    main(sys.argv[1:])
