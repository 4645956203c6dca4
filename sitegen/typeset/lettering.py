"""Type for pictures: the letters of the program's own font, measured, broken into lines, cut and drawn.

The type is Source Serif, free under the SIL Open Font License 1.1, which the package `font-source-serif-pro` carries;
Pillow's own letters have no accents. The same words give the same pixels with the same versions of Pillow and the font.
"""

from __future__ import annotations

import hashlib
import unicodedata
from collections.abc import Callable, Sequence
from functools import lru_cache
from importlib.util import find_spec
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.ImageDraw import ImageDraw
    from PIL.ImageFont import FreeTypeFont

REGULAR, BOLD = "SourceSerifPro-Semibold.ttf", "SourceSerifPro-Bold.ttf"

_FONT_PACKAGE = "font_source_serif_pro"
# What everyone's type has: a quick answer for nearly every headline.
_PLAIN = frozenset(
    "".join(chr(code) for code in (*range(0x20, 0x7F), *range(0xC0, 0x180))) + "¡¿«»·×£€‘’“”–—…"
)


def drawable_words(words: str) -> str | None:
    """The words with only what the type can draw: symbols it lacks are left out. None when letters are lacking."""
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


def wrapped(words: str, length: Callable[[str], float], width: float) -> list[str]:
    """A text in lines at most `width` long, broken at spaces, as few and then as even as they can be.

    A word longer than a line stands alone and sticks out.
    """
    lines = greedy(words, length, width)
    narrower = width
    while narrower > width / 2:
        narrower -= width / 40
        tighter = greedy(words, length, narrower)
        if len(tighter) > len(lines) or max(map(length, tighter), default=0) > narrower:
            break
        lines = tighter
    return lines


def greedy(words: str, length: Callable[[str], float], width: float) -> list[str]:
    """A text in lines, each as full as it can be."""
    lines: list[str] = []
    for word in words.split(" "):
        if lines and length(f"{lines[-1]} {word}") <= width:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


def pieces(line: str, font: FreeTypeFont, width: float) -> list[str]:
    """A line in pieces that fit, broken inside a word only where a word is longer than the line."""
    found: list[str] = []
    while length(font, line) > width:
        end = max(1, next(at for at in range(len(line), 0, -1) if length(font, line[:at]) <= width))
        found.append(line[:end])
        line = line[end:]
    return [*found, line]


def cut(words: str, font: FreeTypeFont, width: float, always: bool = False) -> str:
    """Words in one line: whole where they fit (and are not known to go on), else cut at a word, with an ellipsis."""
    if not always and length(font, words) <= width:
        return words
    parts: Sequence[str] = words.split(" ")
    for count in range(len(parts) - (1 if always else 0), 0, -1):
        line = " ".join(parts[:count]).rstrip(" ,;:.–—-") + "…"
        if length(font, line) <= width:
            return line
    for count in range(len(words), 0, -1):
        if length(font, f"{words[:count]}…") <= width:
            return f"{words[:count]}…"
    return "…"


# Lines are broken by trying, so that most are measured again and again.
@lru_cache(maxsize=8192)
def length(font: FreeTypeFont, words: str) -> float:
    """Pixels from a line's beginning to its last ink or advance: the ink of some last signs ends later."""
    return max(font.getlength(words), font.getbbox(words)[2])


def put(draw: ImageDraw, at: tuple[int, int], words: str, font: FreeTypeFont, colour: str) -> None:
    """Draws a line, the top of its ascenders at the point."""
    draw.text(at, words, font=font, fill=colour)


@lru_cache(maxsize=64)
def face(name: str, size: int) -> FreeTypeFont:
    """The type of one of the two weights, in pixels."""
    from PIL import ImageFont

    # The basic layout engine is Pillow's own: the other one is not there on every machine.
    return ImageFont.truetype(BytesIO(_font_bytes(name)), size, layout_engine=ImageFont.Layout.BASIC)


@lru_cache(maxsize=4096)
def _has_glyph(sign: str) -> bool:
    font = face(BOLD, 40)
    return bytes(font.getmask(sign)) != bytes(font.getmask("\U0010fffe"))


@lru_cache(maxsize=2)
def _font_bytes(name: str) -> bytes:
    spec = find_spec(_FONT_PACKAGE)
    assert spec is not None and spec.submodule_search_locations  # a declared dependency
    return (Path(spec.submodule_search_locations[0]) / "files" / name).read_bytes()


@lru_cache(maxsize=1)
def type_digest() -> str:
    """A digest of the letters' files, for the names of pictures that are drawn with them."""
    return hashlib.sha256(_font_bytes(REGULAR) + _font_bytes(BOLD)).hexdigest()
