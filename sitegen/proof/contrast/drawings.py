"""Judges drawings inside a page: the texts of an `svg`, and whether one that stands for something can be seen.

WCAG 2.2, 1.4.3 and 1.4.11. Where shapes lie is not worked out: a text passes if it passes against every shape and what is
behind the drawing, and fails if it fails against all of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from sitegen.proof.contrast.backdrop import PictureFinder, World, backdrop_of, opacity_of
from sitegen.proof.contrast.exempt import own_text
from sitegen.proof.contrast.formulas import (
    MINIMUM_TEXT,
    NON_TEXT,
    TRANSPARENT,
    Colour,
    blend,
    clipped,
    contrast_ratio,
    hexadecimal,
    shown,
)
from sitegen.proof.contrast.style import Style
from sitegen.proof.contrast.theme import Node
from sitegen.proof.contrast.visible import Sight, sight_of
from sitegen.proof.document import Element

_SHAPES: Final = frozenset({"rect", "circle", "ellipse", "path", "polygon", "polyline", "line", "use"})
_NOT_FOLLOWED: Final = frozenset(
    {"image", "foreignobject", "filter", "mask", "pattern", "lineargradient", "radialgradient"}
)
NOT_DRAWN: Final = frozenset(
    {"defs", "symbol", "clippath", "mask", "pattern", "marker", "title", "desc", "metadata"}
)
LETTERING: Final = frozenset({"text", "tspan", "textpath", "a"})


class DrawingProblem(NamedTuple):
    """Something in a drawing that does not pass in one scenario."""

    outcome: str
    message: str
    instead: str


def drawing_problem(
    svg: Element,
    nodes: Sequence[Node],
    places: dict[Element, int],
    scenario: int,
    find: PictureFinder,
    stands_for: bool,
) -> Iterator[DrawingProblem]:
    """What does not pass in one outermost `svg`; `stands_for` as `stands_for_something` says of it."""
    if any(above.tag == "svg" for above in svg.ancestors()):
        return
    style = nodes[places[svg]].rest[scenario]
    if style is None or sight_of(style)[0] is not Sight.SEEN:
        return
    backdrop = backdrop_of(style, find)
    worlds = backdrop.worlds
    shapes, texts, is_followed = _parts(svg, nodes, places, scenario)
    texts_problem = _texts(texts, shapes, worlds, is_followed and not backdrop.unknown)
    if texts_problem is not None:
        yield texts_problem
    if stands_for and shapes and not texts and is_followed and not backdrop.unknown:
        pairs = [(clipped(world.seen(shape)), clipped(world.seen())) for shape in shapes for world in worlds]
        best = max((contrast_ratio(shape, paper), shape, paper) for shape, paper in pairs)
        if best[0] < NON_TEXT:
            yield DrawingProblem(
                "fails",
                f"This drawing has a contrast of {shown(best[0])} ({hexadecimal(best[1])} on {hexadecimal(best[2])});"
                f" {NON_TEXT:g}:1 is needed.",
                "Draw it in a stronger colour.",
            )


def _parts(
    svg: Element, nodes: Sequence[Node], places: dict[Element, int], scenario: int
) -> tuple[list[Colour], list[tuple[Colour, str]], bool]:
    """Colours of the shapes, colours and words of the texts, and whether everything could be followed.

    An opacity between the drawing and its part is in the part's alpha.
    """
    shapes: list[Colour] = []
    texts: list[tuple[Colour, str]] = []
    is_followed = True
    top = nodes[places[svg]].rest[scenario]
    waiting = [svg]
    while waiting:
        element = waiting.pop()
        for child in element.children:
            if isinstance(child, Element) and child.tag not in NOT_DRAWN:
                waiting.append(child)
        style = nodes[places[element]].rest[scenario]
        if style is None or sight_of(style)[0] is Sight.HIDDEN:
            continue
        if element.tag in _NOT_FOLLOWED or _is_pattern(style, "fill") or _is_pattern(style, "stroke"):
            is_followed = False
        if element.tag in _SHAPES:
            shapes += [_faded(colour, style, top) for colour in _paints(style)]
        elif element.tag in LETTERING:
            words = own_text(element)
            if words:
                fill = style.colour("fill") if style.value("fill") != "none" else None
                if isinstance(fill, tuple):
                    texts.append((_faded(fill, style, top), words))
                else:
                    is_followed = False
    return list(dict.fromkeys(shapes)), texts, is_followed


def _faded(colour: Colour, style: Style, top: Style | None) -> Colour:
    """A colour through the opacities of a part and of what holds it, up to the drawing itself, whose own is its backdrop's."""
    red, green, blue, alpha = colour
    holder: Style | None = style
    while holder is not None and holder is not top:
        alpha *= opacity_of(holder)
        holder = holder.parent
    return red, green, blue, alpha


def _is_pattern(style: Style, name: str) -> bool:
    value = style.value(name)
    return isinstance(value, tuple) and bool(value) and getattr(value[0], "type", "") == "url"


def _paints(style: Style) -> Iterator[Colour]:
    for name in ("fill", "stroke"):
        value = style.value(name)
        if value == "none" or _is_pattern(style, name):
            continue
        colour = style.colour(name)
        if isinstance(colour, tuple) and colour[3] > 0:
            yield colour


def _texts(
    texts: list[tuple[Colour, str]], shapes: list[Colour], worlds: Sequence[World], is_followed: bool
) -> DrawingProblem | None:
    worst: tuple[float, float, Colour, str] | None = None
    for ink, words in texts:
        if not any(character.isalnum() for character in words) or ink[3] <= 0:
            continue
        ratios = [
            contrast_ratio(clipped(world.seen(blend(ink, paper))), clipped(world.seen(paper)))
            for world in worlds
            for paper in (TRANSPARENT, *shapes)
        ]
        if min(ratios) < MINIMUM_TEXT and (worst is None or max(ratios) < worst[1]):
            worst = min(ratios), max(ratios), ink, words
    if worst is None:
        return None
    low, high, ink, words = worst
    if high < MINIMUM_TEXT and is_followed:
        return DrawingProblem(
            "fails",
            f"The text “{words}” in this drawing has a contrast of at best {shown(high)} ({hexadecimal(ink)});"
            f" {MINIMUM_TEXT:g}:1 is needed.",
            "Draw it in a stronger colour.",
        )
    return DrawingProblem(
        "unsure",
        f"The text “{words}” in this drawing ({hexadecimal(ink)}) has a contrast of {shown(low)} to {shown(high)},"
        f" by the shape it lies over; {MINIMUM_TEXT:g}:1 is needed.",
        "Look at it in a browser, or use a colour that passes over every shape of the drawing.",
    )


def stands_for_something(svg: Element) -> bool:
    """Whether a drawing is more than decoration: it has a name, or is all that a control shows."""
    attrs = svg.attrs
    if attrs.get("aria-hidden", "").lower() != "true" and (
        attrs.get("aria-label") or attrs.get("aria-labelledby") or _has_title(svg)
    ):
        return True
    for above in svg.ancestors():
        if above.tag in ("a", "button"):
            return not any(character.isalnum() for character in above.text())
    return False


def _has_title(svg: Element) -> bool:
    return any(isinstance(child, Element) and child.tag == "title" for child in svg.children)
