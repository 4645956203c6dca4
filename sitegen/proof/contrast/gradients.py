"""Reads CSS gradients: their colours, every stop and the points between, along the line from start (0) to end (1).

https://www.w3.org/TR/css-images-4/#gradients
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from sitegen.proof.contrast.colours import NeedsSurroundingsError, read_colour_token
from sitegen.proof.contrast.formulas import Colour
from sitegen.proof.contrast.style import Style
from sitegen.proof.contrast.values import (
    Measures,
    NotANumberError,
    Token,
    Unknown,
    quantity,
    significant,
    split_on,
)

STEPS_BETWEEN_STOPS: Final = 16


@dataclass(frozen=True, slots=True)
class Stop:
    """A colour on the gradient line."""

    colour: Colour
    percent: float | None
    """Where it stands, 100 being the end; None where that is left to its neighbours, or given in px."""
    px: float | None = None


@dataclass(frozen=True, slots=True)
class Gradient:
    """A gradient as far as its colours are concerned."""

    stops: tuple[Stop, ...]
    kind: str
    """"linear", "radial" or "conic"."""
    angle: float | None
    """Of a linear gradient, clockwise in degrees from upwards; None for one towards a corner."""
    repeats: bool
    space: str
    """The space colours are mixed in, by the colour library's name."""
    hue: str

    def positions(self, line_px: float | None) -> list[tuple[float, Colour]]:
        """Stops with their places as fractions of the line; px places are kept out of order where its length is unknown.

        https://www.w3.org/TR/css-images-4/#color-stop-fixup
        """
        places: list[float | None] = []
        for stop in self.stops:
            if stop.percent is not None:
                places.append(stop.percent / 100)
            elif stop.px is not None and line_px:
                places.append(stop.px / line_px)
            else:
                places.append(None)
        if places and places[0] is None:
            places[0] = 0.0
        if places and places[-1] is None:
            places[-1] = 1.0
        highest = -math.inf
        for index, place in enumerate(places):
            if place is not None:
                highest = max(highest, place)
                places[index] = highest
        index = 0
        while index < len(places):
            if places[index] is None:
                after = next(later for later in range(index, len(places)) if places[later] is not None)
                start, end = places[index - 1], places[after]
                assert start is not None and end is not None
                for between in range(index, after):
                    places[between] = start + (end - start) * (between - index + 1) / (after - index + 1)
                index = after
            index += 1
        return [(place or 0.0, stop.colour) for place, stop in zip(places, self.stops, strict=True)]

    def samples(self, start: float = 0.0, end: float = 1.0, line_px: float | None = None) -> list[Colour]:
        """Colours that occur on the stretch from `start` to `end` of the line: stops, and points between them."""
        row = self.positions(line_px)
        if self.repeats:
            start, end = row[0][0], max(row[-1][0], row[0][0])
        found: list[Colour] = []
        if row[0][0] > start:
            found.append(row[0][1])
        for (place, colour), (following, other) in pairwise(row):
            if following < start or place > end:
                continue
            low, high = max(place, start), min(following, end)
            if following == place or colour == other:
                found += [colour, other] if following != place else []
                if following == place and start <= place <= end:
                    found += [colour, other]
                continue
            for step in range(STEPS_BETWEEN_STOPS + 1):
                at = low + (high - low) * step / STEPS_BETWEEN_STOPS
                found.append(self._between(colour, other, (at - place) / (following - place)))
        if row[-1][0] < end or not found:
            found.append(row[-1][1])
        return list(dict.fromkeys(found))

    def _between(self, one: Colour, other: Colour, share: float) -> Colour:
        if share <= 0:
            return one
        if share >= 1:
            return other
        if self.space == "srgb":
            # Premultiplied, as https://www.w3.org/TR/css-images-4/#coloring-gradient-line says.
            alpha = one[3] + (other[3] - one[3]) * share
            if alpha <= 0:
                return 0.0, 0.0, 0.0, 0.0
            red, green, blue = (
                (first * one[3] * (1 - share) + second * other[3] * share) / alpha
                for first, second in zip(one[:3], other[:3], strict=True)
            )
            return red, green, blue, alpha
        from sitegen.proof.contrast.colours import mixed

        return mixed(one, other, share, self.space, self.hue, 1.0)


_SIDES: Final = {"top": 0.0, "right": 90.0, "bottom": 180.0, "left": 270.0}


def read_gradient(token: Token, style: Style) -> Gradient | Unknown | None:
    """The gradient a function token stands for; None where it is none."""
    name = token.lower_name.removeprefix("-webkit-")
    is_prefixed = token.lower_name.startswith("-webkit-")
    repeats = name.startswith("repeating-")
    kind = name.removeprefix("repeating-").removesuffix("-gradient")
    if kind not in ("linear", "radial", "conic"):
        return Unknown(f"{token.lower_name}()")
    parts = [significant(part) for part in split_on(token.arguments, ",")]
    if not parts:
        return None
    angle: float | None = 180.0
    space, hue = "srgb", "shorter"
    if parts[0] and not _is_stop(parts[0], style):
        head = parts.pop(0)
        words = [item.lower_value if item.type == "ident" else "" for item in head]
        if "in" in words:
            place = words.index("in")
            from sitegen.proof.contrast.colours import interpolation_space

            space = interpolation_space(words[place + 1] if place + 1 < len(words) else "")
            if not space:
                return Unknown("the interpolation space of a gradient")
            if place + 3 < len(words) + 1 and "hue" in words:
                hue = words[place + 2]
            head, words = head[:place], words[:place]
        angle = _angle(head, words, is_prefixed)
    measures = style.measures
    stops: list[Stop] = []
    for part in parts:
        found = _stop(part, style, measures, kind)
        if isinstance(found, Unknown) or found is None:
            return found
        stops.extend(found)
    if not stops:
        return None
    return Gradient(tuple(stops), kind, angle if kind == "linear" else None, repeats, space, hue)


def _angle(head: Sequence[Token], words: Sequence[str], is_prefixed: bool) -> float | None:
    if not head:
        return 180.0
    if words[0] == "to" or (is_prefixed and words[0] in _SIDES):
        sides = [word for word in words if word in _SIDES]
        if len(sides) != 1:
            return None
        return (_SIDES[sides[0]] + (180 if is_prefixed else 0)) % 360
    try:
        found = quantity(head[0], None)
    except NotANumberError:
        return None
    return found.value % 360 if found.kind == "angle" or found.value == 0 else None


def _is_stop(part: Sequence[Token], style: Style) -> bool:
    for item in part:
        try:
            if item.type in ("hash", "function", "ident") and read_colour_token(item, style) is not None:
                return True
        except NeedsSurroundingsError:
            return True
    return False


def _stop(part: Sequence[Token], style: Style, measures: Measures, kind: str) -> list[Stop] | Unknown | None:
    colour: Colour | None = None
    places: list[tuple[float | None, float | None]] = []
    for item in part:
        found = read_colour_token(item, style) if item.type in ("hash", "function", "ident") else None
        if isinstance(found, Unknown):
            return found
        if found is not None:
            colour = found
            continue
        try:
            place = quantity(item, measures)
        except NotANumberError:
            return Unknown("a place in a gradient")
        if place.kind == "percent" or (place.kind == "number" and place.value == 0):
            places.append((place.value, None))
        elif place.kind == "angle" and kind == "conic":
            places.append((place.value / 3.6, None))
        elif place.kind == "length":
            places.append((None, place.value))
        else:
            return None
    if colour is None:
        return []  # a hint where the middle between two colours lies; all colours between them occur all the same
    if not places:
        return [Stop(colour, None)]
    return [Stop(colour, percent, px) for percent, px in places]
