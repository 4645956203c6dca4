"""Share pictures: what a link to the site looks like where people pass it on, 1200 × 630 pixels.

A card is drawn from its words and the theme's colours alone, so the same words give the same bytes with the same
versions of Pillow and the font.
"""

from __future__ import annotations

import hashlib
import re
from dataclasses import dataclass
from functools import partial
from io import BytesIO
from typing import TYPE_CHECKING

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
    type_digest,
    wrapped,
)
from sitegen.typeset.theme import Theme

if TYPE_CHECKING:
    from PIL.Image import Image

WIDTH, HEIGHT = 1200, 630
"""Pixels: 1.91 to 1, which the places where links are passed on show whole. Common practice, no source."""
MEDIA_TYPE = "image/png"
RECIPE = "card 1"
"""Raised whenever the way cards are drawn changes."""

MARGIN = 64
COLUMN = WIDTH - 2 * MARGIN
HEADLINE_SIZES = range(92, 43, -4)
"""Pixels of type, the first that fits; a headline too long for the last is cut short at a word."""
STEPS = 15
"""Shades between a letter and its ground at the letter's edge."""
LEADING = 1.12
"""Line height of a headline, in sizes of its type."""

_TOKENS = ("paper", "ink", "soft", "lamp", "on-lamp", "edge")


@dataclass(frozen=True, slots=True)
class Palette:
    """The colours of a card, as `#rrggbb`."""

    paper: str
    ink: str
    soft: str
    lamp: str
    on_lamp: str
    edge: str


@dataclass(frozen=True, slots=True)
class Card:
    """The words of a share picture and the colours to set them in."""

    palette: Palette
    headline: str
    area: str
    """Its counties, in one line; may be empty."""
    doing: str
    """What a viewer can do, or a line about the programme; may be empty."""
    when: str
    """When it opens, happens or ends; may be empty."""
    programme: str
    station: str

    @property
    def address(self) -> str:
        """Site address of the picture: a digest of all that it is drawn from."""
        drawn_from = (RECIPE, type_digest(), repr(self))
        return f"pictures/share-{hashlib.sha256(chr(0).join(drawn_from).encode()).hexdigest()[:20]}.png"

    @property
    def alternative(self) -> str:
        """The same in words, for those who do not see it."""
        lines = (self.headline, self.area, self.doing, self.when, self.programme)
        said = [line for line in lines if line]
        return " ".join(line if line[-1] in ".!?…" else f"{line}." for line in said)

    @property
    def inks(self) -> tuple[tuple[str, str, str], ...]:
        """(words, their colour, the ground they stand on) of every text on it."""
        colours = self.palette
        texts = (
            (self.headline, colours.ink, colours.paper),
            (self.area, colours.soft, colours.paper),
            (self.doing, colours.ink, colours.paper),
            (self.when, colours.on_lamp, colours.lamp),
            (self.programme, colours.ink, colours.paper),
            (self.station, colours.soft, colours.paper),
        )
        return tuple(text for text in texts if text[0])


def palette_of(theme: Theme) -> Palette | None:
    """The light colours of a theme, from the custom properties of `:root` in its stylesheet; None for a theme
    that does not name them all, which then has no share pictures."""
    for name, data in theme.assets:
        if not name.endswith(".css"):
            continue
        found = re.search(r":root\s*\{(.*?)\}", data.decode("utf-8", "replace"), re.DOTALL)
        tokens = dict(re.findall(r"--([\w-]+):\s*(#[0-9a-fA-F]{6})\b", found[1])) if found else {}
        if all(token in tokens for token in _TOKENS):
            return Palette(*(tokens[token].lower() for token in _TOKENS))
    return None


def drawable(card: Card) -> Card | None:
    """The card with only what its type can draw: symbols it lacks are left out. None when letters are lacking."""
    texts = (card.headline, card.area, card.doing, card.when, card.programme, card.station)
    kept = [words for text in texts if (words := drawable_words(text)) is not None]
    return Card(card.palette, *kept) if len(kept) == len(texts) and kept[0] else None


def draw_card(card: Card) -> bytes:
    """The picture, as a PNG without metadata."""
    from PIL import Image, ImageDraw

    colours = card.palette
    picture = Image.new("RGB", (WIDTH, HEIGHT), colours.paper)
    draw = ImageDraw.Draw(picture)
    right = WIDTH - MARGIN
    draw.rectangle((MARGIN, 52, right, 56), fill=colours.ink)
    draw.rectangle((MARGIN, 57, MARGIN + 120, 68), fill=colours.lamp)
    top = 92
    if card.area:
        put(
            draw,
            (MARGIN, top),
            cut(card.area, face(REGULAR, 38), COLUMN),
            face(REGULAR, 38),
            colours.soft,
        )
        top += 56
    bottom = 520
    if card.when:
        font = face(BOLD, 40)
        words = cut(card.when, font, COLUMN - 40)
        draw.rectangle((MARGIN, 462, MARGIN + 40 + round(length(font, words)), 526), fill=colours.lamp)
        put(draw, (MARGIN + 20, 468), words, font, colours.on_lamp)
        bottom = 446
    if card.doing:
        font = face(REGULAR, 36)
        lines = wrapped(card.doing, partial(length, font), COLUMN)
        shown = lines[:1] if card.when else lines[:3]
        if len(lines) > len(shown):
            shown[-1] = cut(f"{shown[-1]} {lines[len(shown)]}", font, COLUMN, always=True)
        for line in reversed(shown):
            bottom -= 48
            put(draw, (MARGIN, bottom), line, font, colours.ink)
        bottom -= 14
    size, lines = _headline(card.headline, bottom - top)
    for line in lines:
        put(draw, (MARGIN, top), line, face(BOLD, size), colours.ink)
        top += round(size * LEADING)
    for y in (548, 555):
        draw.rectangle((MARGIN, y, right, y + 2), fill=colours.edge)
    programme = cut(card.programme, face(BOLD, 36), COLUMN * 6 // 10)
    put(draw, (MARGIN, 566), programme, face(BOLD, 36), colours.ink)
    room = COLUMN - length(face(BOLD, 36), programme) - 40
    font = face(REGULAR, 30)
    station = cut(card.station, font, room)
    put(draw, (right - round(length(font, station)), 571), station, font, colours.soft)
    written = BytesIO()
    picture.quantize(palette=_steps(card), dither=Image.Dither.NONE).save(written, "PNG", compress_level=6)
    return written.getvalue()


def _steps(card: Card) -> Image:
    """A palette of the card's colours and the steps between letters and their ground: a third of the file's size."""
    from PIL import Image, ImageColor

    pairs = dict.fromkeys((ink, ground) for _, ink, ground in card.inks)
    colours: list[tuple[int, ...]] = [
        ImageColor.getrgb(colour) for colour in (card.palette.edge, card.palette.lamp)
    ]
    for ink, ground in pairs:
        one, other = ImageColor.getrgb(ink), ImageColor.getrgb(ground)
        for step in range(STEPS + 1):
            colours.append(
                tuple((a * step + b * (STEPS - step)) // STEPS for a, b in zip(one, other, strict=True))
            )
    palette = Image.new("P", (1, 1))
    palette.putpalette([channel for colour in dict.fromkeys(colours) for channel in colour])
    return palette


def _headline(words: str, room: int) -> tuple[int, list[str]]:
    """The largest type in which a headline fits, and its lines."""
    for size in HEADLINE_SIZES:
        measured = partial(length, face(BOLD, size))
        lines = greedy(words, measured, COLUMN)
        if len(lines) * round(size * LEADING) <= room and max(map(measured, lines)) <= COLUMN:
            return size, wrapped(words, measured, COLUMN)
    size = HEADLINE_SIZES[-1]
    font = face(BOLD, size)
    most = room // round(size * LEADING)
    lines = [
        part for line in greedy(words, partial(length, font), COLUMN) for part in pieces(line, font, COLUMN)
    ]
    if len(lines) > most:
        lines[most - 1] = cut(f"{lines[most - 1]} {lines[most]}", font, COLUMN, always=True)
    return size, lines[:most]
