"""Share pictures: what a link to the site looks like where people pass it on, 1200 × 630 pixels.

A card is drawn from its words and the theme's colours alone, so the same words give the same bytes with the same
versions of Pillow and the font. The type is Source Serif, free under the SIL Open Font License 1.1, which the
package `font-source-serif-pro` carries; Pillow's own letters have no accents.
"""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache, partial
from importlib.util import find_spec
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from sitegen.typeset.theme import Theme

if TYPE_CHECKING:
    from PIL.Image import Image
    from PIL.ImageDraw import ImageDraw
    from PIL.ImageFont import FreeTypeFont

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

_FONT_PACKAGE = "font_source_serif_pro"
_REGULAR, _BOLD = "SourceSerifPro-Semibold.ttf", "SourceSerifPro-Bold.ttf"
_TOKENS = ("paper", "ink", "soft", "lamp", "on-lamp", "edge")
# What everyone's type has: a quick answer for nearly every headline.
_PLAIN = frozenset(
    "".join(chr(code) for code in (*range(0x20, 0x7F), *range(0xC0, 0x180))) + "¡¿«»·×£€‘’“”–—…"
)


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
        drawn_from = (RECIPE, _type_digest(), repr(self))
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
    kept = [words for text in texts if (words := _drawable(text)) is not None]
    return Card(card.palette, *kept) if len(kept) == len(texts) and kept[0] else None


def _drawable(words: str) -> str | None:
    composed = unicodedata.normalize("NFC", words)
    kept = []
    for sign in composed:
        if unicodedata.category(sign) in ("Cf", "Cc"):
            continue  # places to break and directions of writing, not letters
        if sign in _PLAIN or _has_glyph(sign):
            kept.append(sign)
        elif unicodedata.category(sign)[0] in "LN":
            return None
        elif unicodedata.category(sign)[0] == "Z":
            kept.append(" ")
    return " ".join("".join(kept).split(" ")).strip()


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
        _text(
            draw,
            (MARGIN, top),
            _cut(card.area, _type(_REGULAR, 38), COLUMN),
            _type(_REGULAR, 38),
            colours.soft,
        )
        top += 56
    bottom = 520
    if card.when:
        font = _type(_BOLD, 40)
        words = _cut(card.when, font, COLUMN - 40)
        draw.rectangle((MARGIN, 462, MARGIN + 40 + round(_length(font, words)), 526), fill=colours.lamp)
        _text(draw, (MARGIN + 20, 468), words, font, colours.on_lamp)
        bottom = 446
    if card.doing:
        font = _type(_REGULAR, 36)
        lines = wrapped(card.doing, partial(_length, font), COLUMN)
        shown = lines[:1] if card.when else lines[:3]
        if len(lines) > len(shown):
            shown[-1] = _cut(f"{shown[-1]} {lines[len(shown)]}", font, COLUMN, always=True)
        for line in reversed(shown):
            bottom -= 48
            _text(draw, (MARGIN, bottom), line, font, colours.ink)
        bottom -= 14
    size, lines = _headline(card.headline, bottom - top)
    for line in lines:
        _text(draw, (MARGIN, top), line, _type(_BOLD, size), colours.ink)
        top += round(size * LEADING)
    for y in (548, 555):
        draw.rectangle((MARGIN, y, right, y + 2), fill=colours.edge)
    programme = _cut(card.programme, _type(_BOLD, 36), COLUMN * 6 // 10)
    _text(draw, (MARGIN, 566), programme, _type(_BOLD, 36), colours.ink)
    room = COLUMN - _length(_type(_BOLD, 36), programme) - 40
    font = _type(_REGULAR, 30)
    station = _cut(card.station, font, room)
    _text(draw, (right - round(_length(font, station)), 571), station, font, colours.soft)
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


def wrapped(words: str, length: Callable[[str], float], width: float) -> list[str]:
    """A text in lines at most `width` long, broken at spaces, as few and then as even as they can be.

    A word longer than a line stands alone and sticks out.
    """
    lines = _greedy(words, length, width)
    narrower = width
    while narrower > width / 2:
        narrower -= width / 40
        tighter = _greedy(words, length, narrower)
        if len(tighter) > len(lines) or max(map(length, tighter), default=0) > narrower:
            break
        lines = tighter
    return lines


def _greedy(words: str, length: Callable[[str], float], width: float) -> list[str]:
    lines: list[str] = []
    for word in words.split(" "):
        if lines and length(f"{lines[-1]} {word}") <= width:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


def _headline(words: str, room: int) -> tuple[int, list[str]]:
    """The largest type in which a headline fits, and its lines."""
    for size in HEADLINE_SIZES:
        length = partial(_length, _type(_BOLD, size))
        lines = _greedy(words, length, COLUMN)
        if len(lines) * round(size * LEADING) <= room and max(map(length, lines)) <= COLUMN:
            return size, wrapped(words, length, COLUMN)
    size = HEADLINE_SIZES[-1]
    font = _type(_BOLD, size)
    most = room // round(size * LEADING)
    lines = [part for line in _greedy(words, partial(_length, font), COLUMN) for part in _pieces(line, font)]
    if len(lines) > most:
        lines[most - 1] = _cut(f"{lines[most - 1]} {lines[most]}", font, COLUMN, always=True)
    return size, lines[:most]


def _pieces(line: str, font: FreeTypeFont) -> list[str]:
    """A line in pieces that fit, broken inside a word only where a word is longer than the column."""
    pieces: list[str] = []
    while _length(font, line) > COLUMN:
        end = max(1, next(at for at in range(len(line), 0, -1) if _length(font, line[:at]) <= COLUMN))
        pieces.append(line[:end])
        line = line[end:]
    return [*pieces, line]


def _cut(words: str, font: FreeTypeFont, width: float, always: bool = False) -> str:
    """Words in one line: whole where they fit (and are not known to go on), else cut at a word, with an ellipsis."""
    if not always and _length(font, words) <= width:
        return words
    parts: Sequence[str] = words.split(" ")
    for count in range(len(parts) - (1 if always else 0), 0, -1):
        line = " ".join(parts[:count]).rstrip(" ,;:.–—-") + "…"
        if _length(font, line) <= width:
            return line
    for count in range(len(words), 0, -1):
        if _length(font, f"{words[:count]}…") <= width:
            return f"{words[:count]}…"
    return "…"


def _length(font: FreeTypeFont, words: str) -> float:
    """Pixels from a line's beginning to its last ink or advance: the ink of some last signs ends later."""
    return max(font.getlength(words), font.getbbox(words)[2])


def _text(draw: ImageDraw, at: tuple[int, int], words: str, font: FreeTypeFont, colour: str) -> None:
    draw.text(at, words, font=font, fill=colour)


@lru_cache(maxsize=64)
def _type(name: str, size: int) -> FreeTypeFont:
    from PIL import ImageFont

    # The basic layout engine is Pillow's own: the other one is not there on every machine.
    return ImageFont.truetype(BytesIO(_font_bytes(name)), size, layout_engine=ImageFont.Layout.BASIC)


@lru_cache(maxsize=4096)
def _has_glyph(sign: str) -> bool:
    font = _type(_BOLD, 40)
    return bytes(font.getmask(sign)) != bytes(font.getmask("\U0010fffe"))


@lru_cache(maxsize=2)
def _font_bytes(name: str) -> bytes:
    spec = find_spec(_FONT_PACKAGE)
    assert spec is not None and spec.submodule_search_locations  # a declared dependency
    return (Path(spec.submodule_search_locations[0]) / "files" / name).read_bytes()


@lru_cache(maxsize=1)
def _type_digest() -> str:
    return hashlib.sha256(_font_bytes(_REGULAR) + _font_bytes(_BOLD)).hexdigest()
