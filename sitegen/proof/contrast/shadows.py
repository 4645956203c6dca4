"""What a text's shadow does to the background right beside its letters.

A shadow's colour lies at full strength only where many blurred copies meet; how strong it is next to a letter follows
from the blur, the offset and the weight of the strokes. Letters are taken as upright strokes at an even distance, which
is what a line of text is to a blur: strokes 0.1 em wide (0.16 em in bold), 0.3 em apart, 0.55 em high. These three are our
own measurements of usual text faces.
https://www.w3.org/TR/css-text-decor-3/#text-shadow-property; the blur is a Gaussian whose deviation is half the radius
(https://www.w3.org/TR/css-backgrounds-3/#shadow-blur).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from sitegen.proof.contrast.colours import read_colour_token
from sitegen.proof.contrast.formulas import Colour, blend
from sitegen.proof.contrast.style import Style
from sitegen.proof.contrast.values import Token, Unknown, length, significant, split_on

_STROKE: Final = 0.10
_BOLD_STROKE: Final = 0.16
_DISTANCE: Final = 0.30
_HEIGHT: Final = 0.55
_BESIDE_PX: Final = 0.5
"""How far from the stroke's edge the background counts as adjacent."""


@dataclass(frozen=True, slots=True)
class Shadow:
    """One shadow of a text or box; lengths in px."""

    across: float
    down: float
    blur: float
    colour: Colour
    spread: float = 0.0
    is_inset: bool = False


def read_shadows(tokens: Sequence[Token], style: Style) -> list[Shadow] | Unknown:
    """The shadows of `text-shadow` or `box-shadow`, topmost first."""
    shadows = []
    for part in split_on(tokens, ","):
        lengths: list[float] = []
        colour: Colour | Unknown | None = None
        is_inset = False
        for token in significant(part):
            if token.type == "ident" and token.lower_value == "inset":
                is_inset = True
                continue
            size = length(token, style.measures)
            if size is not None:
                lengths.append(size)
                continue
            colour = read_colour_token(token, style)
            if colour is None:
                return Unknown("a shadow's value")
        if isinstance(colour, Unknown):
            return colour
        if colour is None:
            current = style.colour("color")
            if isinstance(current, Unknown):
                return current
            colour = current
        if len(lengths) not in (2, 3, 4):
            return Unknown("a shadow's value")
        lengths += [0.0] * (4 - len(lengths))
        shadows.append(Shadow(lengths[0], lengths[1], lengths[2], colour, lengths[3], is_inset))
    return shadows


def _integral(value: float, deviation: float) -> float:
    """How much of a Gaussian lies below a value."""
    if deviation < 0.05:
        return 1.0 if value > 0 else 0.0
    return 0.5 * (1 + math.erf(value / (deviation * math.sqrt(2))))


def _coverage(shadow: Shadow, x: float, y: float, stroke: float, distance: float, height: float) -> float:
    """Strength, 0 to 1, of a shadow at a point; x from a stroke's middle, y from the middle of its height."""
    deviation = shadow.blur / 2
    x -= shadow.across
    y -= shadow.down
    across = 0.0
    first = math.floor((x - 4 * deviation) / distance) - 1
    last = math.ceil((x + 4 * deviation) / distance) + 1
    for number in range(first, min(last, first + 60) + 1):
        middle = number * distance
        across += _integral(x - middle + stroke / 2, deviation) - _integral(
            x - middle - stroke / 2, deviation
        )
    down = _integral(y + height / 2, deviation) - _integral(y - height / 2, deviation)
    return min(1.0, across) * down


def beside_letters(
    background: Colour, shadows: Sequence[Shadow], size_px: float, is_bold: bool
) -> list[Colour]:
    """Backgrounds right beside the letters of a text with these shadows, over an opaque background."""
    stroke = size_px * (_BOLD_STROKE if is_bold else _STROKE)
    distance, height = size_px * _DISTANCE, size_px * _HEIGHT
    edge = stroke / 2 + _BESIDE_PX
    found = []
    for x in (-edge, edge):
        for y in (-height / 4, 0.0, height / 4):
            colour = background
            for shadow in reversed(shadows):
                strength = _coverage(shadow, x, y, stroke, distance, height)
                red, green, blue, alpha = shadow.colour
                colour = blend((red, green, blue, alpha * strength), colour)
            found.append(colour)
    return list(dict.fromkeys(found))
