"""On-air graphics: for one ask a full screen and a lower strip, 1920 × 1080, each opaque and with alpha.

What binds them, and where it is from:

- **Title-safe area.** 90 % of width and height, x 96 to 1824 and y 54 to 1026 (SMPTE ST 2046-1:2009, as texts that are free to
  read cite it; the standard's own text was not at hand). Nothing is drawn outside of it but the opaque ground.
- **Caption rows.** Captions have 15 rows (47 CFR 79.101 (d)), and captions that roll up stand on the lowest two to four of
  them: rows 12 to 15 at most. Row 12 begins on line 43 + 11 × 13 = 186 of a field whose picture begins on line 22 and has 241
  lines (line numbers from memory): 68.0 % from the top, y 735. Everything ends above that, so neither hides the other.
- **Smallest type.** Small letters without ascenders at least 30 lines high in a picture of 1080 (UK advertising's preferred
  height for text on screen, BCAP's guidance as Clearcast publishes it: help.clearcast.co.uk, "Legal supers: text size").
- **Contrast.** 7:1 (WCAG 2.2, 1.4.6), proven by `proof/graphicscheck.py` from `Graphic.inks`. All words stand on a solid box.
- **QR codes.** Four light modules around (`codes.QUIET_MODULES`), and modules of at least 5 pixels, which are more than two of
  a picture of 480 lines: two samples a module is what any reader needs (common practice, no source).

A headline is cut at a word where it is too long. A date, a place, a phone number and an address never are: one that does not fit
gives way to a shorter wording, or is left out, and the QR code leads on. A place gives way to a headline, too, and stands on the full screen alone. The same words give the same bytes with the same versions of Pillow, segno and the font.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache, partial
from io import BytesIO
from typing import TYPE_CHECKING, Literal, TypeAlias

from sitegen.typeset.cards import Palette
from sitegen.typeset.codes import QUIET_MODULES
from sitegen.typeset.lettering import (
    BOLD,
    REGULAR,
    cut,
    drawable_words,
    face,
    greedy,
    length,
    pieces,
    put,
    wrapped,
)

if TYPE_CHECKING:
    from PIL.Image import Image
    from PIL.ImageDraw import ImageDraw

WIDTH, HEIGHT = 1920, 1080
LEFT, TOP, RIGHT = 96, 54, 1824
"""The title-safe area, which ends as far above the picture's end as it begins below its top; the right is the first pixel outside of it."""
CAPTIONS_TOP = 735
"""The first line that caption row 12 may cover."""
BOTTOM = CAPTIONS_TOP - 15
"""Where the boxes end: a little above the captions."""

SMALLEST = 64
"""Pixels of type: in both weights of the font its small letters are then 31 pixels high (measured), of 30 wanted."""
LARGEST = 112
LEADING = 1.16
PAD = 28
EDGE = 6
"""Of the box, in the palette's ink."""
GAP = 18
PLATE = 14
"""How far a plate reaches beyond its words, left and right."""
LEAST_MODULE = 5
"""Pixels of a module of the QR code."""
FULL_CODE, STRIP_CODE = 440, 270
"""The most pixels a side of a QR code may have, its light edge included."""
BLACK, WHITE = "#000000", "#ffffff"

Shape: TypeAlias = Literal["full", "strip"]
SHAPES: tuple[Shape, ...] = ("full", "strip")


@dataclass(frozen=True, slots=True)
class Graphic:
    """The words of an ask's graphics and the colours to set them in."""

    palette: Palette
    what: str
    """What is asked."""
    whens: tuple[str, ...]
    """Until when, or when it opens or happens, in several wordings, the best first: the first that fits is shown. May be empty."""
    addresses: tuple[str, ...]
    """Addresses to show, likewise."""
    leads_to: str
    """The absolute address the QR code leads to."""
    call: str = ""
    """Whom to call, or what to do before giving; may be empty."""
    wheres: tuple[str, ...] = ()
    """Where, likewise; empty where there is not one place alone."""

    @property
    def inks(self) -> tuple[tuple[str, str, str], ...]:
        """(words, their colour, the ground they stand on) of every text, and of the QR code."""
        colours = self.palette
        texts = (
            (self.what, colours.ink, colours.paper),
            (self.whens[0] if self.whens else "", colours.on_lamp, colours.lamp),
            (self.wheres[0] if self.wheres else "", colours.ink, colours.paper),
            (self.call, colours.ink, colours.paper),
            (self.addresses[0] if self.addresses else "", colours.ink, colours.paper),
            (self.leads_to, BLACK, WHITE),
        )
        return tuple(text for text in texts if text[0])


@dataclass(frozen=True, slots=True)
class Line:
    """One line of words where it will stand."""

    words: str
    size: int
    weight: str
    x: int
    y: int
    """The top of the ascenders."""
    plate: bool = False
    """It stands on a plate of lamp colour."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Where everything of one graphic stands. Boxes are (left, top, right, bottom), the last two the first pixels outside."""

    box: tuple[int, int, int, int]
    lines: tuple[Line, ...]
    code: tuple[int, int, int] | None
    """(left, top, pixels a module) of the QR code with its light edge; None for an address too long for one."""
    when: str
    """The wording that is shown; empty where none fits."""
    address: str
    """The address that is shown; empty where none fits."""
    where: str = ""
    """The place that is shown, likewise."""


def drawable_graphic(graphic: Graphic) -> Graphic | None:
    """The graphic with only what its type can draw. None when letters are lacking; an address or a place that lacks any sign is left out."""
    what, call = drawable_words(graphic.what), drawable_words(graphic.call)
    whens = [drawable_words(words) for words in graphic.whens]
    if not what or call is None or None in whens:
        return None
    addresses = tuple(each for each in graphic.addresses if drawable_words(each) == each)
    wheres = tuple(each for each in graphic.wheres if drawable_words(each) == each)
    return Graphic(
        graphic.palette,
        what,
        tuple(words for words in whens if words),
        addresses,
        graphic.leads_to,
        call,
        wheres,
    )


# --- where everything stands -----------------------------------------------------------------


def lay_out(graphic: Graphic, shape: Shape) -> Layout:
    """Where the words and the code of a graphic stand."""
    full = shape == "full"
    modules = _modules(graphic.leads_to)
    module = min((FULL_CODE if full else STRIP_CODE) // modules, 12) if modules else 0
    has_code = module >= LEAST_MODULE
    side = module * modules if has_code else 0
    left = LEFT + EDGE + PAD
    width = RIGHT - EDGE - PAD - left - (side + 2 * PAD if has_code else 0)
    # Three lines of date, one of a call, two of an address and one of the headline fit into the full screen; two, one, one
    # and one into the strip.
    room = BOTTOM - TOP - 2 * (EDGE + PAD) if full else 5 * _step(SMALLEST) + 3 * GAP
    address, address_lines = _address(graphic.addresses, width, most=2 if full else 1)
    when, when_lines = _first_whole(graphic.whens, width - 2 * PLATE, most=3 if full else 2)
    call_lines = _first_whole((graphic.call,), width, most=1)[1]
    below = (when_lines, call_lines, address_lines)
    room -= sum(map(_height, below))
    size, what_lines = _headline(graphic.what, width, room, most=4 if full else 2, grows=full)
    where, where_lines = "", list[str]()
    for wording in graphic.wheres if full else ():
        lines_of_it = _first_whole((wording,), width, most=2)[1]
        left_over = room - _height(lines_of_it)
        smaller, shorter = _headline(graphic.what, width, left_over, most=4, grows=True)
        # A place that would cut the headline is left to the page.
        whole = "".join(shorter).replace(" ", "") == graphic.what.replace(" ", "")
        if lines_of_it and whole and len(shorter) * _step(smaller) <= left_over:
            where, where_lines, size, what_lines = wording, lines_of_it, smaller, shorter
            break

    rows: list[tuple[list[str], int, str, bool]] = [(what_lines, size, BOLD, False)]
    rows += [(when_lines, SMALLEST, BOLD, True), (where_lines, SMALLEST, BOLD, False)]
    rows += [(call_lines, SMALLEST, BOLD, False), (address_lines, SMALLEST, REGULAR, False)]
    rows = [row for row in rows if row[0]]
    tall = sum(len(row[0]) * _step(row[1]) for row in rows) + GAP * (len(rows) - 1)
    inner = max(tall, side)
    top = TOP if full else BOTTOM - inner - 2 * (EDGE + PAD)
    box = (LEFT, top, RIGHT, BOTTOM)
    middle = (top + BOTTOM) // 2
    y = middle - tall // 2
    lines: list[Line] = []
    for words, type_size, weight, plate in rows:
        for each in words:
            lines.append(Line(each, type_size, weight, left + (PLATE if plate else 0), y, plate))
            y += _step(type_size)
        y += GAP
    code = (RIGHT - EDGE - PAD - side, middle - side // 2, module) if has_code else None
    return Layout(box, tuple(lines), code, when, address, where)


def _height(lines: list[str]) -> int:
    """What lines of the smallest type take, with the gap beside them; nothing where there are none."""
    return len(lines) * _step(SMALLEST) + GAP if lines else 0


def _step(size: int) -> int:
    return round(size * LEADING)


def _lines(words: str, width: float, most: int) -> list[str]:
    """A text in at most so many lines, cut at a word where it is longer."""
    font = face(BOLD, SMALLEST)
    lines = [
        part for line in greedy(words, partial(length, font), width) for part in pieces(line, font, width)
    ]
    if len(lines) > most:
        lines[most - 1] = cut(f"{lines[most - 1]} {lines[most]}", font, width, always=True)
    return lines[:most]


def _first_whole(wordings: tuple[str, ...], width: float, most: int) -> tuple[str, list[str]]:
    """The first wording that stands whole in so many lines, and its lines."""
    font = face(BOLD, SMALLEST)
    for words in wordings:
        lines = wrapped(words, partial(length, font), width) if words else []
        if lines and len(lines) <= most and all(length(font, line) <= width for line in lines):
            return words, lines
    return "", []


def _headline(words: str, width: float, room: float, most: int, grows: bool) -> tuple[int, list[str]]:
    """The largest type in which a headline fits, and its lines."""
    for size in range(LARGEST, SMALLEST, -4) if grows else ():
        font = face(BOLD, size)
        lines = greedy(words, partial(length, font), width)
        if len(lines) * _step(size) <= room and all(length(font, line) <= width for line in lines):
            return size, lines
    fits = max(1, min(most, int(room // _step(SMALLEST))))
    return SMALLEST, _lines(words, width, fits)


def _address(addresses: tuple[str, ...], width: float, most: int) -> tuple[str, list[str]]:
    """The first address that fits whole, and its lines, broken after a slash and nowhere else."""
    font = face(REGULAR, SMALLEST)
    for address in addresses:
        lines = [""]
        for part in re.findall(r"[^/]*/|[^/]+", address):
            if length(font, lines[-1] + part) <= width or not lines[-1]:
                lines[-1] += part
            else:
                lines.append(part)
        if len(lines) <= most and all(length(font, line) <= width for line in lines):
            return address, lines
    return "", []


# --- the QR code -----------------------------------------------------------------------------


@lru_cache(maxsize=64)
def _code(address: str) -> tuple[tuple[bool, ...], ...]:
    """The modules of a QR code, dark ones true; empty for an address too long for any."""
    import segno

    # Level M restores 15 % that a picture lost on its way (ISO/IEC 18004:2015, 6.5.1; figure from memory).
    try:
        code = segno.make_qr(address, error="m", boost_error=False)
    except segno.DataOverflowError:
        return ()
    return tuple(tuple(bool(module) for module in row) for row in code.matrix)


def _modules(address: str) -> int:
    """How many modules a side has, its light edge included; 0 where there is no code."""
    code = _code(address)
    return len(code) + 2 * QUIET_MODULES if code else 0


# --- drawing ---------------------------------------------------------------------------------


def draw_graphic(graphic: Graphic, shape: Shape, *, alpha: bool) -> bytes:
    """One picture as a PNG without metadata.

    With alpha, what is not the box is clear. Opaque, the full screen's ground is the palette's paper, and the strip's is
    black, which a mixer can key out.
    """
    from PIL import Image, ImageDraw

    layout, colours = lay_out(graphic, shape), graphic.palette
    picture = Image.new("RGB", (WIDTH, HEIGHT), colours.paper if shape == "full" else BLACK)
    draw = ImageDraw.Draw(picture)
    left, top, right, bottom = layout.box
    draw.rectangle((left, top, right - 1, bottom - 1), fill=colours.ink)
    draw.rectangle((left + EDGE, top + EDGE, right - 1 - EDGE, bottom - 1 - EDGE), fill=colours.paper)
    for line in layout.lines:
        if line.plate:
            _plate(draw, line, colours.lamp)
    for line in layout.lines:
        ink = colours.on_lamp if line.plate else colours.ink
        put(draw, (line.x, line.y), line.words, face(line.weight, line.size), ink)
    if layout.code is not None:
        _put_code(draw, layout.code, _code(graphic.leads_to))
    if alpha:
        mask = Image.new("L", (WIDTH, HEIGHT), 0)
        ImageDraw.Draw(mask).rectangle((left, top, right - 1, bottom - 1), fill=255)
        clear = Image.new("RGBA", (WIDTH, HEIGHT), (0, 0, 0, 0))
        clear.paste(picture, (0, 0), mask)
        picture = clear
    return _png(picture)


def _plate(draw: ImageDraw, line: Line, colour: str) -> None:
    """The plate under a line, as high as its step, so that the plates of two lines meet."""
    wide = round(length(face(line.weight, line.size), line.words))
    draw.rectangle(
        (line.x - PLATE, line.y, line.x + wide + PLATE - 1, line.y + _step(line.size) + PLATE // 2),
        fill=colour,
    )


def _put_code(draw: ImageDraw, where: tuple[int, int, int], modules: tuple[tuple[bool, ...], ...]) -> None:
    left, top, pixels = where
    side = (len(modules) + 2 * QUIET_MODULES) * pixels
    draw.rectangle((left, top, left + side - 1, top + side - 1), fill=WHITE)
    for down, row in enumerate(modules):
        for across, dark in enumerate(row):
            if dark:
                x = left + (across + QUIET_MODULES) * pixels
                y = top + (down + QUIET_MODULES) * pixels
                draw.rectangle((x, y, x + pixels - 1, y + pixels - 1), fill=BLACK)


def _png(picture: Image) -> bytes:
    written = BytesIO()
    picture.save(written, "PNG", compress_level=6)
    return written.getvalue()
