"""Reads CSS colours: every syntax of CSS Color 4, and `color-mix()`, `light-dark()` and relative colours of Level 5.

The colour library is imported when the first colour needs it; hexadecimal colours, `rgb()` and names do not.
https://www.w3.org/TR/css-color-4/, https://www.w3.org/TR/css-color-5/
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Final, Protocol

from sitegen.proof.contrast.formulas import BLACK, TRANSPARENT, WHITE, Colour, contrast_ratio
from sitegen.proof.contrast.names import names_in
from sitegen.proof.contrast.values import (
    MATH_FUNCTIONS,
    NotANumberError,
    Quantity,
    Token,
    Unknown,
    quantity,
    significant,
    split_on,
)

if TYPE_CHECKING:
    from coloraide import Color


class Surroundings(Protocol):
    """What a colour's meaning can depend on."""

    @property
    def is_dark(self) -> bool:
        """Whether the element is shown in the dark scheme."""

    @property
    def are_colours_forced(self) -> bool:
        """Whether the viewer's own few colours replace the page's."""

    def current_colour(self) -> Colour | Unknown:
        """What `currentcolor` stands for."""


class NeedsSurroundingsError(Exception):
    """The colour can be read only for a given element."""


def _bytes(red: int, green: int, blue: int, alpha: float = 1.0) -> Colour:
    return red / 255, green / 255, blue / 255, alpha


# The system colours (https://www.w3.org/TR/css-color-4/#css-system-colors) have no prescribed values. These are what
# Chromium 156 computes on Linux: light, dark, and both again with forced colours.
_ALL_BLACK = (BLACK, WHITE, BLACK, WHITE)
_ALL_WHITE = (WHITE, _bytes(18, 18, 18), WHITE, BLACK)
_FACE = (_bytes(239, 239, 239), _bytes(107, 107, 107), WHITE, BLACK)
_GREY = (_bytes(128, 128, 128), _bytes(128, 128, 128), _bytes(96, 0, 0), _bytes(63, 242, 63))
_LINK_FORCED = (_bytes(0, 0, 159), _bytes(255, 255, 0))
_SYSTEM: Final[dict[str, tuple[Colour, Colour, Colour, Colour]]] = {
    "canvas": _ALL_WHITE,
    "canvastext": _ALL_BLACK,
    "linktext": (_bytes(0, 0, 238), _bytes(158, 158, 255), *_LINK_FORCED),
    "visitedtext": (_bytes(85, 26, 139), _bytes(208, 173, 240), *_LINK_FORCED),
    "activetext": (_bytes(255, 0, 0), _bytes(255, 0, 0), *_LINK_FORCED),
    "-webkit-link": (_bytes(0, 0, 238), _bytes(158, 158, 255), *_LINK_FORCED),
    "-webkit-activelink": (_bytes(255, 0, 0), _bytes(255, 158, 158), *_LINK_FORCED),
    "buttonface": _FACE,
    "buttontext": _ALL_BLACK,
    "buttonborder": _ALL_BLACK,
    "field": (WHITE, _bytes(59, 59, 59), WHITE, BLACK),
    "fieldtext": _ALL_BLACK,
    "highlight": (
        _bytes(0, 65, 198, 0.8),
        _bytes(0, 65, 198, 0.8),
        _bytes(5, 0, 73, 0.8),
        _bytes(0, 230, 255, 0.8),
    ),
    "highlighttext": (WHITE, WHITE, WHITE, BLACK),
    "selecteditem": (
        _bytes(25, 103, 210),
        _bytes(153, 200, 255),
        _bytes(25, 103, 210),
        _bytes(153, 200, 255),
    ),
    "selecteditemtext": (WHITE, _bytes(59, 59, 59), WHITE, _bytes(59, 59, 59)),
    "mark": (_bytes(255, 255, 0),) * 4,
    "marktext": (BLACK,) * 4,
    "graytext": _GREY,
    "accentcolor": (_bytes(0, 117, 255), _bytes(0, 117, 255), BLACK, WHITE),
    "accentcolortext": (WHITE, WHITE, BLACK, WHITE),
    # Deprecated names stand for newer ones: https://www.w3.org/TR/css-color-4/#deprecated-system-colors
    "activeborder": _ALL_BLACK,
    "activecaption": _ALL_WHITE,
    "appworkspace": _ALL_WHITE,
    "background": _ALL_WHITE,
    "buttonhighlight": _FACE,
    "buttonshadow": _FACE,
    "captiontext": _ALL_BLACK,
    "inactiveborder": _ALL_BLACK,
    "inactivecaption": _ALL_WHITE,
    "inactivecaptiontext": (_bytes(128, 128, 128),) * 4,
    "infobackground": _ALL_WHITE,
    "infotext": _ALL_BLACK,
    "menu": _ALL_WHITE,
    "menutext": _ALL_BLACK,
    "scrollbar": _ALL_WHITE,
    "threeddarkshadow": _ALL_BLACK,
    "threedface": _FACE,
    "threedhighlight": _ALL_BLACK,
    "threedlightshadow": _ALL_BLACK,
    "threedshadow": _ALL_BLACK,
    "window": _ALL_WHITE,
    "windowframe": _ALL_BLACK,
    "windowtext": _ALL_BLACK,
}


def system_colour(name: str, surroundings: Surroundings) -> Colour:
    """The value of a system colour, by its lower-case name."""
    return _SYSTEM[name][surroundings.is_dark + 2 * surroundings.are_colours_forced]


_FUNCTIONS: Final = names_in("rgb rgba hsl hsla hwb lab lch oklab oklch color")


def read_colour(tokens: Sequence[Token], surroundings: Surroundings | None) -> Colour | Unknown | None:
    """The colour some tokens stand for; None where they are no colour at all, `Unknown` where they may be one.

    Without `surroundings` raises `NeedsSurroundingsError` for colours that depend on the element.
    """
    found = significant(tokens)
    if len(found) != 1:
        return None
    return read_colour_token(found[0], surroundings)


def read_colour_token(token: Token, surroundings: Surroundings | None) -> Colour | Unknown | None:
    """The same for a single token."""
    kind = token.type
    if kind == "hash":
        return _hash(token.value)
    if kind == "ident":
        return _named(token.lower_value, surroundings)
    if kind != "function":
        return None
    name = token.lower_name
    if name == "light-dark":
        parts = split_on(token.arguments, ",")
        if len(parts) != 2:
            return None
        if surroundings is None:
            if any(_is_certainly_no_colour(part) for part in parts):
                return None
            raise NeedsSurroundingsError
        return read_colour(parts[1 if surroundings.is_dark else 0], surroundings)
    if name == "color-mix":
        return _mix(token, surroundings)
    if name in _FUNCTIONS:
        arguments = significant(token.arguments)
        if arguments and arguments[0].type == "ident" and arguments[0].lower_value == "from":
            return _relative(name, arguments[1:], surroundings)
        return _function(name, token)
    if name in ("contrast-color", "device-cmyk", "color-contrast", "-webkit-gradient", "alpha"):
        return Unknown(f"the colour function {name}()")
    return None


def _is_certainly_no_colour(tokens: Sequence[Token]) -> bool:
    try:
        return read_colour(tokens, None) is None
    except NeedsSurroundingsError:
        return False


def _named(name: str, surroundings: Surroundings | None) -> Colour | Unknown | None:
    if name == "transparent":
        return TRANSPARENT
    if name == "currentcolor":
        if surroundings is None:
            raise NeedsSurroundingsError
        return surroundings.current_colour()
    if name in _SYSTEM:
        if surroundings is None:
            raise NeedsSurroundingsError
        return system_colour(name, surroundings)
    if name.startswith("-"):
        return Unknown(f"the colour {name}") if "color" in name or "text" in name else None
    return named_colour(name)


@lru_cache(maxsize=512)
def named_colour(name: str) -> Colour | None:
    # The names of CSS are also those of tinycss2's table, which costs no further import.
    from tinycss2.color4 import parse_color

    if not name.isalpha():
        return None
    found: Any = parse_color(name)
    if found is None or found == "currentcolor":
        return None
    red, green, blue = found.coordinates
    return red, green, blue, found.alpha


@lru_cache(maxsize=4096)
def _hash(value: str) -> Colour | None:
    # https://www.w3.org/TR/css-color-4/#hex-notation
    if len(value) in (3, 4):
        value = "".join(digit * 2 for digit in value)
    if len(value) not in (6, 8):
        return None
    try:
        channels = [int(value[start : start + 2], 16) / 255 for start in range(0, len(value), 2)]
    except ValueError:
        return None
    return channels[0], channels[1], channels[2], channels[3] if len(channels) == 4 else 1.0


def _plain_rgb(arguments: Sequence[Token]) -> Colour | None:
    """`rgb()` with nothing but numbers and percentages, in either syntax; None leaves it to the library."""
    kept = [token for token in arguments if not (token.type == "literal" and token.value in (",", "/"))]
    if len(kept) not in (3, 4) or any(token.type not in ("number", "percentage") for token in kept):
        return None
    commas = sum(token.type == "literal" and token.value == "," for token in arguments)
    slashes = sum(token.type == "literal" and token.value == "/" for token in arguments)
    legacy = commas == len(kept) - 1 and not slashes
    modern = not commas and slashes == len(kept) - 3
    if not legacy and not modern:
        return None
    channels = [
        min(1.0, max(0.0, token.value / (100 if token.type == "percentage" else 255))) for token in kept[:3]
    ]
    alpha = 1.0
    if len(kept) == 4:
        alpha = min(1.0, max(0.0, kept[3].value / (100 if kept[3].type == "percentage" else 1)))
    return channels[0], channels[1], channels[2], alpha


def _function(name: str, token: Token) -> Colour | Unknown | None:
    arguments = significant(token.arguments)
    if name in ("rgb", "rgba"):
        plain = _plain_rgb(arguments)
        if plain is not None:
            return plain
    try:
        return _from_library(f"{name}({_written(arguments)})")
    except NotANumberError:
        return None


def _written(arguments: Sequence[Token], names: dict[str, float] | None = None) -> str:
    """Arguments as text the colour library reads, with calculations done and channel names replaced."""
    words = []
    for token in arguments:
        is_named = names is not None and token.type == "ident" and token.lower_value in names
        if is_named or (token.type == "function" and token.lower_name in MATH_FUNCTIONS):
            words.append(_number_text(quantity(token, None, names)))
        else:
            words.append(token.serialize())
    return " ".join(words).replace(" ,", ",")


def _number_text(found: Quantity) -> str:
    value = 0.0 if math.isnan(found.value) else min(1e6, max(-1e6, found.value))
    suffix = {"number": "", "percent": "%", "angle": "deg"}.get(found.kind)
    if suffix is None:
        raise NotANumberError
    return f"{value:.12f}{suffix}"


@lru_cache(maxsize=4096)
def _library_colour(text: str) -> Color | None:
    from coloraide import Color as LibraryColour

    try:
        return LibraryColour(text)
    except (ValueError, TypeError):
        return None


def _to_colour(colour: Color) -> Colour:
    shown = colour.convert("srgb")
    red, green, blue = (0.0 if math.isnan(value) else float(value) for value in shown.coords())
    alpha = float(shown.alpha())
    return red, green, blue, min(1.0, max(0.0, 0.0 if math.isnan(alpha) else alpha))


@lru_cache(maxsize=4096)
def _from_library(text: str) -> Colour | None:
    found = _library_colour(text)
    return None if found is None else _to_colour(found)


# https://www.w3.org/TR/css-color-4/#predefined, and the library's names for the same spaces.
_SPACES: Final = {
    "srgb": "srgb",
    "srgb-linear": "srgb-linear",
    "display-p3": "display-p3",
    "display-p3-linear": "display-p3-linear",
    "a98-rgb": "a98-rgb",
    "prophoto-rgb": "prophoto-rgb",
    "rec2020": "rec2020",
    "lab": "lab",
    "oklab": "oklab",
    "xyz": "xyz-d65",
    "xyz-d50": "xyz-d50",
    "xyz-d65": "xyz-d65",
    "hsl": "hsl",
    "hwb": "hwb",
    "lch": "lch",
    "oklch": "oklch",
}


def interpolation_space(name: str) -> str:
    """The colour library's name of a space colours can be mixed in, or ""."""
    return _SPACES.get(name, "")


def _mix(token: Token, surroundings: Surroundings | None) -> Colour | Unknown | None:
    # https://www.w3.org/TR/css-color-5/#color-mix
    parts = split_on(token.arguments, ",")
    space, hue = "oklab", "shorter"
    method = significant(parts[0]) if parts else []
    if method and method[0].type == "ident" and method[0].lower_value == "in":
        words = [word.lower_value if word.type == "ident" else "" for word in method[1:]]
        if not words or words[0] not in _SPACES:
            return Unknown("the interpolation space of color-mix()")
        space = _SPACES[words[0]]
        if len(words) == 3 and words[2] == "hue":
            hue = words[1]
        elif len(words) != 1:
            return None
        parts = parts[1:]
    if len(parts) != 2:
        return Unknown("color-mix() of other than two colours") if len(parts) > 2 else None
    colours: list[Colour] = []
    shares: list[float | None] = []
    waiting = False
    for part in parts:
        share: float | None = None
        rest: list[Token] = []
        for word in significant(part):
            try:
                found = quantity(word, None)
            except NotANumberError:
                rest.append(word)
                continue
            if found.kind != "percent" or share is not None or not 0 <= found.value <= 100:
                return None
            share = found.value
        try:
            colour = read_colour(rest, surroundings)
        except NeedsSurroundingsError:
            waiting = True
            continue
        if colour is None or isinstance(colour, Unknown):
            return colour
        colours.append(colour)
        shares.append(share)
    if waiting:
        raise NeedsSurroundingsError
    first, second = shares
    if first is None and second is None:
        first = second = 50.0
    elif first is None:
        first = 100 - (second or 0.0)
    elif second is None:
        second = 100 - first
    total = (first or 0.0) + (second or 0.0)
    if total == 0:
        return None
    return mixed(colours[0], colours[1], (second or 0.0) / total, space, hue, min(1.0, total / 100))


@lru_cache(maxsize=4096)
def mixed(one: Colour, other: Colour, share: float, space: str, hue: str, alpha: float) -> Colour:
    """Two colours mixed in a space, `share` of the second; the result's alpha is multiplied by `alpha`."""
    from coloraide import Color as LibraryColour

    mixed = LibraryColour("srgb", one[:3], one[3]).mix(
        LibraryColour("srgb", other[:3], other[3]),
        share,
        space=space,
        hue=hue,
        premultiplied=True,
        powerless=True,
    )
    red, green, blue, kept = _to_colour(mixed)
    return red, green, blue, kept * alpha


# Channel names of each function and how far one unit of the function's own scale reaches:
# https://www.w3.org/TR/css-color-5/#relative-colors
_CHANNELS: Final[dict[str, tuple[str, tuple[str, ...], tuple[float, ...]]]] = {
    "rgb": ("srgb", ("r", "g", "b"), (255, 255, 255)),
    "hsl": ("hsl", ("h", "s", "l"), (1, 100, 100)),
    "hwb": ("hwb", ("h", "w", "b"), (1, 100, 100)),
    "lab": ("lab", ("l", "a", "b"), (1, 1, 1)),
    "lch": ("lch", ("l", "c", "h"), (1, 1, 1)),
    "oklab": ("oklab", ("l", "a", "b"), (1, 1, 1)),
    "oklch": ("oklch", ("l", "c", "h"), (1, 1, 1)),
}


def _relative(
    name: str, arguments: Sequence[Token], surroundings: Surroundings | None
) -> Colour | Unknown | None:
    if not arguments:
        return None
    origin = read_colour_token(arguments[0], surroundings)
    if origin is None or isinstance(origin, Unknown):
        return origin
    from coloraide import Color as LibraryColour

    rest = list(arguments[1:])
    name = {"rgba": "rgb", "hsla": "hsl"}.get(name, name)
    prefix = ""
    if name == "color":
        space = rest.pop(0).serialize().lower() if rest else ""
        if space not in _SPACES:
            return Unknown("the space of a relative color()")
        prefix = space + " "
        channels: tuple[str, ...] = ("x", "y", "z") if space.startswith("xyz") else ("r", "g", "b")
        scales: tuple[float, ...] = (1.0, 1.0, 1.0)
        library_space = _SPACES[space]
    else:
        library_space, channels, scales = _CHANNELS[name]
    base = LibraryColour("srgb", origin[:3], origin[3]).convert(library_space)
    values = [0.0 if math.isnan(value) else float(value) for value in base.coords()]
    names = {channel: value * scale for channel, value, scale in zip(channels, values, scales, strict=True)}
    names["alpha"] = origin[3]
    has_alpha = any(token.type == "literal" and token.value == "/" for token in rest)
    try:
        text = _written(rest, names) + ("" if has_alpha else f" / {origin[3]:.12f}")
    except NotANumberError:
        return None
    if name == "rgb":
        return _relative_rgb(text)
    return _from_library(f"{name}({prefix}{text})")


def _relative_rgb(text: str) -> Colour | None:
    # Relative rgb() isn't clipped, so it goes by the space without limits.
    words = text.replace("/", " ").split()
    try:
        values = [
            float(word[:-1]) / 100 if word.endswith("%") else float(word) / (255 if place < 3 else 1)
            for place, word in enumerate(word if word != "none" else "0" for word in words)
        ]
    except ValueError:
        return None
    if len(values) != 4:
        return None
    return values[0], values[1], values[2], min(1.0, max(0.0, values[3]))


@lru_cache(maxsize=512)
def nearest_passing(
    colour: Colour, against: tuple[Colour, ...], needed: float, *, limit: float = 0.0005
) -> Colour | None:
    """The colour of the same hue nearest in lightness that reaches `needed` against every one of `against`.

    Hue is that of OKLCh (https://bottosson.github.io/posts/oklab/); chroma is kept where sRGB can show it and else
    reduced to what it can. Channels come out as whole bytes. None where neither direction reaches it.
    """
    from coloraide import Color as LibraryColour

    origin = LibraryColour("srgb", colour[:3]).convert("oklch")
    start, chroma, hue = (0.0 if math.isnan(value) else float(value) for value in origin.coords())

    def at(lightness: float) -> Colour:
        found = LibraryColour("oklch", (lightness, chroma, hue)).convert("srgb")
        if not found.in_gamut():
            found = found.fit("srgb", method="oklch-chroma")
        red, green, blue = (round(min(1.0, max(0.0, float(value))) * 255) / 255 for value in found.coords())
        return red, green, blue, 1.0

    def passes(candidate: Colour) -> bool:
        return all(contrast_ratio(candidate, each) >= needed for each in against)

    nearest: tuple[float, Colour] | None = None
    for end in (0.0, 1.0):
        if not passes(at(end)):
            continue
        failing, passing = start, end
        while abs(failing - passing) > limit:
            middle = (failing + passing) / 2
            if passes(at(middle)):
                passing = middle
            else:
                failing = middle
        found = at(passing)
        distance = abs(passing - start)
        if passes(found) and (nearest is None or distance < nearest[0]):
            nearest = distance, found
    return None if nearest is None else nearest[1]
