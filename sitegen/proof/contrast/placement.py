"""Works out over which part of a background a text stands, where its box is simple enough to say.

Handled are texts directly inside a block (or in inline elements inside it) whose size follows from lengths in px and the
window. The width of letters is not known without fonts, so the text is taken as wide as it could be; what comes out
is never smaller than the part the text really covers. https://www.w3.org/TR/css-backgrounds-3/#the-background-image
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, NamedTuple

from sitegen.proof.contrast.backdrop import Narrowed, PictureFinder, address_of, list_part
from sitegen.proof.contrast.formulas import TRANSPARENT, Colour
from sitegen.proof.contrast.gradients import Gradient, read_gradient
from sitegen.proof.contrast.pictures import Picture
from sitegen.proof.contrast.scenario import Scenario
from sitegen.proof.contrast.style import Style
from sitegen.proof.contrast.values import Measures, NotANumberError, Token, quantity
from sitegen.proof.document import Element

WIDEST_LETTER_EM: Final = 0.62
"""Mean advance of a letter in wide text faces (common practice, no source); narrower faces cover less."""
_NORMAL_LINE: Final = 1.15
_BASELINE_EM: Final = 0.9
_ASCENT_EM: Final = 0.76
_ACCENTED_ASCENT_EM: Final = 0.95
_DESCENT_EM: Final = 0.24
_OVERSHOOT_EM: Final = 0.02
"""How far letters reach from the baseline and where in a line that lies: usual text faces, rounded outward (no source)."""
_ON_THE_BASELINE: Final = frozenset(
    "abcdefhiklmnorstuvwxzABCDEFGHIJKLMNOPRSTUVWXYZ0123456789 .:!?'\"-–—‘’“”%&+*#"
)
_BLOCKS: Final = frozenset({"block", "list-item", "flow-root", "table-cell"})


class Rectangle(NamedTuple):
    """In px, from the upper left corner of the padding box it is measured in."""

    left: float
    top: float
    right: float
    bottom: float


def narrowed_layers(
    element: Element, style: Style, text: str, scenario: Scenario, find: PictureFinder
) -> Narrowed | None:
    """For every layer behind a text that has more than one colour, the colours behind the text itself.

    None where it can't be worked out for one of them.
    """
    holder, holder_style = _block_of(element, style)
    result: Narrowed = {}
    above: Style | None = style
    while above is not None:
        value = above.value("background-image")
        if isinstance(value, tuple):
            if above is not holder_style:
                return None
            box = _padding_box(holder, holder_style, text, scenario)
            if box is None:
                return None
            width, height, area = box
            for place, layer in enumerate(value):
                if layer and layer[0].type != "ident":
                    colours = _behind(layer[0], above, place, width, height, area, find)
                    if colours is None:
                        return None
                    result[above, place] = colours
        colour = above.colour("background-color")
        if isinstance(colour, tuple) and colour[3] >= 1:
            break
        above = above.parent
    return result or None


def _block_of(element: Element, style: Style) -> tuple[Element, Style]:
    """The block a text stands in: the element itself, or the nearest around it that is not inline."""
    while style.value("display") == "inline" and style.parent is not None and element.parent is not None:
        if style.value("background-image") != "none":
            break
        element, style = element.parent, style.parent
    return element, style


def _edges(style: Style, whole: float) -> tuple[float, float, float, float] | None:
    """Left, top, right and bottom paddings."""
    left, top, right, bottom = (
        style.length(f"padding-{side}", whole) for side in ("left", "top", "right", "bottom")
    )
    if left is None or top is None or right is None or bottom is None:
        return None
    return left, top, right, bottom


def _border(style: Style, side: str) -> float:
    if style.value(f"border-{side}-style") in ("none", "hidden"):
        return 0.0
    return style.length(f"border-{side}-width") or 0.0


def _available_width(style: Style, scenario: Scenario) -> float | None:
    """The width of the content box of a block in normal flow."""
    if style.value("display") not in _BLOCKS or style.value("float") != "none":
        return None
    if style.value("position") in ("absolute", "fixed"):
        return None
    outer = float(scenario.width) if style.parent is None else _available_width(style.parent, scenario)
    if outer is None:
        return None
    edges = _edges(style, outer)
    if edges is None:
        return None
    between = edges[0] + edges[2] + _border(style, "left") + _border(style, "right")
    explicit = style.length("width", outer)
    is_border_box = style.value("box-sizing") == "border-box"
    if explicit is None:
        if style.value("width") != "auto":
            return None
        margins = [style.length(f"margin-{side}", outer) or 0.0 for side in ("left", "right")]
        width = outer - sum(margins) - between
    else:
        width = explicit - between if is_border_box else explicit
    most = style.length("max-width", outer)
    if most is not None:
        width = min(width, most - between if is_border_box else most)
    elif style.value("max-width") != "none":
        return None
    return max(0.0, width)


def _line_height(style: Style) -> float:
    value = style.value("line-height")
    if isinstance(value, tuple) and len(value) == 1:
        if value[0].type == "number":
            return float(value[0].value) * style.font_size
        found = style.length("line-height", style.font_size)
        if found is not None:
            return found
    return _NORMAL_LINE * style.font_size


def _reach(text: str, size: float, line: float) -> tuple[float, float]:
    """From where to where letters reach within their line, in px from its top."""
    # Browsers set baselines on whole px.
    baseline = round((line - _NORMAL_LINE * size) / 2 + _BASELINE_EM * size)
    has_tails = any(character not in _ON_THE_BASELINE for character in text)
    is_plain = all(character < "\u00c0" or character in "–—‘’“”" for character in text)
    up = _ASCENT_EM if is_plain else _ACCENTED_ASCENT_EM
    return baseline - up * size, baseline + (_DESCENT_EM if has_tails else _OVERSHOOT_EM) * size


def _padding_box(
    element: Element, style: Style, text: str, scenario: Scenario
) -> tuple[float, float, Rectangle] | None:
    """Width and height of a block's padding box, and where its text stands in it at most."""
    inner = _available_width(style, scenario)
    if inner is None or style.value("writing-mode") != "horizontal-tb":
        return None
    edges = _edges(style, inner)
    if edges is None:
        return None
    left, top, right, bottom = edges
    only_text = all(
        not isinstance(child, Element)
        or child.tag in ("br", "wbr", "span", "a", "b", "strong", "em", "i", "small", "code")
        for child in element.children
    )
    whole_text = " ".join(element.text().split())
    advance = len(whole_text) * WIDEST_LETTER_EM * style.font_size
    indent = style.length("text-indent", inner) or 0.0
    is_one_line = (
        only_text
        and advance + indent <= inner
        and not any(isinstance(child, Element) and child.tag == "br" for child in element.children)
    )
    lines = 1 if is_one_line else math.ceil(advance / max(1.0, inner)) + 1
    line = _line_height(style)
    height = style.length("height")
    if height is None and (style.value("height") != "auto" or not is_one_line):
        return None
    if height is None:
        height = line
        least = style.length("min-height")
        if least is not None:
            height = max(height, least)
    elif style.value("box-sizing") == "border-box":
        height -= top + bottom + _border(style, "top") + _border(style, "bottom")
    width = left + inner + right
    first, last = _reach(whole_text, style.font_size, line)
    area = Rectangle(
        left, top + first, left + inner, min(top + (lines - 1) * line + last, top + height + bottom)
    )
    if is_one_line:
        align = style.value("text-align")
        starts_left = style.value("direction") == "ltr"
        if align in ("left",) or (align in ("start", "justify", "initial") and starts_left):
            area = area._replace(right=left + indent + advance)
        elif align in ("right",) or (align in ("end",) and starts_left):
            area = area._replace(left=max(0.0, left + inner - advance))
        elif align == "center":
            middle = left + inner / 2
            area = area._replace(left=middle - advance / 2, right=middle + advance / 2)
    return width, top + height + bottom, area


def _behind(
    token: Token, style: Style, place: int, width: float, height: float, area: Rectangle, find: PictureFinder
) -> Sequence[Colour] | None:
    if list_part(style, "background-origin", place) or list_part(style, "background-attachment", place):
        words = [
            token.lower_value
            for name in ("background-origin", "background-attachment")
            for token in list_part(style, name, place)
        ]
        if any(word not in ("padding-box", "scroll") for word in words):
            return None
    address = address_of(token)
    if address is None:
        if list_part(style, "background-size", place) or token.type != "function":
            return None
        gradient = read_gradient(token, style)
        return _of_gradient(gradient, width, height, area) if isinstance(gradient, Gradient) else None
    picture = find(address, style)
    return _of_picture(picture, style, place, width, height, area) if isinstance(picture, Picture) else None


def _of_gradient(gradient: Gradient, width: float, height: float, area: Rectangle) -> Sequence[Colour] | None:
    if gradient.kind != "linear" or gradient.repeats or gradient.angle is None:
        return None
    angle = math.radians(gradient.angle)
    across, up = math.sin(angle), math.cos(angle)
    # https://www.w3.org/TR/css-images-4/#linear-gradient-syntax: the line is long enough to reach the corners
    length = abs(width * across) + abs(height * up)
    if length <= 0:
        return None
    places = [
        ((x - width / 2) * across - (y - height / 2) * up) / length + 0.5
        for x in (area.left, area.right)
        for y in (area.top, area.bottom)
    ]
    return gradient.samples(max(0.0, min(places)), min(1.0, max(places)), length)


def _of_picture(
    picture: Picture, style: Style, place: int, width: float, height: float, area: Rectangle
) -> Sequence[Colour] | None:
    size = _tile_size(picture, list_part(style, "background-size", place), style, width, height)
    if size is None:
        return None
    tile_width, tile_height = size
    offset = _tile_offset(
        list_part(style, "background-position", place), style, width - tile_width, height - tile_height
    )
    if offset is None or tile_width <= 0 or tile_height <= 0:
        return None
    words = [
        token.lower_value for token in list_part(style, "background-repeat", place) if token.type == "ident"
    ]
    repeats = {
        (): (True, True),
        ("repeat",): (True, True),
        ("no-repeat",): (False, False),
        ("repeat-x",): (True, False),
        ("repeat-y",): (False, True),
    }.get(tuple(words))
    if repeats is None:
        return None
    across = _spans(area.left - offset[0], area.right - offset[0], tile_width, repeats[0])
    down = _spans(area.top - offset[1], area.bottom - offset[1], tile_height, repeats[1])
    if across is None or down is None:
        return (TRANSPARENT,)
    scale_x, scale_y = picture.width / tile_width, picture.height / tile_height
    colours = picture.colours(
        (
            round(across[0] * scale_x),
            round(down[0] * scale_y),
            round(across[1] * scale_x),
            round(down[1] * scale_y),
        )
    )
    return [*colours, TRANSPARENT] if across[2] or down[2] else colours


def _spans(start: float, end: float, size: float, repeats: bool) -> tuple[float, float, bool] | None:
    """Which part of a tile a stretch covers, and whether it reaches beyond; None where it covers none of it."""
    if repeats:
        first = math.floor(start / size)
        if end <= (first + 1) * size:
            return start - first * size, end - first * size, False
        return 0.0, size, False
    low, high = max(0.0, start), min(size, end)
    return None if low >= high else (low, high, start < 0 or end > size)


def _tile_size(
    picture: Picture, tokens: Sequence[Token], style: Style, width: float, height: float
) -> tuple[float, float] | None:
    words = [token.lower_value if token.type == "ident" else None for token in tokens]
    if not tokens or words in (["auto"], ["auto", "auto"]):
        return picture.width, picture.height
    if words in (["cover"], ["contain"]):
        scales = width / picture.width, height / picture.height
        scale = max(scales) if words == ["cover"] else min(scales)
        return picture.width * scale, picture.height * scale
    sizes: list[float | None] = []
    for token, whole in zip(tokens, (width, height), strict=False):
        if token.type == "ident":
            sizes.append(None)
            continue
        found = _length(token, style, whole)
        if found is None:
            return None
        sizes.append(found)
    across = sizes[0]
    down = sizes[1] if len(sizes) > 1 else None
    if across is None and down is None:
        return None
    if across is None:
        across = picture.width * (down or 0.0) / picture.height
    if down is None:
        down = picture.height * across / picture.width
    return across, down


def _length(token: Token, style: Style, whole: float) -> float | None:
    measures = style.measures
    try:
        found = quantity(
            token,
            Measures(measures.em, measures.rem, measures.viewport_width, measures.viewport_height, whole),
        )
    except NotANumberError:
        return None
    return found.value if found.kind == "length" or found.value == 0 else None


_SHARES: Final = {"left": 0.0, "top": 0.0, "center": 0.5, "right": 1.0, "bottom": 1.0}


def _tile_offset(
    tokens: Sequence[Token], style: Style, free_width: float, free_height: float
) -> tuple[float, float] | None:
    """https://www.w3.org/TR/css-backgrounds-3/#the-background-position"""
    free = {"x": free_width, "y": free_height}
    words = [token.lower_value if token.type == "ident" else None for token in tokens]
    if not tokens:
        return 0.0, 0.0
    if any(word is not None and word not in _SHARES for word in words):
        return None
    found: dict[str, float] = {}
    if (
        len(tokens) <= 2
        and not (len(tokens) == 2 and words[0] in ("top", "bottom"))
        and words[1:] not in (["left"], ["right"])
    ):
        for axis, token, word in zip("xy", tokens, words, strict=False):
            if word in ("top", "bottom"):
                found["y"] = _SHARES[word] * free_height
                continue
            value = _SHARES[word] * free[axis] if word is not None else _length(token, style, free[axis])
            if value is None:
                return None
            found[axis] = value
    else:
        place = 0
        while place < len(tokens):
            word = words[place]
            if word is None:
                return None
            axis = (
                "y"
                if word in ("top", "bottom")
                else "x"
                if word in ("left", "right")
                else "y"
                if "x" in found
                else "x"
            )
            amount = 0.0
            if place + 1 < len(tokens) and words[place + 1] is None:
                given = _length(tokens[place + 1], style, free[axis])
                if given is None:
                    return None
                amount = given
                place += 1
            share = _SHARES[word]
            found[axis] = share * free[axis] + (-amount if share == 1.0 else amount)
            place += 1
    return found.get("x", free_width / 2), found.get("y", free_height / 2)
