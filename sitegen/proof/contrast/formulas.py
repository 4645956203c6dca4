"""The formulas of WCAG 2.2: relative luminance, contrast ratio and the thresholds, and how translucent colours blend.

A colour is a tuple of red, green, blue and alpha, each from 0 to 1, in sRGB with its gamma encoding, not premultiplied.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Final, TypeAlias

Colour: TypeAlias = tuple[float, float, float, float]

WHITE: Final[Colour] = (1.0, 1.0, 1.0, 1.0)
BLACK: Final[Colour] = (0.0, 0.0, 0.0, 1.0)
TRANSPARENT: Final[Colour] = (0.0, 0.0, 0.0, 0.0)

# WCAG 2.2, success criteria 1.4.3, 1.4.6, 1.4.11: https://www.w3.org/TR/WCAG22/#contrast-minimum, #contrast-enhanced,
# #non-text-contrast
MINIMUM_TEXT: Final = 4.5
MINIMUM_LARGE_TEXT: Final = 3.0
ENHANCED_TEXT: Final = 7.0
ENHANCED_LARGE_TEXT: Final = 4.5
NON_TEXT: Final = 3.0
# Technique G183: https://www.w3.org/WAI/WCAG22/Techniques/general/G183
LINK_AGAINST_TEXT: Final = 3.0

# WCAG 2.2, "large scale (text)": 18 point, or 14 point bold; https://www.w3.org/TR/WCAG22/#dfn-large-scale
# CSS fixes 1 point at 4/3 px: https://www.w3.org/TR/css-values-4/#absolute-lengths
LARGE_TEXT_PX: Final = 18 * 4 / 3
LARGE_BOLD_TEXT_PX: Final = 14 * 4 / 3
BOLD_FROM: Final = 700
# Browsers keep sizes in single precision and people write 18.66px or 18.67px for 14 points; both are read as 14 points.
_SIZE_TOLERANCE_PX: Final = 0.01


def _linear(channel: float) -> float:
    # 0.04045 is the published constant since WCAG 2.2's erratum of 2021; the older 0.03928 differs for no 8-bit colour.
    if channel <= 0.04045:
        return channel / 12.92
    return float(((channel + 0.055) / 1.055) ** 2.4)


_LINEAR_OF_BYTE: Final = tuple(_linear(value / 255) for value in range(256))


def relative_luminance(colour: Colour) -> float:
    """Relative luminance, 0 (black) to 1 (white), of an opaque colour; channels outside 0 to 1 are clipped.

    https://www.w3.org/TR/WCAG22/#dfn-relative-luminance
    """
    red, green, blue = (min(1.0, max(0.0, channel)) for channel in colour[:3])
    return 0.2126 * _linear(red) + 0.7152 * _linear(green) + 0.0722 * _linear(blue)


def relative_luminance_of_bytes(red: int, green: int, blue: int) -> float:
    """The same for channels from 0 to 255."""
    return 0.2126 * _LINEAR_OF_BYTE[red] + 0.7152 * _LINEAR_OF_BYTE[green] + 0.0722 * _LINEAR_OF_BYTE[blue]


def ratio_of_luminances(one: float, other: float) -> float:
    """Contrast ratio, 1 to 21. https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio"""
    lighter, darker = (one, other) if one >= other else (other, one)
    return (lighter + 0.05) / (darker + 0.05)


@lru_cache(maxsize=8192)
def contrast_ratio(one: Colour, other: Colour) -> float:
    """Contrast ratio, 1 to 21, of two opaque colours, unrounded."""
    return ratio_of_luminances(relative_luminance(one), relative_luminance(other))


def is_large(size_px: float, weight: float) -> bool:
    """Whether text counts as large scale."""
    least = LARGE_BOLD_TEXT_PX if weight >= BOLD_FROM else LARGE_TEXT_PX
    return size_px >= least - _SIZE_TOLERANCE_PX


def blend(above: Colour, below: Colour) -> Colour:
    """`above` painted over `below`: source-over compositing, https://www.w3.org/TR/compositing-1/#simplealphacompositing"""
    alpha = above[3]
    if alpha >= 1.0 or below[3] <= 0.0:
        return above
    if alpha <= 0.0:
        return below
    kept = below[3] * (1.0 - alpha)
    total = alpha + kept
    return (
        (above[0] * alpha + below[0] * kept) / total,
        (above[1] * alpha + below[1] * kept) / total,
        (above[2] * alpha + below[2] * kept) / total,
        total,
    )


def clipped(colour: Colour) -> Colour:
    """The colour with every channel brought into 0 to 1, as a screen of the sRGB gamut shows it."""
    red, green, blue, alpha = colour
    if 0.0 <= red <= 1.0 and 0.0 <= green <= 1.0 and 0.0 <= blue <= 1.0 and 0.0 <= alpha <= 1.0:
        return colour
    return (
        min(1.0, max(0.0, red)),
        min(1.0, max(0.0, green)),
        min(1.0, max(0.0, blue)),
        min(1.0, max(0.0, alpha)),
    )


def shown(ratio: float) -> str:
    """A ratio for people, cut downward to two decimals so that 4.499 never reads as 4.50: "4.49:1"."""
    # The small addition keeps 21 from printing as 20.99 where the division left a last bit short.
    return f"{math.floor(ratio * 100 + 1e-9) / 100:.2f}:1"


def hexadecimal(colour: Colour) -> str:
    """The colour as #rrggbb, or #rrggbbaa where it is translucent."""
    channels = clipped(colour)
    kept = channels[:3] if channels[3] >= 1 else channels
    return "#" + "".join(f"{math.floor(channel * 255 + 0.5):02x}" for channel in kept)
