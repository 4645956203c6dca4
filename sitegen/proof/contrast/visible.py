"""Whether text is there to be seen: not hidden, not off the screen, not clipped away."""

from __future__ import annotations

from enum import Enum
from typing import Final

from sitegen.proof.contrast.backdrop import opacity_of
from sitegen.proof.contrast.bearers import bearer_of
from sitegen.proof.contrast.names import names_in
from sitegen.proof.contrast.style import Style
from sitegen.proof.contrast.values import NotANumberError, quantity, significant, split_on

FAR_PX: Final = 900.0
"""A shift beyond the edge of the page by as much as this hides any usual text (common practice, no source)."""
_DEEP_PX: Final = 5000.0
"""The same for text in a positioned box, which may itself lie some way into the page."""
_TINY_PX: Final = 2.0


class Sight(Enum):
    """What can be said of a text's visibility."""

    SEEN = "seen"
    HIDDEN = "hidden"
    UNSURE = "unsure"


def sight_of(style: Style) -> tuple[Sight, str]:
    """Whether text directly inside an element is seen, and the property that says or may say it is not."""
    found: tuple[Sight, str] | None = style.kept("sight")
    if found is None:
        bearer = bearer_of(style)
        found = style.keep("sight", _sight(style) if bearer is style else sight_of(bearer))
    return found


def _sight(style: Style) -> tuple[Sight, str]:
    own = _of_all_inside(style)
    if own[0] is Sight.HIDDEN:
        return own
    if style.value("visibility") in ("hidden", "collapse"):
        return Sight.HIDDEN, "visibility"
    if style.font_size <= 0:
        return Sight.HIDDEN, "font-size"
    if style.value("content-visibility") == "hidden":
        return Sight.HIDDEN, "content-visibility"
    indent = style.length("text-indent", style.surrounding.viewport_width or 1280.0)
    if indent is not None and indent <= -FAR_PX:
        return Sight.HIDDEN, "text-indent"
    return own


def _of_all_inside(style: Style) -> tuple[Sight, str]:
    """What hides an element with everything in it."""
    found: tuple[Sight, str] | None = style.kept("sight inside")
    if found is None:
        found = style.keep("sight inside", _hidden_whole(style))
    return found


_HIDING: Final = names_in(
    "display opacity position clip clip-path overflow-x overflow-y margin-left margin-top transform translate"
)
_CLIPPING: Final = frozenset({"clip", "clip-path", "overflow-x", "overflow-y"})
_TRANSFORMING: Final = frozenset({"transform", "translate"})


def _hidden_whole(style: Style) -> tuple[Sight, str]:
    above = (Sight.SEEN, "") if style.parent is None else _of_all_inside(style.parent)
    if above[0] is Sight.HIDDEN:
        return above
    if style.parent is not None and style.parent.value("content-visibility") == "hidden":
        return Sight.HIDDEN, "content-visibility"
    if style.declares_none_of(_HIDING):
        return above
    if style.value("display") == "none":
        return Sight.HIDDEN, "display"
    if opacity_of(style) <= 0:
        return Sight.HIDDEN, "opacity"
    own = None if style.declares_none_of(_CLIPPING) else _clipped_away(style)
    own = own or _off_screen(style) or _scaled_away(style)
    if own is None:
        return above
    return own if own[0] is Sight.HIDDEN or above[0] is Sight.SEEN else above


def _is_out_of_flow(style: Style) -> bool:
    return style.value("position") in ("absolute", "fixed")


def _clipped_away(style: Style) -> tuple[Sight, str] | None:
    if _is_out_of_flow(style):
        clip = style.value("clip")
        if isinstance(clip, tuple) and clip[0].type == "function" and clip[0].lower_name == "rect":
            edges = []
            for token in significant(clip[0].arguments):
                try:
                    edges.append(quantity(token, style.measures).value)
                except NotANumberError:
                    continue
            if len(edges) == 4 and (edges[1] - edges[3] <= _TINY_PX or edges[2] - edges[0] <= _TINY_PX):
                return Sight.HIDDEN, "clip"
    path = style.value("clip-path")
    if isinstance(path, tuple) and path[0].type == "function":
        hidden = _clips_everything(path[0])
        if hidden is not None:
            return (Sight.HIDDEN if hidden else Sight.UNSURE), "clip-path"
    clips = {"hidden", "clip", "scroll", "auto"}
    if style.value("display") != "inline" or _is_out_of_flow(style):
        for overflow, names in (
            ("overflow-x", ("width", "max-width")),
            ("overflow-y", ("height", "max-height")),
        ):
            if style.value(overflow) not in clips:
                continue
            for name in names:
                size = style.length(name)
                if size is not None and 0 <= size <= _TINY_PX:
                    return Sight.HIDDEN, name
    return None


def _clips_everything(function: object) -> bool | None:
    """True where a clip path leaves nothing, None where it plainly leaves the text, False where it can't be told."""
    name = getattr(function, "lower_name", "")
    arguments = significant(getattr(function, "arguments", ()))
    if name == "inset":
        percents = []
        for token in arguments:
            if token.type == "ident":
                break
            if token.type == "percentage":
                percents.append(token.value)
            else:
                return None
        if not percents:
            return None
        top = percents[0]
        right = percents[1] if len(percents) > 1 else top
        bottom = percents[2] if len(percents) > 2 else top
        left = percents[3] if len(percents) > 3 else right
        return True if top + bottom >= 100 or left + right >= 100 else None
    if name in ("circle", "ellipse"):
        first = arguments[0] if arguments else None
        return True if first is not None and getattr(first, "value", None) == 0 else None
    if name == "polygon":
        points = [
            tuple(getattr(token, "value", None) for token in significant(part))
            for part in split_on(getattr(function, "arguments", ()), ",")
        ]
        return True if len(set(points)) == 1 else None
    return None


def _off_screen(style: Style) -> tuple[Sight, str] | None:
    margin = style.length("margin-left")
    if margin is not None and margin <= -FAR_PX:
        return Sight.HIDDEN, "margin-left"
    margin = style.length("margin-top")
    if margin is not None and margin <= -_DEEP_PX:
        return Sight.HIDDEN, "margin-top"
    moved = None if style.declares_none_of(_TRANSFORMING) else _translated(style)
    if moved is not None:
        return moved
    position = style.value("position")
    if position not in ("absolute", "fixed", "relative"):
        return None
    width, height = style.surrounding.viewport_width or 1280.0, style.surrounding.viewport_height or 720.0
    is_inside_positioned = position == "relative" or (
        position == "absolute" and _has_positioned_ancestor(style)
    )
    for name, whole in (("top", height), ("left", width)):
        offset = style.length(name, None if is_inside_positioned else whole)
        if offset is None or offset >= 0:
            continue
        far = FAR_PX
        if name == "top" and is_inside_positioned:
            far = _DEEP_PX
        if offset <= -far:
            return Sight.HIDDEN, name
        if position != "relative" and offset <= -style.font_size * 1.5:
            return Sight.UNSURE, name
    for name, whole in (("bottom", height), ("right", width)):
        # What lies beyond the end of a page can be scrolled to, unless it is fixed to the window.
        offset = style.length(name, None if is_inside_positioned else whole)
        if offset is not None and offset <= -FAR_PX:
            return (Sight.HIDDEN if position == "fixed" else Sight.UNSURE), name
    for name, whole in (("top", height), ("left", width)):
        offset = style.length(name, whole)
        if position == "fixed" and offset is not None and offset >= whole:
            return Sight.HIDDEN, name
    return None


def _has_positioned_ancestor(style: Style) -> bool:
    above = style.parent
    while above is not None:
        if above.value("position") not in ("static",) or above.value("transform") != "none":
            return True
        above = above.parent
    return False


def _translated(style: Style) -> tuple[Sight, str] | None:
    parts = []
    value = style.value("transform")
    if isinstance(value, tuple):
        for function in value:
            if function.type == "function" and function.lower_name in (
                "translate",
                "translatex",
                "translatey",
                "translate3d",
            ):
                parts.append(
                    (
                        function.lower_name,
                        [item for part in split_on(function.arguments, ",") for item in part],
                    )
                )
    value = style.value("translate")
    if isinstance(value, tuple):
        parts.append(("translate", list(value)))
    for name, tokens in parts:
        for place, token in enumerate(significant(tokens)[:2]):
            try:
                found = quantity(token, style.measures)
            except NotANumberError:
                continue
            is_across = name != "translatey" and place == 0
            if found.kind == "length" and found.value <= -(FAR_PX if is_across else _DEEP_PX):
                return Sight.HIDDEN, "transform"
            if found.kind == "percent" and found.value <= -100 and _is_out_of_flow(style):
                return Sight.UNSURE, "transform"
    return None


def _scaled_away(style: Style) -> tuple[Sight, str] | None:
    value = style.value("transform")
    if isinstance(value, tuple):
        for function in value:
            if function.type == "function" and function.lower_name in (
                "scale",
                "scalex",
                "scaley",
                "scale3d",
            ):
                values = [getattr(token, "value", None) for token in significant(function.arguments)]
                if 0 in values:
                    return Sight.HIDDEN, "transform"
    return None
